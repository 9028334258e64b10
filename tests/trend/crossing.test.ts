import { describe, expect, test } from "vitest";
import {
  chanceBeyond,
  crossingWindow,
  forecastCrossing,
  levelAt,
  levelLine,
  nextSampleDue,
  type Observation,
  theilSen,
} from "../../src/trend/index.js";

const SCATTER = [2, -1, 0, 1, -2, 0];

/** A rise of 10 a year from 50 with a scatter of ±2, sampled monthly. */
const rise = (n: number, sign = 1): Observation[] =>
  Array.from({ length: n }, (_, month) => ({
    x: month / 12,
    y: 50 + sign * (10 * (month / 12) + (SCATTER[month % 6] ?? 0)),
  }));

function lineOf(observations: readonly Observation[]) {
  const fit = theilSen(observations);
  const line = fit.kind === "slope" ? levelLine(observations, fit) : undefined;
  if (line === undefined) throw new Error("no line");
  return line;
}

describe("forecast of a crossing", () => {
  test("a rise towards an upper limit crosses it, with an interval about the date", () => {
    const forecast = forecastCrossing({ observations: rise(24), limit: 80, towards: "above", horizon: 10 });
    if (forecast.kind !== "crosses") throw new Error(forecast.kind);
    expect(forecast.x).toBeGreaterThan(2.6);
    expect(forecast.x).toBeLessThan(3.4);
    expect(forecast.earliest).toBeLessThan(forecast.x);
    expect(forecast.latest ?? 0).toBeGreaterThan(forecast.x);
  });

  test("a fall towards a lower limit is the same turned over", () => {
    const up = forecastCrossing({ observations: rise(24), limit: 80, towards: "above", horizon: 10 });
    const down = forecastCrossing({ observations: rise(24, -1), limit: 20, towards: "below", horizon: 10 });
    if (up.kind !== "crosses" || down.kind !== "crosses") throw new Error("no crossing");
    expect(down.x).toBeCloseTo(up.x, 9);
    expect(down.earliest).toBeCloseTo(up.earliest, 9);
    expect(down.latest).toBeCloseTo(up.latest ?? 0, 9);
  });

  test("a rise away from a lower limit does not cross it, and says no date", () => {
    expect(forecastCrossing({ observations: rise(24), limit: 20, towards: "below", horizon: 10 })).toEqual({
      kind: "beyond-horizon",
      level: 0.9,
    });
  });

  test("a crossing after the horizon is told as such, with the early end of its interval only where that is inside", () => {
    const later = forecastCrossing({ observations: rise(24), limit: 200, towards: "above", horizon: 5 });
    expect(later).toMatchObject({ kind: "beyond-horizon", x: expect.closeTo(15, 0) });
    expect(later).not.toHaveProperty("earliest");
    const near = forecastCrossing({ observations: rise(24), limit: 80, towards: "above", horizon: 2.9 });
    expect(near).toMatchObject({ kind: "beyond-horizon", earliest: expect.any(Number) });
  });

  test("scatter about a level is no trend", () => {
    const level = rise(24).map(({ x, y }) => ({ x, y: y - 10 * x }));
    const forecast = forecastCrossing({ observations: level, limit: 80, towards: "above", horizon: 10 });
    expect(forecast).toMatchObject({ kind: "no-trend" });
  });

  test("three samples cannot tell, however clearly they rise", () => {
    expect(forecastCrossing({ observations: rise(3), limit: 80, towards: "above", horizon: 10 })).toEqual({
      kind: "cannot-tell",
      n: 3,
      needed: 4,
    });
  });

  test("four samples that rise without exception are no trend at 5 %: their chance is 1 in 12", () => {
    const four = [50, 60, 70, 81].map((y, x) => ({ x, y }));
    expect(forecastCrossing({ observations: four, limit: 100, towards: "above", horizon: 10 })).toEqual({
      kind: "no-trend",
      pValue: expect.closeTo(1 / 12, 12),
    });
  });

  test("a level beyond the limit crossed it in the past, but not before its block began", () => {
    const stepped = rise(24).map((entry) => ({
      ...entry,
      y: entry.y + (entry.x >= 1 ? 40 : 0),
      block: entry.x >= 1 ? 1 : 0,
    }));
    const forecast = forecastCrossing({ observations: stepped, limit: 80, towards: "above", horizon: 10 });
    expect(forecast).toMatchObject({ kind: "crosses", x: 1, earliest: 11 / 12, latest: 1 });
  });

  test("NaN as a limit is refused", () => {
    expect(() =>
      forecastCrossing({ observations: rise(9), limit: Number.NaN, towards: "above", horizon: 1 }),
    ).toThrow(/limit must be a finite number, not NaN/);
  });

  test("one odd result moves the crossing by less than the interval is wide", () => {
    const odd = rise(24).map((entry, index) => (index === 12 ? { ...entry, y: 300 } : entry));
    const [plain, moved] = [rise(24), odd].map((observations) =>
      forecastCrossing({ observations, limit: 80, towards: "above", horizon: 10 }),
    );
    if (plain?.kind !== "crosses" || moved?.kind !== "crosses") throw new Error("no crossing");
    expect(Math.abs(moved.x - plain.x)).toBeLessThan((plain.latest ?? 0) - plain.earliest);
  });
});

describe("the level and its error", () => {
  test("grow apart with distance from the data, on both sides", () => {
    const line = lineOf(rise(24));
    const errorAt = (x: number) => levelAt(line, x).error;
    expect(errorAt(5)).toBeGreaterThan(errorAt(3));
    expect(errorAt(-3)).toBeGreaterThan(errorAt(0));
    expect(errorAt(line.centreX)).toBeLessThan(errorAt(2));
  });

  test("the ends of the window are where the limit lies at the edge of the level's interval", () => {
    const line = lineOf(rise(24));
    const window = crossingWindow(line, 80, 0.9);
    expect(chanceBeyond(line, 80, "above", window.earliest)).toBeCloseTo(0.05, 9);
    expect(chanceBeyond(line, 80, "above", window.latest ?? 0)).toBeCloseTo(0.95, 9);
    expect(chanceBeyond(line, 80, "above", window.x)).toBeCloseTo(0.5, 9);
    expect(chanceBeyond(line, 80, "below", window.earliest)).toBeCloseTo(0.95, 9);
  });

  // Results on a straight line with a step after the fourth leave a scatter so small that both of the last block are cut.
  test("is a number where every result of the last block lies far from its level", () => {
    const days = [0, 31, 61, 92, 123, 151];
    const line = lineOf(
      days.map((day, index) => ({ x: day / 365.25, y: 150 + 20 * index, block: index > 3 ? 1 : 0 })),
    );
    expect(line.centreX).toBeCloseTo((123 + 151) / 2 / 365.25, 9);
    expect(line.centre).toBeCloseTo(240, 6);
    expect(Number.isFinite(levelAt(line, 1).error)).toBe(true);
  });

  test("scatter that grows with the level widens the error at that end", () => {
    const even = lineOf(rise(24));
    const growing = lineOf(
      rise(24).map(({ x, y }) => {
        const line = 50 + 10 * x;
        return { x, y: line + (y - line) * (x / 1) ** 2 };
      }),
    );
    expect(levelAt(growing, 2).error / levelAt(growing, 0).error).toBeGreaterThan(
      1.5 * (levelAt(even, 2).error / levelAt(even, 0).error),
    );
  });
});

describe("next sample", () => {
  const line = lineOf(rise(24));
  const lastX = 23 / 12;

  test("is due when the chance of having crossed reaches the risk", () => {
    const next = nextSampleDue(line, { limit: 80, towards: "above" }, { lastX, risk: 0.05, longest: 3 });
    expect(next.because).toBe("risk");
    expect(next.chance).toBeCloseTo(0.05, 6);
    expect(chanceBeyond(line, 80, "above", next.x)).toBeCloseTo(0.05, 6);
  });

  test("is due sooner for a smaller risk", () => {
    const at = (risk: number) =>
      nextSampleDue(line, { limit: 80, towards: "above" }, { lastX, risk, longest: 3 }).x;
    expect(at(0.01)).toBeLessThan(at(0.05));
    expect(at(0.05)).toBeLessThan(at(0.2));
  });

  test("is due no later than the longest interval", () => {
    const next = nextSampleDue(line, { limit: 80, towards: "above" }, { lastX, risk: 0.05, longest: 0.1 });
    expect(next).toMatchObject({ x: lastX + 0.1, because: "longest-interval" });
    expect(next.chance).toBeLessThan(0.05);
  });

  test("is due at once when the limit may have been crossed already", () => {
    const next = nextSampleDue(line, { limit: 69, towards: "above" }, { lastX, risk: 0.05, longest: 1 });
    expect(next).toMatchObject({ x: lastX, because: "risk-already-reached" });
  });
});
