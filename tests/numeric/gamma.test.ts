// NIST/SEMATECH e-Handbook 1.3.6.7.4, critical values of chi-square (from memory), half of which is a gamma variable of half
// as many degrees of freedom; and values in 400 digits and of SciPy (tests/reference).
import { expect, test } from "vitest";
import { gammaQuantile, gammaTails } from "../../src/numeric/index.js";
import { MPMATH, relative, SCIPY } from "./reference.js";

test.each([
  [1, 0.95, 3.841],
  [5, 0.95, 11.07],
  [10, 0.95, 18.307],
  [10, 0.99, 23.209],
  [20, 0.95, 31.41],
  [30, 0.975, 46.979],
  [50, 0.95, 67.505],
  [100, 0.95, 124.342],
])(
  "chi-square with %d degrees of freedom stays with %d below %d",
  (degreesOfFreedom, probability, printed) => {
    expect(2 * gammaQuantile(degreesOfFreedom / 2, probability)).toBeCloseTo(printed, 3);
  },
);

test("the tail that is computed has 12 digits; the other one is what it leaves of 1", () => {
  for (const [a, x, lower, upper] of MPMATH.gamma) {
    const tails = gammaTails(a, x);
    const [own, rest] = x < a + 1 ? [tails.lower, tails.upper] : [tails.upper, tails.lower];
    const [expected, other] = x < a + 1 ? [lower, upper] : [upper, lower];
    expect(relative(own, expected), `${a}, ${x}`).toBeLessThan(1e-12);
    expect(Math.abs(rest - other), `${a}, ${x}`).toBeLessThan(1e-12);
  }
});

test("both tails agree with SciPy to 11 digits, for shapes from 0.5 to 40 000 000", () => {
  for (const { a, x, lower, upper } of SCIPY.tails) {
    const tails = gammaTails(a, x);
    expect(relative(tails.lower, lower), `P(${a}, ${x})`).toBeLessThan(1e-11);
    // Where the lower tail is all but 1 the upper one is computed directly, otherwise it is the rest to 1.
    const upperError = Math.min(relative(tails.upper, upper), Math.abs(tails.upper - upper) * 1e4);
    expect(upperError, `Q(${a}, ${x})`).toBeLessThan(1e-11);
  }
});

test("quantiles agree with SciPy to 9 digits", () => {
  for (const { a, p, x } of SCIPY.quantiles) {
    expect(relative(gammaQuantile(a, p), x), `shape ${a} at ${p}`).toBeLessThan(1e-9);
  }
});

test("nothing lies below 0 and nothing above all numbers", () => {
  expect(gammaTails(2, 0)).toEqual({ lower: 0, upper: 1 });
  expect(gammaTails(2, -1)).toEqual({ lower: 0, upper: 1 });
  expect(gammaTails(2, Number.POSITIVE_INFINITY)).toEqual({ lower: 1, upper: 0 });
});
