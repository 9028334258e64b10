import * as z from "zod";

/**
 * A measured value, or the limit that the laboratory gave instead of one.
 *
 * "< 50" is kept as `{ value: 50, limit: "below" }` through the whole library; it is never turned into a number.
 */
export const measuredSchema = z.strictObject({
  value: z.number().nonnegative(),
  limit: z.enum(["below", "above"]).optional(),
});

/** See {@link measuredSchema}. */
export type Measured = z.infer<typeof measuredSchema>;

/**
 * Holds a measured value against an upper limit.
 *
 * @param measured - value or limit value
 * @param maximum - the most that is allowed, in the same unit
 * @returns "inside" when it is surely not above the maximum, "outside" when it surely is, otherwise "not-known"
 * @example
 * compareWithMaximum({ value: 50, limit: "below" }, 100); // => "inside"
 */
export function compareWithMaximum(measured: Measured, maximum: number): "inside" | "outside" | "not-known" {
  const within = measured.value <= maximum;
  if (measured.limit === "below") return within ? "inside" : "not-known";
  if (measured.limit === "above") return measured.value >= maximum ? "outside" : "not-known";
  return within ? "inside" : "outside";
}

/** Writes a measured value: "50", "< 50" or "> 50". */
export function sayMeasured(measured: Measured): string {
  if (measured.limit === undefined) return String(measured.value);
  return `${measured.limit === "below" ? "<" : ">"} ${measured.value}`;
}
