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
 * The highest value of a function that has one top between two numbers, by Brent's method: golden sections, and the top of
 * a parabola through the last three values where that lies within. Source: R. P. Brent, Algorithms for Minimization
 * without Derivatives (1973), chapter 5.
 *
 * @param near - how near is near enough
 * @returns where the value is highest
 */
export function highestAt(value: (at: number) => number, from: number, to: number, near: number): number {
  // Nearer than numbers lie to each other it would never get.
  const least = Math.max(near, 4 * Number.EPSILON * Math.max(Math.abs(from), Math.abs(to)));
  let [low, high] = [from, to];
  let best: Tried = tried(value, low + GOLDEN * (high - low));
  let [second, third] = [best, best];
  let [step, stepBefore] = [0, 0];
  for (;;) {
    const middle = (low + high) / 2;
    // Ends that are no numbers end the search.
    if (!(Math.abs(best.at - middle) > 2 * least - (high - low) / 2)) return best.at;
    const top = best.at + topOf(best, second, third);
    const isWithin = top > low && top < high;
    if (isWithin && Math.abs(stepBefore) > least && Math.abs(top - best.at) < Math.abs(stepBefore) / 2) {
      stepBefore = step;
      step = top - best.at;
      if (top - low < 2 * least || high - top < 2 * least) step = best.at < middle ? least : -least;
    } else {
      stepBefore = (best.at < middle ? high : low) - best.at;
      step = GOLDEN * stepBefore;
    }
    const next = tried(value, best.at + (Math.abs(step) >= least ? step : Math.sign(step) * least));
    const isBetter = next.value >= best.value;
    const edge = isBetter ? best : next;
    if (next.at < best.at === isBetter) high = edge.at;
    else low = edge.at;
    if (isBetter) [best, second, third] = [next, best, second];
    else if (next.value >= second.value || second === best) [second, third] = [next, second];
    else if (next.value >= third.value || third === best || third === second) third = next;
  }
}

const GOLDEN = (3 - Math.sqrt(5)) / 2;

interface Tried {
  readonly at: number;
  readonly value: number;
}

const tried = (value: (at: number) => number, at: number): Tried => ({ at, value: value(at) });

/** How far from the first the top of the parabola through three points lies; NaN where they have none. */
function topOf(best: Tried, second: Tried, third: Tried): number {
  const [toSecond, toThird] = [best.at - second.at, best.at - third.at];
  const r = toSecond * (best.value - third.value);
  const q = toThird * (best.value - second.value);
  return -(toThird * q - toSecond * r) / (2 * (q - r));
}
