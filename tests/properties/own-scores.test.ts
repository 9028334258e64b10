import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ownScores } from "../../src/trend/slope/own-scores.js";

/** A measured value (low and high equal) or a limit value, on a day that may come twice. */
const known = fc
  .tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: -6, max: 6 }), fc.constantFrom(0, 0, 0, -1, 1))
  .map(([x, y, side]) => ({
    x,
    low: side < 0 ? Number.NEGATIVE_INFINITY : y,
    high: side > 0 ? Number.POSITIVE_INFINITY : y,
  }));

/** The definition: the pairs in which one surely rises over the other, less those in which it surely falls. */
function byDefinition(block: readonly { x: number; low: number; high: number }[]): number[] {
  return block.map((one) =>
    block
      .map((other) => {
        const [earlier, later] = one.x < other.x ? [one, other] : [other, one];
        if (earlier.x === later.x) return 0;
        return later.low > earlier.high ? 1 : later.high < earlier.low ? -1 : 0;
      })
      .reduce((sum: number, score) => sum + score, 0),
  );
}

const inOrder = <T extends { x: number }>(block: readonly T[]) => [...block].sort((a, b) => a.x - b.x);

describe("what each observation adds to the Kendall score", () => {
  test("is what its definition says, with limit values and days that come twice", () => {
    fc.assert(
      fc.property(fc.array(known, { maxLength: 40 }).map(inOrder), (block) => {
        expect([...ownScores(block)]).toEqual(byDefinition(block));
      }),
      { numRuns: 300 },
    );
  });

  test("and for measured values on different days, of which many are equal, counted by sorting", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -4, max: 9 }), { maxLength: 90 }), (values) => {
        const block = values.map((value, x) => ({ x, low: value, high: value }));
        expect([...ownScores(block)]).toEqual(byDefinition(block));
      }),
      { numRuns: 300 },
    );
  });
});
