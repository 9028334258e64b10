import { normalProbability, normalQuantile } from "../../numeric/index.js";
import { blocksOf, knownResidual, mustBeFinite, type Observation } from "../series/observation.js";
import { exactTail, exactTails } from "./kendall-exact.js";
import { kendallScore, orderingsOf, scoreVariance, varianceFrom } from "./kendall-score.js";

/** Do values rise or fall with x, and how surely. */
export interface TrendTest {
  readonly n: number;
  /** Kendall's score S: surely rising pairs less surely falling ones. */
  readonly score: number;
  readonly variance: number;
  /** Kendall's tau-b, −1 to 1; 0 when no pair has a known order. */
  readonly tau: number;
  /** Standard normal score with continuity correction; 0 when the variance is 0. */
  readonly z: number;
  /** Chance of a score at least this far from 0, on either side, when there is no trend. */
  readonly pValue: number;
  readonly method: "exact" | "normal";
}

/** Up to here, without ties and limit values, all orders are counted; beyond, the normal curve is as good. */
const MAX_EXACT = 30;

/**
 * The Mann–Kendall test for a trend, with ties, limit values ("< 50") and blocks.
 *
 * Exact when there are at most 30 observations without ties, limit values or repeated x; otherwise normal, with the
 * variance corrected for ties and limit values and with a continuity correction. Scores and variances of blocks add up,
 * as in the seasonal Kendall test.
 *
 * @param observations - in any order
 * @throws RangeError for a coordinate that is not a finite number
 * @source MANN-KENDALL
 * @source HELSEL
 * @source DANIELS
 * @source HIRSCH-SLACK-SMITH
 */
export function trendTest(observations: readonly Observation[]): TrendTest {
  mustBeFinite(observations);
  const blocks = blocksOf(observations).map((block) => block.map((entry) => knownResidual(entry, 0)));
  const score = sum(blocks.map(kendallScore));
  const orderings = blocks.map(orderingsOf);
  const variance = sum(orderings.map(varianceFrom));
  // Each pair is counted from both its ends.
  const [inX, inY] = [
    sum(orderings.map((entry) => entry.inX.pairs)),
    sum(orderings.map((entry) => entry.inY.pairs)),
  ];
  const size = Math.sqrt((inX / 2) * (inY / 2));
  const z = variance === 0 || score === 0 ? 0 : (score - Math.sign(score)) / Math.sqrt(variance);
  const exact = countsAllOrders(observations);
  return {
    n: observations.length,
    score,
    variance,
    tau: size === 0 ? 0 : score / size,
    z,
    pValue: exact
      ? exactTail(
          blocks.map((block) => block.length),
          score,
        )
      : Math.min(1, 2 * normalProbability(-Math.abs(z))),
    method: exact ? "exact" : "normal",
  };
}

/** Whether the score's exact distribution applies. */
function countsAllOrders(observations: readonly Observation[]): boolean {
  if (observations.length > MAX_EXACT || observations.some((entry) => entry.limit !== undefined))
    return false;
  return blocksOf(observations).every(
    (block) =>
      new Set(block.map((entry) => entry.x)).size === block.length &&
      new Set(block.map((entry) => entry.y)).size === block.length,
  );
}

/**
 * The largest score that {@link trendTest} does not call a trend at a level.
 *
 * @param observations - for their number, ties and limit values
 * @param level - probability that no trend gives a score up to this, such as 0.9
 */
export function criticalScore(observations: readonly Observation[], level: number): number {
  if (countsAllOrders(observations)) {
    const sizes = blocksOf(observations).map((block) => block.length);
    let score = sum(sizes.map((size) => (size * (size - 1)) / 2));
    const tailOf = exactTails(sizes);
    while (score > 0 && tailOf(score) <= 1 - level) score -= 2;
    return score;
  }
  const variance = sum(
    blocksOf(observations).map((block) => scoreVariance(block.map((entry) => knownResidual(entry, 0)))),
  );
  return 1 + normalQuantile((1 + level) / 2) * Math.sqrt(variance);
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
