// A circulation that was entered after the last bottle is not run again, and only what surely cleaned the fluid counts. By the counts
// alone the time to go by is a little over eight minutes; a pass takes 60 L / 45 L/min, and five minutes come before any bottle.
import { describe, expect, test } from "vitest";
import { describeMinutesDone } from "../../src/circulation/index.js";
import { briefOf, type CircuitCase, describeVerdict, judgeCase, stepsOf } from "../../src/fitness/index.js";
import type { Circuit, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, countedIn, REQUIREMENT } from "../support/fitness/bases.js";

type Events = Circuit["events"];

/** Drawn on 4 March and judged on 14 March. */
const DIRTY: Sample = { ...CLEAN, counts: countedIn(20, 20_000, 5000, 640) };
const ran = (on: string, minutes: number, more: Partial<Events[number]> = {}) => ({
  ...{ on, kind: "circulation" as const, minutes },
  ...more,
});
const was = (kind: Events[number]["kind"], on: string, more: Partial<Events[number]> = {}) => ({
  ...{ on, kind },
  ...more,
});
const judge = (events: Events, change: Partial<CircuitCase> = {}) =>
  judgeCase(caseOf({ circuit: { ...CIRCUIT, events }, samples: [DIRTY], ...change }));

function goByOf(judged: ReturnType<typeof judge>) {
  const { goBy } = judged.verdict;
  if (goBy?.kind !== "minutes") throw new Error("expected minutes to go by");
  return goBy;
}

const WHOLE = goByOf(judge([])).minutes;

describe("of what was run since the last bottle, these minutes are not to be run again", () => {
  test.each<[string, Events, number, Partial<Sample>?]>([
    ["none where none were", [], 0],
    ["those of the days after it", [ran("2026-03-05", 1.5)], 1.5],
    ["those of several days together", [ran("2026-03-05", 1), ran("2026-03-06", 0.5)], 1.5],
    ["none of the days before it", [ran("2026-03-03", 60)], 0],
    ["none of its own day without times", [ran("2026-03-04", 60)], 0],
    ["none of its own day where the bottle has no time", [ran("2026-03-04", 60, { at: "23:00" })], 0],
    [
      "those of its own day after its time",
      [ran("2026-03-04", 2, { at: "10:00" })],
      2,
      { drawnTime: "09:59" },
    ],
    [
      "what is left of a run it was drawn in",
      [ran("2026-03-04", 10, { at: "10:00" })],
      2,
      { drawnTime: "10:08" },
    ],
    [
      "none of a run it was drawn at the end of",
      [ran("2026-03-04", 10, { at: "10:00" })],
      0,
      { drawnTime: "10:10" },
    ],
    [
      "none where a time in UTC and one without a zone leave it open",
      [ran("2026-03-04", 60, { at: "10:00Z" })],
      0,
      { drawnTime: "09:00" },
    ],
    [
      "none that the log has before the bottle by its number",
      [ran("2026-03-04", 60, { beforeSample: "S-1" })],
      0,
    ],
    ["none of a day that is still to come", [ran("2026-03-15", 60)], 0],
    ["those of the day of judging", [ran("2026-03-14", 2)], 2],
    ["none from before a hookup", [ran("2026-03-05", 60), was("hookup", "2026-03-06")], 0],
    ["none from before a top-up", [ran("2026-03-05", 60), was("top-up", "2026-03-06", { addedL: 2 })], 0],
    ["none from before an opening", [ran("2026-03-05", 60), was("opening", "2026-03-06")], 0],
    ["none from before a new element", [ran("2026-03-05", 60), was("element-change", "2026-03-06")], 0],
    ["those through the new element", [was("element-change", "2026-03-05"), ran("2026-03-06", 2)], 2],
    [
      "those after the last of several",
      [ran("2026-03-05", 60), was("hookup", "2026-03-06"), ran("2026-03-07", 2)],
      2,
    ],
    [
      "those from before drying, which brings nothing in",
      [ran("2026-03-05", 2), was("dehydration", "2026-03-06")],
      2,
    ],
    [
      "those from before a hookup that is still to come",
      [ran("2026-03-05", 2), was("hookup", "2026-03-20")],
      2,
    ],
    ["in the order of the log within a day", [was("hookup", "2026-03-05"), ran("2026-03-05", 2)], 2],
    [
      "and none where the log has the hookup later in the day",
      [ran("2026-03-05", 60), was("hookup", "2026-03-05")],
      0,
    ],
    [
      "by their times where the day has them all",
      [was("hookup", "2026-03-05", { at: "12:00" }), ran("2026-03-05", 60, { at: "08:00" })],
      0,
    ],
    ["none that an aircraft was connected for", [was("hookup", "2026-03-05", { minutes: 60 })], 0],
    ["those that are written with a hookup", [was("hookup", "2026-03-05", { circulatedMinutes: 2 })], 2],
    [
      "but not with a hookup that another one followed",
      [was("hookup", "2026-03-05", { circulatedMinutes: 60 }), was("hookup", "2026-03-06")],
      0,
    ],
    [
      "and once where they are entered as well",
      [was("hookup", "2026-03-05", { circulatedMinutes: 2 }), ran("2026-03-05", 2)],
      2,
    ],
    [
      "but none that are written with an event of before it",
      [was("top-up", "2026-03-03", { circulatedMinutes: 60 })],
      0,
    ],
    ["nor with one of its own day", [was("hookup", "2026-03-04", { circulatedMinutes: 60 })], 0],
    [
      "those of a run that the log holds twice once",
      [ran("2026-03-05", 2, { at: "10:00" }), ran("2026-03-05", 2, { at: "10:00" })],
      2,
    ],
    [
      "a minute of two runs once, in whatever order they are entered",
      [ran("2026-03-05", 2, { at: "10:01" }), ran("2026-03-05", 2, { at: "10:00" })],
      3,
    ],
    [
      "none of a run within a longer one, and all of the next",
      [
        ran("2026-03-05", 2, { at: "23:59" }),
        ran("2026-03-06", 1, { at: "00:00" }),
        ran("2026-03-06", 1, { at: "00:01" }),
      ],
      3,
    ],
    ["those of two runs of a day without times", [ran("2026-03-05", 1), ran("2026-03-05", 1)], 2],
    ["half of those at half of the flow", [ran("2026-03-05", 4, { flowLpm: 22.5 })], 2],
    ["none that were run cold", [ran("2026-03-05", 60, { fluidTemperatureC: 28 })], 0],
    ["those from the temperature on that is said", [ran("2026-03-05", 2, { fluidTemperatureC: 29 })], 2],
  ])("%s", (_, events, done, change = {}) => {
    const goBy = goByOf(judge(events, { samples: [{ ...DIRTY, ...change }] }));
    expect(goBy.done?.minutes ?? 0).toBeCloseTo(done, 9);
    expect(goBy.minutes).toBeCloseTo(WHOLE - done, 9);
    expect(goBy.passes).toBeCloseTo(((WHOLE - done) * 45) / 60, 9);
  });

  test("of two bottles in an order that is not known, those that follow both", () => {
    const later = { ...DIRTY, sample: "S-0", drawnTime: "09:00" };
    const events = [ran("2026-03-04", 60, { at: "10:00" })];
    expect(goByOf(judge(events, { samples: [later] })).done?.minutes).toBe(60);
    expect(goByOf(judge(events, { samples: [later, DIRTY] })).done).toBeUndefined();
    for (const sample of ["S-0", "S-9"]) {
      const clean = { ...CLEAN, sample };
      const [judged, alone] = [[{ ...later, sample: "S-5" }, clean], [{ ...later, sample: "S-5" }]].map(
        (samples) => judge(events, { samples }),
      );
      expect([judged, alone].map((one) => one?.verdict.goBy?.kind)).toEqual(["minutes", "minutes"]);
      expect(judged && goByOf(judged).done).toBeUndefined();
      expect(alone && goByOf(alone).done?.minutes).toBe(60);
    }
    const unlike = { ...CLEAN, counts: undefined as never, sample: "S-2" };
    expect(goByOf(judge(events, { samples: [later, unlike] })).done?.minutes).toBe(60);
  });

  test("none of before a newer bottle, which is the start from then on", () => {
    const newer = { ...DIRTY, sample: "S-2", drawnOn: "2026-03-06" };
    expect(goByOf(judge([ran("2026-03-05", 60)], { samples: [DIRTY, newer] })).minutes).toBeCloseTo(WHOLE, 9);
  });
});

describe("what is left to do", () => {
  test.each<[string, number, RegExp]>([
    [
      "the rest, where that is longer than what comes before a bottle",
      2,
      /^circulate 6\.4 min \(4\.8 passes\) more, then draw a sample$/,
    ],
    [
      "five minutes before the bottle at the least",
      5,
      /^circulate 5 min \(3\.8 passes\) more, then draw a sample$/,
    ],
    ["the bottle alone, once all has been run", 9, /^draw a sample now, after 5 min at full flow$/],
    ["and so after any longer run", 600, /^draw a sample now, after 5 min at full flow$/],
  ])("%s", (_, minutes, action) => {
    const judged = judge([ran("2026-03-05", minutes)]);
    expect(judged.verdict.verdict).toBe("circulate");
    expect(briefOf(judged).action).toMatch(action);
    expect(describeVerdict(judged.verdict)).toMatch(
      new RegExp(action.source.slice(1, -1).replace("a sample", "a verifying sample")),
    );
    expect(stepsOf(judged).join(" ")).toMatch(
      /Self-circulate [\d.]+ min \([\d.]+ passes\) more at 45 L\/min/,
    );
    const said = "what was circulated since sample S-1 counts as ";
    expect(briefOf(judged).why[1]).toContain(
      `${said}${minutes} min at 45 L/min, taken as run warm and through`,
    );
    expect(judged.verdict.next.steps.filter(({ text }) => text.startsWith(said))).toHaveLength(1);
    expect(judged.verdict.next.steps[0]?.text).toMatch(
      minutes < 8 ? /more; channel 4 decides/ : /^draw a verifying sample now, after 5 min at full flow/,
    );
  });

  test("no more of a run than the day that its entry is of", () => {
    const { verdict } = judge([ran("2026-03-05", 6000)]);
    const said = verdict.next.steps.map(({ text }) => text).join(" ");
    expect(said).toContain("what was circulated since sample S-1 counts as 1440 min");
    expect(said).toContain(
      "minutes circulated do not count (6000 min on 2026-03-05): beyond the 1440 min of a day",
    );
  });

  test("a minute in common with a requirement is run once, and none that it asks for is left out", () => {
    const requirement = {
      ...REQUIREMENT,
      after: [{ event: "element-change" as const, sample: true, circulatedMinutesMin: 50 }],
    };
    const changed = was("element-change", "2026-03-02");
    const left = (...events: Events) => goByOf(judge([changed, ...events], { requirement }));
    expect(left(ran("2026-03-05", 20))).toMatchObject({ minutes: 30, governs: "requirement" });
    expect(left(ran("2026-03-05", 20)).done).toEqual({ minutes: 20, isEnough: false });
    expect(left(ran("2026-03-05", 50))).toMatchObject({ minutes: 5, done: { isEnough: true } });
    expect(left(ran("2026-03-05", 47))).toMatchObject({ minutes: 5, governs: "five-minutes" });
  });
});

describe("minutes that do not count are named, with the reason", () => {
  const open = "they may be from before sample S-1; give both times of day";
  test.each<[string, Events, RegExp, Partial<Sample>?]>([
    [
      "a time of the run alone",
      [ran("2026-03-04", 60, { at: "23:00" })],
      new RegExp(`\\(60 min on 2026-03-04\\): ${open}$`),
    ],
    [
      "a time of the bottle alone",
      [ran("2026-03-04", 60)],
      new RegExp(`\\(60 min on 2026-03-04\\): ${open}$`),
      { drawnTime: "08:00" },
    ],
    [
      "times of which one has no zone",
      [ran("2026-03-04", 60, { at: "10:00Z" })],
      new RegExp(`\\(60 min on 2026-03-04\\): ${open}$`),
      { drawnTime: "09:00" },
    ],
    [
      "a hookup since",
      [ran("2026-03-05", 60), was("hookup", "2026-03-06")],
      /^minutes circulated do not count \(60 min on 2026-03-05\): after that the circuit was connected to another aircraft on 2026-03-06$/,
    ],
    [
      "the day of the bottle",
      [ran("2026-03-04", 30), ran("2026-03-04", 12.5)],
      /\(30 min on 2026-03-04 and 12\.5 min on 2026-03-04\): they may be from before sample S-1; give both times of day$/,
    ],
    [
      "cold fluid",
      [ran("2026-03-05", 60, { fluidTemperatureC: 5 })],
      /\(60 min on 2026-03-05\): the fluid was below 29 °C \(85 °F\)$/,
    ],
  ])("%s", (_, events, said, change = {}) => {
    const judged = judge(events, { samples: [{ ...DIRTY, ...change }] });
    expect(describeMinutesDone(judged.verdict.assumptions)).toEqual([expect.stringMatching(said)]);
    expect(briefOf(judged).why.slice(1)).toEqual([expect.stringMatching(said)]);
  });

  test("by themselves, next to those that count", () => {
    const events = [ran("2026-03-05", 60), was("hookup", "2026-03-06"), ran("2026-03-07", 2)];
    expect(describeMinutesDone(judge(events).verdict.assumptions)).toEqual([
      expect.stringContaining("counts as 2 min at 45 L/min"),
      expect.stringContaining("do not count (60 min on 2026-03-05): after that"),
    ]);
  });

  test("and nothing is said of minutes that were run before the bottle for sure, or of none", () => {
    for (const events of [[], [ran("2026-03-03", 60)], [ran("2026-03-04", 0)], [was("hookup", "2026-03-05")]])
      expect(describeMinutesDone(judge(events).verdict.assumptions)).toEqual([]);
    const kinds = (events: Events) => new Set(judge(events).verdict.assumptions.map((one) => typeof one));
    for (const events of [[], [ran("2026-03-05", 2), was("hookup", "2026-03-04")]])
      expect(kinds(events)).toEqual(new Set(["object"]));
  });
});

test("no minutes that were run change a verdict, or what a bottle has to show", () => {
  const cases: Partial<CircuitCase>[] = [
    {},
    { samples: [{ ...DIRTY, waterPpm: { value: 900 } }] },
    { samples: [{ ...DIRTY, drawnOn: "2026-01-04" }] },
    { requirement: { ...REQUIREMENT, confidence: { probability: 0.95 } }, samples: [CLEAN] },
  ];
  for (const change of cases) {
    const reasons = (events: Events) => judge(events, change).verdict.reasons;
    expect(reasons([ran("2026-03-05", 6000)])).toEqual(reasons([]));
  }
});
