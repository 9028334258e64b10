import { betaTails, poissonTails, type Tails } from "../../numeric/index.js";

/** A count as it was reported: exact, or only known to be at most or at least a number, or within a class. */
export type CountObservation =
  | {
      readonly kind: "exact";
      /** Particles in the volume that was counted. */
      readonly count: number;
      /** Up to as many more belong to the level and were not in the fluid yet; none when absent. */
      readonly settled?: number;
    }
  | {
      readonly kind: "at-most" | "at-least";
      readonly count: number;
    }
  | {
      readonly kind: "between";
      /** The fewest and the most particles. */
      readonly fewest: number;
      readonly count: number;
    };

/**
 * Log-likelihood of a mean, and the count to be expected under it.
 *
 * Counts follow Poisson statistics about a mean that itself varies from sample to sample with the given relative
 * variance (a gamma mixture, so a negative binomial); with a variance of 0 they are plain Poisson counts. Of what may have
 * lain settled the part that fits best is taken as settled.
 *
 * @param observed - the count
 * @param mean - expected particles in the counted volume, more than 0
 * @param relativeVariance - square of the relative reproducibility, 0 or more
 */
export function logLikelihood(observed: CountObservation, mean: number, relativeVariance: number): number {
  const { count, kind } = observed;
  if (kind === "exact") {
    const inFluid = meanInFluid(observed, mean);
    const fit = count === 0 ? 0 : count * Math.log(inFluid);
    if (relativeVariance === 0) return fit - inFluid;
    return fit - (count + 1 / relativeVariance) * Math.log1p(inFluid * relativeVariance);
  }
  return Math.log(tail(observed, mean, relativeVariance).probability);
}

/** Mean of the counts that agree with the observation: the observation itself when it is exact. */
export function expectedCount(observed: CountObservation, mean: number, relativeVariance: number): number {
  if (observed.kind === "exact") return observed.count + mean - meanInFluid(observed, mean);
  const { probability, first } = tail(observed, mean, relativeVariance);
  return probability > 0 ? first / probability : observed.count;
}

/** The mean of what was in the fluid: as near to the count as what may lie settled lets it be. */
function meanInFluid(
  { count, settled = 0 }: Extract<CountObservation, { kind: "exact" }>,
  mean: number,
): number {
  return settled === 0 ? mean : Math.max(mean - settled, Math.min(mean, count));
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
  switch (observed.kind) {
    case "at-most": {
      const side = sides(Math.floor(observed.count), mean, relativeVariance);
      return { probability: side.near.upTo, first: mean * side.further.upTo };
    }
    case "between": {
      const upper = sides(Math.floor(observed.count), mean, relativeVariance);
      const lower = sides(Math.ceil(observed.fewest) - 1, mean, relativeVariance);
      // From the side on which both are small, so that no digits cancel.
      return mean > observed.count
        ? {
            probability: upper.near.upTo - lower.near.upTo,
            first: mean * (upper.further.upTo - lower.further.upTo),
          }
        : {
            probability: lower.near.more - upper.near.more,
            first: mean * (lower.further.more - upper.further.more),
          };
    }
    default: {
      const side = sides(Math.ceil(observed.count) - 1, mean, relativeVariance);
      return { probability: side.near.more, first: mean * side.further.more };
    }
  }
}

/** Both sides of a count, and those one count further down that give the first moment. */
function sides(last: number, mean: number, relativeVariance: number): { near: Tails; further: Tails } {
  if (relativeVariance === 0)
    return { near: poissonTails(last, mean), further: poissonTails(last - 1, mean) };
  const [odds, size] = [mean * relativeVariance, 1 / relativeVariance];
  return {
    near: negativeBinomialTails(last, odds, size),
    further: negativeBinomialTails(last - 1, odds, size + 1),
  };
}

/** The negative binomial of a size, whose mean is the size times the odds, by the incomplete beta function. */
function negativeBinomialTails(last: number, odds: number, size: number): Tails {
  if (last < 0) return { upTo: 0, more: 1 };
  const { lower, upper } = betaTails(1 / (1 + odds), odds / (1 + odds), size, last + 1);
  return { upTo: lower, more: upper };
}
