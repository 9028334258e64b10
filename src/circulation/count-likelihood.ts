import { gammaln } from "simple-statistics";
import { betaFraction, gammaTails } from "../numeric/index.js";

/** A count as it was reported: exact, or only known to be at most or at least a number. */
export interface CountObservation {
  readonly kind: "exact" | "at-most" | "at-least";
  /** Particles in the volume that was counted. */
  readonly count: number;
}

/**
 * Log-likelihood of a mean, and the count to be expected under it.
 *
 * Counts follow Poisson statistics about a mean that itself varies from sample to sample with the given relative
 * variance (a gamma mixture, so a negative binomial); with a variance of 0 they are plain Poisson counts.
 *
 * @param observed - the count
 * @param mean - expected particles in the counted volume, more than 0
 * @param relativeVariance - square of the relative reproducibility, 0 or more
 */
export function logLikelihood(observed: CountObservation, mean: number, relativeVariance: number): number {
  const { count, kind } = observed;
  if (kind === "exact") {
    const fit = count === 0 ? 0 : count * Math.log(mean);
    if (relativeVariance === 0) return fit - mean;
    return fit - (count + 1 / relativeVariance) * Math.log1p(mean * relativeVariance);
  }
  return Math.log(tail(observed, mean, relativeVariance).probability);
}

/** Mean of the counts that agree with the observation: the observation itself when it is exact. */
export function expectedCount(observed: CountObservation, mean: number, relativeVariance: number): number {
  if (observed.kind === "exact") return observed.count;
  const { probability, first } = tail(observed, mean, relativeVariance);
  return probability > 0 ? first / probability : observed.count;
}

/** Variance of a count with a given mean. */
export function varianceOf(mean: number, relativeVariance: number): number {
  return mean + relativeVariance * mean * mean;
}

/**
 * Probability of a one-sided observation and its first moment. The side on which the terms shrink is computed; the
 * other is its complement.
 *
 * The first moment of a side is the mean times a side of a like distribution one count further down: of the same
 * Poisson distribution, or of the negative binomial whose size is one more.
 */
function tail(
  observed: CountObservation,
  mean: number,
  relativeVariance: number,
): { probability: number; first: number } {
  // At most n is the lower side up to n; at least n is all but the lower side up to n − 1.
  const last = observed.kind === "at-most" ? Math.floor(observed.count) : Math.ceil(observed.count) - 1;
  const size = 1 / relativeVariance;
  const [near, further] =
    relativeVariance === 0
      ? [poissonSides(last, mean), poissonSides(last - 1, mean)]
      : [
          negativeBinomialSides(last, mean * relativeVariance, size),
          negativeBinomialSides(last - 1, mean * relativeVariance, size + 1),
        ];
  return observed.kind === "at-most"
    ? { probability: near.lower, first: mean * further.lower }
    : { probability: near.upper, first: mean * further.upper };
}

/** Probabilities of a count of at most `last`, and of more. */
interface Sides {
  readonly lower: number;
  readonly upper: number;
}

const ALL_ABOVE: Sides = { lower: 0, upper: 1 };

/** A count is more than n when the gamma variable of shape n + 1 is below the mean (DLMF 8.4.10). */
function poissonSides(last: number, mean: number): Sides {
  if (last < 0) return ALL_ABOVE;
  const { lower, upper } = gammaTails(last + 1, mean);
  return { lower: upper, upper: lower };
}

/** The negative binomial of a size, whose mean is the size times the odds, by the incomplete beta function. */
function negativeBinomialSides(last: number, odds: number, size: number): Sides {
  if (last < 0) return ALL_ABOVE;
  if (!(odds > 0)) return { lower: 1, upper: 0 };
  const more = odds / (1 + odds);
  // ln of what stands before the fraction: x^a (1 − x)^b Γ(a + b) / (Γ(a) Γ(b)).
  const front = Math.exp(
    gammaln(size + last + 1) -
      gammaln(size) -
      gammaln(last + 1) +
      (last + 1) * Math.log(more) -
      size * Math.log1p(odds),
  );
  if (last < size * odds) {
    const lower = (front * betaFraction(1 / (1 + odds), size, last + 1)) / size;
    return { lower, upper: 1 - lower };
  }
  const upper = (front * betaFraction(more, last + 1, size)) / (last + 1);
  return { lower: 1 - upper, upper };
}
