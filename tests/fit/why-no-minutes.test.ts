import { describe, expect, test } from "vitest";
import { describeGoBy } from "../../src/circulation/index.js";
import {
  type CircuitCase,
  circulationOfCircuit,
  judgeCircuit,
  notPutRight,
  whyNoCirculation,
} from "../../src/fitness/index.js";
import type { Circuit, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, counts, inState, REQUIREMENT, without } from "../support/fitness/bases.js";

const { flowLpm: _flow, ...WITHOUT_FLOW } = CIRCUIT;
const DELIVERS_ONLY: Circuit = { ...WITHOUT_FLOW, delivery: { flowLpm: 20, returns: false } };
const DIRTY: Sample = { ...CLEAN, counts: counts(5000, 1200, 160) };
const UNCOUNTED = without(CLEAN, "counts");

describe("where no minutes are given, the true cause is said", () => {
  test.each<[string, Partial<CircuitCase>, RegExp]>([
    [
      "a requirement that limits a patch alone",
      {
        requirement: {
          ...REQUIREMENT,
          cleanliness: [],
          patchTest: { standard: "NAS 1638", classMax: 6 },
        },
        samples: [DIRTY],
      },
      /^the requirement has no target for counts$/,
    ],
    ["counts at their limits", {}, /^the counts are within the target already$/],
    ["a path that only delivers", { circuit: DELIVERS_ONLY, samples: [DIRTY] }, /^this circuit has no flow/],
    [
      "counts that are only known to be above their limit",
      {
        samples: [{ ...UNCOUNTED, limitedCounts: [{ sizeUm: 4, volumeMl: 1, count: 1e5, limit: "above" }] }],
      },
      /^the counts are outside, and no number says by how much/,
    ],
    ["no counts at all", { samples: [UNCOUNTED] }, /^there are no counts to start from/],
    [
      "a size that was not counted",
      { samples: [{ ...CLEAN, counts: counts(1300) }] },
      /^no count is outside/,
    ],
  ])("%s", (_, change, why) => {
    const found = circulationOfCircuit(caseOf(change));
    expect(found).toMatchObject({ kind: "none", why: expect.stringMatching(why) });
  });

  test("no requirement", () => {
    const { requirement: _none, ...input } = caseOf({ samples: [DIRTY] });
    expect(circulationOfCircuit(input)).toMatchObject({
      why: expect.stringMatching(/^no requirement is known/),
    });
  });
});

/** Ingress at this part of the limits, were the element an ideal one. */
const entering = (share: number): Partial<CircuitCase> => ({
  circuit: {
    ...CIRCUIT,
    ingress: [4, 6, 14].map((sizeUmC, index) => ({
      sizeUmC,
      particlesPerMin: share * ([1300, 320, 40][index] as number) * 45_000,
    })),
  },
  samples: [DIRTY],
});

test("dirt that enters: no time that is sure, or none at all", () => {
  const sometimes = judgeCircuit(caseOf(entering(0.855)));
  if (sometimes.goBy?.kind !== "no-time") throw new Error("expected no time");
  expect(whyNoCirculation(sometimes, REQUIREMENT)).toBe(describeGoBy(sometimes.goBy));
  const never = judgeCircuit(caseOf(entering(2)));
  expect(whyNoCirculation(never, REQUIREMENT)).toMatch(
    /^circulating cannot get there: channel 4 µm\(c\): ingress holds the level at \d+ per mL, not below the limit of 1300/,
  );
});

test.each<[string, Partial<CircuitCase>, RegExp[]]>([
  ["dirt alone", { samples: [DIRTY] }, []],
  ["dirt that it cannot get out, which the minutes say", entering(2), []],
  ["water", { samples: [{ ...DIRTY, waterPpm: { value: 900 } }] }, [/^water is outside: 900 ppm/]],
  [
    "an alarm, and acid that was not measured",
    { ...inState({ level: "alarm" }), samples: [without(DIRTY, "acidMgKohPerG")] },
    [/^the reservoir level is in alarm/, /^the acid number was not measured/],
  ],
])("what circulating does not put right: %s", (_, change, said) => {
  const verdict = judgeCircuit(caseOf(change));
  expect(
    verdict.reasons.some(({ callsFor }) => callsFor === "circulate" || callsFor === "do-not-connect"),
  ).toBe(true);
  expect(notPutRight(verdict)).toEqual(said.map((words) => expect.stringMatching(words)));
});
