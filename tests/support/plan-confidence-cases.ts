import type { CirculationInput, MinutesFor } from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

/** A circuit whose every bin needs its time, with ingress. */
export const demo: CirculationInput = {
  volumeL: 60,
  flowLpm: 15,
  betas: [
    { sizeUmC: 4, beta: 20 },
    { sizeUmC: 6, beta: 100 },
    { sizeUmC: 14, beta: 1000 },
  ],
  start: cumulativeCounts(
    [
      { sizeUm: 4, count: 20000 },
      { sizeUm: 6, count: 5000 },
      { sizeUm: 14, count: 640 },
    ],
    1,
  ),
  limits: limitsOfTarget(parseTarget("17/15/12")),
  ingress: [
    { sizeUmC: 4, particlesPerMin: 2e6 },
    { sizeUmC: 6, particlesPerMin: 4e5 },
    { sizeUmC: 14, particlesPerMin: 4e4 },
  ],
};

/** Minutes of a probability; endless where none are long enough. */
export function minutesAt(probability: number, found: readonly MinutesFor[]): number {
  const entry = found.find((candidate) => candidate.probability === probability);
  return entry?.kind === "minutes" ? entry.minutes : Number.POSITIVE_INFINITY;
}
