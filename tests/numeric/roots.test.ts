// Held against what can be checked by hand: √2, the golden section of a parabola, whole numbers.
import { describe, expect, test } from "vitest";
import { bisect, halfway, highestAt } from "../../src/numeric/index.js";

describe("bisection", () => {
  test("ends at two neighbouring numbers, one on each side of √2", () => {
    const { holds, fails } = bisect((x) => x * x < 2, 0, 2);
    expect(holds * holds).toBeLessThan(2);
    expect(fails * fails).toBeGreaterThanOrEqual(2);
    expect(halfway(holds, fails) === holds || halfway(holds, fails) === fails).toBe(true);
  });

  test("the side where the condition holds may lie above", () => {
    expect(bisect((x) => x * x > 2, 2, 0).holds).toBeCloseTo(Math.SQRT2, 15);
  });

  test.each([
    ["above", 5, 5],
    ["just above", 4 + 1e-12, 5],
    ["at", 4, 4],
  ])("by whole numbers the first one that fails %s %d is %d", (_, limit, fails) => {
    const whole = (low: number, high: number) => Math.floor((low + high) / 2);
    expect(bisect((n) => n < limit, 1, 1000, { between: whole }).fails).toBe(fails);
  });

  test("finds a turn however far away when nothing bounds it above", () => {
    expect(bisect((x) => x < 1e200, 0, Number.POSITIVE_INFINITY).fails).toBe(1e200);
    expect(bisect(() => true, 0, Number.POSITIVE_INFINITY).fails).toBe(Number.POSITIVE_INFINITY);
  });

  test("stops when it is near enough: five halvings of 1 leave 1/32", () => {
    let tried = 0;
    const { holds, fails } = bisect(
      (x) => {
        tried += 1;
        return x < 0.3;
      },
      0,
      1,
      { isNear: (low, high) => high - low <= 1 / 32 },
    );
    expect([holds, fails, tried]).toEqual([9 / 32, 10 / 32, 5]);
  });

  test("an end that is no number ends the search", () => {
    expect(bisect(() => true, Number.NaN, 1)).toEqual({ holds: Number.NaN, fails: 1 });
  });
});

test.each([0, 0.3, 1])("the top of a parabola at %d between 0 and 1 is found", (top) => {
  let tries = 0;
  const at = highestAt(
    (x) => {
      tries += 1;
      return -((x - top) ** 2);
    },
    0,
    1,
    1e-7,
  );
  expect(Math.abs(at - top)).toBeLessThan(3e-7);
  // Golden sections alone take 34.
  if (top === 0.3) expect(tries).toBeLessThan(25);
});

// R. P. Brent, Algorithms for Minimization without Derivatives (1973), chapter 5, gives these intervals; where each sum of
// twenty poles is lowest follows from its derivative being 0 there.
test.each(Array.from({ length: 19 }, (_, index) => index + 1))(
  "between the poles at %d squared and the next the sum of Brent's example is lowest where its slope is 0",
  (index) => {
    const terms = Array.from({ length: 20 }, (_, i) => i + 1);
    const sum = (x: number) => terms.reduce((total, i) => total + ((2 * i - 5) / (x - i * i)) ** 2, 0);
    const slope = (x: number) =>
      terms.reduce((total, i) => total - (2 * (2 * i - 5) ** 2) / (x - i * i) ** 3, 0);
    const [from, to] = [index ** 2 + 1e-9, (index + 1) ** 2 - 1e-9];
    const at = highestAt((x) => -sum(x), from, to, 1e-7);
    const turns = bisect((x) => slope(x) < 0, from, to).holds;
    expect(Math.abs(at - turns)).toBeLessThan(1e-5);
  },
);

test("an end that is no number ends the search for a top", () => {
  expect(highestAt((x) => x, Number.NaN, 1, 1e-7)).toBeNaN();
});
