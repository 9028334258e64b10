// F. Garwood's exact limits for a Poisson mean (GARWOOD): 0 counted gives 3.689 at the upper end and 10 counted give 4.80 to
// 18.39 on a calculator's page; the formula, half a chi-square quantile, is in the help of a statistics package. The other
// rows are computed from that formula outside this project.
import { expect, test } from "vitest";
import { poissonInterval, poissonTails } from "../../src/numeric/index.js";

const LIMITS_95 = [
  [0, 0, 3.6889],
  [1, 0.0253, 5.5716],
  [2, 0.2422, 7.2247],
  [3, 0.6187, 8.7673],
  [4, 1.0899, 10.2416],
  [5, 1.6235, 11.6683],
  [6, 2.2019, 13.0595],
  [7, 2.8144, 14.4227],
  [8, 3.4538, 15.7632],
  [9, 4.1154, 17.0848],
  [10, 4.7954, 18.3904],
  [15, 8.3954, 24.7402],
  [20, 12.2165, 30.8884],
  [25, 16.1787, 36.9049],
  [30, 20.2409, 42.8269],
  [50, 37.111, 65.9188],
  [100, 81.364, 121.6268],
] as const;

test.each(LIMITS_95)(
  "%d particles counted: the mean lies between %d and %d with 95 % confidence",
  (n, low, high) => {
    const interval = poissonInterval(n);
    expect(Math.abs(interval.low - low)).toBeLessThanOrEqual(0.00005);
    expect(Math.abs(interval.high - high)).toBeLessThanOrEqual(0.00005);
  },
);

test("a raw number that is no whole one is taken at the whole numbers on both sides", () => {
  expect(poissonInterval(9.4)).toEqual({ low: poissonInterval(9).low, high: poissonInterval(10).high });
});

test.each([-1, Number.NaN, Number.POSITIVE_INFINITY])("a raw count of %d is refused", (n) => {
  expect(() => poissonInterval(n)).toThrow(`a raw count must be 0 or more, not ${n}`);
});

test.each(LIMITS_95)(
  "%d particles counted: each end of the interval leaves 2.5 %% beyond",
  (n, low, high) => {
    expect(poissonTails(n, high).upTo).toBeCloseTo(0.025, 5);
    expect(poissonTails(n - 1, low).more).toBeCloseTo(n === 0 ? 1 : 0.025, 4);
  },
);

test("Poisson tails are sums of e^−m mⁿ / n!", () => {
  expect(poissonTails(2, 3).upTo).toBeCloseTo(Math.exp(-3) * (1 + 3 + 4.5), 14);
  expect(poissonTails(2, 3).more).toBeCloseTo(1 - Math.exp(-3) * 8.5, 14);
  expect(poissonTails(-1, 3)).toEqual({ upTo: 0, more: 1 });
});
