import * as z from "zod";
import { type CleanlinessTarget, parseTarget } from "../cleanliness/index.js";
import { FLUID_BASES, FLUID_SPECIFICATIONS } from "../fluids/index.js";
import { SOURCES, type SourceKey } from "../provenance/index.js";
import { patchLimitSchema } from "./bottle-tests.js";
import { counterInLineSchema } from "./counter-run.js";
import { expecting } from "./describe-problem.js";
import { SAMPLE_POINTS } from "./drawing.js";
import { fluidSchema } from "./fluid-name.js";
import { METALS } from "./metals.js";
import { EVENT_KINDS } from "./parts-of-circuit.js";
import { confidenceSchema } from "./precision.js";
import {
  identitySchema,
  orNotLimited,
  ppmMaxSchema,
  saturationSchema,
  viscosityRangeSchema,
} from "./requirement-limits.js";

/** A cleanliness target written with its standard, such as "AS4059 cumulative 7A-F". */
const targetSchema = z.string().transform((text, context): CleanlinessTarget => {
  try {
    return parseTarget(text);
  } catch (error) {
    context.addIssue({ code: "custom", message: (error as Error).message });
    return z.NEVER;
  }
});

const sourceKeySchema = z.enum(Object.keys(SOURCES) as [SourceKey, ...SourceKey[]]);

/** A hundred years: no fluid, sample or forecast lasts longer, and the calendar has an end. */
export const MAX_DAYS = 36_525;

/** No acid has a larger acid number in mg KOH/g than this, so a larger limit would limit nothing. */
const MAX_ACID_NUMBER = 1000;

/** No aircraft system holds more; a larger figure is in another unit. Common practice, no source. */
const MAX_SYSTEM_L = 5000;

const daysSchema = z.number().int().positive().max(MAX_DAYS);

/** How old a result of each quantity may be; of one that is not named, as old as a sample. */
const resultAgesSchema = z
  .strictObject({
    particles: daysSchema.optional(),
    patch: daysSchema.optional(),
    water: daysSchema.optional(),
    acid: daysSchema.optional(),
    viscosity: daysSchema.optional(),
    chlorine: daysSchema.optional(),
    metals: daysSchema.optional(),
  })
  .refine((ages) => Object.keys(ages).length > 0, expecting("an age for at least one quantity"));

/** How a sample has to be drawn and counted to represent the fluid. What is required and not stated is not a pass. */
const samplingSchema = z.strictObject({
  /** The label or the report must name the fluid. */
  labelled: z.literal(true).optional(),
  points: z.array(z.enum(SAMPLE_POINTS)).min(1).optional(),
  /** The fluid must have been flowing. */
  flowing: z.literal(true).optional(),
  /** A clean bottle must have been counted. */
  blank: z.literal(true).optional(),
  replicatesMin: z.number().int().min(2).optional(),
  /** The least volume that must have gone through the counter, in mL. */
  countedMlMin: z.number().positive().optional(),
  /** The counter must have been within its calibration. */
  calibrated: z.literal(true).optional(),
  /** Somebody must have looked at the bottle. */
  lookedAt: z.literal(true).optional(),
});

/** What must have happened since an event before a circuit can be fit. */
const afterSchema = z.strictObject({
  event: z.enum(EVENT_KINDS),
  /** Whether a sample must have been drawn since. */
  sample: z.boolean(),
  /** The least self-circulation since, in minutes. */
  circulatedMinutesMin: z.number().positive().optional(),
});

const requirementFields = z.strictObject({
  /** Name of the aircraft system; circuits name it in `serves`. */
  system: z.string().min(1),
  /** The aircraft or fleet that the system belongs to, for pairing a cart with all systems of one aircraft. */
  aircraft: z.string().min(1).optional(),
  /** Fluid of the system on the aircraft, in litres; says how much a hookup can carry over. */
  volumeL: z.number().positive().max(MAX_SYSTEM_L).optional(),
  fluids: z.array(fluidSchema(FLUID_SPECIFICATIONS)).min(1),
  /** Targets for counts and classes of particles; none where the document limits them by {@link patchTest} alone. */
  cleanliness: z.array(targetSchema).default([]),
  /** A class by comparison of a membrane patch. */
  patchTest: patchLimitSchema.optional(),
  waterPpmMax: orNotLimited(ppmMaxSchema),
  waterSaturation: saturationSchema.optional(),
  acidMgKohPerGMax: orNotLimited(z.number().positive().max(MAX_ACID_NUMBER)),
  viscosity40Mm2PerS: viscosityRangeSchema.optional(),
  chlorinePpmMax: ppmMaxSchema.optional(),
  metalsPpmMax: z
    .partialRecord(z.enum(METALS), ppmMaxSchema)
    .refine((metals) => Object.keys(metals).length > 0, expecting("a limit for at least one metal"))
    .optional(),
  sampleAgeDaysMax: daysSchema,
  /** The oldest result of one quantity, where that is not the oldest sample. */
  resultAgeDaysMax: resultAgesSchema.optional(),
  /** Days between two samples; the oldest sample age when absent. */
  sampleEveryDays: daysSchema.optional(),
  identity: identitySchema.optional(),
  sampling: samplingSchema.optional(),
  /** Absent: a fluid change takes every older result, an element change and an opening some; a hookup takes none. */
  after: z.array(afterSchema).optional(),
  /** Share of a circuit's volume that may be topped up after a sample before a new one is needed, as a fraction. */
  topUpShareMax: z.number().min(0).max(1).optional(),
  /** The state of the cart must have been entered, at most this many days ago. */
  cartState: z.strictObject({ ageDaysMax: z.number().int().nonnegative().max(MAX_DAYS) }).optional(),
  /** Absent: every result is taken as it was measured. */
  confidence: confidenceSchema.optional(),
  /** Absent: particles are shown by bottles only. */
  counterInLine: counterInLineSchema.optional(),
  /** Results of the fresh fluid that is filled in, for saying how much to exchange. */
  freshFluid: z
    .strictObject({
      waterPpm: z.number().nonnegative().optional(),
      acidMgKohPerG: z.number().nonnegative().optional(),
    })
    .optional(),
  /** Where each limit was taken from, by the name of its field. */
  from: z.record(z.string(), sourceKeySchema).optional(),
});

/** What one aircraft system asks of the fluid it is given. */
export const requirementSchema = requirementFields.superRefine((requirement, context) => {
  const { fluids, waterSaturation, cleanliness, patchTest, from = {}, after = [] } = requirement;
  if (cleanliness.length === 0 && patchTest === undefined) {
    const expected = "at least one target, or patchTest where the document limits particles by a patch alone";
    context.addIssue({ code: "custom", path: ["cleanliness"], ...expecting(expected) });
  }
  if (cleanliness.length === 0 && requirement.counterInLine !== undefined) {
    const expected = "targets in cleanliness, which is what a counter in the line can show";
    context.addIssue({ code: "custom", path: ["counterInLine"], ...expecting(expected) });
  }
  const ester = fluids.find((fluid) => FLUID_BASES[fluid] === "phosphate ester");
  if (waterSaturation !== undefined && ester !== undefined) {
    const message = `${ester} dissolves far more water than it may hold; ask for waterPpmMax alone`;
    context.addIssue({ code: "custom", path: ["waterSaturation"], message });
  }
  for (const field of Object.keys(from).filter((name) => !Object.hasOwn(requirementFields.shape, name))) {
    context.addIssue({ code: "custom", path: ["from", field], message: "is no field of a requirement" });
  }
  for (const event of repeated(after.map((entry) => entry.event))) {
    context.addIssue({ code: "custom", path: ["after"], message: `${event} is listed twice` });
  }
});

/** A requirements file: the document the limits were taken from, and one requirement for each system. */
export const requirementsFileSchema = z
  .strictObject({
    document: z.string().min(1),
    revision: z.string().min(1),
    /** Said with every verdict; for example that the limits are illustrative. */
    note: z.string().optional(),
    /** Bibliography keys of the values, where they were taken from published pages. */
    sources: z.array(sourceKeySchema).default([]),
    systems: z.array(requirementSchema).min(1),
  })
  .superRefine(({ systems }, context) => {
    for (const name of repeated(systems.map(({ system }) => system))) {
      context.addIssue({
        code: "custom",
        path: ["systems"],
        message: `the system "${name}" is listed twice`,
      });
    }
  });

function repeated<T>(values: readonly T[]): T[] {
  const seen = new Set<T>();
  return values.filter((value) => seen.size === seen.add(value).size);
}

/** The published JSON Schema of a requirements file. */
export function requirementsJsonSchema(): object {
  return {
    $id: "https://siltbook.invalid/requirements.schema.json",
    title: "siltbook requirements file",
    ...z.toJSONSchema(requirementsFileSchema, { io: "input" }),
  };
}

/** See {@link requirementSchema}. */
export type Requirement = z.infer<typeof requirementSchema>;
/** See {@link requirementsFileSchema}. */
export type RequirementsFile = z.infer<typeof requirementsFileSchema>;
