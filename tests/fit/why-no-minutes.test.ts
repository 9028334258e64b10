import { describe, expect, test } from "vitest";
import { type CircuitCase, circulationOfCircuit } from "../../src/fitness/index.js";
import type { Circuit, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, counts, REQUIREMENT, without } from "../support/fitness/bases.js";

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
