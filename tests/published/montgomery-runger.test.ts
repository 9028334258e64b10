// D. C. Montgomery and G. C. Runger, Applied statistics and probability for engineers, chapter 16, example 16-6 and
// table 16-8: tabular CUSUM of the concentration data, target 99, K = 1, H = 10.
import { expect, test } from "vitest";
import { cusum } from "../../src/trend/index.js";

const VALUES = [
  102.0, 94.8, 98.3, 98.4, 102.0, 98.5, 99.0, 97.7, 100.0, 98.1, 101.3, 98.7, 101.1, 98.4, 97.0, 96.7, 100.3,
  101.4, 97.2, 101.0,
];
const UPPER = [2, 0, 0, 0, 2, 0.5, 0, 0, 0, 0, 1.3, 0, 1.1, 0, 0, 0, 0.3, 1.7, 0, 1];
const LOWER = [0, 3.2, 2.9, 2.5, 0, 0, 0, 0.3, 0, 0, 0, 0, 0, 0, 1, 2.3, 0, 0, 0.8, 0];

test("both sums are those of table 16-8, and the process is in control", () => {
  const sums = cusum(VALUES, { target: 99, allowance: 1, decision: 10 });
  for (const [index, value] of UPPER.entries()) expect(sums.above[index]).toBeCloseTo(value, 9);
  for (const [index, value] of LOWER.entries()) expect(sums.below[index]).toBeCloseTo(value, 9);
  expect(sums.signals).toEqual([]);
});

test("a sum is outside only beyond the decision value, not at it", () => {
  expect(cusum([4], { target: 0, allowance: 1, decision: 3 }).signals).toEqual([]);
  expect(cusum([4.1, 0, 0], { target: 0, allowance: 1, decision: 3 }).signals).toEqual([0]);
});
