// A start converted from a bottle drawn downstream scatters as the particles that were counted, and not as β times as many.
import { describe, expect, test } from "vitest";
import {
  type CirculationInput,
  countsUpstream,
  levelBands,
  planCirculation,
  planConfidence,
} from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { seededRandom } from "../../src/numeric/index.js";

const SIZES = [4, 6, 14];
const BETAS = [20, 100, 1000].map((beta, index) => ({ sizeUmC: SIZES[index] as number, beta }));
const LIMITS = limitsOfTarget(parseTarget("-/-/12"));
const COUNTED_ML = 20;
const base = { volumeL: 60, flowLpm: 60, betas: BETAS, belowRated: "nothing" } as const;
const atSizes = (...perMl: number[]) =>
  cumulativeCounts(
    perMl.map((count, index) => ({ sizeUm: SIZES.at(index - perMl.length) as number, count })),
    1,
  );

/** A start drawn downstream, as it is planned from. */
const fromDownstream = (...perMl: number[]): CirculationInput => {
  const startDrawn = atSizes(...perMl);
  return { ...base, limits: LIMITS, start: countsUpstream(startDrawn, base).counts, startDrawn };
};

/** By how many passes the 95 % time is later than the middle one, where only the counting of the start scatters. */
function lateBy(input: CirculationInput): number {
  const { minutesFor } = planConfidence(input, { countedMl: COUNTED_ML }, seededRandom(3), {
    probabilities: [0.5, 0.95],
  });
  const [middle, late] = minutesFor.map((one) => (one.kind === "minutes" ? one.passes : Number.NaN));
  return (late as number) - (middle as number);
}

/**
 * A mean of which n particles were counted is a gamma variable of n + ½, half a chi-square one of 2n + 1 degrees of freedom;
 * the time goes with its logarithm, over 1 − 1/β. The 50 % and 95 % points of chi-square are printed:
 * 16.338 and 27.587 for 17 degrees of freedom, 40.335 and 56.942 for 41 (the first of each from memory; the second from the
 * NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4).
 */
const lateOf = (middle: number, late: number) => Math.log(late / middle) / (1 - 1 / 1000);

describe("the 95 % time is later than the middle one by the scatter of the counted number", () => {
  test.each<[string, CirculationInput, number]>([
    ["8 particles counted downstream", fromDownstream(8 / COUNTED_ML), lateOf(16.338, 27.587)],
    ["20 particles counted downstream", fromDownstream(20 / COUNTED_ML), lateOf(40.335, 56.942)],
    // 8000 counted: the normal distribution, 1.645/√8000.
    [
      "as many upstream as 8 stand for",
      { ...base, limits: LIMITS, start: atSizes(8000 / COUNTED_ML) },
      1.645 / Math.sqrt(8000) / (1 - 1 / 1000),
    ],
  ])("%s", (_, input, passes) => {
    expect(Math.abs(lateBy(input) - passes)).toBeLessThan(0.01);
  });

  test("the plan by the stated values is the same", () => {
    const { startDrawn: _drawn, ...plain } = fromDownstream(0.4);
    expect(planCirculation(fromDownstream(0.4))).toEqual(planCirculation(plain));
  });
});

describe("each range of sizes scatters as its own counted particles", () => {
  // Downstream 54,000, 5600 and 400 particles in 20 mL; upstream 30,000, 10,000 and 20,000 for each mL stand for them.
  const many = fromDownstream(3000, 300, 20);
  const spread = (input: CirculationInput, channel: string) => {
    const limits = limitsOfTarget(parseTarget("17/15/12"));
    const bands = levelBands({ ...input, limits }, { countedMl: COUNTED_ML }, seededRandom(5), [0], 20_000);
    const point = bands.find((band) => band.channel === channel)?.points[0];
    return point === undefined ? Number.NaN : (point.high - point.low) / 2 / 1.645 / point.median;
  };

  test("above 14 µm(c) one in √400", () => {
    expect(Math.abs(spread(many, "14") - 1 / 20)).toBeLessThan(0.002);
  });

  test("above 4 µm(c) the three together", () => {
    const parts = [30_000 / Math.sqrt(54_000), 10_000 / Math.sqrt(5600), 20_000 / Math.sqrt(400)];
    expect(Math.abs(spread(many, "4") - Math.hypot(...parts) / 60_000)).toBeLessThan(0.002);
  });

  test("a size of which none was counted may hold what half a particle stands for", () => {
    // The mean of a gamma variable of ½ over 20 mL, times 1000: half of it lies below its median, 0.2275/20·1000 = 11 per mL.
    const [band] = levelBands(fromDownstream(0), { countedMl: COUNTED_ML }, seededRandom(7), [0], 20_000);
    expect(band?.points[0]?.median).toBeCloseTo(11.4, 0);
  });
});
