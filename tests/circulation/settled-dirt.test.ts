import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  type CirculationInput,
  type CirculationPlan,
  type CirculationQuestion,
  channelLevel,
  planCirculation,
  retainedAfter,
  timeToGoBy,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

/** A pass takes 4 min and β is 10: 0.9 of the particles go in each. */
const CIRCUIT: Omit<CirculationInput, "start"> = {
  volumeL: 60,
  flowLpm: 15,
  betas: [{ sizeUmC: 4, beta: 10 }],
  limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
};
const DEMO: CirculationInput = { ...CIRCUIT, start: cumulativeCounts([{ sizeUm: 4, count: 20_000 }], 1) };

/**
 * By hand, for one bin: dC/dn = −0.9·C + 3·D, dD/dn = −3·D, so C = C0·e^(−0.9n) + D0·3/(3 − 0.9)·(e^(−0.9n) − e^(−3n)).
 */
const byHand = (passes: number, settled: number, rate = 0.9) =>
  20_000 *
  (Math.exp(-rate * passes) +
    ((settled * 3) / (3 - rate)) * (Math.exp(-rate * passes) - Math.exp(-3 * passes)));

const levelOf = (plan: CirculationPlan, passes: number) =>
  channelLevel(plan, plan.channels[0] as CirculationPlan["channels"][number], passes);

const minutesOf = (input: CirculationInput) => {
  const plan = planCirculation(input);
  return plan.reachable ? plan.minutes : Number.NaN;
};

describe("settled dirt", () => {
  test.each([0, 0.3, 1, 2])("of %f times the start rises and falls as by hand", (settled) => {
    const plan = planCirculation({ ...DEMO, settled });
    for (const passes of [0, 0.2, 0.5, 1, 2, 5])
      expect(levelOf(plan, passes)).toBeCloseTo(byHand(passes, settled), 6);
  });

  test("as much again lifts the counts in the first half of a pass and lengthens the time by ln(1 + 3/2.1)/0.9 passes at most", () => {
    const plan = planCirculation({ ...DEMO, settled: 1 });
    expect(levelOf(plan, 0.25)).toBeGreaterThan(20_000);
    const longer = minutesOf({ ...DEMO, settled: 1 }) - minutesOf(DEMO);
    const most = (4 * Math.log(1 + 3 / 2.1)) / 0.9;
    expect(longer).toBeLessThan(most);
    // 0.04 of e^(−0.9·n) is all that e^(−3·n) still takes off after three passes.
    expect(longer).toBeGreaterThan(0.99 * most);
  });

  test("counts from the first pass on: what is inside before it is stirred up is not inside yet", () => {
    const clean = { ...DEMO, start: cumulativeCounts([{ sizeUm: 4, count: 1000 }], 1) };
    expect(minutesOf(clean)).toBe(0);
    expect(minutesOf({ ...clean, settled: 0.01 })).toBe(4);
    // 1000·(1 + 5·3/2.1)·e^(−0.9·n) is at 1300 after ln(8.143/1.3)/0.9 = 2.04 passes.
    expect(minutesOf({ ...clean, settled: 5 }) / 4).toBeCloseTo(2.03, 1);
  });

  test("is retained as well: start and settled dirt are in the fluid, in the element or still settled", () => {
    const plan = planCirculation({
      ...DEMO,
      settled: 0.7,
      mixing: { kind: "two-zone", slowFraction: 0.2, exchangePerPass: 0.3 },
    });
    for (const passes of [0, 0.4, 2, 20]) {
      const [channel] = plan.channels;
      if (channel === undefined) throw new Error("expected a channel");
      const settled = 14_000 * Math.exp(-3 * passes);
      expect(levelOf(plan, passes) + retainedAfter(plan, channel, passes) + settled).toBeCloseTo(34_000, 6);
    }
  });

  test("a rate of removal that is that of stirring makes no gap", () => {
    // A side stream of 2.1/0.9 times the flow: 0.9 + 2.333·0.9 = 3 per pass.
    const near = (flowLpm: number) =>
      levelOf(
        planCirculation({ ...DEMO, settled: 1, sideStream: { flowLpm, betas: [{ sizeUmC: 4, beta: 10 }] } }),
        1,
      );
    const at = (2.1 / 0.9) * 15;
    // 3·n·e^(−3n) more than e^(−3n), after one pass.
    expect(near(at) / (20_000 * 4 * Math.exp(-3))).toBeCloseTo(1, 5);
    expect(near(at * (1 + 1e-4)) / near(at)).toBeCloseTo(1, 3);
  });

  test.each([-0.1, Number.NaN, Number.POSITIVE_INFINITY])("of %f is refused", (settled) => {
    expect(() => planCirculation({ ...DEMO, settled })).toThrow(`settled must be 0 or more, not ${settled}`);
  });

  test("lengthens the time to go by, and the answer says what was taken", () => {
    const goBy = (input: CirculationInput) => {
      const found = timeToGoBy({ circuit: input, plan: planCirculation(input) }).goBy;
      return found.kind === "minutes" ? found.minutes : Number.NaN;
    };
    expect(goBy({ ...DEMO, settled: 1 })).toBeGreaterThan(goBy(DEMO) + 2);
    const [, said] = planCirculation({ ...DEMO, settled: 0.5 }).assumptions;
    expect(said).toMatchObject({ code: "settled-dirt", source: "PRACTICE" });
    expect(said?.message).toContain("50 % of what the starting sample shows");
    expect(said?.message).toContain("stirs up 95 % of it");
  });
});

/** Samples at some minutes, in times of the start. */
function interim(levels: readonly (readonly [minutes: number, times: number])[], more = {}) {
  const samples = levels.map(([minutes, times]) => ({
    minutes,
    counts: [{ sizeUmC: 4, perMl: { value: Math.round(20_000 * times) } }],
  }));
  const question: CirculationQuestion = {
    circuit: CIRCUIT,
    start: { counts: DEMO.start, assumptions: [] },
    interim: { samples, countedMl: 20 },
    confidence: { draws: 100 },
    ...more,
  };
  return answerCirculation(question);
}

const LABORATORIES = [0.05, 0.2].map((laboratory) => ({
  confidence: { draws: 100, uncertainty: { laboratory } },
}));
/** A sound circuit in which some of the dirt lay settled, and one whose element takes out a part of its rating. */
const sound = (settled: number, minutes: readonly number[]) =>
  minutes.map((at) => [at, byHand(at / 4, settled) / 20_000] as const);
const faulty = (part: number, minutes: readonly number[], settled = 0) =>
  minutes.map((at) => [at, byHand(at / 4, settled, 0.9 * part) / 20_000] as const);

describe.each(LABORATORIES)("samples drawn while it is stirred up, %j", (more) => {
  test.each([
    [0.5, [2]],
    [1, [1]],
    [1, [2]],
    [1, [4]],
    [1, [2, 4]],
    [1, [1, 5, 10]],
    [1, [2, 6, 10]],
    [1, [4, 8, 12]],
    [2, [2, 6, 10, 14]],
  ] as const)(
    "of %f times the start call a sound circuit not faulty, drawn at %j min",
    (settled, minutes) => {
      const found = interim(sound(settled, minutes), more);
      expect(found.interim?.diagnosis).toMatch(/as-rated|cannot-tell-yet/);
      expect(found.interim?.slowerSoFar).toBe(false);
      expect([found.allWell, found.next.kind]).not.toContain("stop");
      expect(found.allWell).toBe(true);
    },
  );

  test("that rise first say that settled dirt could explain it, and what was allowed for", () => {
    const { interim: read, assumptions } = interim(sound(1, [2]), more);
    expect(read?.meaning).toContain("Settled dirt that the first pass stirs up could explain");
    expect(assumptions.map(({ code }) => code)).toContain("settled-dirt-allowed");
  });

  test.each([
    ["nothing is held back", 0, 0, [4, 8, 12]],
    ["nothing is held back and dirt is stirred up", 0, 1, [2, 8, 14]],
    ["a fifth of the rating", 0.2, 0, [4, 10, 16]],
    ["a fifth of the rating and dirt is stirred up", 0.2, 1, [4, 12, 20]],
  ] as const)("do not hide a faulty circuit: %s", (_name, part, settled, minutes) => {
    const found = interim(faulty(part, minutes, settled), more);
    expect(found.allWell).toBe(false);
    expect(found.next.kind).not.toBe("verify");
  });

  test("of the first pass alone neither call it faulty nor end the search: another one is ordered after five minutes", () => {
    const { next } = interim(faulty(0, [2]), more);
    if (next.kind !== "verify") throw new Error(next.kind);
    expect(next.interimMinutes).toBeGreaterThan(5);
  });
});

test("a circuit that is said to hold no settled dirt has its counts read as they are", () => {
  const plan = planCirculation(DEMO);
  const rises = sound(1, [2, 4]);
  expect(interim(rises).interim?.slowerSoFar).toBe(false);
  expect(plan.settled).toBeUndefined();
  const none = interim(rises, { circuit: { ...CIRCUIT, settled: 0 } });
  expect(none.interim?.slowerSoFar).toBe(true);
});
