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

/** A filter loop beside the main stream, drawing from the same circuit with its own pump. */
export interface SideStream extends StreamElement {
  /** Flow through the side stream in L/min. */
  readonly flowLpm: number;
}

/** Every element a circuit's fluid goes through. */
export interface Filtration {
  /** Flow of the main stream in L/min. */
  readonly flowLpm: number;
  /** Elements of the main stream, one behind the other. */
  readonly inSeries: readonly StreamElement[];
  readonly sideStream?: SideStream;
  readonly belowRated: BelowRated;
}

/** β of every element for the particles of one bin, the basis of {@link removalOf}. */
export interface BinFiltration {
  /** Smallest β within the bin, one for each element in series. */
  readonly mainBetas: readonly number[];
  readonly sideBeta?: number;
  readonly assumptions: readonly Assumption[];
}

/**
 * The filtration ratios that act on particles between two sizes: for each element the smallest β anywhere in the
 * bin, which is the one at the lower size wherever β rises with size.
 *
 * @param filtration - the elements
 * @param fromUm - lower size in µm(c)
 * @param toUm - upper size, or undefined for all particles above the lower size
 */
export function filtrationOfBin(
  filtration: Filtration,
  fromUm: number,
  toUm: number | undefined,
): BinFiltration {
  const assumptions: Assumption[] = [];
  const smallest = (element: StreamElement): number => {
    const atEdge = betaAt(element.betas, fromUm, filtration.belowRated);
    assumptions.push(...atEdge.assumptions);
    const within = element.betas.filter(
      ({ sizeUmC }) => sizeUmC > fromUm && sizeUmC < (toUm ?? Number.POSITIVE_INFINITY),
    );
    const lowest = Math.min(atEdge.beta, ...within.map(({ beta }) => beta));
    if (lowest < atEdge.beta) {
      assumptions.push({
        code: "beta-falls-with-size",
        message: `β falls with size above ${fromUm} µm(c); its smallest value ${lowest.toPrecision(3)} there was used`,
        source: "ISO-16889",
      });
    }
    return lowest;
  };
  const mainBetas = filtration.inSeries.map(smallest);
  const { sideStream } = filtration;
  return {
    mainBetas,
    ...(sideStream && { sideBeta: smallest(sideStream) }),
    assumptions,
  };
}

/**
 * Fraction of one bin that elements in series hold back in one pass. One element holds back
 * (1 − bypass)(1 − 1/β); transmissions multiply.
 *
 * @param betas - β of each element for the bin, 1 or more
 * @param bypasses - fraction that goes around each element, 0 to 1
 * @param betaFactor - factor on β − 1 of every element; 1 takes the betas as they are
 * @source ISO-16889
 */
export function removalInSeries(
  betas: ArrayLike<number>,
  bypasses: ArrayLike<number>,
  betaFactor: number,
): number {
  let removed = 0;
  for (let index = 0; index < betas.length; index += 1) {
    const beta = 1 + ((betas[index] as number) - 1) * betaFactor;
    removed += (1 - removed) * (1 - (bypasses[index] as number)) * (1 - 1 / beta);
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
