import { root } from "./roots.js";

/**
 * Probability that a standard normal variable is at most z.
 *
 * Hart's rational approximation as given by West up to 3 deviations, and Laplace's continued fraction beyond, so that a
 * tail of one in a million has as many digits as one in two: 13 or more.
 *
 * @source WEST
 * @example
 * normalProbability(1.959963984540054); // => 0.975
 */
export function normalProbability(z: number): number {
  const size = Math.abs(z);
  const tail = size > SPLIT ? farTail(size) : centre(size);
  return z > 0 ? 1 - tail : tail;
}

/** Hart's form loses digits of the tail from here on. */
const SPLIT = 3;
/** This many steps of the fraction are enough at the split; further out fewer would be. */
const STEPS = 40;
const ABOVE = [
  3.52624965998911e-2, 0.700383064443688, 6.37396220353165, 33.912866078383, 112.079291497871,
  221.213596169931, 220.206867912376,
];
const BELOW = [
  8.83883476483184e-2, 1.75566716318264, 16.064177579207, 86.7807322029461, 296.564248779674,
  637.333633378831, 793.826512519948, 440.413735824752,
];

function centre(z: number): number {
  return (Math.exp((-z * z) / 2) * polynomial(ABOVE, z)) / polynomial(BELOW, z);
}

function farTail(z: number): number {
  let fraction = z;
  for (let term = STEPS; term > 0; term -= 1) fraction = z + term / fraction;
  return Math.exp((-z * z) / 2) / fraction / Math.sqrt(2 * Math.PI);
}

function polynomial(coefficients: readonly number[], z: number): number {
  return coefficients.reduce((sum, coefficient) => sum * z + coefficient, 0);
}

/**
 * The standard normal quantile: the z that a standard normal variable stays below with a probability.
 *
 * Found by bisection of {@link normalProbability}, on the lower tail where that is accurate.
 *
 * @param probability - above 0 and below 1
 * @throws RangeError for a probability outside that range
 * @example
 * normalQuantile(0.95); // => 1.644854
 */
export function normalQuantile(probability: number): number {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`a probability must lie between 0 and 1, not ${probability}`);
  }
  if (probability > 0.5) return -normalQuantile(1 - probability);
  let quantile = FOUND.get(probability);
  if (quantile === undefined) {
    quantile = root((z) => normalProbability(z) < probability, -39, 0);
    if (FOUND.size === MAX_FOUND) FOUND.clear();
    FOUND.set(probability, quantile);
  }
  return quantile;
}

/** Quantiles that were found: every trend asks for those of the same few levels. */
const FOUND = new Map<number, number>();
const MAX_FOUND = 100;
