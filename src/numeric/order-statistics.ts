/**
 * How many of the sorted values are at most `value`.
 *
 * @param sorted - in rising order
 */
export function countUpTo(sorted: Float64Array, value: number): number {
  return firstWhere(sorted, (entry) => entry > value);
}

/** How many of the sorted values are below `value`. */
export function countBelow(sorted: Float64Array, value: number): number {
  return firstWhere(sorted, (entry) => entry >= value);
}

/** Index of the first value for which a condition holds that, once true, stays true. */
function firstWhere(sorted: Float64Array, holds: (entry: number) => boolean): number {
  let [from, to] = [0, sorted.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (holds(sorted[middle] as number)) to = middle;
    else from = middle + 1;
  }
  return from;
}

/**
 * The value that would stand at a rank if the values were sorted. They are moved about, but not sorted.
 *
 * @param values - numbers in any order
 * @param rank - 0 for the smallest
 */
export function selectInPlace(values: Float64Array, rank: number): number {
  let [from, to] = [0, values.length - 1];
  while (from < to) {
    const pivot = middleOfThree(
      values[from] as number,
      values[(from + to) >> 1] as number,
      values[to] as number,
    );
    let [low, high] = [from, to];
    while (low <= high) {
      while ((values[low] as number) < pivot) low += 1;
      while ((values[high] as number) > pivot) high -= 1;
      if (low > high) break;
      const value = values[low] as number;
      values[low] = values[high] as number;
      values[high] = value;
      low += 1;
      high -= 1;
    }
    if (rank <= high) to = high;
    else if (rank >= low) from = low;
    else break;
  }
  return values[rank] as number;
}

function middleOfThree(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}

/**
 * The median; of an even number of values halfway between the two in the middle.
 *
 * @param values - at least one
 * @example
 * median([3, 1, 2, 10]); // => 2.5
 */
export function median(values: Iterable<number>): number {
  const moved = Float64Array.from(values);
  const middle = moved.length >> 1;
  const upper = selectInPlace(moved, middle);
  return moved.length % 2 === 1 ? upper : (selectInPlace(moved, middle - 1) + upper) / 2;
}

/**
 * The median; of an even number of values the upper one of the two in the middle.
 *
 * @param values - at least one
 */
export function upperMedian(values: Iterable<number>): number {
  const moved = Float64Array.from(values);
  return selectInPlace(moved, moved.length >> 1);
}

/**
 * The value that a fraction of sorted values lies below; between two values the lower one.
 *
 * @param sorted - in rising order, at least one
 * @param fraction - 0 to 1
 */
export function lowerQuantile(sorted: Float64Array, fraction: number): number {
  return sorted[Math.floor(fraction * (sorted.length - 1))] as number;
}
