import { checkNumbers, median } from "../../numeric/index.js";
import { blocksOf, columnOf, knownResidual, mustBeFinite, type Observation } from "../series/observation.js";
import { stepQuantile, turnbull } from "../series/turnbull.js";
import { criticalScore } from "../test/trend-test.js";
import { slopeByScore } from "./slope-search.js";

/** An interval that has the true value with the probability `level`. */
export type SlopeInterval =
  | { readonly kind: "interval"; readonly low: number; readonly high: number; readonly level: number }
  /** So few observations, ties or limit values that no slope can be excluded on one side at least. */
  | { readonly kind: "unbounded"; readonly level: number };

/** A robust line through observations, or why it is not known. */
export type RobustSlope =
  | {
      readonly kind: "slope";
      readonly n: number;
      /** How many of them are limit values such as "< 50". */
      readonly limited: number;
      /** Change of y per unit of x. */
      readonly slope: number;
      readonly interval: SlopeInterval;
      /** y of the last block's line at x = 0. */
      readonly intercept: number;
    }
  | {
      readonly kind: "cannot-tell";
      readonly n: number;
      /** Measured values at this many different x are needed. */
      readonly needed: number;
      readonly why: "too-few-measured" | "mostly-limits" | "no-order";
    };

/** With fewer points a single odd result could set the slope. */
const MIN_POINTS = 4;

/** With more limit values than this, a slope says more of the limits than of the fluid. */
const MAX_LIMITED = 0.8;

/**
 * The Theil–Sen line with Sen's interval: the median of the slopes between all pairs of points, so that one odd result
 * does not turn it.
 *
 * It is the slope at which the residuals no longer rise or fall by Kendall's score, and the interval holds the slopes that
 * {@link trendTest} cannot tell from it; said so, it serves limit values as well (Akritas–Theil–Sen), and blocks, whose
 * scores add up. A limit value takes part only where its order is sure and is never given a number. The intercept is the
 * median of y − slope · x, for limit values by Turnbull's estimate, within the last block.
 *
 * @param observations - in any order
 * @param level - of the interval
 * @returns slope, interval and intercept, or "cannot-tell" for fewer than four different x with a measured value
 * @throws RangeError for a coordinate that is not a finite number
 * @source SEN
 * @source AKRITAS-THEIL-SEN
 * @source HIRSCH-SLACK-SMITH
 * @source HELSEL-HIRSCH
 * @example
 * theilSen([1, 2, 3, 4, 5, 16, 7].map((y, index) => ({ x: index + 1, y }))).slope; // => 1
 */
export function theilSen(observations: readonly Observation[], level = 0.9): RobustSlope {
  mustBeFinite(observations);
  checkNumbers("share", { level });
  const n = observations.length;
  const measured = observations.filter((entry) => entry.limit === undefined);
  const cannotTell = (why: (RobustSlope & { kind: "cannot-tell" })["why"]): RobustSlope => ({
    kind: "cannot-tell",
    n,
    needed: MIN_POINTS,
    why,
  });
  if (new Set(measured.map((entry) => entry.x)).size < MIN_POINTS) return cannotTell("too-few-measured");
  if (!(n - measured.length <= MAX_LIMITED * n)) return cannotTell("mostly-limits");

  const blocks = blocksOf(observations);
  const origin = (blocks[0] as Observation[])[0] as Observation;
  const near = blocks.map((block) =>
    block.map(({ x, y, limit }) => ({ x: x - origin.x, y: y - origin.y, ...(limit && { limit }) })),
  );
  const lastSlopeWith = slopeByScore(near);
  const rising = lastSlopeWith(1);
  const notFalling = lastSlopeWith(0);
  if (rising === undefined || notFalling === undefined) return cannotTell("no-order");
  const slope = (rising + notFalling) / 2;
  const intercept = medianResidual(blocks.at(-1) as Observation[], slope);
  if (!Number.isFinite(intercept)) return cannotTell("mostly-limits");
  const idle = Math.floor(criticalScore(aboutTheLine(observations, slope), level));
  const low = lastSlopeWith(idle + 1);
  const high = lastSlopeWith(-idle);
  return {
    kind: "slope",
    n,
    limited: n - measured.length,
    slope,
    interval:
      low === undefined || high === undefined
        ? { kind: "unbounded", level }
        : { kind: "interval", low, high, level },
    intercept,
  };
}

/**
 * The observations whose order the interval rests on. How much the score varies depends on the pairs whose order is known,
 * and with limit values those are others about the line than about a level; ties are those of the values as measured.
 */
function aboutTheLine(observations: readonly Observation[], slope: number): readonly Observation[] {
  if (observations.every((entry) => entry.limit === undefined)) return observations;
  return observations.map((entry) => ({ ...entry, y: entry.y - slope * entry.x }));
}

/**
 * Median of y − slope · x; ±Infinity when it lies among limit values.
 *
 * @param observations - measured and limit values
 */
export function medianResidual(observations: readonly Observation[], slope: number): number {
  if (observations.every((entry) => entry.limit === undefined)) {
    return median(columnOf(observations, ({ x, y }) => y - slope * x));
  }
  return stepQuantile(turnbull(observations.map((entry) => knownResidual(entry, slope))), 0.5);
}
