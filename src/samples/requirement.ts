import * as z from "zod";
import { type CleanlinessTarget, readTarget } from "../cleanliness/index.js";
import { FLUID_SPECIFICATIONS } from "../fluids/index.js";
import { SOURCES, type SourceKey } from "../provenance/index.js";

/** A cleanliness target written with its standard, such as "AS4059 cumulative 7A-F". */
const targetSchema = z.string().transform((text, context): CleanlinessTarget => {
  try {
    return readTarget(text);
  } catch (error) {
    context.addIssue({ code: "custom", message: (error as Error).message });
    return z.NEVER;
  }
});

const sourceKeySchema = z.enum(Object.keys(SOURCES) as [SourceKey, ...SourceKey[]]);

/** What one aircraft system asks of the fluid it is given. */
export const requirementSchema = z.strictObject({
  /** Name of the aircraft system; circuits name it in `serves`. */
  system: z.string().min(1),
  fluids: z.array(z.enum(FLUID_SPECIFICATIONS)).min(1),
  cleanliness: z.array(targetSchema).min(1),
  waterPpmMax: z.number().positive(),
  acidMgKohPerGMax: z.number().positive(),
  sampleAgeDaysMax: z.number().int().positive(),
});

/** A requirements file: the document the limits were taken from, and one requirement for each system. */
export const requirementsFileSchema = z.strictObject({
  document: z.string().min(1),
  revision: z.string().min(1),
  /** Said beside every verdict; for example that the limits are illustrative. */
  note: z.string().optional(),
  /** Bibliography keys of the values, where they were taken from published pages. */
  sources: z.array(sourceKeySchema).default([]),
  systems: z.array(requirementSchema).min(1),
});

/** See {@link requirementSchema}. */
export type Requirement = z.infer<typeof requirementSchema>;
/** See {@link requirementsFileSchema}. */
export type RequirementsFile = z.infer<typeof requirementsFileSchema>;
