import { cumulativeStdNormalProbability } from "simple-statistics";
import { describe, expect, test } from "vitest";
import { parseTarget } from "../../src/cleanliness/index.js";
import {
  acceptanceLimits,
  type Conformance,
  conformanceProbability,
  describeSettlement,
  judgeCircuit,
  scatterAt,
} from "../../src/fitness/index.js";
import type { Confidence, Sample } from "../../src/samples/index.js";
import { CLEAN, caseOf, countedIn, REQUIREMENT } from "../support/fitness/bases.js";

const judge = (confidence: Partial<Confidence>, change: Partial<Sample>) =>
  judgeCircuit(
    caseOf({
      requirement: { ...REQUIREMENT, confidence: { probability: 0.95, ...confidence } },
      samples: [{ ...CLEAN, waterPpm: { value: 50 }, acidMgKohPerG: { value: 0.05 }, ...change }],
    }),
  );

const conformanceOf = (verdict: ReturnType<typeof judge>, quantity: string): Conformance => {
  const found = verdict.assessed.find((entry) => entry.quantity === quantity)?.conformance;
  if (found === undefined) throw new Error(`nothing is known of how sure ${quantity} is`);
  return found;
};

describe("the precision of a laboratory", () => {
  test("reproducibility R is 1.96·√2 standard uncertainties, so that the guard band at 95 % is 0.59 R as ISO 4259 has it", () => {
    // ASTM D664, used fluid: R = 0.44·1.5 = 0.66 at the limit.
    expect((1.645 * scatterAt({ method: "ASTM D664 used" }, 1.5).standardUncertainty) / 0.66).toBeCloseTo(
      0.59,
      2,
    );
  });

  test("it is taken at the limit, and outside its published range at the end of it, which the result says", () => {
    const { standardUncertainty, assumptions } = scatterAt({ method: "ASTM D664 used" }, 0.05);
    expect(standardUncertainty).toBeCloseTo((0.44 * 0.1) / (1.96 * Math.SQRT2), 4);
    expect(assumptions.map(({ code }) => code)).toEqual(["precision-at-end-of-range"]);
  });

  test("a recalled precision says that it is recalled", () => {
    const codes = judge({ water: { method: "ISO 12937" } }, {}).assumptions.map(({ code }) => code);
    expect(codes).toContain("precision-from-memory");
  });

  test("where only repeatability is known the result says that laboratories differ by more", () => {
    const { assumptions, standardUncertainty } = scatterAt({ method: "ISO 3104" }, 14);
    expect(assumptions.map(({ code }) => code)).toContain("precision-of-one-laboratory");
    expect(standardUncertainty).toBeCloseTo((0.0026 * 14) / 2.772, 5);
  });

  test("what is not known is not invented: a result without a precision is taken as it is, and says so", () => {
    const verdict = judge({}, { counts: countedIn(10, 600, 150, 10) });
    expect(verdict.assumptions.map(({ code }) => code)).toContain("precision-not-given");
    expect(verdict.assessed.filter(({ conformance }) => conformance !== undefined)).toHaveLength(1);
    expect(verdict.verdict).toBe("fit");
  });
});

test("an uncertainty that cannot be and a result without any limit are refused by name", () => {
  for (const standardUncertainty of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
    const said = `a standard uncertainty must be more than 0, not ${standardUncertainty}`;
    expect(() => conformanceProbability({ value: 1, standardUncertainty, max: 2 })).toThrow(said);
    expect(() => acceptanceLimits({ max: 2 }, standardUncertainty, 0.95)).toThrow(said);
  }
  expect(() => conformanceProbability({ value: 1, standardUncertainty: 0.1 })).toThrow(
    "a lower or an upper limit is needed",
  );
});

describe("counts against their limits", () => {
  const SIGMA_30 = { reproducibility: { kind: "relative", rsd: 0.3 } } as const;
  const against = (cleanliness: readonly string[], countedMl: number, ...perMl: number[]) => {
    const verdict = judgeCircuit(
      caseOf({
        requirement: {
          ...REQUIREMENT,
          cleanliness: cleanliness.map((target) => parseTarget(target)),
          confidence: { probability: 0.95, counts: SIGMA_30 },
        },
        samples: [{ ...CLEAN, counts: countedIn(countedMl, ...perMl) }],
      }),
    );
    const particles = verdict.assessed.find(({ quantity }) => quantity === "particles");
    if (particles === undefined || !("channels" in particles)) throw new Error("no particles were judged");
    return { verdict, channels: particles.channels, conformance: particles.conformance };
  };

  test("limits per 100 mL of a table are met as surely as the spread of the laboratory says, range by range", () => {
    // NAS 1638 class 5 allows 80 per mL from 6 to 14 µm(c); 60 leave ln(80/60) of a spread of √ln(1 + 0.3²).
    const { channels } = against(["NAS 1638 5"], 1e6, 100, 65.35, 5.35, 0.35, 0.1, 0.02);
    const range = channels.find(({ channel }) => channel === "6-14");
    expect(range).toMatchObject({ limitPerMl: 80, perMl: 60, share: 0.75 });
    expect(range?.probability).toBeCloseTo(cumulativeStdNormalProbability(Math.log(80 / 60) / 0.2936), 2);
    expect(channels.every(({ probability }) => probability !== undefined)).toBe(true);
  });

  test("of two targets the stricter limit of a channel is used, once, in whatever order", () => {
    const perMl = [900, 200, 20];
    const alone = against(["17/15/12"], 1e6, ...perMl).conformance;
    for (const both of [
      ["17/15/12", "19/17/14"],
      ["19/17/14", "17/15/12"],
    ]) {
      expect(against(both, 1e6, ...perMl).conformance).toEqual(alone);
    }
    expect(alone?.probability).toBeLessThan(1);
  });

  test("each channel of each target has the chance of its own limit, the stricter one where two share it", () => {
    const perMl = [900, 200, 20, 1, 0.1, 0.01];
    const both = against(["17/15/12", "NAS 1638 5"], 1e6, ...perMl).channels;
    const apart = ["17/15/12", "NAS 1638 5"].flatMap((one) => against([one], 1e6, ...perMl).channels);
    expect(both).toEqual(apart);
    expect(new Set(both.map(({ probability }) => probability)).size).toBeGreaterThan(4);
    const [loose, ...others] = against(["19/17/14", "17/15/12"], 1e6, ...perMl).channels;
    expect(loose).toMatchObject({ target: "ISO 4406 19/17/14", channel: "4", outcome: "inside" });
    expect(loose).not.toHaveProperty("probability");
    expect(others.slice(2).every(({ probability }) => probability !== undefined)).toBe(true);
  });

  test("how sure is told only where every channel was counted, and a channel that was not has no level", () => {
    const { channels, conformance } = against(["17/15/12"], 1e6, 600, 150);
    expect(conformance).toBeUndefined();
    expect(channels.map(({ channel, outcome, perMl }) => [channel, outcome, perMl])).toEqual([
      ["4", "inside", 600],
      ["6", "inside", 150],
      ["14", "not-measured", undefined],
    ]);
    expect(channels.at(-1)).not.toHaveProperty("share");
    const none = judge({}, { counts: undefined as never }).assessed[0];
    expect(none).toEqual({ quantity: "particles", outcome: "not-measured", channels: [] });
  });

  test("a doubt that the laboratory leaves is not settled by counting more of the bottle", () => {
    expect(against(["17/15/12"], 1e6, 600, 150, 35).conformance?.settlement).toMatchObject({
      kind: "circulate-on",
    });
    const codes = (counts: Confidence["counts"]) =>
      judge({ ...(counts && { counts }) }, { counts: countedIn(10, 600, 150, 35) }).assumptions.map(
        ({ code }) => code,
      );
    expect(codes(SIGMA_30)).not.toContain("laboratory-spread-not-given");
    expect(codes(undefined)).toContain("laboratory-spread-not-given");
  });
});

describe("replicates", () => {
  const twice = (one: number, other: number) =>
    judge(
      {},
      {
        counts: countedIn(1000, 600, 150, (one + other) / 2),
        replicates: [countedIn(1000, 600, 150, one), countedIn(1000, 600, 150, other)],
      },
    );

  test("that scatter beyond chance, though no more than is usual, make the result less sure", () => {
    expect(twice(37, 37).verdict).toBe("fit");
    // 39 and 35 scatter by 4/√2 = 2.83 about 37, which is 7.6 %: ln(40/37)/0.076 = 1.02 standard deviations, 84.7 %.
    const scattered = twice(39, 35);
    expect(conformanceOf(scattered, "particles").probability).toBeCloseTo(0.847, 2);
    expect(scattered.verdict).toBe("circulate");
  });

  test("their scatter and the spread of the laboratory add as squares, however the spread is given", () => {
    const of = (reproducibility: NonNullable<Confidence["counts"]>["reproducibility"]) =>
      conformanceOf(
        judge(
          { counts: { reproducibility } },
          {
            counts: countedIn(1000, 600, 150, 37),
            replicates: [countedIn(1000, 600, 150, 39), countedIn(1000, 600, 150, 35)],
          },
        ),
        "particles",
      ).probability;
    // 7.6 % of the replicates and 10 % of the laboratory are 12.6 %: ln(40/37)/0.126 = 0.62, 73.2 %.
    expect(of({ kind: "relative", rsd: 0.1 })).toBeCloseTo(0.732, 2);
    // As a spread of the ISO 4406 code, 10 % are log2(1.1): √(exp((s·ln 2)²) − 1) = 0.1 for s = 0.1439.
    expect(of({ kind: "codes", sd: 0.1439 })).toBeCloseTo(of({ kind: "relative", rsd: 0.1 }), 3);
  });

  test("the larger of report and mean counts at each size, and lifts the smaller sizes with it", () => {
    const channelsOf = (reported: number[], ...replicates: number[][]) => {
      const [particles] = judge(
        {},
        {
          counts: countedIn(10, ...reported),
          ...(replicates.length > 0 && { replicates: replicates.map((one) => countedIn(10, ...one)) }),
        },
      ).assessed;
      return particles && "channels" in particles ? particles.channels.map(({ perMl }) => perMl) : [];
    };
    expect(channelsOf([600, 150, 35])).toEqual([600, 150, 35]);
    expect(channelsOf([600, 150, 35], [610, 140, 35], [630, 140, 35])).toEqual([620, 150, 35]);
    expect(channelsOf([600, 150, 35], [500, 100, 30], [500, 100, 30])).toEqual([600, 150, 35]);
    expect(channelsOf([30, 20, 10], [40, 38, 36], [40, 38, 36])).toEqual([40, 38, 36]);
  });
});

describe("risks", () => {
  test("of a result 1.645 standard uncertainties inside, 5 % is the consumer's risk and 95 % the producer's", () => {
    const { consumerRisk, producerRisk } = conformanceOf(
      judge({ water: { sd: 10 } }, { waterPpm: { value: 183.55 } }),
      "water",
    );
    expect(consumerRisk).toBeCloseTo(0.05, 4);
    expect(producerRisk).toBeCloseTo(0.95, 4);
  });

  test("all together are as sure as the product of the parts", () => {
    const verdict = judge(
      { water: { sd: 10 }, acid: { sd: 0.01 } },
      { waterPpm: { value: 185 }, acidMgKohPerG: { value: 0.185 }, counts: countedIn(10, 600, 150, 35) },
    );
    const parts = verdict.assessed.map(({ conformance }) => conformance?.probability ?? 1);
    expect(verdict.together?.probability).toBeCloseTo(
      parts.reduce((a, b) => a * b),
      12,
    );
    // By hand: Φ(1.5)² = 0.9332², and the particles at (400 − 350.5)/18.7.
    expect(verdict.together?.probability).toBeCloseTo(0.9332 ** 2 * 0.995, 2);
  });

  test("water held against its limit and against saturation is one result and counts once", () => {
    const water = { water: { sd: 10 } };
    const verdict = judgeCircuit(
      caseOf({
        requirement: {
          ...REQUIREMENT,
          waterPpmMax: 155,
          waterSaturation: {
            shareMax: 0.5,
            lowestTemperatureC: 20,
            measured: [
              { temperatureC: 20, waterPpm: 300 },
              { temperatureC: 60, waterPpm: 900 },
            ],
          },
          confidence: { probability: 0.9, ...water },
        },
        samples: [{ ...CLEAN, counts: countedIn(1e6, 600, 150, 10), waterPpm: { value: 135 } }],
      }),
    );
    // Φ(1.5) against 150 ppm; Φ(2) against 155 ppm is the same doubt over again.
    expect(verdict.together?.probability).toBeCloseTo(0.9332, 4);
  });
});

describe("what would settle a doubt, computed", () => {
  test("counting as many replicates as it says makes it sure, and one fewer does not", () => {
    const first = judge({}, { counts: countedIn(10, 600, 150, 37) });
    const { settlement } = conformanceOf(first, "particles");
    if (settlement?.kind !== "count-more") throw new Error("expected counting to settle it");
    const again = (times: number) => judge({}, { counts: countedIn(10 * times, 600, 150, 37) }).verdict;
    expect(again(settlement.replicates)).toBe("fit");
    expect(again(settlement.replicates - 1)).toBe("resample");
    expect(judge({}, { counts: countedIn(settlement.countedMl, 600, 150, 37) }).verdict).toBe("fit");
    expect(judge({}, { counts: countedIn(settlement.countedMl * 0.95, 600, 150, 37) }).verdict).toBe(
      "resample",
    );
    expect(first.reasons[0]?.message).toContain(describeSettlement(settlement));
  });

  test.each([
    // (1.645/d)²·n with n per mL, d below the limit of 40: 11 mL, 107 mL, 428 mL, 2.7 L.
    [37, "count-more"],
    [39, "count-more"],
    [39.5, "circulate-on"],
    [39.8, "circulate-on"],
  ] as const)(
    "%f particles per mL, limit 40: no more is asked for than a bottle holds, but cleaner fluid",
    (perMl, kind) => {
      const verdict = judge({}, { counts: countedIn(10, 600, 150, perMl) });
      const { settlement } = conformanceOf(verdict, "particles");
      expect(settlement?.kind).toBe(kind);
      if (settlement?.kind === "count-more") expect(settlement).toMatchObject({ bottles: 1 });
      expect(verdict.verdict).toBe(kind === "count-more" ? "resample" : "circulate");
    },
  );

  test("a limit so low that not even a clean bottle shows it asks for several bottles, and says so", () => {
    // 0.01 per mL: −ln(0.05) is 3 particles, and Jeffreys' half of χ² with one degree of freedom 1.92: 192 mL at least.
    const low = judgeCircuit(
      caseOf({
        requirement: {
          ...REQUIREMENT,
          cleanliness: [parseTarget("17/15/0")],
          confidence: { probability: 0.97 },
        },
        samples: [{ ...CLEAN, counts: countedIn(20, 600, 150, 0) }],
      }),
    );
    const { settlement } = conformanceOf(low, "particles");
    if (settlement?.kind !== "count-more")
      throw new Error(`expected counting to settle it, not ${settlement?.kind}`);
    expect(settlement.countedMl).toBeGreaterThan(200);
    expect(settlement.bottles).toBe(2);
    expect(describeSettlement(settlement)).toContain("mL in all of 2 bottles");
  });

  test("a method that scatters too much for a limit is said, with what would show it", () => {
    const water = (waterPpmMax: number, value: number) =>
      conformanceOf(
        judgeCircuit(
          caseOf({
            requirement: {
              ...REQUIREMENT,
              waterPpmMax,
              confidence: { probability: 0.95, water: { method: "ASTM D6304" } },
            },
            samples: [{ ...CLEAN, waterPpm: { value } }],
          }),
        ),
        "water",
      ).settlement;
    // R = 4243·(x/10,000)^0.6 ppm, from memory: 1.645·R/2.772 is the limit itself at (1.645·0.4243/2.772)^2.5·10,000 = 318 ppm.
    expect(water(317, 10)?.kind).toBe("method-too-coarse");
    expect(water(319, 10)?.kind).not.toBe("method-too-coarse");
    // At a limit of 200 a result of 150 needs 50/1.645 = 30.4 ppm, and the mean of (1.645·146.2/50)² = 23 results.
    const at150 = water(200, 150);
    expect(at150).toEqual({ kind: "method-too-coarse", standardUncertainty: expect.closeTo(30.4, 1) });
    expect(describeSettlement(at150 as NonNullable<typeof at150>)).toContain(
      "a standard deviation of 30.4 or less would settle it",
    );
    // 50 needs (1.645·146.2/150)² = 2.6 of them.
    expect(water(200, 50)).toMatchObject({ kind: "method-too-coarse", results: 3 });
  });

  test("where laboratories scatter too much, no counting settles it, and it says so", () => {
    const { settlement } = conformanceOf(
      judge(
        { counts: { reproducibility: { kind: "codes", sd: 0.5 } } },
        { counts: countedIn(10, 600, 150, 35) },
      ),
      "particles",
    );
    expect(settlement?.kind).toBe("circulate-on");
  });

  test("the mean of as many results as it says makes it sure: (1.645·10/8)² = 4.2, so five", () => {
    const { settlement } = conformanceOf(judge({ water: { sd: 10 } }, { waterPpm: { value: 192 } }), "water");
    expect(settlement).toEqual({ kind: "measure-again", results: 5, where: "different-laboratories" });
  });

  test("a laboratory that repeats takes off its own scatter only: D664 at 1.5 leaves 0.23 between laboratories", () => {
    const acid = (value: number) =>
      conformanceOf(
        judgeCircuit(
          caseOf({
            requirement: {
              ...REQUIREMENT,
              acidMgKohPerGMax: 1.5,
              confidence: { probability: 0.95, acid: { method: "ASTM D664 used" } },
            },
            samples: [{ ...CLEAN, acidMgKohPerG: { value } }],
          }),
        ),
        "acid number",
      ).settlement;
    // R 0.66 is 0.2381, r 0.1755 is 0.0633; between laboratories √(0.2381² − 0.0633²) = 0.2295. 0.38 away needs 0.2310:
    // 0.0633²/(0.2310² − 0.2295²) = 5.8, so six.
    expect(acid(1.12)).toEqual({ kind: "measure-again", results: 6, where: "same-laboratory" });
    // 0.3 away: (1.645·0.2381/0.3)² = 1.7 laboratories.
    expect(acid(1.2)).toEqual({ kind: "measure-again", results: 2, where: "different-laboratories" });
  });

  test("a result at its limit is settled by nothing", () => {
    const { settlement } = conformanceOf(judge({ water: { sd: 10 } }, { waterPpm: { value: 200 } }), "water");
    expect(settlement?.kind).toBe("cannot-be-settled");
  });

  test("a result that is sure, or outside, needs no settling", () => {
    expect(
      conformanceOf(judge({ water: { sd: 10 } }, { waterPpm: { value: 100 } }), "water").settlement,
    ).toBeUndefined();
    expect(
      conformanceOf(judge({ water: { sd: 10 } }, { waterPpm: { value: 250 } }), "water").settlement,
    ).toBeUndefined();
  });
});
