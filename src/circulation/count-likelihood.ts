import { gammaln } from "simple-statistics";

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
 * Probability of a one-sided observation and its first moment. The sum runs away from the observed count on the side
 * where terms shrink; the other side is its complement.
 */
function tail(
  observed: CountObservation,
  mean: number,
  relativeVariance: number,
): { probability: number; first: number } {
  // At most n is the lower side up to n; at least n is all but the lower side up to n − 1.
  const last = observed.kind === "at-most" ? Math.floor(observed.count) : Math.ceil(observed.count) - 1;
  const lower = last < mean ? sumDown(last, mean, relativeVariance) : undefined;
  const upper = lower === undefined ? sumUp(last + 1, mean, relativeVariance) : undefined;
  const side = lower ?? (upper as { probability: number; first: number });
  const wanted = observed.kind === "at-most" ? lower : upper;
  return wanted ?? { probability: 1 - side.probability, first: mean - side.first };
}

function sumDown(from: number, mean: number, relativeVariance: number) {
  let probability = 0;
  let first = 0;
  let term = from < 0 ? 0 : Math.exp(logMass(from, mean, relativeVariance));
  for (let count = from; count >= 0 && probability + term !== probability; count -= 1) {
    probability += term;
    first += term * count;
    term /= ratio(count - 1, mean, relativeVariance);
  }
  return { probability, first };
}

function sumUp(from: number, mean: number, relativeVariance: number) {
  let probability = 0;
  let first = 0;
  let term = Math.exp(logMass(from, mean, relativeVariance));
  for (let count = from; probability + term !== probability; count += 1) {
    probability += term;
    first += term * count;
    term *= ratio(count, mean, relativeVariance);
  }
  return { probability, first };
}

/** Probability of count + 1 divided by that of count. */
function ratio(count: number, mean: number, relativeVariance: number): number {
  return (mean * (1 + relativeVariance * count)) / ((count + 1) * (1 + relativeVariance * mean));
}

function logMass(count: number, mean: number, relativeVariance: number): number {
  if (relativeVariance === 0) return count * Math.log(mean) - mean - gammaln(count + 1);
  const size = 1 / relativeVariance;
  return (
    gammaln(count + size) -
    gammaln(size) -
    gammaln(count + 1) +
    count * Math.log((mean * relativeVariance) / (1 + mean * relativeVariance)) -
    size * Math.log1p(mean * relativeVariance)
  );
}
