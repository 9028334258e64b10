import { checkNumbers, normalProbability, normalQuantile } from "../../numeric/index.js";
import type { LimitRange } from "../../samples/index.js";

/** One measured value with its standard uncertainty, and its limits. */
export interface MeasuredAgainst extends LimitRange {
  readonly value: number;
  /** Standard uncertainty, more than 0, in the unit of the value. */
  readonly standardUncertainty: number;
}

/**
 * The probability that the true value lies within the limits.
 *
 * What is known of the true value is taken as normal about the measured one: before measuring nothing was known of it.
 *
 * @returns 0 to 1
 * @throws RangeError for a standard uncertainty that is not above 0, or when there is no limit
 * @source JCGM-106
 * @example
 * conformanceProbability({ value: 13.6, standardUncertainty: 1.8, min: 12.5, max: 16.3 }); // => 0.663
 */
export function conformanceProbability({ value, standardUncertainty, min, max }: MeasuredAgainst): number {
  checkNumbers("number", { value, min, max });
  mustBePositive(standardUncertainty);
  if (min === undefined && max === undefined) throw new RangeError("a lower or an upper limit is needed");
  // Each tail by itself, so that a small doubt keeps its digits; NaN makes NaN, which reaches no confidence.
  const above = max === undefined ? 0 : normalProbability((value - max) / standardUncertainty);
  const below = min === undefined ? 0 : normalProbability((min - value) / standardUncertainty);
  return Math.max(0, 1 - above - below);
}

/**
 * Where a measured value must lie for the true value to conform with a given probability, at a single limit.
 *
 * @param confidence - 0.5 to 1, both excluded
 * @returns the limits drawn in by the guard band
 * @source JCGM-106
 * @example
 * acceptanceLimits({ max: 200 }, 10, 0.95).max; // => 183.55
 */
export function acceptanceLimits(
  { min, max }: LimitRange,
  standardUncertainty: number,
  confidence: number,
): LimitRange {
  checkNumbers("finite", { min, max, confidence });
  mustBePositive(standardUncertainty);
  const guard = normalQuantile(confidence) * standardUncertainty;
  return {
    ...(min !== undefined && { min: min + guard }),
    ...(max !== undefined && { max: max - guard }),
  };
}

function mustBePositive(standardUncertainty: number): void {
  checkNumbers("positive", { "a standard uncertainty": standardUncertainty });
}
