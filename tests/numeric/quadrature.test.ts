// Held against closed forms: Simpson's rule is exact for cubics, and a bell sums to √2π.
import { expect, test } from "vitest";
import { bellNodes, integrate, simpsonNodes, sumOver } from "../../src/numeric/index.js";

test("Simpson's rule is exact for a cubic, in two steps as in twenty", () => {
  for (const steps of [2, 20]) {
    expect(integrate((x) => 4 * x ** 3 - x + 2, -1, 3, steps)).toBeCloseTo(80 - 4 + 8, 12);
  }
});

test.each([
  [2, 2.0944],
  [4, 2.0046],
])("the sine over half a turn in %d steps is %d by hand", (steps, byHand) => {
  expect(integrate(Math.sin, 0, Math.PI, steps)).toBeCloseTo(byHand, 4);
});

test("the weights of Simpson's rule are 1, 4, 2, 4, 1 thirds of a step", () => {
  expect(simpsonNodes(0, 12, 4).map(({ at, weight }) => [at, weight])).toEqual([
    [0, 1],
    [3, 4],
    [6, 2],
    [9, 4],
    [12, 1],
  ]);
});

test("an interval turned round or empty holds nothing", () => {
  expect(integrate(() => 1, 2, 2, 4)).toBe(0);
  expect(integrate(() => 1, 3, 2, 4)).toBe(0);
  expect(integrate(() => 1, Number.NaN, 2, 4)).toBe(0);
});

test("over a normal bell the trapezoid rule gives its moments to the last digits", () => {
  const nodes = bellNodes(-8.5, 8.5, 160, (z) => 5 - (z * z) / 2);
  const moment = (power: number) => sumOver(nodes, (z) => z ** power);
  for (const [power, value] of [
    [0, 1],
    [1, 0],
    [2, 1],
    [4, 3],
  ] as const) {
    expect(moment(power)).toBeCloseTo(value, 12);
  }
  expect(sumOver(nodes, Math.exp)).toBeCloseTo(Math.exp(0.5), 12);
});
