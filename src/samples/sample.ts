import * as z from "zod";
import { AS4059_TABLES, CLASS_STANDARDS } from "../cleanliness/index.js";
import { type CountSet, type CumulativeCount, cumulativeCounts, MAX_VOLUME_ML } from "../counts/index.js";
import { bottleTestsShape } from "./bottle-tests.js";
import { type CounterRun, counterRunSchema } from "./counter-run.js";
import { drawingShape } from "./drawing.js";
import { limitSchema, measuredSchema } from "./measured.js";
import { METALS } from "./metals.js";

/** A calendar day as ISO 8601 writes it. */
export const daySchema = z.iso.date();

const CLOCK_WITH_ZONE = /^\d{2}:\d{2}(:\d{2})?(Z|[+-]\d{2}:\d{2})$/;

/** A time of day as ISO 8601 writes it, with its zone or without. */
export const clockSchema = z.iso
  .time()
  .or(z.string().regex(CLOCK_WITH_ZONE, "one with its zone such as 14:05+02:00"));

const countSchema = z.strictObject({
  sizeUm: z.number().positive(),
  count: z.number().nonnegative(),
  /** Measured, when absent. */
  basis: z.enum(["measured", "converted", "estimated"]).optional(),
  /** Particles of a bottle blank that were subtracted to get the count. */
  blank: z.number().nonnegative().optional(),
});

/** Cumulative counts on the µm(c) scale, refused when they break the rules of the module counts. */
export const countSetSchema = z
  .strictObject({
    scale: z.literal("um(c)"),
    form: z.literal("cumulative"),
    volumeMl: z.number().positive().max(MAX_VOLUME_ML),
    /** How much went through the counter; absent when the report does not say. */
    counting: z
      .strictObject({ countedMl: z.number().positive(), dilution: z.number().min(1).optional() })
      .optional(),
    counts: z.array(countSchema).min(1),
  })
  .transform((set, context): CountSet => {
    try {
      return cumulativeCounts(
        set.counts.map(withoutBlanks),
        set.volumeMl,
        set.scale,
        countingOf(set.counting),
      );
    } catch (error) {
      context.addIssue({ code: "custom", message: (error as Error).message });
      return z.NEVER;
    }
  });

function withoutBlanks({ sizeUm, count, basis, blank }: z.infer<typeof countSchema>): CumulativeCount {
  return { sizeUm, count, ...(basis && { basis }), ...(blank !== undefined && { blank }) };
}

function countingOf(counting: { countedMl: number; dilution?: number | undefined } | undefined) {
  if (counting === undefined) return undefined;
  const { countedMl, dilution } = counting;
  return { countedMl, ...(dilution !== undefined && { dilution }) };
}

/** A cumulative count that the report gives only as a limit, such as "> 100000" for a counter that was swamped. */
export const limitedCountSchema = z.strictObject({
  sizeUm: z.number().positive(),
  volumeMl: z.number().positive().max(MAX_VOLUME_ML),
  count: z.number().nonnegative(),
  limit: limitSchema,
});

/**
 * Counts on a size scale that classes are not read on, kept as reported with what they stand for.
 *
 * They are never turned into µm(c) in silence, so no verdict uses them.
 */
export const otherScaleCountSchema = z.strictObject({
  scale: z.enum(["um-older", "um-microscope"]),
  fromUm: z.number().positive(),
  toUm: z.number().positive().optional(),
  volumeMl: z.number().positive().max(MAX_VOLUME_ML),
  count: z.number().nonnegative(),
  limit: limitSchema.optional(),
});

/** A result that the report gives in words and not as a number. */
export const wordedResultSchema = z.strictObject({
  /** What was to be measured, such as "water" or "count above 4 µm(c)". */
  measurand: z.string().min(1),
  said: z.enum(["not-detected", "trace", "too-many-to-count"]),
});

/** A cleanliness class that the report states with its counts. */
export const reportedClassSchema = z.strictObject({
  standard: z.enum(CLASS_STANDARDS),
  class: z.string().min(1),
  /** Of AS4059 without size codes: the table that the title or the cell names. */
  table: z.enum(AS4059_TABLES).optional(),
});

/** A text of the report, under the title that it has there. */
export const reportTextSchema = z.strictObject({ column: z.string(), text: z.string().min(1) });

/** Where a result came from: the file, and the rows as a person counts them. */
export const originSchema = z.strictObject({
  file: z.string(),
  /** The sheet of a workbook. */
  sheet: z.string().optional(),
  rows: z.array(z.number().int().positive()).min(1),
});

/** One bottle drawn from one circuit, or one run of a counter in its line, with the results that were reported for it. */
export const sampleSchema = z.strictObject({
  /** The laboratory's or the crew's number for the bottle; unique within a circuit. */
  sample: z.string().min(1),
  cart: z.string().min(1),
  circuit: z.string().min(1),
  drawnOn: daySchema,
  /** Time of day as reported, with its zone where the report gives one. */
  drawnTime: clockSchema.optional(),
  /** The day the laboratory received the bottle. */
  receivedOn: daySchema.optional(),
  /** The day of the report. */
  reportedOn: daySchema.optional(),
  /** The last day of the calibration of the particle counter. */
  calibrationDueOn: daySchema.optional(),
  /** The fluid as written on the label or the report. */
  fluid: z.string().min(1).optional(),
  counts: countSetSchema.optional(),
  /** Single counts of the same bottle, each with the volume that was counted. */
  replicates: z.array(countSetSchema).min(2).optional(),
  /** Counts of a clean bottle. */
  blank: countSetSchema.optional(),
  /** Volume in mL that was counted, where no counts in µm(c) hold it: a class alone may be reported. */
  countedVolumeMl: z.number().positive().max(MAX_VOLUME_ML).optional(),
  limitedCounts: z.array(limitedCountSchema).min(1).optional(),
  otherScaleCounts: z.array(otherScaleCountSchema).min(1).optional(),
  wordedResults: z.array(wordedResultSchema).min(1).optional(),
  reportedClasses: z.array(reportedClassSchema).min(1).optional(),
  /** Temperature of the fluid in °C when it was drawn. */
  fluidTemperatureC: z.number().optional(),
  waterPpm: measuredSchema.optional(),
  acidMgKohPerG: measuredSchema.optional(),
  viscosity40Mm2PerS: measuredSchema.optional(),
  /** Density at 15 °C in kg/m³. */
  density15KgPerM3: measuredSchema.optional(),
  /** Chlorine in ppm by mass. */
  chlorinePpm: measuredSchema.optional(),
  /** Metals in ppm by mass. */
  metalsPpm: z.partialRecord(z.enum(METALS), measuredSchema).optional(),
  /** Where it was counted in the line, and no bottle was drawn. */
  counterRun: counterRunSchema.optional(),
  ...drawingShape,
  ...bottleTestsShape,
  /** What the laboratory says of the sample itself: remarks, evaluation, status and the like. */
  laboratorySays: z.array(reportTextSchema).min(1).optional(),
  /** Texts of columns that were not used. They are shown and never decide anything. */
  otherTexts: z.array(reportTextSchema).min(1).optional(),
  /** Checks of the intake that a person looked into and accepted for this sample, such as "factor-of-100". */
  acceptedChecks: z.array(z.string().min(1)).min(1).optional(),
  origin: z.array(originSchema).min(1),
});

/** See {@link sampleSchema}. */
export type Sample = z.infer<typeof sampleSchema>;

/** Whether a sample was counted in the line; all others are bottles. */
export function isCounterRun(sample: Sample): sample is Sample & { readonly counterRun: CounterRun } {
  return sample.counterRun !== undefined;
}

/** See {@link limitedCountSchema}. */
export type LimitedCount = z.infer<typeof limitedCountSchema>;

/** See {@link otherScaleCountSchema}. */
export type OtherScaleCount = z.infer<typeof otherScaleCountSchema>;

/** See {@link wordedResultSchema}. */
export type WordedResult = z.infer<typeof wordedResultSchema>;

/** See {@link reportedClassSchema}. */
export type ReportedClass = z.infer<typeof reportedClassSchema>;

/** See {@link reportTextSchema}. */
export type ReportText = z.infer<typeof reportTextSchema>;

/** See {@link originSchema}. */
export type Origin = z.infer<typeof originSchema>;

/**
 * The results of a sample without where they came from, what was accepted of them and texts that were not used; counts in
 * particles per mL.
 *
 * Two files hold the same sample when this is deeply equal. It is for comparing only; classes are always
 * taken from the counts as reported.
 *
 * @returns plain data
 */
export function resultsOf(sample: Sample): object {
  const {
    origin: _origin,
    otherTexts: _otherTexts,
    acceptedChecks: _accepted,
    counts,
    limitedCounts,
    otherScaleCounts,
    ...rest
  } = sample;
  return {
    ...rest,
    ...(counts && {
      counts: {
        scale: counts.scale,
        form: counts.form,
        ...(counts.counting && { counting: counts.counting }),
        perMl: counts.counts.map(({ count, ...rest }) => ({ ...rest, perMl: count / counts.volumeMl })),
      },
    }),
    ...(limitedCounts && { limitedCounts: limitedCounts.map(perMl) }),
    ...(otherScaleCounts && { otherScaleCounts: otherScaleCounts.map(perMl) }),
  };
}

function perMl<T extends { count: number; volumeMl: number }>({ count, volumeMl, ...rest }: T) {
  return { ...rest, perMl: count / volumeMl };
}
