// Student, The probable error of a mean, Biometrika 6 (1908): additional hours of sleep with two drugs (from memory; the
// interval is that of the t test in the manuals of statistics packages).
// JCGM 100 (GUM), H.5: voltage of a Zener standard, five results on each of ten days (from memory; follows by hand).
import { expect, test } from "vitest";
import { pooledSpread, twoWayLayout } from "../../src/laboratories/index.js";

test("Student's sleep data: the second drug gives 1.58 h more, 0.7001 to 2.4599", () => {
  const first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2];
  const second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
  const cells = first.flatMap((value, index) => [
    { material: `patient ${index}`, laboratory: "first", value },
    { material: `patient ${index}`, laboratory: "second", value: second[index] as number },
  ]);
  const [, effect] = twoWayLayout(cells, { reference: "first" }).laboratories;
  expect(effect?.effect).toBeCloseTo(1.58, 12);
  expect(effect?.low).toBeCloseTo(0.7001, 4);
  expect(effect?.high).toBeCloseTo(2.4599, 4);
});

test("the Zener standard: ten daily standard deviations pool to 85 µV with 40 degrees of freedom", () => {
  const daily = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86];
  // Five numbers whose squares about their mean add up to 4.
  const groups = daily.map((sd) => [-1, -1, 0, 1, 1].map((step) => 10_000_000 + step * sd));
  const spread = pooledSpread(groups);
  expect(spread).toMatchObject({ kind: "measured", degreesOfFreedom: 40 });
  expect(spread.kind === "measured" && Math.round(spread.sd)).toBe(85);
});
