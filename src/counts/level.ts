import {
  bellNodes,
  checkNumbers,
  gammaQuantile,
  gammaTails,
  type Node,
  normalProbability,
  sumOver,
} from "../numeric/index.js";
import { CountError } from "./count-set.js";

/** How far two counts of the same fluid differ beyond Poisson scatter, for the counter and the laboratory together. */
export type Reproducibility =
  /** Relative standard deviation as a fraction: 0.15 is 15 %. */
  | { readonly kind: "relative"; readonly rsd: number }
  /** Standard deviation in ISO 4406 scale numbers, each a factor of two. */
  | { readonly kind: "codes"; readonly sd: number };

/** What one raw count says of the level. */
export interface CountObservation {
  /** Particles the counter counted, 0 or more. */
  readonly raw: number;
  /** Undiluted sample that was counted, in mL. */
  readonly seenMl: number;
  /** Blank in particles per mL that is in the raw count and not in the fluid. */
  readonly blankPerMl?: number;
  readonly reproducibility?: Reproducibility;
}

/**
 * The standard deviation of the natural logarithm that belongs to a reproducibility.
 *
 * @throws CountError for a value below 0 or not a number
 */
export function logSdOf(reproducibility: Reproducibility | undefined): number {
  if (reproducibility === undefined) return 0;
  const given = reproducibility.kind === "relative" ? reproducibility.rsd : reproducibility.sd;
  if (!(given >= 0 && Number.isFinite(given))) {
    throw new CountError(`a reproducibility must be 0 or more, not ${given}`);
  }
  return reproducibility.kind === "relative" ? Math.sqrt(Math.log1p(given * given)) : given * Math.LN2;
}

/**
 * How sure it is that the fluid holds no more than a limit, given one raw count.
 *
 * Model: the counter counts a Poisson number with mean level × volume × laboratory factor. The factor is log-normal with
 * median 1: a laboratory reads too high as often as too low. Before counting nothing is known of the level (the Jeffreys
 * prior), so that without a laboratory factor level × volume is gamma distributed with shape raw + ½. The two are
 * combined by quadrature on a fixed grid, so the answer is the same each time. Blank and volume are taken as exact.
 *
 * @param observation - raw count, volume, blank and reproducibility
 * @returns a function from a limit in particles per mL to the probability, 0 to 1, that the level is at most the limit
 * @throws CountError for a raw count, volume or reproducibility that cannot be
 * @source JEFFREYS
 * @example
 * levelOf({ raw: 10, seenMl: 1 })(15); // => 0.908
 */
export function levelOf(observation: CountObservation): (limitPerMl: number) => number {
  const { raw, seenMl, blankPerMl = 0 } = observation;
  if (!(raw >= 0 && Number.isFinite(raw))) throw new CountError(`a raw count must be 0 or more, not ${raw}`);
  if (!(seenMl > 0)) throw new CountError(`the counted volume must be more than 0 mL, not ${seenMl}`);
  const shape = raw + 0.5;
  const logSd = logSdOf(observation.reproducibility);
  const atMost = mix(shape, logSd);
  checkNumbers("notNegative", { raw, seenMl, blankPerMl });
  return (limitPerMl) => {
    checkNumbers("number", { limitPerMl });
    return atMost((limitPerMl + blankPerMl) * seenMl);
  };
}

/** Probability that a gamma variable of some shape, divided by the laboratory factor, is at most x. */
function mix(shape: number, logSd: number): (x: number) => number {
  if (logSd === 0) return (x) => gammaTails(shape, x).lower;
  // The narrower of the two spreads is summed over, so that the other is smooth on the grid.
  if (logSd * logSd * shape < 1) {
    const grid = normalGrid();
    return (x) => average(grid, (z) => gammaTails(shape, x * Math.exp(logSd * z)).lower);
  }
  const grid = logGammaGrid(shape);
  return (x) =>
    x > 0 ? average(grid, (logLevel) => normalProbability((Math.log(x) - logLevel) / logSd)) : 0;
}

const NODES = 160;

/** Equal steps over ±8.5 standard deviations. */
function normalGrid(): Node[] {
  return bellNodes(-8.5, 8.5, NODES, (z) => (-z * z) / 2);
}

/** Equal steps in the logarithm of a gamma variable, from where nothing is left below to where nothing is left above. */
function logGammaGrid(shape: number): Node[] {
  const low = Math.log(gammaQuantile(shape, 1e-15));
  const high = Math.log(gammaQuantile(shape, 1 - 1e-15));
  return bellNodes(low, high, NODES, (y) => shape * (y - Math.log(shape)) - (Math.exp(y) - shape));
}

/** A probability averaged over a grid, whose weights sum to 1 but for the last digit. */
function average(grid: readonly Node[], probability: (at: number) => number): number {
  return Math.min(1, sumOver(grid, probability));
}
