import { gammaQuantile, gammaTails } from "./gamma.js";

/** Probabilities of a count of at most a number, and of more. */
export interface Tails {
  readonly upTo: number;
  readonly more: number;
}

/**
 * Probabilities of Poisson counts of at most `n` and of more than `n`.
 *
 * A count is more than n when the gamma variable of shape n + 1 is below the mean (DLMF 8.4.10).
 *
 * @param n - a whole number; below 0 every count is more
 * @param mean - expected count, 0 or more
 * @source DLMF-8
 */
export function poissonTails(n: number, mean: number): Tails {
  if (n < 0) return { upTo: 0, more: 1 };
  const { lower, upper } = gammaTails(n + 1, mean);
  return { upTo: upper, more: lower };
}

/** Two ends of an interval. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * The exact interval for the expected number of particles when `n` were counted.
 *
 * Particles that are mixed evenly are counted with Poisson scatter. The interval is Garwood's: half the chi-square
 * quantiles of 2n and 2n + 2 degrees of freedom. It holds the true value at least as often as it says. A raw count that
 * is no whole number, worked back from a rounded report, is taken at the whole numbers on both sides.
 *
 * @param n - raw particles counted, 0 or more
 * @param confidence - between 0 and 1
 * @returns low and high end, in raw particles
 * @throws RangeError for a count below 0 or a confidence outside 0 to 1
 * @source GARWOOD
 * @example
 * poissonInterval(10); // => { low: 4.80, high: 18.39 }
 */
export function poissonInterval(n: number, confidence = 0.95): Interval {
  if (!(n >= 0 && Number.isFinite(n))) throw new RangeError(`a raw count must be 0 or more, not ${n}`);
  if (!(confidence > 0 && confidence < 1)) {
    throw new RangeError(`a confidence lies between 0 and 1, not ${confidence}`);
  }
  const tail = (1 - confidence) / 2;
  const least = Math.floor(n);
  const most = Math.ceil(n);
  return {
    low: least === 0 ? 0 : gammaQuantile(least, tail),
    high: gammaQuantile(most + 1, 1 - tail),
  };
}
