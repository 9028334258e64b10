/** Where a condition turns: the last number at which it was found to hold, and the first at which it was not. */
export interface Turn {
  readonly holds: number;
  readonly fails: number;
}

/** How {@link bisect} divides, and when it is near enough. */
export interface Bisection {
  /** The number to try next; halfway when absent. */
  readonly between?: (low: number, high: number) => number;
  /** Whether the interval is narrow enough; as narrow as numbers go when absent. */
  readonly isNear?: (low: number, high: number) => boolean;
}

/**
 * Bisection: halves an interval until it is narrow enough, or until no number lies between its ends.
 *
 * @param condition - true from `holds` on, false from some number on until `fails`
 * @param holds - where the condition holds; it may lie above `fails`
 * @param fails - where it does not; Infinity when nothing is known of how far away that is
 * @example
 * bisect((x) => x * x < 2, 0, 2).holds; // => 1.41421356237309
 */
export function bisect(
  condition: (value: number) => boolean,
  holds: number,
  fails: number,
  { between = halfway, isNear = () => false }: Bisection = {},
): Turn {
  let [within, without] = [holds, fails];
  for (;;) {
    const [low, high] = within < without ? [within, without] : [without, within];
    if (isNear(low, high)) break;
    const middle = between(low, high);
    if (!(middle > low && middle < high)) break;
    if (condition(middle)) within = middle;
    else without = middle;
  }
  return { holds: within, fails: without };
}

/**
 * The root of a function by {@link bisect}, to the last digit.
 *
 * @param isBelow - true from `low` up to the root, false above it
 */
export function root(isBelow: (value: number) => boolean, low: number, high: number): number {
  const { holds, fails } = bisect(isBelow, low, high);
  return (holds + fails) / 2;
}

/** The number in the middle; on the way to Infinity twice as far each time. */
export function halfway(low: number, high: number): number {
  return high === Number.POSITIVE_INFINITY ? 2 * low + 1 : (low + high) / 2;
}

/**
 * Golden-section search for the highest value of a function that has one top between two numbers.
 *
 * @param isNear - whether the interval is narrow enough
 * @returns where the value is highest
 */
export function highestAt(
  value: (at: number) => number,
  from: number,
  to: number,
  isNear: (low: number, high: number) => boolean,
): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [from, to];
  let [left, right] = [high - golden * (high - low), low + golden * (high - low)];
  let [atLeft, atRight] = [value(left), value(right)];
  while (!isNear(low, high)) {
    if (atLeft < atRight) {
      low = left;
      [left, atLeft] = [right, atRight];
      right = low + golden * (high - low);
      atRight = value(right);
    } else {
      high = right;
      [right, atRight] = [left, atLeft];
      left = high - golden * (high - low);
      atLeft = value(left);
    }
  }
  return atLeft > atRight ? left : right;
}
