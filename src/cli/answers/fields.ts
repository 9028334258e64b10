import * as z from "zod";
import { REASONS, VERDICTS } from "../../fitness/index.js";
import { KNOWN_FLUIDS } from "../../fluids/index.js";
import { SOURCES } from "../../provenance/index.js";

/** The names of a table, as a description needs them. */
export function namesOf<K extends string>(table: Readonly<Record<K, unknown>>): [K, ...K[]] {
  return Object.keys(table) as [K, ...K[]];
}

/** A list of codes that gets longer: a reader has to expect a code that is not in it. */
export function growing<K extends string>(id: string, names: readonly [K, ...K[]], description: string) {
  return z.enum(names).meta({ id, grows: true, description });
}

export const day = z.iso.date();

export const verdictName = z
  .enum(VERDICTS)
  .meta({ id: "VerdictName", description: "What to do with a circuit, from best to worst." });

export const reasonCode = growing(
  "ReasonCode",
  namesOf(REASONS),
  "What the reason is, for machines; see docs/fitness.md.",
);

export const sourceKey = growing(
  "SourceKey",
  namesOf(SOURCES),
  "Key of the bibliography; the terminal says its title with --explain.",
);

export const fluidSpecification = growing(
  "FluidSpecification",
  KNOWN_FLUIDS,
  "The fluid, by its specification.",
);

export const assumption = z
  .object({
    code: z.string().describe("Stable short name, for machines."),
    message: z.string().describe("One sentence for a person."),
    source: sourceKey.optional(),
  })
  .meta({
    id: "Assumption",
    description: "Something a result rests on that the input did not say. It travels with the result.",
  });

export const caution = z
  .object({ topic: z.string().describe("What it is about."), message: z.string(), source: sourceKey })
  .meta({ id: "Caution", description: "A warning, wherever somebody could act on a result." });

export const assumptions = z.array(assumption);

export const cautions = z.array(caution);

export const limitRange = z
  .object({ min: z.number().optional(), max: z.number().optional() })
  .meta({ id: "LimitRange", description: "The least and the most that is allowed; one may be absent." });

export const interval = z
  .object({ low: z.number(), high: z.number() })
  .meta({ id: "Interval", description: "Two ends of an interval." });

export const shownIn = z
  .object({
    volume: z.literal("us").optional(),
    flow: z.literal("us").optional(),
    temperature: z.literal("us").optional(),
    pressure: z.literal("us").optional(),
  })
  .meta({
    id: "ShownIn",
    description:
      "Kinds of quantities that the texts give in US units. Every number with a unit in its name is in that unit.",
  });

export const why = z.string().describe("Why there is no answer, in words.");
