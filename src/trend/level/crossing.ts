import { bisect, checkNumbers, studentQuantile } from "../../numeric/index.js";
import { blocksOf, type Observation } from "../series/observation.js";
import { type RobustSlope, theilSen } from "../slope/theil-sen.js";
import { type TrendTest, trendTest } from "../test/trend-test.js";
import { chanceBeyond, type LevelLine, levelAt, levelLine } from "./level-line.js";

/** A limit, and the side of it that is not wanted. */
export interface Bound {
  readonly limit: number;
  readonly towards: "above" | "below";
}

/** When the level crosses a limit. */
export type Forecast =
  | {
      readonly kind: "crosses";
      readonly x: number;
      /** The interval has the true crossing with the probability `level`. */
      readonly earliest: number;
      /** Absent when the slope is so uncertain that the interval has no end. */
      readonly latest?: number;
      readonly level: number;
    }
  | { readonly kind: "no-trend"; readonly pValue: number }
  | {
      readonly kind: "beyond-horizon";
      /** Absent when the level moves away from the limit. */
      readonly x?: number;
      /** Given where the interval reaches into the horizon. */
      readonly earliest?: number;
      readonly level: number;
    }
  | { readonly kind: "cannot-tell"; readonly n: number; readonly needed: number };

/** What a forecast rests on. */
export interface ForecastCase extends Bound {
  readonly observations: readonly Observation[];
  /** No crossing later than this x is reported. */
  readonly horizon: number;
  /** Probability that the interval has the true crossing. */
  readonly level?: number;
  /** A trend test with a chance above this is no trend. */
  readonly alpha?: number;
}

const LEVEL = 0.9;
const ALPHA = 0.05;

/**
 * Forecasts when the level of what is measured crosses a limit, in either direction.
 *
 * The crossing is that of the robust line, not of a single result, which scatters about it. The interval holds every x at
 * which the limit cannot be distinguished from the level (Fieller), with Student's t.
 *
 * @param input - observations, limit and horizon; see {@link ForecastCase}
 * @returns the crossing with its interval, or that there is no trend, nothing within the horizon, or too little to tell; a
 *   crossing in the past, though not before the last block, when the level is beyond the limit already
 * @throws RangeError for a number that is not finite
 * @source FIELLER
 */
export function forecastCrossing(input: ForecastCase): Forecast {
  const { observations, horizon, level = LEVEL } = input;
  checkNumbers("finite", { horizon });
  const fit = theilSen(observations, level);
  return forecastWithin(
    { ...input, isAhead: (x) => x <= horizon },
    {
      fit,
      ...(fit.kind === "slope" && { line: levelLine(observations, fit) }),
      test: trendTest(observations),
    },
  );
}

/** What is known of a trend before it is compared with a limit. */
export interface KnownTrend {
  /** With an interval of the forecast's level. */
  readonly fit: RobustSlope;
  readonly line?: LevelLine | undefined;
  readonly test: TrendTest;
}

/**
 * The same as {@link forecastCrossing} where slope, line and test are known already; several limits share them.
 *
 * @param input - with a function that says whether an x lies within the horizon
 */
export function forecastWithin(
  input: Omit<ForecastCase, "horizon"> & { readonly isAhead: (x: number) => boolean },
  { fit, line, test }: KnownTrend,
): Forecast {
  const { observations, limit, towards, isAhead, level = LEVEL, alpha = ALPHA } = input;
  checkNumbers("finite", { limit });
  checkNumbers("share", { alpha });
  if (fit.kind === "cannot-tell") return { kind: "cannot-tell", n: fit.n, needed: fit.needed };
  if (line === undefined) return { kind: "cannot-tell", n: fit.n, needed: fit.n + 1 };
  if (!(test.pValue <= alpha) || fit.slope === 0) return { kind: "no-trend", pValue: test.pValue };
  const movesTowards = towards === "above" ? fit.slope > 0 : fit.slope < 0;
  if (!movesTowards) return { kind: "beyond-horizon", level };
  const window = sinceItsBlock(crossingWindow(line, limit, level), observations);
  if (!isAhead(window.x)) {
    return {
      kind: "beyond-horizon",
      x: window.x,
      ...(isAhead(window.earliest) && { earliest: window.earliest }),
      level,
    };
  }
  return { kind: "crosses", level, ...window };
}

interface Window {
  readonly x: number;
  readonly earliest: number;
  readonly latest?: number;
}

/**
 * The line says nothing of the time before its block: a crossing there came with the step that began the block, between
 * the two observations on either side of it, or before the first observation.
 */
function sinceItsBlock(window: Window, observations: readonly Observation[]): Window {
  const blocks = blocksOf(observations);
  const start = blocks.at(-1)?.[0]?.x ?? window.x;
  const before = blocks.at(-2)?.at(-1)?.x ?? start;
  if (window.x < start) return { x: start, earliest: before, latest: start };
  return { ...window, earliest: Math.max(before, window.earliest) };
}

/**
 * Where a line meets a limit, with the interval of x at which the limit lies within the line's error.
 *
 * @returns `latest` is absent when the slope cannot be distinguished from 0 at this level
 */
export function crossingWindow(line: LevelLine, limit: number, level: number): Window {
  const t = studentQuantile((1 + level) / 2, line.degreesOfFreedom);
  const gap = limit - line.centre;
  const x = line.centreX + gap / line.slope;
  // (slope · u − gap)² = t² · variance(u), with u = x − centreX.
  const a = line.slope ** 2 - t * t * line.slopeVariance;
  const b = line.slope * gap + t * t * line.covariance;
  const c = gap * gap - t * t * line.centreVariance;
  const root = Math.sqrt(Math.max(0, b * b - a * c));
  if (!(a > 0)) {
    // The set of x reaches without end on one side: its one finite end is the root nearest to the crossing before it.
    const ends = [(b - root) / a, (b + root) / a].map((u) => line.centreX + u).filter((end) => end <= x);
    return { x, earliest: ends.length === 0 ? line.centreX : Math.max(...ends) };
  }
  return { x, earliest: line.centreX + (b - root) / a, latest: line.centreX + (b + root) / a };
}

/** When the next sample is due. */
export interface NextSample {
  readonly x: number;
  /** Chance that the level is beyond the limit by then. */
  readonly chance: number;
  readonly because: "risk" | "longest-interval" | "risk-already-reached";
}

/**
 * The x at which the chance that the level has crossed the limit reaches a risk, and no later than a longest interval.
 *
 * @param lastX - x of the last sample
 * @param risk - above 0 and below 1
 * @param longest - the longest interval allowed after `lastX`
 * @returns x of the next sample; `lastX` itself when the chance was as high then
 */
export function nextSampleDue(
  line: LevelLine,
  bound: Bound,
  { lastX, risk, longest }: { readonly lastX: number; readonly risk: number; readonly longest: number },
): NextSample {
  const chanceAt = (x: number) => chanceBeyond(line, bound.limit, bound.towards, x);
  if (chanceAt(lastX) >= risk) return { x: lastX, chance: chanceAt(lastX), because: "risk-already-reached" };
  const end = lastX + longest;
  const turn = turnOf(line, bound);
  const highest = Math.max(chanceAt(end), turn > lastX && turn < end ? chanceAt(turn) : 0);
  if (highest < risk) return { x: end, chance: chanceAt(end), because: "longest-interval" };
  // The chance need not rise steadily, so the first step that reaches the risk is looked for before halving in it.
  for (let step = 1; step <= SEARCH_STEPS; step += 1) {
    const to = lastX + (longest * step) / SEARCH_STEPS;
    if (chanceAt(to) >= risk) {
      const from = lastX + (longest * (step - 1)) / SEARCH_STEPS;
      const x = bisect((at) => !(chanceAt(at) >= risk), from, to).holds;
      return { x, chance: chanceAt(x), because: "risk" };
    }
  }
  return { x: end, chance: chanceAt(end), because: "longest-interval" };
}

const SEARCH_STEPS = 200;

/** The one x at which the distance from a limit, in errors of the level, stops rising or falling; NaN when it never does. */
function turnOf(line: LevelLine, { limit }: Bound): number {
  const over = line.centre - limit;
  return (
    line.centreX +
    (line.slope * line.centreVariance - over * line.covariance) /
      (over * line.slopeVariance - line.slope * line.covariance)
  );
}

/** The line's level and a limit, to compare them. */
export function isBeyond(line: LevelLine, { limit, towards }: Bound, x: number): boolean {
  const { value } = levelAt(line, x);
  return towards === "above" ? value > limit : value < limit;
}
