import { checkNumbers, gammaQuantile } from "../numeric/index.js";

/** A standard deviation that was measured. */
export interface MeasuredSpread {
  readonly kind: "measured";
  readonly sd: number;
  /** Ends of the interval that the standard deviation lies in with the required confidence. */
  readonly low: number;
  readonly high: number;
  readonly degreesOfFreedom: number;
}

/** How far results of one laboratory on the same fluid lie apart, as a standard deviation. */
export type Spread =
  | MeasuredSpread
  /** All results of the same fluid are the same to their last digit: the spread is hidden by rounding. */
  | { readonly kind: "all-equal"; readonly degreesOfFreedom: number }
  | { readonly kind: "too-few"; readonly degreesOfFreedom: number; readonly needed: number };

/** Of fewer differences a spread is known to no better than a factor of three (common practice, no source). */
export const MIN_DIFFERENCES = 5;

/**
 * The repeatability standard deviation from results that were repeated on the same fluid.
 *
 * The variances of the groups are pooled by their degrees of freedom, as ISO 5725-2 does within a laboratory; of pairs that
 * is √(Σd²/2n). The interval is that of chi-square and takes the scatter as normal.
 *
 * @param groups - results of the same fluid; a group of one result says nothing
 * @param confidence - of the interval, 0 to 1, both excluded
 * @throws RangeError for a result that is not finite
 * @source ISO-5725-2
 * @example
 * pooledSpread([[41, 43], [78, 80], [133, 131], [194, 196], [293, 295]]);
 * // => { kind: "measured", sd: 1.414, low: 0.883, high: 3.469, degreesOfFreedom: 5 }
 */
export function pooledSpread(groups: readonly (readonly number[])[], confidence = 0.95): Spread {
  checkNumbers("share", { confidence });
  let sum = 0;
  let degreesOfFreedom = 0;
  for (const group of groups) {
    for (const result of group) checkNumbers("finite", { "a result": result });
    if (group.length < 2) continue;
    const mean = group.reduce((total, result) => total + result, 0) / group.length;
    sum += group.reduce((total, result) => total + (result - mean) ** 2, 0);
    degreesOfFreedom += group.length - 1;
  }
  if (degreesOfFreedom < MIN_DIFFERENCES)
    return { kind: "too-few", degreesOfFreedom, needed: MIN_DIFFERENCES };
  if (groups.every((group) => group.every((result) => result === group[0]))) {
    return { kind: "all-equal", degreesOfFreedom };
  }
  return intervalOf(Math.sqrt(sum / degreesOfFreedom), degreesOfFreedom, confidence);
}

/** A standard deviation with the interval of chi-square. */
export function intervalOf(sd: number, degreesOfFreedom: number, confidence: number): MeasuredSpread {
  const chiSquare = (probability: number) => 2 * gammaQuantile(degreesOfFreedom / 2, probability);
  return {
    kind: "measured",
    sd,
    low: sd * Math.sqrt(degreesOfFreedom / chiSquare((1 + confidence) / 2)),
    high: sd * Math.sqrt(degreesOfFreedom / chiSquare((1 - confidence) / 2)),
    degreesOfFreedom,
  };
}

/** The relative standard deviation of a quantity whose natural logarithm has this one: as {@link logSdOf} reads it. */
export function relativeSd(logSd: number): number {
  return Math.sqrt(Math.expm1(logSd ** 2));
}
