// Against SciPy 1.10.1 and statsmodels 0.13.5; trend.json is made by trend.py beside this file.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { findSteps, type Observation, theilSen, trendTest } from "../../src/trend/index.js";
import { huberLevel } from "../../src/trend/level/huber.js";
import { turnbull } from "../../src/trend/series/turnbull.js";
import { halvedSlope } from "../../src/trend/slope/slope-search.js";

interface Series {
  readonly name: string;
  readonly x: number[];
  readonly y: number[];
}

const reference = JSON.parse(readFileSync(new URL("trend.json", import.meta.url), "utf8"));

const observationsOf = ({ x, y }: Series): Observation[] =>
  x.map((at, index) => ({ x: at, y: y[index] ?? 0 }));
const limitedOf = (series: Series & { below: boolean[] }): Observation[] =>
  observationsOf(series).map((entry, index) =>
    series.below[index] === true ? { ...entry, limit: "below" } : entry,
  );

/** Equal to twelve digits, or so near to 0 that the size of the data says it is rounding. */
function expectEqual(actual: number, expected: number, size = 1): void {
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(1e-11 * Math.max(size, Math.abs(expected)));
}

describe("series without limit values agree with SciPy", () => {
  type Case = Series & {
    score: number;
    variance: number;
    tau: number;
    pValue: number;
    exact: boolean;
    slope?: number;
    intercept?: number;
    interval?: [number, number];
  };
  const cases = reference.complete as Case[];

  test("the cases run from 3 to 5000 observations, with and without ties", () => {
    const sizes = cases.map((entry) => entry.x.length);
    expect([Math.min(...sizes), Math.max(...sizes)]).toEqual([3, 5000]);
    expect(cases.filter((entry) => entry.exact).length).toBeGreaterThan(4);
    expect(cases.filter((entry) => new Set(entry.y).size < entry.y.length).length).toBeGreaterThan(9);
  });

  test.each(cases)("$name: trend test", (series) => {
    const result = trendTest(observationsOf(series));
    expect(result.score).toBe(series.score);
    expectEqual(result.variance, series.variance);
    expectEqual(result.tau, series.tau);
    expectEqual(result.pValue, series.pValue);
    expect(result.method).toBe(series.exact ? "exact" : "normal");
  });

  test.each(cases.filter((entry) => entry.slope !== undefined))("$name: slope", (series) => {
    const line = theilSen(observationsOf(series), reference.level);
    if (line.kind !== "slope") throw new Error("no slope");
    expectEqual(line.slope, series.slope as number);
    expectEqual(line.intercept, series.intercept as number, 1e3);
    if (series.interval === undefined) return;
    if (line.interval.kind !== "interval") throw new Error("no interval");
    expectEqual(line.interval.low, series.interval[0]);
    expectEqual(line.interval.high, series.interval[1]);
  });
});

describe("series with values below a limit agree with brute force over all pairs", () => {
  type Case = Series & {
    below: boolean[];
    score: number;
    variance: number;
    slope: number | null;
    interval: [number | null, number | null];
  };
  const cases = reference.limited as Case[];

  test("up to three quarters lie below the limit", () => {
    const shares = cases.map(({ below }) => below.filter(Boolean).length / below.length);
    expect(Math.max(...shares)).toBeGreaterThan(0.7);
    expect(shares.every((share) => share > 0)).toBe(true);
  });

  test.each(cases)("$name", (series) => {
    const observations = limitedOf(series);
    const result = trendTest(observations);
    expect(result.score).toBe(series.score);
    expectEqual(result.variance, series.variance);
    const line = theilSen(observations, reference.level);
    const measured = series.below.filter((entry) => !entry).length;
    if (line.kind === "cannot-tell") {
      expect(series.slope === null || measured < 4 || measured < 0.2 * series.x.length).toBe(true);
      return;
    }
    expectEqual(line.slope, series.slope as number);
    const [low, high] = series.interval;
    if (low === null || high === null) expect(line.interval.kind).toBe("unbounded");
    else {
      if (line.interval.kind !== "interval") throw new Error("no interval");
      expectEqual(line.interval.low, low);
      expectEqual(line.interval.high, high);
    }
  });

  test("halving finds the same slopes as the list of pairs", () => {
    for (const series of cases.filter((entry) => entry.slope !== null)) {
      const near = limitedOf(series).map((entry) => ({ ...entry, x: entry.x - (series.x[0] ?? 0) }));
      const [rising, notFalling] = [halvedSlope([near], 1), halvedSlope([near], 0)];
      expectEqual(((rising ?? 0) + (notFalling ?? 0)) / 2, series.slope as number);
    }
  });

  test.each(reference.permuted as (Series & { below: boolean[]; variance: number })[])(
    "the variance of the score is that over all permutations ($x.length values)",
    (series) => {
      expectEqual(trendTest(limitedOf(series)).variance, series.variance);
    },
  );

  test("Turnbull's estimate for values below limits is Kaplan-Meier's turned round", () => {
    for (const { values, below, atOrAbove } of reference.kaplanMeier as {
      values: number[];
      below: boolean[];
      atOrAbove: [number, number][];
    }[]) {
      const steps = turnbull(
        values.map((value, index) => ({
          x: index,
          low: below[index] === true ? Number.NEGATIVE_INFINITY : value,
          high: value,
        })),
      );
      for (const [value, probability] of atOrAbove) {
        const own = steps.probabilities.reduce(
          (sum, part, index) => ((steps.values[index] ?? 0) >= value ? sum + part : sum),
          0,
        );
        expect(own).toBeCloseTo(probability, 6);
      }
    }
  });
});

describe("the parts that the trend rests on agree with SciPy and statsmodels", () => {
  test("Huber's mean", () => {
    const { level, scatter } = huberLevel(reference.huber.values);
    expect(scatter).toBeCloseTo(reference.huber.scatter, 4);
    expect(level).toBeCloseTo(reference.huber.level, 5);
  });

  test.each(reference.steps as (Series & { place: number; pAtMost: number })[])("$name", (series) => {
    const steps = findSteps(observationsOf(series));
    if (series.pAtMost > 0.01) expect(steps).toEqual([]);
    else {
      expect(steps).toHaveLength(1);
      expect(steps[0]?.before).toBe(series.x[series.place]);
      expect(Math.abs((steps[0]?.pAtMost ?? 0) / series.pAtMost - 1)).toBeLessThan(1e-8);
    }
  });
});
