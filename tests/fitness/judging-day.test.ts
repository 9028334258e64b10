// A verdict says until when the calendar alone changes nothing in it. A comparison with the day of judging that is made
// elsewhere shows here as a verdict that changed before its time.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { dayAfter } from "../../src/fitness/days.js";
import { type CircuitCase, judgeCircuit, type Verdict } from "../../src/fitness/index.js";
import { JudgingDay } from "../../src/fitness/judging-day.js";
import type { Circuit, CircuitEvent, Requirement, Sample } from "../../src/samples/index.js";
import { type Case, CIRCUIT, CLEAN, caseOf, counts, REQUIREMENT } from "../support/fitness/bases.js";
import { CART_CASES, PRECEDENCE_CASES } from "../support/fitness/cart-cases.js";
import { CONFORMANCE_CASES } from "../support/fitness/conformance-cases.js";
import { EVIDENCE_CASES } from "../support/fitness/evidence-cases.js";
import { IDENTITY_CASES } from "../support/fitness/identity-cases.js";
import { LIMIT_CASES } from "../support/fitness/limit-cases.js";
import { PARTICLE_CASES } from "../support/fitness/particle-cases.js";
import { SAMPLE_CASES } from "../support/fitness/sample-cases.js";
import { runs } from "../support/runs.js";

const CASES: readonly Case[] = [
  ...[...PARTICLE_CASES, ...LIMIT_CASES, ...SAMPLE_CASES, ...IDENTITY_CASES],
  ...[...CART_CASES, ...CONFORMANCE_CASES, ...EVIDENCE_CASES, ...PRECEDENCE_CASES],
];

/** Everything that a verdict says but its day. */
const sayings = ({ on: _on, ...verdict }: Verdict) => JSON.stringify(verdict);
const judgedOn = (input: CircuitCase, on: string) => judgeCircuit({ ...input, on });

/** Judges for the days of a span that matter most: the second, one in the middle, the last. */
function wrongDaysIn(input: CircuitCase, verdict: Verdict): string[] {
  const { on } = verdict;
  const until = verdict.mayChangeOn ?? dayAfter(on, 800);
  const [from, to] = [Date.parse(on), Date.parse(until)];
  const middle = new Date((from + to) / 2).toISOString().slice(0, 10);
  return [dayAfter(on, 1), middle, dayAfter(until, -1)].filter(
    (day) => day > on && day < until && sayings(judgedOn(input, day)) !== sayings(verdict),
  );
}

describe("what the day of judging is asked", () => {
  const asked = (ask: (day: JudgingDay) => unknown) => {
    const day = new JudgingDay("2026-03-14");
    return [ask(day), day.mayChangeOn];
  };

  test.each<[string, (day: JudgingDay) => unknown, unknown, string | undefined]>([
    ["today has come, and stays so", (day) => day.hasCome("2026-03-14"), true, undefined],
    ["tomorrow comes tomorrow", (day) => day.hasCome("2026-03-15"), false, "2026-03-15"],
    ["a text that is no day may come at any time", (day) => day.hasCome("soon"), false, "2026-03-15"],
    ["today is over tomorrow", (day) => day.isAfter("2026-03-14"), false, "2026-03-15"],
    ["yesterday is over", (day) => day.isAfter("2026-03-13"), true, undefined],
    ["30 days end on the 31st", (day) => day.isWithin("2026-03-04", 30), true, "2026-04-04"],
    ["half a day more is no day more", (day) => day.isWithin("2026-03-04", 30.5), true, "2026-04-04"],
    ["the 31st day is too late for good", (day) => day.isWithin("2026-02-11", 30), false, undefined],
    ["no number of days is never enough", (day) => day.isWithin("2026-03-04", Number.NaN), false, undefined],
    ["30 days past are past on the 30th", (day) => day.isPast("2026-03-04", 30), false, "2026-04-03"],
    [
      "a part of a day past is past on the next",
      (day) => day.isPast("2026-03-04", 29.2),
      false,
      "2026-04-03",
    ],
    ["what is past stays past", (day) => day.isPast("2026-03-04", 10), true, undefined],
    ["what has no number is never past", (day) => day.isPast("2026-03-04", Number.NaN), false, undefined],
    ["its own text is another one tomorrow", (day) => day.text, "2026-03-14", "2026-03-15"],
  ])("%s", (_what, ask, answer, until) => {
    expect(asked(ask)).toEqual([answer, until]);
  });

  test("the first of all is noted", () => {
    const until = asked((day) => [
      day.hasCome("2026-05-01"),
      day.isWithin("2026-03-04", 30),
      day.isAfter("2026-06-01"),
    ]);
    expect(until[1]).toBe("2026-04-04");
  });

  test("what is no day stays the same for no time", () => {
    expect(new JudgingDay("2026-02-30").mayChangeOn).toBe("2026-02-30");
  });
});

describe("a verdict changes by the calendar on the day it names, and not before", () => {
  test("in every hand-reasoned case, through the next three such days", () => {
    let changed = 0;
    for (const [name, change] of CASES) {
      const input = caseOf(change);
      let verdict = judgeCircuit(input);
      for (let span = 0; span < 3; span += 1) {
        expect([name, wrongDaysIn(input, verdict)]).toEqual([name, []]);
        if (verdict.mayChangeOn === undefined) break;
        const next = judgedOn(input, verdict.mayChangeOn);
        if (sayings(next) !== sayings(verdict)) changed += 1;
        verdict = next;
      }
    }
    expect(changed).toBeGreaterThan(CASES.length);
  });

  test("a plain fit one holds until its sample is too old", () => {
    const { verdict, mayChangeOn } = judgeCircuit(caseOf({}));
    expect([verdict, mayChangeOn]).toEqual(["fit", "2026-04-04"]);
    expect(judgedOn(caseOf({}), "2026-04-04").verdict).toBe("resample");
  });
});

const START = "2026-01-05";
const days = fc.integer({ min: 0, max: 160 });

const event: fc.Arbitrary<CircuitEvent> = fc
  .record({
    after: days,
    kind: fc.constantFrom(
      ...(["fluid-change", "top-up", "element-change", "opening", "dehydration", "circulation"] as const),
    ),
    minutes: fc.constantFrom(5, 20),
    addedL: fc.constantFrom(undefined, 1, 4),
  })
  .map(({ after, kind, minutes, addedL }) => ({
    on: dayAfter(START, after),
    kind,
    ...(kind === "circulation" && { minutes }),
    ...(kind === "top-up" && addedL !== undefined && { addedL }),
  }));

const history = (viscosity: number) =>
  fc
    .record({
      gaps: fc.array(fc.integer({ min: 1, max: 14 }), { minLength: 1, maxLength: 12 }),
      water: fc.integer({ min: 40, max: 190 }),
      slope: fc.constantFrom(0, 0.4, 2, 6),
      drift: fc.constantFrom(-0.05, 0, 0.05),
      only: fc.integer({ min: 0, max: 5 }),
    })
    .map(({ gaps, water, slope, drift, only }) => {
      let on = START;
      return gaps.map((gap, place): Sample => {
        on = dayAfter(on, gap);
        const { acidMgKohPerG, ...rest } = CLEAN;
        return {
          ...rest,
          ...(place !== only && { acidMgKohPerG }),
          sample: `S-${place}`,
          drawnOn: on,
          counts: counts(800 + 7 * (place % 3), 200, 30),
          waterPpm: { value: Math.round(water + slope * place * 3 + (place % 2)) },
          viscosity40Mm2PerS: { value: viscosity + drift * place },
        };
      });
    });

const requirement: fc.Arbitrary<Requirement> = fc
  .record({
    age: fc.constantFrom(10, 30, 45.5),
    acidAge: fc.constantFrom(undefined, 60),
    every: fc.constantFrom(undefined, 7, 20),
    state: fc.constantFrom(undefined, 3, 20),
    after: fc.constantFrom(undefined, 10),
    confidence: fc.boolean(),
  })
  .map(({ age, acidAge, every, state, after, confidence }) => ({
    ...REQUIREMENT,
    sampleAgeDaysMax: age,
    ...(acidAge !== undefined && { resultAgeDaysMax: { acid: acidAge } }),
    ...(every !== undefined && { sampleEveryDays: every }),
    ...(state !== undefined && { cartState: { ageDaysMax: state } }),
    ...(after !== undefined && {
      after: [{ event: "element-change" as const, sample: true, circulatedMinutesMin: after }],
    }),
    ...(confidence && { confidence: { probability: 0.95 } }),
  }));

const circuitCase: fc.Arbitrary<CircuitCase> = fc
  .record({
    samples: history(14),
    others: fc.option(history(11), { nil: undefined }),
    events: fc.array(event, { maxLength: 4 }),
    state: fc.option(days, { nil: undefined }),
    requirement,
    first: fc.integer({ min: 0, max: 90 }),
  })
  .map(({ samples, others, events, state, requirement: own, first }) => {
    const circuit: Circuit = {
      ...CIRCUIT,
      events,
      ...(state !== undefined && {
        state: {
          on: dayAfter(START, state),
          indicator: "clear",
          level: "normal",
          temperature: "normal",
          seals: "sound",
          elementUsed: 0.3,
        },
      }),
    };
    const neighbour: Circuit = { ...CIRCUIT, circuit: "2", fluid: "AS1241 Type IV" };
    return {
      ...{ cart: "C-1", circuit, requirement: own, samples, unread: [], on: dayAfter(START, first) },
      ...(others && { neighbours: [{ circuit: neighbour, samples: others }] }),
    };
  });

describe("the same of generated circuits", () => {
  test("day after day for a season, whatever is due, to come or getting old", () => {
    let [held, ended, changed] = [0, 0, 0];
    fc.assert(
      fc.property(circuitCase, (input) => {
        let anchor = judgeCircuit(input);
        for (let day = 1; day <= 60; day += 1) {
          const on = dayAfter(input.on, day);
          const next = judgedOn(input, on);
          const { mayChangeOn } = anchor;
          if (mayChangeOn === undefined || on < mayChangeOn) {
            held += 1;
            expect([on, sayings(next)]).toEqual([on, sayings(anchor)]);
            continue;
          }
          ended += 1;
          if (sayings(next) !== sayings(anchor)) changed += 1;
          anchor = next;
        }
      }),
      { numRuns: runs(12) },
    );
    // Most days change nothing, and most days that are named do.
    expect(held).toBeGreaterThan(5 * ended);
    expect(changed).toBeGreaterThan(ended / 2);
  });
});
