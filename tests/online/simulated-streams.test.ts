import { describe, expect, test } from "vitest";
import { seededRandom } from "../../src/numeric/index.js";
import {
  CLEANING,
  EVENTS,
  FAULTY,
  falling,
  firstSaid,
  follow,
  many,
  OUTSIDE,
  SOUND,
  type Stream,
  stopsOf,
} from "../support/online/simulated-counter.js";
import { runs } from "../support/runs.js";

describe("a circuit that is outside is called clean in at most one of twenty cases, however often one looks", () => {
  test.each(OUTSIDE)("%s", (_, stream) => {
    expect(stopsOf(runs(300), stream).wrong).toBeLessThanOrEqual(0.05);
  });
});

describe("a circuit that gets clean is called so in every case, soon after", () => {
  // 15 · e^(−0.15·t) is 1 after 18.1 minutes, and 0.676, what a bias of 20 % asks for, after 20.7.
  const LATEST = [30, 95];
  test.each(CLEANING)("%s", (name, stream) => {
    const { stopped, median: middle } = stopsOf(runs(100), stream);
    expect(stopped).toBe(1);
    expect(middle).toBeLessThan(LATEST[CLEANING.findIndex(([one]) => one === name)] as number);
  });
});

describe("what happens to a counter is recognised", () => {
  const seen = (cases: number, stream: Stream, code: string) =>
    many(cases, stream).filter(({ answers }) =>
      answers.some(({ remarks }) => remarks.some((one) => one.code === code)),
    ).length / cases;

  test("a bypass that opens midway is a rise, in every case", () => {
    const opens = { shareAt: (minute: number) => (minute < 20 ? falling(15, 0.1)(minute) : 6), minutes: 40 };
    expect(seen(runs(50), opens, "risen")).toBe(1);
  });

  test("a sound circulation shows no rise in 98 of 100 cases", () => {
    expect(seen(runs(200), { shareAt: falling(15, 0.08), minutes: 60 }, "risen")).toBeLessThanOrEqual(0.02);
  });

  test("a counter that stands still is never a clean circuit", () => {
    const stuck: Stream = {
      shareAt: () => 0.5,
      minutes: 60,
      shows: (minute, perMl, before) => (minute > 1 ? before : perMl),
    };
    expect(seen(runs(50), stuck, "stuck")).toBe(1);
    const late = many(runs(50), stuck).filter(({ answers }) => answers.at(-1)?.state === "clean");
    expect(late.length).toBe(0);
  });

  test("a counter that counts nothing is never a clean circuit", () => {
    const dead: Stream = { shareAt: () => 5, minutes: 40, shows: () => [0, 0, 0] };
    expect(many(5, dead).every(({ stoppedAt }) => stoppedAt === undefined)).toBe(true);
    expect(seen(5, dead, "counts-nothing")).toBe(1);
  });

  test("minutes below 29 °C never make it clean", () => {
    const cold: Stream = { shareAt: () => 0.2, minutes: 60, temperatureAt: () => 20 };
    expect(many(5, cold).every(({ stoppedAt }) => stoppedAt === undefined)).toBe(true);
  });

  test("air is large particles without small ones", () => {
    const air: Stream = {
      shareAt: falling(5, 0.05),
      minutes: 30,
      shows: (minute, [four = 0, six = 0, large = 0]) =>
        minute === 20 ? [four, six, Math.min(six, 6 * large)] : [four, six, large],
    };
    expect(seen(runs(50), air, "air")).toBeGreaterThan(0.9);
  });
});

describe("counts that do not come down", () => {
  test.each([
    ["they stay", () => 5, "not-falling"],
    ["they level off at twice the limits", falling(15, 0.3, 2), "levelling-off"],
    ["they fall", falling(15, 0.1), "falling"],
  ] as const)("%s: %#", (_, shareAt, course) => {
    const random = seededRandom(7);
    const outlooks = Array.from(
      { length: 10 },
      () => follow({ shareAt, minutes: 24 }, random).outlook()?.course,
    );
    expect(outlooks.filter((one) => one === course).length).toBeGreaterThanOrEqual(4);
  });
});

describe("whatever happens to a counter, a circuit that is outside is called clean in at most one of twenty cases", () => {
  test.each(EVENTS)("%s", (_, code, stream) => {
    const cases = runs(100);
    expect(stopsOf(cases, stream).wrong).toBeLessThanOrEqual(0.05);
    if (code !== "") expect(firstSaid(cases, stream, code).length / cases).toBeGreaterThan(0.95);
  });
});

describe("a circuit is held against its elements by confidence", () => {
  const slower = (cases: number, stream: Stream) =>
    many(cases, stream).filter(({ courses }) => courses.has("slower-than-rated")).length;

  test.each(SOUND)("no word of it where the circuit %s", (_, stream) => {
    expect(slower(runs(8), stream)).toBe(0);
  });

  test.each(FAULTY)("it is said where the circuit %s", (_, stream) => {
    expect(slower(runs(5), stream)).toBeGreaterThanOrEqual(4);
  });
});
