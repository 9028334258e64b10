import * as z from "zod";

/**
 * Where a bottle was filled.
 *
 * ISO 4021 prefers a turbulent section of a main flow line and takes the reservoir only where no sampler is fitted; the
 * last three are places that sampling guides tell to avoid. A port of a main flow line may lie before or after the element:
 * upstream it shows what the circuit holds, downstream what the element lets through.
 */
export const SAMPLE_POINTS = [
  "main-flow-line",
  "upstream-of-element",
  "downstream-of-element",
  "reservoir",
  "drain",
  "filter-bowl",
  "dead-end",
] as const;

/** Places that say little about the fluid that is delivered, unless a requirement names them. */
export const UNSUITED_POINTS: readonly SamplePoint[] = ["drain", "filter-bowl", "dead-end"];

/** Where the fluid of a bottle came from: a place of the circuit, or a drum or can that is not part of it. */
export const FILLED_FROM = [...SAMPLE_POINTS, "supply-container"] as const;

/** See {@link FILLED_FROM}. */
export type SamplePoint = (typeof FILLED_FROM)[number];

/** The side of the element that a bottle was filled on; undefined where that is not stated. */
export function sideOfElement(point: SamplePoint | undefined): "upstream" | "downstream" | undefined {
  if (point === "upstream-of-element") return "upstream";
  return point === "downstream-of-element" ? "downstream" : undefined;
}

/** What a person sees in the bottle; "nothing-seen" where the report says only what was looked for and not seen. */
export const APPEARANCES = [
  "clear",
  "nothing-seen",
  "cloudy",
  "two-layers",
  "free-water",
  "particles-seen",
  "fibres-seen",
] as const;

/** See {@link APPEARANCES}. */
export type Appearance = (typeof APPEARANCES)[number];

/** What a report says of a bottle in words. */
export const DESCRIBED = [
  "colour",
  "appearance",
  "sample point",
  "flow",
  "patch test",
  "crackle test",
  "smell",
] as const;

/** See {@link DESCRIBED}. */
export type DescribedPart = (typeof DESCRIBED)[number];

/** How a bottle was filled and what it looked like: fields of a sample. */
export const drawingShape = {
  samplePoint: z.enum(FILLED_FROM).optional(),
  /** Whether the fluid was flowing when the bottle was filled. */
  flowing: z.boolean().optional(),
  /** What was seen in the bottle; more than one thing may be. */
  appearance: z.array(z.enum(APPEARANCES)).min(1).optional(),
  /** Colour of the fluid as reported. */
  colour: z.string().min(1).optional(),
  /** Words of the report about the bottle that have no reading here, unchanged. */
  wordsNotUnderstood: z
    .array(z.strictObject({ about: z.enum(DESCRIBED), text: z.string().min(1) }))
    .min(1)
    .optional(),
};
