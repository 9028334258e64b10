import { selectInPlace } from "../../numeric/index.js";
import { columnOf, membersOf, type Observation } from "../series/observation.js";
import { EveryFew, PairSorter, sortCounting } from "./inversions.js";

/** As many slopes are listed at once; more are narrowed down first. */
const MAX_LISTED = 4000;
/** Nor fewer than this many times the number of observations, because narrowing down costs as much as listing them. */
const LISTED_PER_OBSERVATION = 4;
/** A sample is as many slopes as there are observations, and no fewer than this. */
const MIN_SAMPLE = 400;
/** Of a sorted sample this many standard deviations of its rank to either side hold the wanted slope all but surely. */
const DEVIATIONS = 3;
/** So many of the slopes that many pairs share are looked at. */
const LOOKED_AT = 1000;
/** Narrowing down takes two or three rounds; where it does not get on, there are more equal slopes than can be listed. */
const MAX_ROUNDS = 12;

/** A slope that is not that of any pair, to a certainty, and how many pairs have a gentler one. */
interface Cut {
  readonly slope: number;
  readonly below: number;
}

/**
 * The slopes of all pairs of measured observations in rising order, without listing them.
 *
 * Pairs whose residuals y − slope · x are in falling order have a slope below: they are counted by sorting. An even
 * sample of the pairs between two such cuts says where to cut next, until so few are left that they are listed. The answer
 * is the slope of a pair exactly as division gives it, and does not depend on the sample; time grows as n log n.
 *
 * @source MATOUSEK
 */
export class SlopeSelection {
  /** How many pairs have different x. */
  readonly pairs: number;
  private readonly x: Float64Array;
  private readonly y: Float64Array;
  /** Where each block begins, and at last where the last one ends. */
  private readonly starts: readonly number[];
  private readonly width: number;
  private readonly height: number;
  /** Smallest difference between two x. */
  private readonly leastRun: number;
  private readonly sorter: PairSorter;
  private readonly keys: Float64Array;
  private readonly spare: Float64Array;
  private readonly cuts: Cut[];
  private listed: { readonly low: Cut; readonly high: Cut; readonly slopes: Float64Array } | undefined;

  /** @param blocks - measured observations, x and y near 0 for the sake of digits */
  constructor(blocks: readonly (readonly Observation[])[]) {
    // Of equal x the smaller y comes first: whatever the slope, such a pair is never in falling order.
    const all = membersOf(blocks.map((block) => [...block].sort((a, b) => a.x - b.x || a.y - b.y)));
    this.x = columnOf(all, (entry) => entry.x);
    this.y = columnOf(all, (entry) => entry.y);
    const starts = [0];
    for (const block of blocks) starts.push((starts.at(-1) as number) + block.length);
    this.starts = starts;
    this.width = largest(this.x);
    this.height = largest(this.y);
    this.leastRun = leastGap(this.x);
    this.sorter = new PairSorter(all.length);
    this.keys = new Float64Array(all.length);
    this.spare = new Float64Array(all.length);
    this.pairs = this.count(Number.POSITIVE_INFINITY);
    this.cuts = [
      { slope: Number.NEGATIVE_INFINITY, below: 0 },
      { slope: Number.POSITIVE_INFINITY, below: this.pairs },
    ];
  }

  /**
   * The slope at a rank.
   *
   * @param rank - 0 for the smallest
   * @returns undefined where too many pairs share a slope to be separated by cutting
   */
  slopeAt(rank: number): number | undefined {
    // All values are equal, and so is every slope. No cut lies next to it, because there is no rounding either.
    if (this.height === 0) return 0;
    const most = Math.max(MAX_LISTED, LISTED_PER_OBSERVATION * this.x.length);
    for (let round = 0; round < MAX_ROUNDS; round += 1) {
      const [low, high] = this.around(rank);
      const between = high.below - low.below;
      if (between <= most) return this.listedSlope(low, high, rank);
      if (!this.narrow(low, high, rank)) return this.sharedSlope(low, high, rank);
    }
    return undefined;
  }

  /**
   * The slope that more pairs share than can be listed, as results do that were rounded. It is cut off so closely on both
   * sides that what is between differs by no more than the rounding of the residuals.
   */
  private sharedSlope(low: Cut, high: Cut, rank: number): number | undefined {
    const slope = atRank(this.sample(low, high, LOOKED_AT).sort(), low, high, rank);
    const [belowIt, aboveIt] = [this.closeCut(slope, -1), this.closeCut(slope, 1)];
    if (belowIt === undefined || aboveIt === undefined) return undefined;
    if (!(belowIt.below <= rank && rank < aboveIt.below)) return undefined;
    return atRank(this.sample(belowIt, aboveIt, LOOKED_AT).sort(), belowIt, aboveIt, rank);
  }

  /** The nearest cut next to a slope of many pairs. */
  private closeCut(slope: number, side: -1 | 1): Cut | undefined {
    const least = (4 * this.roundingAt(slope)) / this.leastRun;
    for (let away = least; away <= 1000 * least; away *= 3) {
      const cut = this.cutAt(slope + side * away);
      if (cut !== undefined) return cut;
    }
    return undefined;
  }

  /** Residuals at a slope that are no further apart than this may have changed their order by rounding. */
  private roundingAt(slope: number): number {
    return 8 * Number.EPSILON * (this.height + Math.abs(slope) * this.width);
  }

  /** The nearest cuts to either side of a rank. */
  private around(rank: number): [Cut, Cut] {
    const above = this.cuts.findIndex(({ below }) => below > rank);
    return [this.cuts[above - 1] as Cut, this.cuts[above] as Cut];
  }

  private listedSlope(low: Cut, high: Cut, rank: number): number {
    if (this.listed?.low !== low || this.listed.high !== high) {
      this.listed = { low, high, slopes: this.sample(low, high, high.below - low.below) };
    }
    return selectInPlace(this.listed.slopes, rank - low.below);
  }

  /** Makes cuts nearer to a rank; false when that cannot be done. */
  private narrow(low: Cut, high: Cut, rank: number): boolean {
    const wanted = Math.max(MIN_SAMPLE, this.x.length);
    const sample = this.sample(low, high, wanted).sort();
    const at = placeOf(rank, low, high, sample.length);
    const reach = DEVIATIONS * Math.sqrt((at * (sample.length - at)) / sample.length) + 2;
    const belowIt = this.cutBeside(sample, Math.floor(at - reach), -1, low, high);
    const aboveIt = this.cutBeside(sample, Math.ceil(at + reach), 1, low, high);
    if (belowIt === undefined && aboveIt === undefined) return false;
    for (const cut of [belowIt, aboveIt]) if (cut !== undefined) this.cuts.push(cut);
    this.cuts.sort((a, b) => a.slope - b.slope);
    const [newLow, newHigh] = this.around(rank);
    return newHigh.below - newLow.below < 0.9 * (high.below - low.below);
  }

  /** A cut halfway between two neighbours of a sample, from a place outwards; none when all in this direction are equal. */
  private cutBeside(sample: Float64Array, from: number, step: -1 | 1, low: Cut, high: Cut): Cut | undefined {
    for (let place = from; place > 0 && place < sample.length; place += step) {
      const [before, after] = [sample[place - 1] as number, sample[place] as number];
      if (!(after > before)) continue;
      const slope = before + (after - before) / 2;
      const cut = slope > low.slope && slope < high.slope ? this.cutAt(slope) : undefined;
      if (cut !== undefined) return cut;
    }
    return undefined;
  }

  /** How many pairs have a gentler slope. */
  private count(slope: number): number {
    const { keys, spare, starts } = this;
    this.fillKeys(slope);
    let sum = 0;
    for (let block = 1; block < starts.length; block += 1) {
      sum += sortCounting(keys, spare, starts[block - 1] as number, starts[block] as number);
    }
    return sum;
  }

  /** Residuals at a slope; at an infinite one only x decides their order. */
  private fillKeys(slope: number): void {
    const { keys, x, y } = this;
    for (let index = 0; index < keys.length; index += 1) {
      keys[index] = Number.isFinite(slope)
        ? (y[index] as number) - slope * (x[index] as number)
        : -Math.sign(slope) * (x[index] as number);
    }
  }

  /** A cut at a slope; none where residuals are so close together that rounding may have changed their order. */
  private cutAt(slope: number): Cut | undefined {
    const below = this.count(slope);
    const rounding = this.roundingAt(slope);
    return this.hasClose(rounding) && this.hasClosePair(slope, rounding) ? undefined : { slope, below };
  }

  /** Whether any of the keys that were sorted last are close together. */
  private hasClose(rounding: number): boolean {
    const { keys, starts } = this;
    for (let block = 1; block < starts.length; block += 1) {
      for (let place = (starts[block - 1] as number) + 1; place < (starts[block] as number); place += 1) {
        if ((keys[place] as number) - (keys[place - 1] as number) <= rounding) return true;
      }
    }
    return false;
  }

  /** The same for observations with different x alone: those with the same x have no slope. */
  private hasClosePair(slope: number, rounding: number): boolean {
    const { keys, sorter, starts, x } = this;
    sorter.reset();
    this.fillKeys(slope);
    for (let block = 1; block < starts.length; block += 1) {
      const [from, to] = [starts[block - 1] as number, starts[block] as number];
      sorter.sort(keys, from, to);
      for (let place = from + 1; place < to; place += 1) {
        const [one, next] = [sorter.order[place - 1] as number, sorter.order[place] as number];
        const apart = (keys[next] as number) - (keys[one] as number);
        if (apart <= rounding && x[one] !== x[next]) return true;
      }
    }
    return false;
  }

  /** Evenly chosen slopes between two cuts; all of them when there are no more than wanted. */
  private sample(low: Cut, high: Cut, wanted: number): Float64Array {
    const { sorter, starts, x, y } = this;
    const between = high.below - low.below;
    const step = Math.max(1, between / wanted);
    const changes = new EveryFew(Math.ceil(between / step), step, (before, after) => {
      // Without the −0 of a falling run.
      return (
        ((y[after] as number) - (y[before] as number)) / ((x[after] as number) - (x[before] as number)) + 0
      );
    });
    sorter.reset();
    this.fillKeys(low.slope);
    for (let block = 1; block < starts.length; block += 1) {
      sorter.sort(this.keys, starts[block - 1] as number, starts[block] as number);
    }
    this.fillKeys(high.slope);
    for (let block = 1; block < starts.length; block += 1) {
      sorter.sort(this.keys, starts[block - 1] as number, starts[block] as number, changes);
    }
    return changes.numbers.subarray(0, changes.kept);
  }
}

function largest(values: Float64Array): number {
  let most = 0;
  for (let index = 0; index < values.length; index += 1)
    most = Math.max(most, Math.abs(values[index] as number));
  return most;
}

/** Smallest difference above 0 between neighbours. */
function leastGap(x: Float64Array): number {
  let least = Number.POSITIVE_INFINITY;
  for (let index = 1; index < x.length; index += 1) {
    const gap = Math.abs((x[index] as number) - (x[index - 1] as number));
    if (gap > 0 && gap < least) least = gap;
  }
  return least;
}

/** Where a rank falls in an even sample of what lies between two cuts. */
function placeOf(rank: number, low: Cut, high: Cut, sampled: number): number {
  return ((rank - low.below + 0.5) / (high.below - low.below)) * sampled;
}

function atRank(sorted: Float64Array, low: Cut, high: Cut, rank: number): number {
  return sorted[Math.min(Math.floor(placeOf(rank, low, high, sorted.length)), sorted.length - 1)] as number;
}
