import { describe, expect, test } from "vitest";
import { findOutliers, findSteps, type Observation, theilSen } from "../../src/trend/index.js";

const NOISE = [0.3, -0.8, 0.5, 1.1, -0.4, -1.2, 0.9, 0.2, -0.6, 0.7, -0.1, -0.9, 1.3, 0.1, -0.5, 0.8];

/** Sixteen values on a slope, raised by a step from a place on. */
const series = (slope: number, step: number, from: number): Observation[] =>
  NOISE.map((error, x) => ({ x, y: 100 + slope * x + error + (x >= from ? step : 0) }));

describe("steps", () => {
  test("a steep straight rise has none", () => {
    expect(findSteps(series(9, 0, 0))).toEqual([]);
  });

  test("a step in a rise is found at its place with its size, and the slope is the rise's", () => {
    const steps = findSteps(series(2, 20, 9));
    expect(steps).toHaveLength(1);
    expect(steps[0]).toMatchObject({ after: 8, before: 9 });
    expect(Math.abs((steps[0]?.size ?? 0) - 20)).toBeLessThan(1.5);
  });

  test("two steps are found one after the other", () => {
    const twice = series(0, 15, 5).map((entry) => (entry.x >= 11 ? { ...entry, y: entry.y - 30 } : entry));
    expect(findSteps(twice).map(({ after }) => after)).toEqual([4, 10]);
  });

  test("a step between blocks is known and not found again", () => {
    const known = series(2, 20, 9).map((entry) => ({ ...entry, block: entry.x >= 9 ? 1 : 0 }));
    expect(findSteps(known)).toEqual([]);
  });

  test("five values, values that are all equal, and a line without scatter have none", () => {
    expect(findSteps(series(0, 50, 3).slice(0, 5))).toEqual([]);
    expect(findSteps(NOISE.map((_, x) => ({ x, y: 7 })))).toEqual([]);
    expect(findSteps(NOISE.map((_, x) => ({ x, y: 0.1 + 0.3 * x })))).toEqual([]);
  });

  // 0.1 is not a binary fraction, so the mean of many is off by more than the last digit of one.
  test.each([0.1, 0.3, 150.1])("%d again and again, for many samples, has none", (y) => {
    const values = (n: number, rise: number) => Array.from({ length: n }, (_, x) => ({ x, y: y + rise * x }));
    for (const n of [300, 1000, 4000]) {
      expect(findSteps(values(n, 0))).toEqual([]);
      expect(findSteps(values(n, 0.01))).toEqual([]);
    }
    const one = values(1000, 0).map((entry) => (entry.x >= 600 ? { ...entry, y: y * 1.001 } : entry));
    expect(findSteps(one)).toMatchObject([{ after: 599, before: 600 }]);
  });

  test("a clean step without any scatter is found", () => {
    expect(findSteps(NOISE.map((_, x) => ({ x, y: x >= 8 ? 9 : 7 })))).toMatchObject([{ after: 7, size: 2 }]);
  });

  test("one odd value is no step", () => {
    const odd = series(2, 0, 0).map((entry) => (entry.x === 8 ? { ...entry, y: entry.y + 60 } : entry));
    expect(findSteps(odd)).toEqual([]);
  });
});

describe("outliers", () => {
  test("are flagged beyond 3.5 robust standard deviations from the line, and only those", () => {
    const odd = series(2, 0, 0).map((entry) => (entry.x === 8 ? { ...entry, y: entry.y + 60 } : entry));
    const flagged = findOutliers(odd, 2);
    expect(flagged).toHaveLength(1);
    expect(flagged[0]).toMatchObject({ x: 8 });
    expect(flagged[0]?.score).toBeGreaterThan(3.5);
    expect(findOutliers(series(2, 0, 0), 2)).toEqual([]);
  });

  test("the flag stands at 3.5: with median distance 1, 5.18 is ordinary and 5.20 is not", () => {
    // The middle half lies at ±1, so the robust standard deviation is 1.4826; 3.5 of them are 5.189.
    const values = (last: number) => [-1, 1, -1, 1, -1, 1, -1, 1, 0, -last, last].map((y, x) => ({ x, y }));
    expect(findOutliers(values(5.18), 0)).toEqual([]);
    expect(findOutliers(values(5.2), 0)).toHaveLength(2);
  });

  test("a jump between blocks is no outlier, and a limit value is none", () => {
    const blocks = series(0, 50, 13).map((entry) => ({ ...entry, block: entry.x >= 13 ? 1 : 0 }));
    expect(findOutliers(blocks, 0)).toEqual([]);
    expect(findOutliers([...series(0, 0, 0), { x: 16, y: 900, limit: "below" }], 0)).toEqual([]);
  });

  test("where most values are equal the others are measured by the mean distance, and equal values flag nothing", () => {
    const flat = (last: number) => [5, 5, 5, 5, 5, 5, 5, last].map((y, x) => ({ x, y }));
    expect(findOutliers(flat(5), 0)).toEqual([]);
    // Mean distance 1/8 · 3 = 0.375, times 1.2533 is 0.47; 3 lies 6.4 of them away.
    expect(findOutliers(flat(8), 0)[0]?.score).toBeCloseTo(3 / (0.375 * Math.sqrt(Math.PI / 2)), 9);
  });

  test("flagging does not change the slope", () => {
    const odd = series(2, 0, 0).map((entry) => (entry.x === 8 ? { ...entry, y: entry.y + 60 } : entry));
    const [plain, kept] = [theilSen(series(2, 0, 0)), theilSen(odd)];
    if (plain.kind !== "slope" || kept.kind !== "slope") throw new Error("no slope");
    expect(Math.abs(plain.slope - kept.slope)).toBeLessThan(0.1);
  });
});
