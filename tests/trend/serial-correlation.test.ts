import { randomNormal } from "d3-random";
import { describe, expect, test } from "vitest";
import { seededRandom } from "../../src/numeric/index.js";
import { type Observation, serialCorrelation } from "../../src/trend/index.js";

const at = (values: readonly number[], more: Partial<Observation> = {}) =>
  values.map((y, x): Observation => ({ x, y, ...more }));

describe("the correlation of each residual with the next", () => {
  test("by hand: 1, 2, 3, 2, 1 about their median of 2 and its return, twice", () => {
    // Residuals −1 0 1 0 −1 −1 0 1 0 −1: products 0 0 0 0 1 0 0 0 0, squares 1+0+1+0+1 twice.
    expect(serialCorrelation(at([1, 2, 3, 2, 1, 1, 2, 3, 2, 1]), 0)).toEqual({
      kind: "measured",
      n: 10,
      lag1: expect.closeTo(1 / 6, 12),
      isLikely: false,
    });
  });

  test("a straight line leaves none, whatever its slope", () => {
    const line = at(Array.from({ length: 12 }, (_, x) => 3 * x));
    expect(serialCorrelation(line, 3)).toMatchObject({ lag1: 0, isLikely: false });
  });

  test("blocks are followed each by itself, and limits take no part", () => {
    const one = at([0, 5, 0, 5, 0], { block: 0 });
    const other = at([100, 105, 100, 105, 100], { block: 1 }).map((entry) => ({ ...entry, x: entry.x + 5 }));
    const found = serialCorrelation([...one, ...other, { x: 20, y: 50, limit: "below", block: 1 }], 0);
    expect(found).toMatchObject({ kind: "measured", n: 10, lag1: expect.closeTo(0, 9) });
  });

  test("nine results are too few", () => {
    expect(serialCorrelation(at([1, 2, 3, 4, 5, 6, 7, 8, 9]), 0)).toEqual({
      kind: "too-few",
      n: 9,
      needed: 10,
    });
  });
});

describe("in 2,000 series of 24", () => {
  /** Each value keeps a share of the one before. */
  function share(kept: number): number {
    const normal = randomNormal.source(seededRandom(9))();
    let likely = 0;
    for (let series = 0; series < 2000; series += 1) {
      let value = normal();
      const values = Array.from({ length: 24 }, () => {
        value = kept * value + Math.sqrt(1 - kept * kept) * normal();
        return value;
      });
      const found = serialCorrelation(at(values), 0);
      if (found.kind === "measured" && found.isLikely) likely += 1;
    }
    return likely / 2000;
  }

  test("independent results are called alike in about one of twenty", () => {
    expect(share(0)).toBeGreaterThan(0.02);
    expect(share(0)).toBeLessThan(0.07);
  });

  test("results that keep 0.7 of the one before are found nine times of ten", () => {
    expect(share(0.7)).toBeGreaterThan(0.85);
  });
});
