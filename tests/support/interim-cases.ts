// A circuit, and samples that are drawn of it while it circulates.
import {
  type CirculationInput,
  type CirculationPlan,
  type InterimSample,
  planCirculation,
} from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

export const STARTS = [20000, 5000, 640];
export const SIZES = [4, 6, 14];

/** The circuit that docs/circulation.md talks about, with one fine element and nothing coming in. */
export const demo: CirculationInput = {
  volumeL: 60,
  flowLpm: 15,
  betas: [{ sizeUmC: 4, beta: 100 }],
  start: cumulativeCounts(
    SIZES.map((sizeUm, index) => ({ sizeUm, count: STARTS[index] as number })),
    1,
  ),
  limits: limitsOfTarget(parseTarget("17/15/12")),
};
export const plan: CirculationPlan = planCirculation(demo);
/** What the element is rated for, per minute: 0.99 of the particles in each pass of 4 minutes. */
export const RATED = 0.99 / 4;

/** Minutes of six samples over four passes. */
export const LONG = [0, 3, 6, 9, 12, 16];

/** Samples just as the level has them, without the chance of counting. */
export const noiseless = (rate: number, floorShare: number, moments: readonly number[]): InterimSample[] =>
  moments.map((minutes) => ({
    minutes,
    countedMl: 20,
    counts: SIZES.map((sizeUmC, index) => {
      const start = STARTS[index] as number;
      return {
        sizeUmC,
        perMl: { value: start * (floorShare + (1 - floorShare) * Math.exp(-rate * minutes)) },
      };
    }),
  }));
