import * as z from "zod";
import { TEST_METHODS, type TestMethodName } from "../fluids/index.js";

/**
 * How far results of a laboratory scatter about the true value: by a published test method, as a standard deviation in
 * the unit of the quantity, or as a standard deviation relative to the limit, as a fraction.
 */
const precisionSchema = z.union([
  z.strictObject({ method: z.enum(Object.keys(TEST_METHODS) as [TestMethodName, ...TestMethodName[]]) }),
  z.strictObject({ sd: z.number().positive() }),
  z.strictObject({ rsd: z.number().positive() }),
]);

/** See {@link precisionSchema}. */
export type Precision = z.infer<typeof precisionSchema>;

/** Spread of counter and laboratory together, beyond that of counting few particles. */
const reproducibilitySchema = z.discriminatedUnion("kind", [
  /** Relative standard deviation as a fraction: 0.15 is 15 %. */
  z.strictObject({ kind: z.literal("relative"), rsd: z.number().nonnegative() }),
  /** Standard deviation in ISO 4406 scale numbers. */
  z.strictObject({ kind: z.literal("codes"), sd: z.number().nonnegative() }),
]);

/** How sure a circuit must be to conform, and how far results scatter. */
export const confidenceSchema = z.strictObject({
  /** Probability of conforming that must be reached. */
  probability: z.number().gt(0.5).lt(1).default(0.95),
  counts: z.strictObject({ reproducibility: reproducibilitySchema.optional() }).optional(),
  water: precisionSchema.optional(),
  acid: precisionSchema.optional(),
  viscosity: precisionSchema.optional(),
  chlorine: precisionSchema.optional(),
  metals: precisionSchema.optional(),
});

/** See {@link confidenceSchema}. */
export type Confidence = z.infer<typeof confidenceSchema>;
