import type { StreamElement } from "../equipment/elements.js";
import { type BelowRated, betaAt } from "./removal.js";

/** The elements of a main stream, one after the other. */
export type MainStream = StreamElement & {
  readonly inSeries?: readonly StreamElement[];
  readonly belowRated?: BelowRated;
};

/**
 * Times as many particles above a size upstream of the elements of a main stream as downstream of them all: β of each, less
 * what a bypass lets around it.
 *
 * @source ISO-16889
 */
export function upstreamTimes(
  { inSeries = [], belowRated = "nothing", ...first }: MainStream,
  sizeUm: number,
): number {
  return [first, ...inSeries].reduce(
    (times, { betas, bypass = 0 }) =>
      times / (bypass + (1 - bypass) / betaAt(betas, sizeUm, belowRated).beta),
    1,
  );
}
