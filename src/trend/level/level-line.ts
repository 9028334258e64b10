import { checkNumbers, median, normalQuantile, studentProbability } from "../../numeric/index.js";
import { blocksOf, knownResidual, membersOf, type Observation } from "../series/observation.js";
import { turnbull } from "../series/turnbull.js";
import { ownScores } from "../slope/own-scores.js";
import type { RobustSlope } from "../slope/theil-sen.js";
import { scoreVariance } from "../test/kendall-score.js";
import { huberLevel, scatterOf } from "./huber.js";

/** A robust line with the error of its level at any x, and of its slope. */
export interface LevelLine {
  readonly slope: number;
  /** The x near which the level is known best, and the level there. */
  readonly centreX: number;
  readonly centre: number;
  /** Variances of centre and slope, and how the two go together. */
  readonly centreVariance: number;
  readonly slopeVariance: number;
  readonly covariance: number;
  /** Degrees of freedom of the variances. */
  readonly degreesOfFreedom: number;
  /** Robust standard deviation of single results about the line. */
  readonly scatter: number;
}

/**
 * The level of what is measured, with its error, from a Theil–Sen slope.
 *
 * The level is Huber's mean of y − slope · x in the last block. Its error is the sum of what each observation moves level
 * and slope by (a sandwich estimate): it stays right when results scatter more at one end than at the other, and when level
 * and slope go together. A limit value counts with its mean by Turnbull's distribution.
 *
 * @param observations - those that the slope was taken from
 * @returns undefined when the slope has no interval or no observation is left over to tell the scatter
 * @source HUBER
 * @source SANDWICH
 */
export function levelLine(
  observations: readonly Observation[],
  fit: RobustSlope & { readonly kind: "slope" },
): LevelLine | undefined {
  const blocks = blocksOf(observations);
  const measured = observations.filter((entry) => entry.limit === undefined).length;
  const degreesOfFreedom = measured - blocks.length - 1;
  if (fit.interval.kind === "unbounded" || degreesOfFreedom < 1) return undefined;

  const residuals = blocks.map((block) => likelyResiduals(block, fit.slope));
  const scatter = scatterOf(membersOf(residuals.map(aboutTheirMedian)));
  const last = blocks.at(-1) as Observation[];
  const { level, pulls, whole } = huberLevel(residuals.at(-1) as number[], scatter);
  // Two results that lie far apart may both be cut down: then neither is closer to the level than the other.
  const uncut = last.filter((_, index) => whole[index] === true);
  const counted = uncut.length === 0 ? last : uncut;
  const centreX = counted.reduce((sum, entry) => sum + entry.x, 0) / counted.length;

  const slopeMoves = movesOfSlope(blocks, fit.slope, fit.interval);
  const levelMoves = pulls.map((pull) => pull / counted.length);
  const lastSlopeMoves = slopeMoves.at(-1) as number[];
  const correction = observations.length / (observations.length - blocks.length - 1);
  // A block of few values cannot tell its own scatter: that of all blocks together is used.
  const ownVariance = correction * sumOf(levelMoves, (move) => move * move);
  const pooledVariance = (scatter * scatter) / last.length;
  return {
    slope: fit.slope,
    centreX,
    centre: level + fit.slope * centreX,
    centreVariance: blocks.length === 1 ? ownVariance : Math.max(ownVariance, pooledVariance),
    slopeVariance: correction * sumOf(membersOf(slopeMoves), (move) => move * move),
    covariance: correction * sumOf(levelMoves, (move, index) => move * (lastSlopeMoves[index] as number)),
    degreesOfFreedom,
    scatter,
  };
}

/** The line of one block, from its first x to its last. */
export interface BlockLine {
  readonly from: number;
  readonly to: number;
  /** Level at x = 0. */
  readonly intercept: number;
}

/**
 * The lines of all blocks, which share a slope.
 *
 * @param observations - those that the slope was taken from
 */
export function blockLines(observations: readonly Observation[], slope: number): BlockLine[] {
  return blocksOf(observations).map((block) => ({
    from: (block[0] as Observation).x,
    to: (block.at(-1) as Observation).x,
    intercept: huberLevel(likelyResiduals(block, slope)).level,
  }));
}

/** Level and its standard error at an x. */
export function levelAt(line: LevelLine, x: number): { readonly value: number; readonly error: number } {
  checkNumbers("finite", { x });
  const away = x - line.centreX;
  const variance = line.centreVariance + 2 * away * line.covariance + away * away * line.slopeVariance;
  return { value: line.centre + line.slope * away, error: Math.sqrt(Math.max(0, variance)) };
}

/**
 * Chance that the level at an x lies beyond a limit.
 *
 * @param towards - the side of the limit that is not wanted
 */
export function chanceBeyond(line: LevelLine, limit: number, towards: "above" | "below", x: number): number {
  checkNumbers("finite", { limit });
  const { value, error } = levelAt(line, x);
  const over = towards === "above" ? value - limit : limit - value;
  if (error === 0) return over > 0 ? 1 : 0;
  return studentProbability(over / error, line.degreesOfFreedom);
}

/** Residuals, a limit value with its mean below (or above) its limit by the distribution of all. */
function likelyResiduals(block: readonly Observation[], slope: number): number[] {
  if (block.every((entry) => entry.limit === undefined)) return block.map(({ x, y }) => y - slope * x);
  const known = block.map((entry) => knownResidual(entry, slope));
  const { values, probabilities } = turnbull(known);
  return known.map(({ low, high }) => {
    if (low === high) return low;
    let [weight, sum] = [0, 0];
    for (const [index, value] of values.entries()) {
      if (!Number.isFinite(value) || !(value > low && value < high)) continue;
      weight += probabilities[index] as number;
      sum += value * (probabilities[index] as number);
    }
    // Beyond all measured values nothing is known but the limit itself.
    return weight > 0 ? sum / weight : Number.isFinite(low) ? low : high;
  });
}

/** Distances of values from their median. */
export function aboutTheirMedian(values: readonly number[]): number[] {
  const middle = median(values);
  return values.map((value) => value - middle);
}

/**
 * By how much each observation moves the slope: its own part of the Kendall score over the score's fall per unit of slope,
 * which the width of Sen's interval tells.
 */
function movesOfSlope(
  blocks: readonly (readonly Observation[])[],
  slope: number,
  interval: { readonly low: number; readonly high: number; readonly level: number },
): number[][] {
  const known = blocks.map((block) => block.map((entry) => knownResidual(entry, slope)));
  const deviation = Math.sqrt(sumOf(known, scoreVariance));
  const scoreWidth = 2 * normalQuantile((1 + interval.level) / 2) * deviation;
  const fall = scoreWidth / (interval.high - interval.low);
  if (!Number.isFinite(fall)) return known.map((block) => block.map(() => 0));
  return known.map((block) => Array.from(ownScores(block), (own) => own / fall));
}

function sumOf<T>(values: readonly T[], of: (value: T, index: number) => number): number {
  return values.reduce((sum, value, index) => sum + of(value, index), 0);
}
