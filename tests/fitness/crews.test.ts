import { describe, expect, test } from "vitest";
import type { Requirement } from "../../src/samples/index.js";
import { tallyCrews } from "../support/circulation-crews.js";
import { REQUIREMENT } from "../support/fitness/bases.js";

/** 2,000 in the quick suite; SILTBOOK_CARTS=20000 for the number that docs/circulation.md tells. */
const CARTS = Number(process.env.SILTBOOK_CARTS ?? 2000);

const SURE: Requirement = {
  ...REQUIREMENT,
  confidence: { probability: 0.95, counts: { reproducibility: { kind: "relative", rsd: 0.15 } } },
};

describe.each([
  ["by a requirement that takes counts as measured", REQUIREMENT, 11],
  ["by a requirement of 95 % with a laboratory that scatters by 15 %", SURE, 12],
] as const)("crews that circulate for the time to go by, judged %s", (_name, requirement, seed) => {
  const tally = tallyCrews(CARTS, seed, requirement);

  test("get minutes nearly always, and their verifying bottle is fit in 93 % of the cases or more", () => {
    expect(tally.withoutTime / CARTS).toBeLessThan(0.01);
    expect(tally.accepted / tally.carts).toBeGreaterThan(0.93);
  });

  test("of what is then called fit 95 % or more is truly inside", () => {
    expect(tally.trulyInside / tally.accepted).toBeGreaterThan(0.95);
  });

  test("need no more than two rounds of circulating and judging in 95 % of the cases", () => {
    expect(tally.withinTwoRounds / CARTS).toBeGreaterThan(0.95);
  });

  test("wait at the median no more than 2.5 times as long as with all known", () => {
    expect(tally.medianRatio).toBeGreaterThan(1);
    expect(tally.medianRatio).toBeLessThan(2.5);
  });
});

test("the same seed gives the same crews", () => {
  expect(tallyCrews(20, 3)).toEqual(tallyCrews(20, 3));
  expect(tallyCrews(20, 3)).not.toEqual(tallyCrews(20, 4));
});
