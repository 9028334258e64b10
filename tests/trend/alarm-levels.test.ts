// The levels after the ideas of ASTM D7720; which shares and widths they take is common practice, no source.
import { quantile } from "simple-statistics";
import { describe, expect, test } from "vitest";
import { alarmLevels } from "../../src/trend/index.js";

const hundred = Array.from({ length: 100 }, (_, index) => index + 1);

describe("alarm levels of a population", () => {
  test("the percentiles of 1 to 100 leave 20, 10 and 2 values above them", () => {
    const levels = alarmLevels(hundred);
    if (levels.kind !== "levels") throw new Error("no levels");
    const above = (level: number) => hundred.filter((value) => value > level).length;
    expect(above(levels.percentiles.attention)).toBe(20);
    expect(above(levels.percentiles.alert)).toBe(10);
    expect(above(levels.percentiles.alarm)).toBe(2);
    expect(levels.percentiles.alert).toBe(quantile(hundred, 0.9));
  });

  test("the robust levels are median and 1, 2, 3 times 1.4826 median distances", () => {
    const levels = alarmLevels(hundred);
    if (levels.kind !== "levels") throw new Error("no levels");
    expect(levels.median).toBe(50.5);
    expect(levels.robust.attention).toBeCloseTo(50.5 + 1.4826 * 25, 9);
    expect(levels.robust.alarm).toBeCloseTo(50.5 + 3 * 1.4826 * 25, 9);
  });

  test("three wild results move no level but the outermost percentile", () => {
    const [plain, wild] = [hundred, [...hundred.slice(3), 9000, 9000, 9000]].map(alarmLevels);
    if (plain?.kind !== "levels" || wild?.kind !== "levels") throw new Error("no levels");
    expect(wild.robust.alarm).toBeLessThan(1.1 * plain.robust.alarm);
    expect(wild.percentiles.alarm).toBeGreaterThan(1000);
  });

  test("fewer than fifty results cannot tell, and NaN is refused", () => {
    expect(alarmLevels(hundred.slice(0, 49))).toEqual({ kind: "cannot-tell", n: 49, needed: 50 });
    expect(alarmLevels(hundred.slice(0, 50)).kind).toBe("levels");
    expect(() => alarmLevels([Number.NaN])).toThrow(/finite/);
  });
});
