// What the time to go by is aimed at: the counts with which the verifying bottle will be judged fit, by the very rule that judges it.
import { describe, expect, test } from "vitest";
import { cumulativeCounts } from "../../src/counts/index.js";
import { type CircuitCase, circulationOfCircuit, judgeCircuit } from "../../src/fitness/index.js";
import type { Circuit, Confidence, Requirement, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, countedIn, counts, REQUIREMENT } from "../support/fitness/bases.js";

const DIRTY: Sample = { ...CLEAN, counts: countedIn(20, 20_000, 5000, 640), waterPpm: { value: 118 } };
const sure = (confidence: Partial<Confidence>, more: Partial<Requirement> = {}): Requirement => ({
  ...REQUIREMENT,
  confidence: { probability: 0.95, ...confidence },
  ...more,
});
const LAB_15 = { reproducibility: { kind: "relative", rsd: 0.15 } } as const;

function questionOf(requirement: Requirement, change: Partial<Sample> = {}, circuit: Partial<Circuit> = {}) {
  const found = circulationOfCircuit(
    caseOf({
      requirement,
      circuit: { ...CIRCUIT, ...circuit } as Circuit,
      samples: [{ ...DIRTY, ...change }],
    } as Partial<CircuitCase>),
  );
  if (found.kind !== "question") throw new Error(found.why);
  return found.question;
}

describe("where the verifying bottle is accepted", () => {
  test.each<[string, Requirement, Partial<Sample>, number]>([
    ["95 %", sure({}), {}, 20],
    ["99 %", sure({ probability: 0.99 }), {}, 20],
    ["a laboratory that scatters by 15 %", sure({ counts: LAB_15 }), {}, 20],
    ["a sample of which 50 mL were counted", sure({}), { counts: countedIn(50, 20_000, 5000, 640) }, 50],
    ["a requirement of 50 mL", sure({}, { sampling: { countedMlMin: 50 } }), {}, 50],
    ["a requirement of less than was counted", sure({}, { sampling: { countedMlMin: 5 } }), {}, 20],
    [
      "a requirement and a sample of an unknown volume",
      sure({}, { sampling: { countedMlMin: 50 } }),
      { counts: counts(20_000, 5000, 640) },
      50,
    ],
    [
      "a sample of an unknown volume: the customary 20 mL",
      sure({}),
      { counts: counts(20_000, 5000, 640) },
      20,
    ],
    // 118 ppm by a method of 40 ppm conform to 200 ppm in 98 %: 2.05 standard deviations. 95 % of both need 97 % of the counts.
    ["water that is sure by 98 %", sure({ water: { sd: 40 } }), {}, 20],
    // Half: the bottle that settles water is another one, and particles are aimed as if water were sure.
    ["water that is sure by half", sure({ water: { sd: 40 } }), { waterPpm: { value: 200 } }, 20],
  ])(
    "%s: a bottle at all of the counts is judged fit by its particles, one 1 %% above is not",
    (_, requirement, change, countedMl) => {
      const { acceptance } = questionOf(requirement, change);
      expect(acceptance?.countedMl).toBe(countedMl);
      const bottle = (times: number) => {
        const found = (acceptance?.limits ?? []).map(({ fromUm, limit }) => ({
          sizeUm: fromUm,
          count: Math.floor(limit * times),
        }));
        const verdict = judgeCircuit(
          caseOf({
            requirement,
            samples: [
              { ...DIRTY, ...change, counts: cumulativeCounts(found, countedMl, "um(c)", { countedMl }) },
            ],
          }),
        );
        // What is open of water alone is not put right by circulating.
        return verdict.reasons
          .map(({ code, callsFor }) => (callsFor === "fit" || code === "water-not-sure" ? "" : code))
          .filter((code) => code !== "");
      };
      expect(bottle(1)).toEqual([]);
      expect(bottle(1.01)).not.toEqual([]);
    },
  );

  test("a doubt about water that the requirement leaves makes the particles wait longer, and one it does not leave does not", () => {
    const limitOf = (sd: number, waterPpm: number) =>
      questionOf(sure({ water: { sd } }), { waterPpm: { value: waterPpm } }).acceptance?.limits[2]?.limit ??
      Number.NaN;
    expect(limitOf(40, 118)).toBeLessThan(limitOf(1, 118));
    expect(limitOf(40, 200)).toBe(limitOf(1, 118));
  });

  test("is at the limits where the requirement asks for no confidence", () => {
    expect(questionOf(REQUIREMENT).acceptance).toBeUndefined();
  });
});

describe("the spread that the time to go by takes into account", () => {
  test.each<[string, Requirement, Partial<Sample>, Partial<Circuit>, object]>([
    ["the volume that was counted", REQUIREMENT, {}, {}, { uncertainty: { countedMl: 20 } }],
    [
      "nothing of a volume that nobody stated",
      REQUIREMENT,
      { counts: counts(20_000, 5000, 640) },
      {},
      { uncertainty: {} },
    ],
    [
      "the laboratory",
      sure({ counts: LAB_15 }),
      {},
      {},
      { confidence: 0.95, uncertainty: { countedMl: 20, laboratory: 0.15 } },
    ],
    [
      "no laboratory where its scatter is not stated",
      sure({ probability: 0.9 }),
      {},
      {},
      { confidence: 0.9, uncertainty: { countedMl: 20 } },
    ],
    [
      "nothing for hoses and a seal that the carts file states",
      REQUIREMENT,
      {},
      { hoses: [{ boreMm: 25, lengthM: 8, count: 2 }], coldestC: 10, leakage: 0.02 },
      { uncertainty: { countedMl: 20, hoses: 0, leakage: 0 } },
    ],
  ])("%s", (_, requirement, change, circuit, confidence) => {
    expect(questionOf(requirement, change, circuit).confidence).toEqual(confidence);
  });
});
