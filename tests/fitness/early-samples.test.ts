import { describe, expect, test } from "vitest";
import { dayAfter } from "../../src/fitness/days.js";
import { judgeCircuit } from "../../src/fitness/index.js";
import { drawNormal, seededRandom } from "../../src/numeric/draws.js";
import type { Sample } from "../../src/samples/index.js";
import { CLEAN, caseOf, counts } from "../support/fitness/bases.js";

const CIRCUITS = 100;
/** Scatter of bottles and of a laboratory, as relative standard deviations: those of the demo. */
const BOTTLE = 0.18;
const CHANNEL = 0.08;
const WATER = 0.05;

/** Monthly samples of a circuit whose levels are shares of its limits. */
function history(seed: number, months: number, share: (month: number) => number): Sample[] {
  const random = seededRandom(seed);
  const scattered = (value: number, rsd: number) => value * Math.exp(rsd * drawNormal(random));
  return Array.from({ length: months }, (_, month) => {
    const bottle = scattered(share(month), BOTTLE);
    const perMl = [1300, 320, 40].map((limit) => Number(scattered(limit * bottle, CHANNEL).toFixed(2)));
    return {
      ...CLEAN,
      sample: `S-${month}`,
      drawnOn: dayAfter("2026-01-10", 30 * month),
      counts: counts(...perMl),
      waterPpm: { value: Math.round(scattered(200 * share(month), WATER)) },
      acidMgKohPerG: { value: 0.08 },
    };
  });
}

/** How many circuits are fit some days after the last sample. */
function fitAfter(days: number, months: number, share: (month: number) => number): number {
  return Array.from({ length: CIRCUITS }, (_, seed) => {
    const samples = history(seed + 1, months, share);
    return judgeCircuit(caseOf({ samples, on: dayAfter("2026-01-10", 30 * (months - 1) + days) })).verdict;
  }).filter((verdict) => verdict === "fit").length;
}

describe("the trend of a circuit calls for an early sample where there is one", () => {
  // By chance one of twenty series rises as surely: water, and the three sizes, which are little more than one series. Were
  // they three, 0.95³ of the circuits would have none that rises; with the chance of the line alone 58, 41, 45 and 78 were fit.
  test.each([4, 5, 6, 8, 12])(
    "%d scattered samples of a level circuit at half its limits are none",
    (months) => {
      expect(fitAfter(28, months, () => 0.5)).toBeGreaterThanOrEqual(86);
    },
  );

  test.each([6, 8])("%d samples that rise by a tenth of the limit a month and come near it are", (months) => {
    const rising = (month: number) => 0.95 - 0.1 * (months - 1 - month);
    expect(fitAfter(28, months, rising)).toBeLessThanOrEqual(5);
  });
});
