// How sure classes and codes are, against the gamma distribution of SciPy 1.10: with the Jeffreys prior, n particles counted in
// v mL put the level at Gamma(n + 1/2) / v (JEFFREYS).
import { describe, expect, test } from "vitest";
import {
  AS4059_CUMULATIVE,
  classConfidence,
  codeConfidence,
  GOST_17216,
  limitsConfidence,
  limitsOfTarget,
  parseIso4406,
  parseTarget,
} from "../../src/cleanliness/index.js";
import { cumulativeCounts, withEstimates } from "../../src/counts/index.js";

const at = (...pairs: readonly (readonly [number, number])[]) =>
  pairs.map(([sizeUm, count]) => ({ sizeUm, count }));
/** 3 750, 1 000 and 75 particles in 25 mL. */
const counted = cumulativeCounts(at([4, 150], [6, 40], [14, 3]), 1, "um(c)", { countedMl: 25 });

describe("how sure the code of a sample is", () => {
  test("each place is as sure as the gamma distribution between its two limits", () => {
    // scipy.stats.gamma: cdf(4000, 3750.5) − cdf(2000, …), cdf(1000, 1000.5) − cdf(500, …), cdf(125, 75.5) − cdf(62.5, …).
    const [of4, of6, of14] = [0.999967305685892, 0.4978971501419767, 0.939771086733117];
    const sure = codeConfidence(parseIso4406("14/12/9"), counted);
    if (sure.kind !== "known") throw new Error(sure.why);
    expect(sure.channels.map(({ channel }) => channel)).toEqual(["4", "6", "14"]);
    for (const [place, expected] of [of4, of6, of14].entries())
      expect(sure.channels[place]?.probability).toBeCloseTo(expected, 9);
    // At most the least sure place; at least what the doubts of all leave.
    expect(sure.atMost).toBeCloseTo(of6, 9);
    expect(sure.atLeast).toBeCloseTo(of4 + of6 + of14 - 2, 9);
  });

  test("the same particles per 100 mL are as sure", () => {
    const per100 = cumulativeCounts(at([4, 15_000], [6, 4000], [14, 300]), 100, "um(c)", { countedMl: 25 });
    const [one, hundred] = [counted, per100].map((counts) => codeConfidence(parseIso4406("14/12/9"), counts));
    if (one?.kind !== "known" || hundred?.kind !== "known") throw new Error("both were counted");
    expect(hundred.atMost).toBeCloseTo(one.atMost, 12);
    expect(hundred.atLeast).toBeCloseTo(one.atLeast, 12);
  });

  test("a place without a number is not required, and the ends of the scale are open", () => {
    const channelsOf = (code: string, counts = counted) => {
      const sure = codeConfidence(parseIso4406(code), counts);
      return sure.kind === "known" ? sure.channels : sure;
    };
    expect(channelsOf("-/12/9")).toEqual([
      { channel: "6", probability: expect.closeTo(0.4978971501419767, 9) },
      { channel: "14", probability: expect.closeTo(0.939771086733117, 9) },
    ]);
    // No particle in 1 000 mL: number 0 ends at 0.01 per mL. scipy.stats.gamma.cdf(10, 0.5).
    const none = cumulativeCounts(at([4, 0.3], [6, 0.1], [14, 0]), 1, "um(c)", { countedMl: 1000 });
    expect(channelsOf("-/-/0", none)).toEqual([
      { channel: "14", probability: expect.closeTo(0.999992255783569, 9) },
    ]);
    const dense = cumulativeCounts(at([4, 2_500_000], [6, 1], [14, 0]), 1, "um(c)", { countedMl: 0.0004 });
    // 1 000 particles on the last limit: beyond it by the other half. 1 − scipy.stats.gamma.cdf(1000, 1000.5).
    expect(channelsOf(">28/-/-", dense)).toEqual([
      { channel: "4", probability: expect.closeTo(1 - 0.4978971501419767, 6) },
    ]);
  });

  test("why it cannot be told is said", () => {
    const whyOf = (counts: Parameters<typeof codeConfidence>[1]) => {
      const sure = codeConfidence(parseIso4406("-/12/9"), counts);
      return sure.kind === "cannot-tell" ? sure.why : sure;
    };
    expect(whyOf(cumulativeCounts(at([6, 40], [14, 3]), 1))).toBe("the volume that was counted is not known");
    expect(whyOf(cumulativeCounts(at([6, 40]), 1, "um(c)", { countedMl: 25 }))).toBe(
      "channel 14 was not counted",
    );
    const some = cumulativeCounts(at([6, 40], [21, 1]), 1, "um(c)", { countedMl: 25 });
    expect(whyOf(withEstimates(some, [14]).counts)).toBe(
      "an estimated count was not counted and has no counting scatter",
    );
  });
});

describe("how sure it is that limits are met", () => {
  test("without an error of the laboratory nothing is shared, and both ranges are the same", () => {
    const sure = limitsConfidence(limitsOfTarget(parseTarget("-/12/9")), counted);
    if (sure.kind !== "known") throw new Error(sure.why);
    expect(sure.ifLaboratoryErrsAlike.atLeast).toBeCloseTo(0.4978967904772985, 9);
    expect(sure.ifLaboratoryErrsAlike.atMost).toBeCloseTo(0.4978971501419767, 9);
  });

  test("a blank that was taken off makes the fluid as sure per 100 mL as per mL, and surer than without it", () => {
    const sureOf = (volumeMl: number, blank: number) => {
      const set = cumulativeCounts(at([6, 40 * volumeMl]), volumeMl, "um(c)", { countedMl: 25 });
      const counts = set.counts.map((entry) => ({
        ...entry,
        count: (40 - blank) * volumeMl,
        blank: blank * volumeMl,
      }));
      const sure = limitsConfidence(limitsOfTarget(parseTarget("-/12/-")), { ...set, counts });
      return sure.kind === "known" ? sure.atMost : Number.NaN;
    };
    // 1 000 particles were counted, 100 of them from the bottle: scipy.stats.gamma.cdf(1100, 1000.5).
    expect(sureOf(1, 4)).toBeCloseTo(0.9988840965676059, 9);
    expect(sureOf(100, 4)).toBeCloseTo(sureOf(1, 4), 12);
    expect(sureOf(1, 4)).toBeGreaterThan(sureOf(1, 0));
  });

  test("between the product of the channels and the least sure of them", () => {
    // scipy.stats.gamma.cdf(4000, 3750.5), cdf(1000, 1000.5), cdf(125, 75.5).
    const sure = limitsConfidence(limitsOfTarget(parseTarget("-/12/9")), counted);
    if (sure.kind !== "known") throw new Error(sure.why);
    expect(sure.atMost).toBeCloseTo(0.4978971501419767, 9);
    expect(sure.atLeast).toBeCloseTo(0.4978967904772985, 9);
  });
});

describe("how sure the class of a sample is", () => {
  test("channels that were not counted are left out, and a table of which none was counted has nothing to say", () => {
    const result = classConfidence(AS4059_CUMULATIVE, counted);
    expect(result.channels.map(({ channel }) => channel)).toEqual(["A", "B", "C"]);
    const none = classConfidence(AS4059_CUMULATIVE, cumulativeCounts(at([10, 5]), 1));
    expect(none).toEqual({ standard: "AS4059 cumulative", channels: [], noDirtierThan: [] });
  });

  test("one channel that cannot be told leaves the whole without an answer, and says why", () => {
    const some = cumulativeCounts(at([6, 40], [21, 1]), 1, "um(c)", { countedMl: 25 });
    const result = classConfidence(AS4059_CUMULATIVE, withEstimates(some, [14]).counts);
    expect(result.channels.map(({ channel, kind }) => [channel, kind])).toEqual([
      ["B", "known"],
      ["C", "cannot-tell"],
      ["D", "known"],
    ]);
    expect(result.channels[1]).toMatchObject({
      why: "an estimated count was not counted and has no counting scatter",
    });
    expect(result.noDirtierThan).toEqual([]);
  });

  test("no fluid is in a class whose limit is not printed", () => {
    // Grades 00 and 1 of GOST 17216 have no limit at 50-100 µm; 2 particles are on that of grade 3.
    const counts = cumulativeCounts(at([38, 2], [70, 0]), 100, "um(c)", { countedMl: 100 });
    const [range] = classConfidence(GOST_17216, counts).channels;
    if (range?.kind !== "known") throw new Error("50-100 was counted");
    const probabilities = Object.fromEntries(range.classes.map((entry) => [entry.class, entry.probability]));
    expect([probabilities["00"], probabilities["1"]]).toEqual([0, 0]);
    // scipy.stats.gamma.cdf(2, 2.5) − cdf(1, 2.5).
    expect(probabilities["3"]).toBeCloseTo(0.2997290847318294, 9);
  });
});
