import { describe, expect, test } from "vitest";
import { dayAfter, governingTrend, isOrWillBeBeyond, trendReport } from "../../src/fitness/index.js";
import { PARTICLE_MEASURES } from "../../src/fitness/trends/measures.js";
import type { MeasureTrend } from "../../src/fitness/trends/trend-case.js";
import type { TrendQuestion } from "../../src/fitness/trends/trend-report.js";
import type { Requirement } from "../../src/samples/index.js";
import { CIRCUIT, FIRST, rising, sampleOf } from "../support/trend-samples.js";

/** Water from 60 ppm, 6 ppm more every 30 days: 138 ppm in the last of 14 samples. */
const SAMPLES = rising(60, 6, 14).map(sampleOf);
const CART = { cart: "C-1", circuits: [CIRCUIT] } as unknown as TrendQuestion["cart"];
const REQUIREMENT = { waterPpmMax: 200, acidMgKohPerGMax: 1, sampleAgeDaysMax: 45 } as Requirement;

function report(changes: Partial<TrendQuestion> = {}) {
  return trendReport({
    cart: CART,
    circuit: CIRCUIT,
    measures: ["water"],
    on: dayAfter(FIRST, 13 * 30),
    carts: [CART],
    samples: SAMPLES,
    ...changes,
  });
}

const codes = ({ notes }: ReturnType<typeof report>) => notes.map(({ code }) => code);

describe("what is not given", () => {
  test("a crossing is looked for a year ahead, at a chance of 5 %, with 180 days between samples, and that is said", () => {
    const found = report();
    expect(found).toMatchObject({ horizonDays: 365, risk: 0.05, longestDays: 180 });
    expect(codes(found)).toContain("longest-interval-assumed");
  });

  test.each([
    ["the requirement's interval goes before 180 days", { requirement: REQUIREMENT }, 45],
    ["a given interval goes before the requirement's", { requirement: REQUIREMENT, longestDays: 90 }, 90],
    ["a given interval needs no requirement", { longestDays: 90 }, 90],
  ])("%s", (_, changes, longestDays) => {
    const found = report(changes);
    expect(found.longestDays).toBe(longestDays);
    expect(codes(found)).not.toContain("longest-interval-assumed");
  });

  test.each([
    ["without a requirement there is no limit", {}, []],
    ["the limit is the requirement's", { requirement: REQUIREMENT }, [{ limit: 200, towards: "above" }]],
    [
      "a given limit takes its place",
      { requirement: REQUIREMENT, bounds: { water: [{ limit: 150, towards: "above" as const }] } },
      [{ limit: 150, towards: "above" }],
    ],
    [
      "a limit given for another measure does not",
      { requirement: REQUIREMENT, bounds: { acid: [{ limit: 150, towards: "above" as const }] } },
      [{ limit: 200, towards: "above" }],
    ],
  ])("%s", (_, changes, bounds) => {
    expect(report(changes).trends[0]?.bounds).toMatchObject(bounds);
    expect(report(changes).trends[0]?.bounds).toHaveLength(bounds.length);
  });
});

test("rows in quarantine are said, and only when there are any", () => {
  expect(codes(report({ unread: [{ where: "lab.csv row 4" }] }))).toContain("rows-in-quarantine");
  expect(codes(report({ unread: [] }))).not.toContain("rows-in-quarantine");
});

test("samples of other circuits take no part in the trend", () => {
  const others = SAMPLES.map((sample) => ({ ...sample, circuit: "2", waterPpm: { value: 5000 } }));
  expect(report({ samples: [...SAMPLES, ...others] }).trends[0]?.n).toBe(14);
});

test("particles are followed in the three channels of ISO 4406", () => {
  expect(PARTICLE_MEASURES).toEqual(["particles-4", "particles-6", "particles-14"]);
});

describe("of several trends", () => {
  const heading = (forecast: object, more: object = {}) =>
    ({ forecast, latestBeyond: false, ...more }) as unknown as MeasureTrend;
  const [soon, later] = ["2026-01-01", "2026-06-01"].map((on) => heading({ kind: "crosses", on })) as [
    MeasureTrend,
    MeasureTrend,
  ];
  const far = heading({ kind: "beyond-horizon", on: "2025-01-01" });
  const flat = heading({ kind: "no-trend" });
  const unknown = heading({ kind: "cannot-tell" });

  test.each([
    ["the limit that is crossed first governs", [later, soon], soon],
    ["one that is crossed goes before one that is not, whatever its day", [far, later], later],
    ["a far crossing goes before none", [flat, far], far],
    ["a known trend goes before an unknown one", [unknown, flat], flat],
  ])("%s", (_, trends, governing) => {
    expect(governingTrend(trends)).toBe(governing);
    expect(governingTrend([...trends].reverse())).toBe(governing);
  });

  test.each([
    ["a limit that will be crossed", soon, true],
    ["a level that is beyond", heading({ kind: "no-trend" }, { beyondNow: true }), true],
    ["a latest result that is beyond", heading({ kind: "cannot-tell" }, { latestBeyond: true }), true],
    ["a crossing after the horizon", far, false],
    ["no trend", heading({ kind: "no-trend" }, { beyondNow: false }), false],
  ])("%s counts as beyond: %#", (_, trend, beyond) => {
    expect(isOrWillBeBeyond(trend)).toBe(beyond);
  });
});
