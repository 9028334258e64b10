import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type CircuitCase,
  judgeCircuit,
  type ReasonCode,
  type VerdictName,
} from "../../src/fitness/index.js";
import type { Confidence, Sample } from "../../src/samples/index.js";
import { CLEAN, caseOf, countedIn, counts, REQUIREMENT, without } from "../support/fitness/bases.js";
import { fullCase } from "../support/fitness/full.js";
import { runs } from "../support/runs.js";

const judge = (confidence: Partial<Confidence>, sample: Partial<Sample>) =>
  judgeCircuit(
    caseOf({
      requirement: { ...REQUIREMENT, confidence: { probability: 0.95, ...confidence } },
      samples: [{ ...CLEAN, waterPpm: { value: 50 }, acidMgKohPerG: { value: 0.05 }, ...sample }],
    }),
  );
const scattering = (rsd: number): Partial<Confidence> => ({
  counts: { reproducibility: { kind: "relative", rsd } },
});
const particlesOf = (verdict: ReturnType<typeof judge>) => {
  const found = verdict.assessed.find(({ quantity }) => quantity === "particles")?.conformance;
  if (found === undefined) throw new Error("the required confidence was dropped");
  return found;
};

describe("a counted volume that the report does not state", () => {
  // Limits 1300, 320 and 40 per mL.
  test.each<[string, Partial<Confidence>, number[], VerdictName]>([
    ["at the limits", {}, [1300, 320, 40], "circulate"],
    ["just inside the limits", {}, [1299, 319, 39], "circulate"],
    ["at nine tenths", {}, [1170, 288, 36], "resample"],
    ["at half", {}, [650, 160, 20], "resample"],
    ["a tenth", {}, [130, 32, 4], "fit"],
    ["a tenth, by a laboratory that scatters by 15 %", scattering(0.15), [130, 32, 4], "fit"],
    // ln 10 is 2.3; a spread of 200 % is 1.27 in the logarithm: 1.8 standard deviations each, three times.
    // Circulating settles nothing here: at no time is a bottle of such a laboratory accepted in 95 % of the cases.
    ["a tenth, by a laboratory that scatters by 200 %", scattering(2), [130, 32, 4], "do-not-connect"],
    // 0.01 per mL above 38 µm(c) is a particle in 100 mL.
    [
      "at nine tenths, with a size so coarse that it shows how much was counted",
      {},
      [1170, 288, 36, 3, 0.01],
      "fit",
    ],
    // ln(1/0.9) is 0.105; a spread of 15 % leaves 0.7 standard deviations however much was counted.
    [
      "the same by a laboratory that scatters by 15 %",
      scattering(0.15),
      [1170, 288, 36, 3, 0.01],
      "circulate",
    ],
    // In 0.1 mL four are allowed above 14 µm(c): Γ(½) is below 4 with 99.5 %.
    ["nothing above 14 µm(c)", {}, [130, 32, 0], "fit"],
    ["nothing above 6 and 14 µm(c), and a single particle above 4", {}, [1, 0, 0], "fit"],
    ["nothing at all", {}, [0, 0, 0], "resample"],
  ])("is taken at the least that it can be: counts %s", (_name, confidence, perMl, verdict) => {
    expect(judge(confidence, { counts: counts(...perMl) }).verdict).toBe(verdict);
  });

  test("what would settle it is the volume to be stated, and stating it does", () => {
    const half = [650, 160, 20] as const;
    const { settlement } = particlesOf(judge({}, { counts: counts(...half) }));
    if (settlement?.kind !== "state-volume") throw new Error("expected a volume");
    expect(judge({}, { counts: countedIn(settlement.countedMl, ...half) }).verdict).toBe("fit");
    expect(judge({}, { counts: countedIn(settlement.countedMl * 0.9, ...half) }).verdict).toBe("resample");
  });

  test("counts per 100 mL are as sure as the same per mL", () => {
    const perMl = counts(1170, 288, 36, 3, 0.01);
    const per100 = {
      ...perMl,
      volumeMl: 100,
      counts: perMl.counts.map(({ sizeUm, count }) => ({ sizeUm, count: Math.round(count * 100) })),
    };
    const [one, other] = [perMl, per100].map((set) => particlesOf(judge({}, { counts: set })).probability);
    expect(other).toBeCloseTo(one as number, 12);
  });

  const level = fc.integer({ min: 1, max: 110 }).map((percent) => percent / 100);
  const falling = fc.tuple(level, level, level).map((shares) => {
    let above = Number.POSITIVE_INFINITY;
    return [1300, 320, 40].map((limit, index) => {
      above = Math.min(above, Math.max(1, Math.round(limit * (shares[index] as number))));
      return above;
    });
  });

  test("leaving it out never makes a circuit fit that is not fit with a volume of 0.1 mL or more in which every count is a particle", () => {
    let lost = 0;
    fc.assert(
      fc.property(
        falling,
        fc.constantFrom(0, 0.1, 0.3),
        fc.integer({ min: 0, max: 1000 }),
        (perMl, rsd, step) => {
          const leastMl = Math.max(0.1, 1 / Math.min(...perMl));
          const stated = countedIn(leastMl * 10 ** (step / 250), ...perMl);
          const [withVolume, leftOut] = [stated, counts(...perMl)].map((set) =>
            judge(scattering(rsd), { counts: set }),
          );
          // A stated volume too small for the limit is a finding of its own, whatever the confidence.
          if (withVolume?.reasons.some(({ code }) => code === "counted-volume-too-small")) return;
          if (withVolume?.verdict === "fit" && leftOut?.verdict !== "fit") lost += 1;
          if (withVolume?.verdict !== "fit") expect(leftOut?.verdict).not.toBe("fit");
        },
      ),
      { numRuns: runs(200) },
    );
    expect(lost).toBeGreaterThan(7);
  });

  test("nor does any volume that could be stated make it less sure than leaving it out", () => {
    fc.assert(
      fc.property(
        falling,
        fc.constantFrom(0, 0.1, 0.3),
        fc.integer({ min: 0, max: 1000 }),
        (perMl, rsd, step) => {
          if (perMl.some((count, index) => count > ([1300, 320, 40][index] as number))) return;
          const leastMl = Math.max(0.1, 1 / Math.min(...perMl));
          const [more, least] = [countedIn(leastMl * 10 ** (step / 250), ...perMl), counts(...perMl)].map(
            (set) => particlesOf(judge(scattering(rsd), { counts: set })).probability,
          );
          // Near one half, where nothing is decided, the two may differ by what a median differs from a mean.
          expect(more).toBeGreaterThanOrEqual((least as number) - ((least as number) < 0.9 ? 0.02 : 1e-9));
        },
      ),
      { numRuns: runs(200) },
    );
  });
});

/** What a datum that nobody asked for shows by itself; it goes away with the datum, and nothing else does. */
const OWN_FINDINGS: Partial<Record<keyof Sample, readonly ReasonCode[]>> = {
  replicates: [
    "replicates-scatter",
    "particles-not-sure",
    "particles-too-close",
    "particles-outside",
    "together-not-sure",
  ],
  blank: ["blank-too-high"],
  viscosity40Mm2PerS: ["fluid-contradicts-viscosity", "identity-not-known", "identity-in-doubt"],
  density15KgPerM3: ["fluid-contradicts-density", "identity-not-known", "identity-in-doubt"],
  fluid: ["fluid-contradicts-label", "fluid-label-not-recognised"],
  samplePoint: ["sample-point-unsuited"],
  flowing: ["drawn-without-flow"],
  appearance: ["two-layers-seen", "free-water-seen", "cloudy-seen", "particles-seen"],
  chlorinePpm: ["fluid-contradicts-chlorine", "identity-in-doubt"],
  metalsPpm: ["identity-in-doubt", "metals-not-known", "metals-not-sure"],
  colour: ["fluid-contradicts-colour", "colour-of-another-fluid", "colour-not-understood"],
};

describe("a datum of a sample that is left out", () => {
  const required: CircuitCase["requirement"] = {
    ...REQUIREMENT,
    confidence: {
      probability: 0.95,
      counts: { reproducibility: { kind: "relative", rsd: 0.1 } },
      water: { sd: 10 },
      acid: { sd: 0.01 },
    },
  };
  const fields = ["counts", "waterPpm", "acidMgKohPerG", ...Object.keys(OWN_FINDINGS)] as (keyof Sample)[];

  test("never makes a circuit fit, but where what it showed by itself was all that stood in the way", () => {
    let made = 0;
    fc.assert(
      fc.property(fullCase, ({ samples: [one], ...rest }) => {
        const input = { ...rest, requirement: required };
        const before = judgeCircuit({ ...input, samples: [one] });
        if (before.verdict === "fit") return;
        for (const field of fields) {
          const after = judgeCircuit({ ...input, samples: [without(one, field)] });
          if (after.verdict !== "fit") continue;
          made += 1;
          const others = before.reasons.filter(
            ({ code, callsFor }) => callsFor !== "fit" && !OWN_FINDINGS[field]?.includes(code),
          );
          expect([field, others]).toEqual([field, []]);
        }
      }),
      { numRuns: runs(100) },
    );
    expect(made).toBeGreaterThan(0);
  });

  test.each<[string, (one: Sample) => Sample, VerdictName]>([
    // A count of 39 in 40 is sure from (1.645·√39)² = 106 mL on, which a bottle holds and the report does not state.
    ["the counted volume", (one) => ({ ...one, counts: counts(600, 150, 39) }), "resample"],
    ["the counts", (one) => without(one, "counts"), "resample"],
    ["the water", (one) => without(one, "waterPpm"), "resample"],
    ["the acid number", (one) => without(one, "acidMgKohPerG"), "resample"],
  ])("%s of a sample that is not sure enough leaves it not fit", (_name, leave, verdict) => {
    const one: Sample = { ...CLEAN, counts: countedIn(10, 600, 150, 39), waterPpm: { value: 50 } };
    const [before, after] = [one, leave(one)].map((sample) =>
      judgeCircuit(
        caseOf({ requirement: { ...REQUIREMENT, confidence: { probability: 0.95 } }, samples: [sample] }),
      ),
    );
    expect([before?.verdict, after?.verdict]).toEqual(["resample", verdict]);
  });
});
