import { bisect, halfway } from "../../numeric/index.js";
import { knownResidual, type Observation } from "../series/observation.js";
import { residualScore } from "../test/kendall-score.js";
import { SlopeSelection } from "./slope-selection.js";

type Blocks = readonly (readonly Observation[])[];

/** Where there are limit values, at most this many pairs are listed; with more, the slope is searched for by halving. */
const MAX_LISTED = 5000;

/**
 * Finds the largest slope at which the residuals' Kendall score is still at least a number.
 *
 * The score falls in steps, one at the slope of each pair, so the answer is the slope of a pair.
 *
 * @param blocks - each sorted by x, x and y near 0 for the sake of digits
 * @returns a function of the score; undefined from it when every slope, or none, has such a score
 */
export function slopeByScore(blocks: Blocks): (score: number) => number | undefined {
  if (blocks.every((block) => block.every((entry) => entry.limit === undefined))) {
    const selection = new SlopeSelection(blocks);
    return (score) => {
      // Each pair takes two from the score.
      const rank = Math.floor((selection.pairs - score) / 2);
      if (!(rank >= 0 && rank < selection.pairs)) return undefined;
      return selection.slopeAt(rank) ?? halvedSlope(blocks, score);
    };
  }
  const pairs = blocks.reduce((sum, block) => sum + (block.length * (block.length - 1)) / 2, 0);
  if (pairs > MAX_LISTED) return (score) => halvedSlope(blocks, score);
  const { first, slopes } = listSteps(blocks);
  return (score) => (first < score ? undefined : slopes[first - score]);
}

/** The score for a slope far below all, and the slopes, in rising order, at each of which it falls by one. */
function listSteps(blocks: Blocks): { first: number; slopes: number[] } {
  let first = 0;
  const slopes: number[] = [];
  for (const block of blocks) {
    const known = block.map((entry) => knownResidual(entry, 0));
    for (const [index, later] of known.entries()) {
      for (const earlier of known.slice(0, index)) {
        if (earlier.x === later.x) continue;
        const run = later.x - earlier.x;
        if (Number.isFinite(later.low) && Number.isFinite(earlier.high)) {
          first += 1;
          slopes.push(slopeOf(later.low - earlier.high, run));
        }
        if (Number.isFinite(later.high) && Number.isFinite(earlier.low)) {
          slopes.push(slopeOf(later.high - earlier.low, run));
        }
      }
    }
  }
  return { first, slopes: slopes.sort((a, b) => a - b) };
}

/**
 * The same by halving, n log n a step. How many steps it takes is set by the digits of a number, not by n.
 */
export function halvedSlope(blocks: Blocks, score: number): number | undefined {
  const reach = reachOf(blocks);
  if (reach === undefined) return undefined;
  const { width, height, steepest } = reach;
  const reaches = (slope: number) => residualScore(blocks, slope) >= score;
  if (!reaches(-steepest) || reaches(steepest)) return undefined;
  const turn = bisect(reaches, -steepest, steepest, {
    isNear: (low, high) => (high - low) * width <= Number.EPSILON * (height + Math.max(-low, high) * width),
  });
  return nearestPairSlope(blocks, halfway(turn.holds, turn.fails), reach);
}

/** Sizes of the data: the largest |x| and |y|, and a slope steeper than that of any pair. */
interface Reach {
  readonly width: number;
  readonly height: number;
  readonly steepest: number;
}

function reachOf(blocks: Blocks): Reach | undefined {
  const all = blocks.flat();
  const gaps = blocks.flatMap((block) =>
    block.slice(1).flatMap((entry, index) => {
      const gap = entry.x - (block[index] as Observation).x;
      return gap > 0 ? [gap] : [];
    }),
  );
  if (gaps.length === 0) return undefined;
  const width = largest(all.map((entry) => Math.abs(entry.x)));
  // Where all y are 0, any size serves to say when halving has come close enough to the slope 0.
  const height = largest(all.map((entry) => Math.abs(entry.y))) || 1;
  // Finite even where two x differ by less than a slope can say.
  return { width, height, steepest: Math.min((4 * height) / smallest(gaps), Number.MAX_VALUE / 4) };
}

/**
 * The slope of the pair that crosses at `slope`, to the last digit that the pair itself has.
 *
 * Halving ends within rounding of it: the pairs whose residuals are equal there are looked up, and their own slope taken.
 */
function nearestPairSlope(blocks: Blocks, slope: number, reach: Reach): number {
  const tolerance = 16 * Number.EPSILON * (reach.height + Math.abs(slope) * reach.width);
  let best = slope;
  let distance = Number.POSITIVE_INFINITY;
  for (const block of blocks) {
    const byKey = block
      .map((entry) => ({ entry, key: entry.y - slope * entry.x }))
      .sort((a, b) => a.key - b.key || a.entry.x - b.entry.x);
    for (const [index, { entry, key }] of byKey.entries()) {
      for (let next = index + 1; next < byKey.length && next < index + MAX_LOOKED_AT; next += 1) {
        const other = byKey[next] as (typeof byKey)[number];
        if (other.key - key > tolerance) break;
        if (!crosses(entry, other.entry)) continue;
        const own = slopeOf(other.entry.y - entry.y, other.entry.x - entry.x);
        if (Math.abs(own - slope) < distance) {
          best = own;
          distance = Math.abs(own - slope);
        }
      }
    }
  }
  return best;
}

/** Of many equal residuals the first few tell the slope that all of them have. */
const MAX_LOOKED_AT = 32;

/** Whether the order of two residuals can become known or change at the pair's slope. */
function crosses(a: Observation, b: Observation): boolean {
  if (a.x === b.x) return false;
  return a.limit === undefined || b.limit === undefined || a.limit !== b.limit;
}

/** Rise over run, without the −0 of a falling run. */
function slopeOf(rise: number, run: number): number {
  return rise / run + 0;
}

// Math.max(...values) overflows the stack for long lists.
function largest(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, value), 0);
}

function smallest(values: readonly number[]): number {
  return values.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
}
