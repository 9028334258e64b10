// Values in 400 digits (tests/reference), and identities of DLMF 8.17.
import { expect, test } from "vitest";
import { betaTails } from "../../src/numeric/index.js";
import { MPMATH, relative } from "./reference.js";

test("the smaller tail has 11 digits and more, for halves and for counts of 400 000", () => {
  for (const [x, a, b, lower, upper] of MPMATH.beta) {
    const tails = betaTails(x, 1 - x, a, b);
    expect(relative(tails.lower, lower), `${x}, ${a}, ${b}`).toBeLessThan(1e-11);
    expect(Math.abs(tails.upper - upper), `${x}, ${a}, ${b}`).toBeLessThan(1e-11);
  }
});

test.each([
  [0.2, 1, 5, 1 - 0.8 ** 5],
  [0.7, 4, 1, 0.7 ** 4],
  [0.5, 3, 3, 0.5],
  [0.25, 0.5, 0.5, 1 / 3],
])("I at %d for %d and %d is %d in closed form", (x, a, b, closed) => {
  expect(betaTails(x, 1 - x, a, b).lower).toBeCloseTo(closed, 14);
});

test("the tails change places with x and the rest", () => {
  const one = betaTails(0.3, 0.7, 4.5, 9);
  const other = betaTails(0.7, 0.3, 9, 4.5);
  expect(other.lower).toBeCloseTo(one.upper, 14);
  expect(other.upper).toBeCloseTo(one.lower, 14);
});

test("the ends are certain, and no number has no probability", () => {
  expect(betaTails(0, 1, 2, 3)).toEqual({ lower: 0, upper: 1 });
  expect(betaTails(1, 0, 2, 3)).toEqual({ lower: 1, upper: 0 });
  expect(betaTails(Number.NaN, 1, 2, 3)).toEqual({ lower: Number.NaN, upper: Number.NaN });
});
