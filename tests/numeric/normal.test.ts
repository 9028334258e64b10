// Handbook of mathematical functions, ed. M. Abramowitz and I. A. Stegun, tables 26.1 and 26.2 (from memory), and values in
// 100 digits and of SciPy (tests/reference).
import { expect, test } from "vitest";
import { normalProbability, normalQuantile } from "../../src/numeric/index.js";
import { MPMATH, relative, SCIPY } from "./reference.js";

test.each([
  [1, 0.8413447460685],
  [2, 0.9772498680518],
  [3, 0.9986501019684],
])("up to %d standard deviations lie %d, as table 26.1 prints", (z, probability) => {
  expect(normalProbability(z)).toBeCloseTo(probability, 13);
});

test.each([
  [5, 6.54265],
  [6, 9.00586],
  [8, 15.20614],
  [10, 23.11805],
  [20, 88.5601],
  [30, 197.30921],
])("beyond %d standard deviations lies 10 to the minus %d, as table 26.2 prints", (z, minusLog) => {
  expect(-Math.log10(normalProbability(-z))).toBeCloseTo(minusLog, 5);
});

test("tails have 13 digits down to 37 standard deviations, on both sides of where the formulas change", () => {
  for (const [z, probability] of MPMATH.normal) {
    expect(relative(normalProbability(z), probability), `${z}`).toBeLessThan(1e-13);
  }
});

test("quantiles have 13 digits down to a probability of 1e-300", () => {
  for (const [probability, z] of MPMATH.normalQuantile) {
    expect(relative(normalQuantile(probability), z), `${probability}`).toBeLessThan(1e-13);
    if (probability > 1e-10) expect(normalQuantile(1 - probability)).toBeCloseTo(-z, 9);
  }
  expect(normalQuantile(0.5)).toBeCloseTo(0, 15);
});

test("probabilities and quantiles are those of SciPy", () => {
  for (const [z, p] of SCIPY.normal) expect(relative(normalProbability(z), p)).toBeLessThan(1e-13);
  for (const [p, z] of SCIPY.normalQuantile) expect(normalQuantile(p)).toBeCloseTo(z, 12);
});

test("beyond all numbers nothing is left, and no number has no probability", () => {
  expect(normalProbability(Number.NEGATIVE_INFINITY)).toBe(0);
  expect(normalProbability(Number.POSITIVE_INFINITY)).toBe(1);
  expect(normalProbability(Number.NaN)).toBeNaN();
});

test.each([0, 1, -0.1, Number.NaN])("no quantile is told for a probability of %d", (probability) => {
  expect(() => normalQuantile(probability)).toThrow(
    `a probability must lie between 0 and 1, not ${probability}`,
  );
});
