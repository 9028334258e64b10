import * as z from "zod";
import { cumulativeCounts } from "../counts/index.js";
import { measuredSchema } from "./measured.js";

/** A calendar day as ISO 8601 writes it. */
export const daySchema = z.iso.date();

const CLOCK_WITH_ZONE = /^\d{2}:\d{2}(:\d{2})?(Z|[+-]\d{2}:\d{2})$/;

/** Cumulative counts on the µm(c) scale, refused when they break the rules of the counts room. */
export const countSetSchema = z
  .strictObject({
    scale: z.literal("um(c)"),
    form: z.literal("cumulative"),
    volumeMl: z.number().positive(),
    counts: z
      .array(z.strictObject({ sizeUm: z.number().positive(), count: z.number().nonnegative() }))
      .min(1),
  })
  .transform((set, context) => {
    try {
      return cumulativeCounts(set.counts, set.volumeMl);
    } catch (error) {
      context.addIssue({ code: "custom", message: (error as Error).message });
      return z.NEVER;
    }
  });

/** Where a result came from: the file, and the rows as a person counts them. */
export const originSchema = z.strictObject({
  file: z.string(),
  rows: z.array(z.number().int().positive()).min(1),
});

/** One bottle drawn from one circuit, with the results that were reported for it. */
export const sampleSchema = z.strictObject({
  /** The laboratory's or the crew's number for the bottle; unique within a circuit. */
  sample: z.string().min(1),
  cart: z.string().min(1),
  circuit: z.string().min(1),
  drawnOn: daySchema,
  /** Time of day as reported, with its zone where the report gives one. */
  drawnTime: z.iso.time().or(z.string().regex(CLOCK_WITH_ZONE)).optional(),
  /** The fluid as written on the label or the report. */
  fluid: z.string().min(1).optional(),
  counts: countSetSchema.optional(),
  waterPpm: measuredSchema.optional(),
  acidMgKohPerG: measuredSchema.optional(),
  viscosity40Mm2PerS: measuredSchema.optional(),
  origin: z.array(originSchema).min(1),
});

/** See {@link sampleSchema}. */
export type Sample = z.infer<typeof sampleSchema>;

/** See {@link originSchema}. */
export type Origin = z.infer<typeof originSchema>;

/**
 * The results of a sample without where they came from, counts in particles per mL.
 *
 * Two files hold the same sample when this is deeply equal. It is for comparing only; classes are always
 * taken from the counts as reported.
 *
 * @returns plain data
 */
export function resultsOf(sample: Sample): object {
  const { origin: _origin, counts, ...rest } = sample;
  if (counts === undefined) return rest;
  const perMl = counts.counts.map(({ sizeUm, count }) => ({ sizeUm, perMl: count / counts.volumeMl }));
  return { ...rest, counts: { scale: counts.scale, form: counts.form, perMl } };
}
