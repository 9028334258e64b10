import * as z from "zod";

/**
 * Where a bottle was filled.
 *
 * ISO 4021 prefers a turbulent section of a main flow line and takes the reservoir only where no sampler is fitted; the
 * others are places that sampling guides tell to avoid.
 */
export const SAMPLE_POINTS = ["main-flow-line", "reservoir", "drain", "filter-bowl", "dead-end"] as const;

/** See {@link SAMPLE_POINTS}. */
export type SamplePoint = (typeof SAMPLE_POINTS)[number];

/** What a person sees in the bottle. */
export const APPEARANCES = ["clear", "cloudy", "two-layers", "free-water", "particles-seen"] as const;

/** See {@link APPEARANCES}. */
export type Appearance = (typeof APPEARANCES)[number];

/** How a bottle was filled and what it looked like: fields of a sample. */
export const drawingShape = {
  samplePoint: z.enum(SAMPLE_POINTS).optional(),
  /** Whether the fluid was flowing when the bottle was filled. */
  flowing: z.boolean().optional(),
  /** What was seen in the bottle; more than one thing may be. */
  appearance: z.array(z.enum(APPEARANCES)).min(1).optional(),
  /** Colour of the fluid as reported. */
  colour: z.string().min(1).optional(),
};
