import { betaFraction } from "./beta.js";
import { root } from "./roots.js";

/**
 * Probability that Student's t is at most `t`.
 *
 * By the continued fraction of the incomplete beta function (DLMF 8.17.22), evaluated by the modified Lentz rule.
 *
 * @param freedom - degrees of freedom, more than 0
 * @source DLMF-8-17
 * @example
 * studentProbability(2.776445105, 4); // => 0.975
 */
export function studentProbability(t: number, freedom: number): number {
  if (!(freedom > 0)) throw new RangeError(`degrees of freedom must be more than 0, not ${freedom}`);
  const tail = incompleteBeta(freedom / (freedom + t * t), freedom / 2, 0.5) / 2;
  return t > 0 ? 1 - tail : tail;
}

/**
 * Quantile of Student's t.
 *
 * @param probability - above 0 and below 1
 * @param freedom - degrees of freedom, more than 0
 * @throws RangeError for a probability outside that range
 * @example
 * studentQuantile(0.975, 34); // => 2.03224450931772
 */
export function studentQuantile(probability: number, freedom: number): number {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`a probability must lie between 0 and 1, not ${probability}`);
  }
  if (probability > 0.5) return -studentQuantile(1 - probability, freedom);
  let far = -1;
  while (studentProbability(far, freedom) > probability) far *= 2;
  return root((t) => studentProbability(t, freedom) < probability, far, 0);
}

/** Regularised incomplete beta function I_x(a, b). */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  if (x < (a + 1) / (a + b + 2)) return (front * betaFraction(x, a, b)) / a;
  return 1 - (front * betaFraction(1 - x, b, a)) / b;
}

/** ln Γ(x): Stirling's series (DLMF 5.11.1) on an argument lifted to where it is exact. */
function logGamma(x: number): number {
  let lifted = x;
  let below = 0;
  for (; lifted < 15; lifted += 1) below += Math.log(lifted);
  const r = 1 / (lifted * lifted);
  const series = (1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r / 1188)))) / lifted;
  return (lifted - 0.5) * Math.log(lifted) - lifted + Math.log(2 * Math.PI) / 2 + series - below;
}
