import * as z from "zod";

/** What a limit value says of the true one. */
export const limitSchema = z.enum(["below", "at-most", "at-least", "above"]);

/** See {@link limitSchema}. */
export type Limit = z.infer<typeof limitSchema>;

/**
 * A measured value, or the limit that the laboratory gave instead of one.
 *
 * "< 50" is kept as `{ value: 50, limit: "below" }` through the whole library; it is never turned into a number. "≤ 50"
 * is "at-most", "≥ 50" is "at-least".
 */
export const measuredSchema = z.strictObject({
  value: z.number().nonnegative(),
  limit: limitSchema.optional(),
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
  if (measured.limit === "below" || measured.limit === "at-most") return within ? "inside" : "not-known";
  if (measured.limit === "at-least") return within ? "not-known" : "outside";
  if (measured.limit === "above") return measured.value >= maximum ? "outside" : "not-known";
  return within ? "inside" : "outside";
}

/** The least and the most that is allowed; one of them may be absent. */
export interface LimitRange {
  readonly min?: number | undefined;
  readonly max?: number | undefined;
}

/**
 * Holds a measured value against a lower and an upper limit.
 *
 * @param measured - value or limit value
 * @param range - the limits, in the same unit
 * @returns as {@link compareWithMaximum}; "outside" when it is surely beyond one of the two
 * @example
 * compareWithRange({ value: 9, limit: "above" }, { min: 9 }); // => "inside"
 */
export function compareWithRange(
  measured: Measured,
  { min, max }: LimitRange,
): ReturnType<typeof compareWithMaximum> {
  const outcomes = [
    ...(max === undefined ? [] : [compareWithMaximum(measured, max)]),
    ...(min === undefined ? [] : [compareWithMinimum(measured, min)]),
  ];
  if (outcomes.includes("outside")) return "outside";
  return outcomes.length > 0 && outcomes.every((outcome) => outcome === "inside") ? "inside" : "not-known";
}

function compareWithMinimum({ value, limit }: Measured, minimum: number) {
  const within = value >= minimum;
  if (limit === "above" || limit === "at-least") return within ? "inside" : "not-known";
  if (limit === "at-most") return within ? "not-known" : "outside";
  if (limit === "below") return value <= minimum ? "outside" : "not-known";
  return within ? "inside" : "outside";
}

const LIMIT_SIGNS: Record<Limit, string> = { below: "<", "at-most": "≤", "at-least": "≥", above: ">" };

/** Writes a measured value: "50", "< 50", "≤ 50", "≥ 50" or "> 50". */
export function formatMeasured(measured: Measured): string {
  return measured.limit === undefined
    ? String(measured.value)
    : `${LIMIT_SIGNS[measured.limit]} ${measured.value}`;
}
