import { betaTails, poissonTails, type Tails } from "../../numeric/index.js";

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
      ? [poissonTails(last, mean), poissonTails(last - 1, mean)]
      : [
          negativeBinomialTails(last, mean * relativeVariance, size),
          negativeBinomialTails(last - 1, mean * relativeVariance, size + 1),
        ];
  return observed.kind === "at-most"
    ? { probability: near.upTo, first: mean * further.upTo }
    : { probability: near.more, first: mean * further.more };
}

/** The negative binomial of a size, whose mean is the size times the odds, by the incomplete beta function. */
function negativeBinomialTails(last: number, odds: number, size: number): Tails {
  if (last < 0) return { upTo: 0, more: 1 };
  const { lower, upper } = betaTails(1 / (1 + odds), odds / (1 + odds), size, last + 1);
  return { upTo: lower, more: upper };
}
