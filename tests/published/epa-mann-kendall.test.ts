// EPA QA/G-9S (2006): the example of page 109, the table of critical scores for small samples, and the form for ties, as
// quoted on help pages of an environmental data tool.
import { describe, expect, test } from "vitest";
import { theilSen, trendTest } from "../../src/trend/index.js";
import { exactTail } from "../../src/trend/test/kendall-exact.js";

const asPoints = (ys: readonly number[]) => ys.map((y, index) => ({ x: index + 1, y }));

describe("page 109", () => {
  const series = asPoints([10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15]);

  test("S = 22, variance 155.33 with four 10s and two 15s tied, Z = 1.685", () => {
    const result = trendTest(series);
    expect(result.score).toBe(22);
    expect(result.variance).toBeCloseTo(155.3333, 4);
    expect(result.z).toBeCloseTo(1.685, 3);
    expect(result.pValue).toBeCloseTo(0.092, 4);
    expect(result.method).toBe("normal");
  });

  test("the Sen slope is 1.0 (computed from the printed data)", () => {
    expect(theilSen(series)).toMatchObject({ kind: "slope", slope: 1 });
  });
});

test("the form for ties: groups of 3, 2 and 4 give S = 7, variance 111.67, Z = 0.568", () => {
  const result = trendTest(asPoints([17, 14, 39, 16, 39, 14, 14, 39, 17, 39]));
  expect(result.score).toBe(7);
  expect(result.variance).toBeCloseTo(111.6667, 4);
  expect(result.z).toBeCloseTo(0.5678, 4);
});

describe("critical scores of small samples, one-sided", () => {
  const table: readonly [n: number, at95: number, at99: number | undefined][] = [
    [4, 6, undefined],
    [5, 8, 10],
    [6, 11, 13],
    [7, 13, 17],
    [8, 16, 20],
    [9, 18, 24],
    [10, 21, 27],
  ];
  const oneSided = (n: number, score: number) => exactTail([n], score) / 2;

  test.each(table)("n = %i: the printed scores are the smallest of their chance", (n, at95, at99) => {
    expect(oneSided(n, at95)).toBeLessThanOrEqual(0.05);
    expect(oneSided(n, at95 - 2)).toBeGreaterThan(0.05);
    if (at99 === undefined) return;
    expect(oneSided(n, at99)).toBeLessThanOrEqual(0.01);
    expect(oneSided(n, at99 - 2)).toBeGreaterThan(0.01);
  });

  test("P(S >= 16) = 0.0305 for n = 8, P(S >= 21) = 0.0363 and P(S >= 27) = 0.0083 for n = 10", () => {
    expect(oneSided(8, 16)).toBeCloseTo(0.0305, 4);
    expect(oneSided(10, 21)).toBeCloseTo(0.0363, 4);
    expect(oneSided(10, 27)).toBeCloseTo(0.0083, 4);
  });
});
