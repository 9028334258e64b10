// NIST Technical Note 1297, table B.1: t for intervals that hold a part of the distribution; and values in 400 digits and of
// SciPy (tests/reference).
import { describe, expect, test } from "vitest";
import { normalProbability, studentProbability, studentQuantile } from "../../src/numeric/index.js";
import { halfDigit, MPMATH, relative, SCIPY } from "./reference.js";

/** The parts that 1, 2 and 3 standard deviations of a normal distribution hold, and 90, 95 and 99 %. */
const PARTS = [1 - 2 * normalProbability(-1), 0.9, 0.95, 1 - 2 * normalProbability(-2), 0.99];
const TABLE_B1: [number, ...string[]][] = [
  [1, "1.84", "6.31", "12.71", "13.97", "63.66", "235.80"],
  [2, "1.32", "2.92", "4.30", "4.53", "9.92", "19.21"],
  [3, "1.20", "2.35", "3.18", "3.31", "5.84", "9.22"],
  [5, "1.11", "2.02", "2.57", "2.65", "4.03", "5.51"],
  [10, "1.05", "1.81", "2.23", "2.28", "3.17", "3.96"],
  [20, "1.03", "1.72", "2.09", "2.13", "2.85", "3.42"],
  [50, "1.01", "1.68", "2.01", "2.05", "2.68", "3.16"],
  [100, "1.005", "1.660", "1.984", "2.025", "2.626", "3.077"],
];

describe.each(TABLE_B1)("%d degrees of freedom", (degreesOfFreedom, ...printed) => {
  test("the quantiles are those of table B.1", () => {
    for (const [index, part] of [...PARTS, 1 - 2 * normalProbability(-3)].entries()) {
      const t = printed[index] as string;
      const found = studentQuantile((1 + part) / 2, degreesOfFreedom);
      expect(Math.abs(found - Number(t)), t).toBeLessThanOrEqual(halfDigit(t) * 1.000001);
    }
  });
});

test("tails have 12 digits for 1 to 1000 degrees of freedom, out to 50", () => {
  for (const [t, degreesOfFreedom, probability] of MPMATH.student) {
    expect(
      relative(studentProbability(t, degreesOfFreedom), probability),
      `${t}, ${degreesOfFreedom}`,
    ).toBeLessThan(1e-12);
  }
});

test("probabilities and quantiles are those of SciPy", () => {
  for (const [t, f, p] of SCIPY.student) expect(relative(studentProbability(t, f), p)).toBeLessThan(1e-11);
  for (const [p, f, t] of SCIPY.studentQuantile) {
    // SciPy's own are off in the eleventh digit: for 2 degrees of freedom there is a closed form.
    expect(relative(studentQuantile(p, f), t)).toBeLessThan(1e-10);
  }
});

test("for 1 and 2 degrees of freedom quantiles are those of the closed forms, to 13 digits", () => {
  for (const p of [0.0005, 0.025, 0.3, 0.95]) {
    expect(relative(studentQuantile(p, 1), Math.tan(Math.PI * (p - 0.5)))).toBeLessThan(1e-13);
    expect(relative(studentQuantile(p, 2), (2 * p - 1) / Math.sqrt(2 * p * (1 - p)))).toBeLessThan(1e-13);
  }
});

test("beyond all numbers nothing is left", () => {
  expect(studentProbability(Number.NEGATIVE_INFINITY, 3)).toBe(0);
  expect(studentProbability(Number.POSITIVE_INFINITY, 3)).toBe(1);
  expect(studentProbability(0, 3)).toBe(0.5);
});

test.each([0, -1, Number.NaN])("%d degrees of freedom are refused", (degreesOfFreedom) => {
  expect(() => studentProbability(1, degreesOfFreedom)).toThrow(
    `degrees of freedom must be more than 0, not ${degreesOfFreedom}`,
  );
});

test.each([0, 1, Number.NaN])("no quantile is told for a probability of %d", (probability) => {
  expect(() => studentQuantile(probability, 3)).toThrow(
    `a probability must lie between 0 and 1, not ${probability}`,
  );
});
