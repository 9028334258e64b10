import { countBelow, countUpTo } from "../../numeric/index.js";
import { columnOf, type Known, knownResidual, type Observation } from "../series/observation.js";
import { sortCounting } from "../slope/inversions.js";
import { RankedCounter } from "../slope/ranked-counter.js";

/**
 * Kendall's score of values against x: the pairs that surely rise less the pairs that surely fall.
 *
 * A pair whose order is not known, such as "< 50" and 30, counts as neither; so does a tie in x or in y. "< 50" is surely
 * below 50. Time grows as n log n.
 *
 * @param known - what is known of each value, sorted by x
 * @source HELSEL
 */
export function kendallScore(known: readonly Known[]): number {
  if (isMeasuredApart(known)) {
    return scoreOfMeasured(columnOf(known, (entry) => entry.low));
  }
  const highs = new RankedCounter(known.map((entry) => entry.high));
  const lows = new RankedCounter(known.map((entry) => entry.low));
  let score = 0;
  for (let start = 0; start < known.length; ) {
    let end = start;
    while (end < known.length && known[end]?.x === known[start]?.x) end += 1;
    const sameX = known.slice(start, end);
    // A tie of two measured values is counted on both sides and cancels.
    for (const { low, high } of sameX) score += highs.addedUpTo(low) - (start - lows.addedBelow(high));
    for (const { low, high } of sameX) {
      highs.add(high);
      lows.add(low);
    }
    start = end;
  }
  return score;
}

/** Whether there are neither limit values nor equal x. */
export function isMeasuredApart(known: readonly Known[]): boolean {
  return known.every(({ low, high }, index) => low === high && known[index - 1]?.x !== known[index]?.x);
}

/** Without limit values and equal x all pairs that do not rise or fall are ties in y. */
function scoreOfMeasured(values: Float64Array): number {
  const spare = new Float64Array(values.length);
  const turnedOver = columnOf(values, (value) => -value);
  return sortCounting(turnedOver, spare, 0, values.length) - sortCounting(values, spare, 0, values.length);
}

/** The score of y − slope · x over all blocks; it never rises as the slope grows. */
export function residualScore(blocks: readonly (readonly Observation[])[], slope: number): number {
  return blocks.reduce(
    (sum, block) => sum + kendallScore(block.map((entry) => knownResidual(entry, slope))),
    0,
  );
}

/**
 * Variance of the score if the values had nothing to do with x: over all ways of dealing them out to the x.
 *
 * Daniels' formula for a general coefficient. It holds for ties and for values known only as limits; without either it is
 * n(n − 1)(2n + 5)/18.
 *
 * @source DANIELS
 */
export function scoreVariance(known: readonly Known[]): number {
  return varianceFrom(orderingsOf(known));
}

/** How much of the order is known along x and along y. */
export interface Orderings {
  readonly n: number;
  readonly inX: Ordering;
  readonly inY: Ordering;
}

/** What variance and tau of one block are made from. */
export function orderingsOf(known: readonly Known[]): Orderings {
  return {
    n: known.length,
    inX: orderingOfMeasured(columnOf(known, (entry) => entry.x)),
    inY: orderingOf(known),
  };
}

/** The variance of {@link scoreVariance}. */
export function varianceFrom({ n, inX, inY }: Orderings): number {
  if (n < 2) return 0;
  const pairs = (inX.pairs * inY.pairs) / (2 * n * (n - 1));
  if (n === 2) return pairs;
  return pairs + ((inX.squares - inX.pairs) * (inY.squares - inY.pairs)) / (n * (n - 1) * (n - 2));
}

/** What the variance needs to know of one axis. */
export interface Ordering {
  /** Pairs whose order is known, each counted from both its ends. */
  readonly pairs: number;
  /** Sum over the observations of (how many are surely below it − how many surely above it)². */
  readonly squares: number;
}

function orderingOf(known: readonly { readonly low: number; readonly high: number }[]): Ordering {
  if (known.every(({ low, high }) => low === high))
    return orderingOfMeasured(columnOf(known, (entry) => entry.low));
  const lows = Float64Array.from(known, (entry) => entry.low).sort();
  const highs = Float64Array.from(known, (entry) => entry.high).sort();
  const measured = Float64Array.from(
    known.filter(({ low, high }) => low === high).map((entry) => entry.low),
  ).sort();
  let [pairs, squares] = [0, 0];
  for (const { low, high } of known) {
    // Equal measured values, the observation itself among them, stand on both sides below.
    const equal = low === high ? countUpTo(measured, low) - countBelow(measured, low) : 0;
    const below = countUpTo(highs, low) - equal;
    const above = lows.length - countBelow(lows, high) - equal;
    pairs += below + above;
    squares += (below - above) ** 2;
  }
  return { pairs, squares };
}

/** Without limit values the order of all but equal ones is known. */
function orderingOfMeasured(values: Float64Array): Ordering {
  // The x of a block are sorted already.
  if (!isSorted(values)) values.sort();
  let [pairs, squares] = [0, 0];
  for (let start = 0; start < values.length; ) {
    let end = start + 1;
    while (end < values.length && values[end] === values[start]) end += 1;
    const above = values.length - end;
    pairs += (end - start) * (start + above);
    squares += (end - start) * (start - above) ** 2;
    start = end;
  }
  return { pairs, squares };
}

function isSorted(values: Float64Array): boolean {
  for (let index = 1; index < values.length; index += 1) {
    if ((values[index] as number) < (values[index - 1] as number)) return false;
  }
  return true;
}
