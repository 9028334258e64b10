import { betaTails } from "./beta.js";
import { root } from "./roots.js";

/**
 * Probability that Student's t is at most `t`.
 *
 * By the incomplete beta function of freedom / (freedom + t²).
 *
 * @param freedom - degrees of freedom, more than 0
 * @source DLMF-8-17
 * @example
 * studentProbability(2.776445105, 4); // => 0.975
 */
export function studentProbability(t: number, degreesOfFreedom: number): number {
  if (!(degreesOfFreedom > 0))
    throw new RangeError(`degrees of freedom must be more than 0, not ${degreesOfFreedom}`);
  const whole = degreesOfFreedom + t * t;
  const tail =
    whole === Number.POSITIVE_INFINITY
      ? 0
      : betaTails(degreesOfFreedom / whole, (t * t) / whole, degreesOfFreedom / 2, 0.5).lower / 2;
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
export function studentQuantile(probability: number, degreesOfFreedom: number): number {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`a probability must lie between 0 and 1, not ${probability}`);
  }
  if (probability > 0.5) return -studentQuantile(1 - probability, degreesOfFreedom);
  let far = -1;
  while (studentProbability(far, degreesOfFreedom) > probability) far *= 2;
  return root((t) => studentProbability(t, degreesOfFreedom) < probability, far, 0);
}
