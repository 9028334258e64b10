import type { Assumption } from "../../provenance/index.js";
import type { RatedBeta } from "../../samples/index.js";
import { type BelowRated, betaAt, checkBetas } from "../model/removal.js";

/** A filter element with the share of the flow that goes around it. */
export interface StreamElement {
  /** Filtration ratios βx(c) at rated sizes, in any order, each 1 or more. */
  readonly betas: readonly RatedBeta[];
  /** Fraction of the stream that passes by unfiltered, 0 to 1; 0 when absent. */
  readonly bypass?: number;
}

/** A filter loop parallel to the main stream, drawing from the same circuit with its own pump. */
export interface SideStream extends StreamElement {
  /** Flow through the side stream in L/min. */
  readonly flowLpm: number;
}

/** Every element a circuit's fluid goes through. */
export interface Filtration {
  /** Flow of the main stream in L/min. */
  readonly flowLpm: number;
  /** Elements of the main stream, in series. */
  readonly inSeries: readonly StreamElement[];
  readonly sideStream?: SideStream;
  readonly belowRated: BelowRated;
}

/**
 * What one element lets through of the particles of one bin. βx(c) is cumulative: it compares all particles larger than
 * x. So of a bin x to y with Nx and Ny particles larger than its sizes, (Nx/βx − Ny/βy)/(Nx − Ny) gets through.
 */
export interface BinRating {
  /** βx at the lower size. */
  readonly lower: number;
  /** The smallest β in the bin: no part of it is held back better than all particles above that size. */
  readonly least: number;
  /** βy at the upper size; βx where the bin has none. */
  readonly upper: number;
  /** Ny/(Nx − Ny) at the start: particles above the bin for each particle in it. */
  readonly above: number;
}

/** The rating of every element for one bin, the basis of {@link removalInSeries}. */
export interface BinFiltration {
  /** One for each element in series. */
  readonly main: readonly BinRating[];
  readonly side?: BinRating;
  readonly assumptions: readonly Assumption[];
}

/** Particles between two sizes, and how many are larger. */
export interface SizeBin {
  /** Lower size in µm(c). */
  readonly fromUm: number;
  /** Upper size; absent for all particles above the lower size. */
  readonly toUm?: number;
  /** Particles above the bin for each particle in it, at the start of circulation. */
  readonly above: number;
}

/**
 * The filtration ratios that act on particles between two sizes.
 *
 * @param filtration - the elements
 * @param bin - the sizes, and the distribution that the ratings are read against
 * @source ISO-16889
 */
export function filtrationOfBin(filtration: Filtration, bin: SizeBin): BinFiltration {
  const assumptions: Assumption[] = [];
  const rate = ({ betas }: StreamElement): BinRating => {
    const { fromUm, toUm } = bin;
    const lower = betaAt(betas, fromUm, filtration.belowRated);
    const upper = toUm === undefined ? lower : betaAt(betas, toUm, filtration.belowRated);
    const within = betas.filter(
      ({ sizeUmC }) => sizeUmC > fromUm && sizeUmC < (toUm ?? Number.POSITIVE_INFINITY),
    );
    const least = Math.min(lower.beta, ...within.map(({ beta }) => beta));
    assumptions.push(...lower.assumptions);
    if (least < lower.beta) {
      assumptions.push({
        code: "beta-falls-with-size",
        message: `β falls with size above ${fromUm} µm(c); no more than its smallest value ${least.toPrecision(3)} there was credited`,
        source: "ISO-16889",
      });
    }
    const isOneBeta = upper.beta === lower.beta;
    return { lower: lower.beta, least, upper: upper.beta, above: isOneBeta ? 0 : bin.above };
  };
  return {
    main: filtration.inSeries.map(rate),
    ...(filtration.sideStream && { side: rate(filtration.sideStream) }),
    assumptions,
  };
}

/**
 * Fraction of one bin that gets through an element in one pass, 0 to 1.
 *
 * The rating is read against the distribution at the start and then stays with the bin: what an element does to a size
 * does not change while circulation leaves the fine sizes over. Within a bin the finest particles stay longest, which
 * one number for the bin does not show.
 *
 * @param rating - what the element is rated at for the bin
 * @param betaFactor - factor on every β − 1; 1 takes the ratings as they are
 */
export function transmission({ lower, least, upper, above }: BinRating, betaFactor: number): number {
  const through = (beta: number) => 1 / (1 + (beta - 1) * betaFactor);
  const ofBin = (1 + above) * through(lower) - above * through(upper);
  return Math.min(1, Math.max(through(least), ofBin));
}

/**
 * Fraction of one bin that elements in series hold back in one pass. One element holds back (1 − bypass) of what it
 * does not let through; what elements let through multiplies.
 *
 * @param ratings - of each element for the bin
 * @param bypasses - fraction that goes around each element, 0 to 1
 * @param betaFactor - factor on β − 1 of every element; 1 takes the ratings as they are
 * @param leakage - fraction that gets past the seal of each element besides, 0 to 1
 * @source ISO-16889
 */
export function removalInSeries(
  ratings: readonly BinRating[],
  bypasses: ArrayLike<number>,
  betaFactor: number,
  leakage = 0,
): number {
  let removed = 0;
  for (let index = 0; index < ratings.length; index += 1) {
    const through = transmission(ratings[index] as BinRating, betaFactor);
    removed += (1 - removed) * (1 - (bypasses[index] as number)) * (1 - leakage) * (1 - through);
  }
  return removed;
}

/**
 * Refuses elements and flows that cannot be true.
 *
 * @throws RangeError naming what is wrong
 */
export function checkFiltration(filtration: Filtration): void {
  if (filtration.inSeries.length === 0) throw new RangeError("at least one element is needed");
  const { sideStream } = filtration;
  for (const element of [...filtration.inSeries, ...(sideStream === undefined ? [] : [sideStream])]) {
    checkBetas(element.betas);
    const bypass = element.bypass ?? 0;
    if (!(bypass >= 0 && bypass <= 1)) {
      throw new RangeError(`bypass must be a fraction from 0 to 1, not ${bypass}`);
    }
  }
  if (sideStream !== undefined && !(sideStream.flowLpm > 0 && Number.isFinite(sideStream.flowLpm))) {
    throw new RangeError(`the side stream's flowLpm must be more than 0, not ${sideStream.flowLpm}`);
  }
}
