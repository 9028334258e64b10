// NIST Statistical Reference Datasets, linear regression, data set Norris: certified values, confirmed by several libraries.
import { expect, test } from "vitest";
import { leastSquares, predictionInterval } from "../../src/trend/index.js";

const X = [
  0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0,
  447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3,
  229.2, 669.1, 448.9, 0.5,
];
const Y = [
  0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3,
  448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6,
  228.9, 668.4, 449.2, 0.2,
];
const line = leastSquares(X.map((x, index) => ({ x, y: Y[index] ?? 0 })));

test("the certified coefficients come out to twelve digits, their errors to eleven", () => {
  expect(Math.abs(line.intercept / -0.262323073774029 - 1)).toBeLessThan(1e-11);
  expect(Math.abs(line.slope / 1.00211681802045 - 1)).toBeLessThan(1e-13);
  expect(Math.abs(line.interceptError / 0.232818234301152 - 1)).toBeLessThan(1e-11);
  expect(Math.abs(line.slopeError / 0.000429796848199937 - 1)).toBeLessThan(1e-11);
  expect(Math.abs(line.scatter / 0.884796396144373 - 1)).toBeLessThan(1e-11);
});

test.each([
  [500, 500.796085936, 498.971794054, 502.620377819],
  [1000, 1001.85449495, 999.962292157, 1003.74669774],
  [1100, 1102.06617675, 1100.14870846, 1103.98364504],
])("the 95 %% prediction interval at %d is that of a 50-digit computation", (x, value, low, high) => {
  const interval = predictionInterval(line, x, 0.95);
  expect(interval.value).toBeCloseTo(value, 7);
  expect(interval.low).toBeCloseTo(low, 7);
  expect(interval.high).toBeCloseTo(high, 7);
});
