import fc from "fast-check";
import { linearRegression } from "simple-statistics";
import { describe, expect, test } from "vitest";
import { type Observation, theilSen } from "../../src/trend/index.js";

const asPoints = (ys: readonly number[]) => ys.map((y, index) => ({ x: index + 1, y }));

describe("robust slope", () => {
  test("one outlier does not turn the line (Helsel and Hirsch chapter 10, from memory; slopes recomputed by hand)", () => {
    const line = theilSen(asPoints([1, 2, 3, 4, 5, 16, 7]));
    expect(line).toMatchObject({ kind: "slope", n: 7, limited: 0, slope: 1, intercept: 0 });
    expect(linearRegression([1, 2, 3, 4, 5, 16, 7].map((y, x) => [x, y])).m).toBeGreaterThan(1.5);
  });

  test("fewer than four different days cannot tell, and the answer says how many are needed", () => {
    expect(theilSen(asPoints([1, 2, 3]))).toEqual({
      kind: "cannot-tell",
      n: 3,
      needed: 4,
      why: "too-few-measured",
    });
    const sameDay = [1, 1, 1, 2, 3].map((x, y) => ({ x, y }));
    expect(theilSen(sameDay)).toMatchObject({ kind: "cannot-tell", n: 5, needed: 4 });
  });

  test("NaN is refused", () => {
    expect(() => theilSen(asPoints([1, 2, Number.NaN, 4]))).toThrow(/finite/);
  });

  test("points on a line give that line, whatever their order", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -50, max: 50 }),
        fc.integer({ min: -50, max: 50 }),
        fc.uniqueArray(fc.integer({ min: -100, max: 100 }), { minLength: 4, maxLength: 30 }),
        (slope, intercept, xs) => {
          const line = theilSen(xs.map((x) => ({ x, y: slope * x + intercept })));
          expect(line).toMatchObject({
            kind: "slope",
            n: xs.length,
            slope: expect.closeTo(slope, 9),
            intercept: expect.closeTo(intercept, 9),
          });
        },
      ),
    );
  });
});

describe("values that are all equal", () => {
  const equal = (n: number, block?: number): Observation[] =>
    Array.from({ length: n }, (_, x) => ({ x, y: 300, ...(block !== undefined && { block }) }));

  /** Pairs: 1225 are listed; from 90 values on they are more than are listed, and are cut between. */
  test.each([50, 89, 90, 91, 200, 2000])("%i of them: the slope is 0", (n) => {
    expect(theilSen(equal(n))).toMatchObject({ kind: "slope", slope: 0 });
  });

  test("in two blocks, of the same and of another value", () => {
    expect(theilSen([...equal(100, 0), ...equal(100, 1)])).toMatchObject({ slope: 0 });
    const higher = equal(100, 1).map((entry) => ({ ...entry, y: 500 }));
    expect(theilSen([...equal(100, 0), ...higher])).toMatchObject({ slope: 0 });
  });

  test("but for one, or all but the last few", () => {
    expect(
      theilSen(equal(150).map((entry, place) => (place === 70 ? { ...entry, y: 301 } : entry))),
    ).toMatchObject({ slope: 0 });
    expect(
      theilSen(equal(150).map((entry, place) => (place > 146 ? { ...entry, y: 310 } : entry))),
    ).toMatchObject({ slope: 0 });
  });
});
