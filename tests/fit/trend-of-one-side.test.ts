// An element lets only a part of the particles through: counts from before it and after it make no trend together.
import { describe, expect, test } from "vitest";
import { judgeCircuit, type Measure, measureTrend } from "../../src/fitness/index.js";
import type { Sample, SamplePoint } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, counts } from "../support/fitness/bases.js";

type Point = SamplePoint | undefined;
const [UP, DOWN, LINE] = ["upstream-of-element", "downstream-of-element", "main-flow-line"] as const;

/** 30 days from one bottle to the next. */
const DAYS = [
  "2025-01-01",
  "2025-01-31",
  "2025-03-02",
  "2025-04-01",
  "2025-05-01",
  "2025-05-31",
  "2025-06-30",
  "2025-07-30",
];
const ON = "2025-07-30";

/** Upstream the particles double every 60 days, which is two bottles; downstream they stay. */
const bottle = (point: Point, index: number): Sample => ({
  ...CLEAN,
  sample: `S-${index}`,
  drawnOn: DAYS[index] as string,
  counts: point === DOWN ? counts(5, 1, 0.1) : counts(100 * 2 ** (index / 2), 20 * 2 ** (index / 2), 2),
  waterPpm: { value: 100 + index },
  ...(point && { samplePoint: point }),
});
const trendOf = (points: readonly Point[], measure: Measure = "particles-4") => {
  const { n, slope, notes } = measureTrend({
    circuit: CIRCUIT,
    samples: points.map(bottle),
    measure,
    bounds: [{ limit: 17, towards: "above" }],
    on: ON,
    ...{ horizonDays: 365, longestDays: 90, risk: 0.05 },
  });
  const perYear = slope.kind === "slope" ? slope.slope : undefined;
  return { n, perYear, notes: notes.map(({ message }) => message).join("\n") };
};
const alternating = (one: Point, other: Point): Point[] =>
  DAYS.map((_, index) => (index % 2 === 0 ? one : other));

/** Codes a year where particles double in 60 days; the printed limits of the codes double to 1.6 % only. */
const RISE = 365.25 / 60;

describe("a trend of particles is of one side of the element", () => {
  test.each<[string, readonly Point[], number, number, string | undefined]>([
    ["nothing is stated", alternating(undefined, undefined), 8, RISE, undefined],
    ["all upstream", alternating(UP, UP), 8, RISE, undefined],
    ["the last downstream", alternating(UP, DOWN), 4, 0, "4 counts of bottles drawn upstream"],
    ["the last upstream", alternating(DOWN, UP), 4, RISE, "4 counts of bottles drawn downstream"],
    [
      "one of the other side",
      [DOWN, UP, UP, UP, UP, UP, UP, UP],
      7,
      RISE,
      "1 count of a bottle drawn downstream",
    ],
    ["a main line, which says no side", alternating(UP, LINE), 8, RISE, undefined],
    [
      "a last one that does not say: the side of the last that does",
      [DOWN, UP, UP, UP, UP, UP, UP, undefined],
      ...([7, RISE, "1 count of a bottle drawn downstream"] as const),
    ],
  ])("%s", (_, points, n, perYear, said) => {
    const found = trendOf(points);
    expect(found).toMatchObject({ n, perYear: expect.closeTo(perYear, 1) });
    if (said === undefined) expect(found.notes).not.toContain("take no part");
    else expect(found.notes).toContain(`${said} of the element take no part in the trend of particles`);
  });

  test("water passes the element as it is, and all bottles take part", () => {
    expect(trendOf(alternating(UP, DOWN), "water")).toMatchObject({
      n: 8,
      perYear: expect.closeTo(365.25 / 30, 6),
    });
  });

  test.each<Measure>(["water", "particles-4"])("%s of a drum is in no trend", (measure) => {
    const points: Point[] = ["supply-container", ...alternating(UP, UP).slice(1)];
    const { n, notes } = trendOf(points, measure);
    expect(n).toBe(7);
    expect(notes).toContain("1 bottle that was filled from a drum or can take no part in the trend");
  });
});

describe("a verdict", () => {
  const judge = (points: readonly Point[], last: Partial<Sample> = {}) => {
    const samples = points.map((point, index) => ({
      ...bottle(point, index),
      ...(index === points.length - 1 && last),
    }));
    return judgeCircuit(caseOf({ samples, on: ON }));
  };
  const codes = ({ reasons }: ReturnType<typeof judge>) =>
    reasons.flatMap(({ code, callsFor }) => (callsFor === "fit" ? [] : [code]));

  test("says what its trends leave out, also where nothing is left to follow", () => {
    for (const points of [alternating(DOWN, UP), [UP, UP, UP, UP, UP, UP, UP, DOWN] as const]) {
      expect(judge(points).assumptions.map(({ code }) => code)).toContain("trend-of-one-side");
    }
    expect(judge(alternating(UP, UP)).assumptions.map(({ code }) => code)).not.toContain("trend-of-one-side");
  });

  // At the limits of 17/15/12 the circuit holds 260, 320 and 400 times what is usual after its element.
  test.each<[string, Point, readonly string[]]>([
    ["drawn on the other side is no surprise", UP, []],
    ["drawn on the same side is", DOWN, ["counts-unlike-history"]],
    ["that does not say where it was drawn is", undefined, ["counts-unlike-history"]],
  ])("a count unlike the history of the other side that was %s", (_, point, expected) => {
    const last = { counts: counts(1300, 320, 40) };
    expect(
      codes(judge([DOWN, DOWN, DOWN, DOWN, point], last)).filter((code) => code === "counts-unlike-history"),
    ).toEqual(expected);
  });
});
