import { columnOf, type Known } from "../series/observation.js";
import { isMeasuredApart } from "../test/kendall-score.js";
import { type Changes, PairSorter } from "./inversions.js";

/**
 * The part of the Kendall score that each observation has with all others.
 *
 * Time grows as n log n; with limit values or equal x as n².
 *
 * @param block - sorted by x
 */
export function ownScores(block: readonly Known[]): Float64Array {
  return isMeasuredApart(block)
    ? scoresOfMeasured(columnOf(block, (entry) => entry.low))
    : scoresByPairs(block);
}

/** Counts the things that each thing goes before, which are those that stood before it and are greater. */
class GreaterBefore implements Changes {
  readonly counts: Int32Array;

  constructor(size: number) {
    this.counts = new Int32Array(size);
  }

  pass(_order: Int32Array, from: number, to: number, after: number): void {
    this.counts[after] = (this.counts[after] as number) + to - from;
  }
}

/** Without limit values and equal x, what stood before each value and is greater tells the rest. */
function scoresOfMeasured(values: Float64Array): Float64Array {
  const n = values.length;
  const own = new Float64Array(n);
  const greater = new GreaterBefore(n);
  const sorter = new PairSorter(n);
  sorter.reset();
  sorter.sort(values, 0, n, greater);
  for (let start = 0; start < n; ) {
    const value = values[sorter.order[start] as number];
    let end = start + 1;
    while (end < n && values[sorter.order[end] as number] === value) end += 1;
    for (let place = start; place < end; place += 1) {
      const thing = sorter.order[place] as number;
      const greaterBefore = greater.counts[thing] as number;
      // Equal values keep their order, so those in front of it in the group stood before it.
      const lessBefore = thing - greaterBefore - (place - start);
      const [lessBehind, greaterBehind] = [start - lessBefore, n - end - greaterBefore];
      own[thing] = lessBefore - greaterBefore + greaterBehind - lessBehind;
    }
    start = end;
  }
  return own;
}

function scoresByPairs(block: readonly Known[]): Float64Array {
  const x = columnOf(block, (entry) => entry.x);
  const low = columnOf(block, (entry) => entry.low);
  const high = columnOf(block, (entry) => entry.high);
  const own = new Float64Array(x.length);
  for (let later = 1; later < x.length; later += 1) {
    for (let earlier = 0; earlier < later && (x[earlier] as number) < (x[later] as number); earlier += 1) {
      const rises = (low[later] as number) > (high[earlier] as number);
      const falls = (high[later] as number) < (low[earlier] as number);
      const score = rises ? 1 : falls ? -1 : 0;
      own[later] = (own[later] as number) + score;
      own[earlier] = (own[earlier] as number) + score;
    }
  }
  return own;
}
