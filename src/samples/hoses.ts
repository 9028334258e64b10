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
