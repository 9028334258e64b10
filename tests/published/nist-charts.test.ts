// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (individuals) and 6.3.2.4 (EWMA) as quoted in repositories;
// 6.3.2.3 (CUSUM) from memory, its sums recomputed by hand.
import { describe, expect, test } from "vitest";
import { cusum, ewmaChart, individualsChart } from "../../src/trend/index.js";

test("individuals and moving ranges of ten batches: mean 50.81, mean range 1.8778, limits 45.8159 and 55.8041", () => {
  const { individuals, movingRanges } = individualsChart([
    49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1,
  ]);
  expect(individuals.centre).toBeCloseTo(50.81, 10);
  expect(movingRanges.centre).toBeCloseTo(1.8778, 4);
  expect(individuals.lower).toBeCloseTo(45.8159, 4);
  expect(individuals.upper).toBeCloseTo(55.8041, 4);
  expect(movingRanges.upper).toBeCloseTo(3.267 * 1.8778, 3);
  expect([...individuals.signals, ...movingRanges.signals]).toEqual([]);
});

describe("EWMA of twenty values with weight 0.3", () => {
  const values = [
    52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6,
    52.4, 53.6, 52.1,
  ];
  const printed = [
    50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38,
    49.92, 50.73, 51.23, 51.94, 51.99,
  ];
  const chart = ewmaChart(values, { target: 50, standardDeviation: 2.0539, weight: 0.3, width: 3 });

  test("every average is the one printed", () => {
    for (const [index, z] of printed.entries())
      expect(Math.abs((chart.values[index] ?? 0) - z)).toBeLessThanOrEqual(0.005 + 1e-9);
  });

  test("limits 47.4115 and 52.5884, and no signal", () => {
    expect(chart.upper).toBeCloseTo(52.5884, 3);
    expect(chart.lower).toBeCloseTo(47.4115, 3);
    expect(chart.signals).toEqual([]);
  });
});

test("CUSUM about 325 first signals at the 14th value with 4.94, and stands at 19.04 after the 20th", () => {
  const values = [
    324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15,
    328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
  ];
  const sums = cusum(values, { target: 325, allowance: 0.3175, decision: 4.1959 });
  expect(sums.signals[0]).toBe(13);
  expect(sums.above[13]).toBeCloseTo(4.94, 2);
  expect(Math.abs((sums.above[19] ?? 0) - 19.04)).toBeLessThanOrEqual(0.0051);
});
