import * as z from "zod";

/** Hoses or lines of one bore in a circuit, which its fluid passes one after the other. */
export const hoseSchema = z.strictObject({
  boreMm: z.number().positive(),
  /** Of each of them. */
  lengthM: z.number().positive(),
  count: z.number().int().positive().default(1),
});

/** See {@link hoseSchema}. */
export type Hose = z.infer<typeof hoseSchema>;

/** mm² times m are mL. */
const ML_PER_L = 1000;

/**
 * What hoses hold, in litres.
 *
 * @example
 * hosesVolumeL([{ boreMm: 25, lengthM: 8, count: 2 }]); // => 7.854
 */
export function hosesVolumeL(hoses: readonly Hose[]): number {
  return hoses.reduce(
    (sum, { boreMm, lengthM, count }) => sum + ((Math.PI / 4) * boreMm ** 2 * lengthM * count) / ML_PER_L,
    0,
  );
}
