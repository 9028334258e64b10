import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  type CirculationInput,
  CUSTOMARY_INGRESS_SHARE,
  CUSTOMARY_MIXING,
  describeGoBy,
  describeGoByThenDraw,
  describeStatedTime,
  describeWhyThatTime,
  formatMinutes,
  formatPasses,
  type GoByInput,
  minutesSinceStart,
  planCirculation,
  TYPICAL_UNCERTAINTY,
  timeToGoBy,
  withCustomaryValues,
} from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

/** One channel, everything stated: ln(20000/1300)/0.9 = 3.037 passes of 4 minutes. */
const STATED: CirculationInput = {
  volumeL: 60,
  flowLpm: 15,
  betas: [{ sizeUmC: 4, beta: 10 }],
  bypass: 0,
  mixing: { kind: "well-mixed" },
  ingress: [],
  start: startOf(20_000),
  limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
};
const EXACT = { volume: 0, flow: 0, beta: 0, ingress: 0, laboratory: 0, countedMl: 20 };

function startOf(perMl: number) {
  return cumulativeCounts([{ sizeUm: 4, count: perMl }], 1);
}

function goBy(change: Partial<CirculationInput>, more: Partial<GoByInput> = {}) {
  const circuit = { ...STATED, ...change };
  const asked = { confidence: { uncertainty: EXACT }, ...more };
  return timeToGoBy({ circuit, plan: planCirculation(circuit), ...asked }).goBy;
}

function minutesOf(found: ReturnType<typeof goBy>): number {
  return found.kind === "minutes" ? found.minutes : Number.POSITIVE_INFINITY;
}

test.each([
  [0.8, [0.5, 0.8, 0.9, 0.95]],
  [0.95, [0.5, 0.9, 0.95]],
  [0.99, [0.5, 0.9, 0.95, 0.99]],
])(
  "times are quoted from the least sure to the surest, the required %d among them once",
  (confidence, quoted) => {
    const asked = { confidence: { confidence, uncertainty: EXACT, draws: 100 } };
    const { sure } = timeToGoBy({ circuit: STATED, plan: planCirculation(STATED), ...asked });
    expect(sure?.minutesFor.map(({ probability }) => probability)).toEqual(quoted);
  },
);

describe("with nothing uncertain but the laboratory, by hand", () => {
  const spread = Math.sqrt(Math.log1p(0.2 ** 2));
  const perE = 4 / 0.9;

  test("the start and the verifying bottle both scatter: 1.645·√2 standard deviations in the logarithm", () => {
    const draws = 40_000;
    const found = goBy({}, { confidence: { uncertainty: { ...EXACT, laboratory: 0.2 }, draws } });
    const byHand = perE * (Math.log(20_000 / 1300) + 1.645 * Math.SQRT2 * spread);
    expect(minutesOf(found) / byHand).toBeCloseTo(1, 2);
  });

  test("aimed at half of the limit the time is longer by ln 2", () => {
    const acceptance = {
      limits: [{ channel: "4", fromUm: 4, limit: 650 * 20, volumeMl: 20 }],
      countedMl: 20,
    };
    expect(minutesOf(goBy({}, { acceptance })) - minutesOf(goBy({}))).toBeCloseTo(perE * Math.LN2, 1);
  });

  test("few particles: a bottle of 1 mL allows 3, and their mean must be so low that 95 % show no more", () => {
    const acceptance = { limits: [{ channel: "4", fromUm: 4, limit: 3, volumeMl: 1 }], countedMl: 1 };
    const confidence = { uncertainty: { ...EXACT, countedMl: 1e6 }, draws: 40_000 };
    // Poisson: 3 or fewer in 95 % of the bottles for a mean of 1.366 (half the 5 % point of χ² with 8 degrees of freedom).
    const byHand = perE * Math.log(20_000 / 1.366);
    expect(minutesOf(goBy({}, { acceptance, confidence })) / byHand).toBeCloseTo(1, 2);
  });
});

describe("what matters lengthens the time, though nobody states it", () => {
  const stated = minutesOf(goBy({}));
  test.each<[string, Partial<CirculationInput>, number]>([
    ["how it mixes", { mixing: undefined } as never, 1.1],
    ["ingress", { ingress: undefined } as never, 1.01],
    ["a bypass", { bypass: undefined } as never, 1.05],
  ])("%s", (_name, change, times) => {
    expect(minutesOf(goBy(change)) / stated).toBeGreaterThan(times);
  });

  test("the volume of hoses, until the uncertainty of the volume is stated", () => {
    const { volume: _v, ...rest } = EXACT;
    expect(minutesOf(goBy({}, { confidence: { uncertainty: rest } })) / stated).toBeGreaterThan(1.15);
    const withHoses = goBy({}, { confidence: { uncertainty: { ...EXACT, hoses: 0.15 }, draws: 40_000 } });
    // 95 % of what is spread evenly up to 15 % lies below 14.25 %.
    expect(minutesOf(withHoses) / stated).toBeCloseTo(1.1425, 2);
  });

  test("leakage acts on 1 − 1/β itself: up to a tenth of it, 9.5 % in one of twenty", () => {
    const leaking = goBy({}, { confidence: { uncertainty: { ...EXACT, leakage: 0.1 }, draws: 40_000 } });
    expect(minutesOf(leaking) / stated).toBeCloseTo(1 / (1 - 0.095), 2);
  });

  test("every default is returned with its number, and gives way to what is stated", () => {
    const codes = (input: CirculationInput, uncertainty = {}) =>
      withCustomaryValues(input, { uncertainty }).assumptions.map(({ code }) => code);
    const { mixing: _m, ingress: _i, bypass: _b, ...least } = STATED;
    expect(codes(least)).toEqual(["typical-uncertainty", "customary-mixing", "customary-ingress"]);
    expect(codes(STATED, EXACT)).toEqual(["typical-uncertainty"]);
    expect(codes(STATED, { ...EXACT, slowZone: 0 })).toEqual([]);
    const { input, required } = withCustomaryValues(least);
    expect(input.mixing).toEqual(CUSTOMARY_MIXING);
    expect(required.uncertainty).toMatchObject({
      hoses: TYPICAL_UNCERTAINTY.hoses,
      leakage: TYPICAL_UNCERTAINTY.leakage,
    });
    expect(withCustomaryValues(STATED, { uncertainty: { volume: 0.02 } }).required.uncertainty).toMatchObject(
      {
        volume: 0.02,
        hoses: 0,
        leakage: 0,
      },
    );
  });

  test("customary ingress holds each size at its share of what the limits allow, with an ideal element", () => {
    const start = cumulativeCounts(
      [20_000, 5000, 640].map((count, index) => ({ sizeUm: [4, 6, 14][index] as number, count })),
      1,
    );
    const { input } = withCustomaryValues({
      volumeL: 60,
      flowLpm: 15,
      betas: [{ sizeUmC: 4, beta: 1e9 }],
      mixing: { kind: "well-mixed" },
      start,
      limits: limitsOfTarget(parseTarget("17/15/12")),
    });
    // 6 and 14 µm(c) allow the smallest share of the start: 320/5000 = 0.064 and 40/640 = 0.0625.
    const floors = planCirculation(input).channels.map(({ floor }) => floor);
    for (const [index, count] of [20_000, 5000, 640].entries())
      expect(floors[index]).toBeCloseTo(CUSTOMARY_INGRESS_SHARE * 0.0625 * count, 5);
  });
});

describe("the published least times", () => {
  test.each([
    [
      "a circuit that is nearly clean and quickly turned over: five minutes before a bottle",
      15,
      60,
      5,
      "five-minutes",
    ],
    ["a large circuit at a low flow that is nearly clean: one pass", 120, 15, 8, "one-pass"],
    ["exactly five minutes a pass: one pass, which is five minutes", 75, 15, 5, "one-pass"],
  ] as const)("%s", (_name, volumeL, flowLpm, minutes, governs) => {
    const found = goBy({ volumeL, flowLpm, start: startOf(1310) });
    expect(found).toMatchObject({ kind: "minutes", minutes, governs, passes: (minutes * flowLpm) / volumeL });
    expect(found.kind === "minutes" && describeWhyThatTime(found)).toContain(
      "the least that a rule asks for",
    );
    expect(found.kind === "minutes" && found.leastTimes.map(({ source }) => source)).toEqual([
      "NAVEDTRA-14018-CIRCULATION",
      "SE-SAMPLING",
    ]);
  });

  test("do not shorten a longer time", () => {
    expect(goBy({})).toMatchObject({ governs: "acceptance", minutes: expect.closeTo(12.2, 0) });
  });

  test("that end after ingress has lifted the level again leave no time", () => {
    // What enters below the rated size rises without end: 1,000 per mL at first, and 100 more with each minute.
    const found = goBy({
      volumeL: 150,
      start: cumulativeCounts([{ sizeUm: 4, count: 1250 }], 1),
      betas: [{ sizeUmC: 6, beta: 10 }],
      ingress: [{ sizeUmC: 4, particlesPerMin: 1.5e6 }],
    });
    expect(found.kind).toBe("no-time");
  });
});

describe("minutes that were run since the start was sampled, by hand", () => {
  const whole = minutesOf(goBy({}));
  // 120 L at 15 L/min take eight minutes a pass, and fluid this close to the limit needs no more.
  const slow = { volumeL: 120, start: startOf(1310) };

  test.each<[string, Partial<CirculationInput>, Partial<GoByInput>, number, string, boolean | undefined]>([
    ["none", {}, { done: { minutes: 0 } }, whole, "acceptance", undefined],
    ["some are taken off", {}, { done: { minutes: 3 } }, whole - 3, "acceptance", false],
    ["down to five minutes before a bottle", {}, { done: { minutes: whole - 4 } }, 5, "five-minutes", false],
    ["all of them: five minutes before a bottle", {}, { done: { minutes: whole } }, 5, "five-minutes", true],
    ["ever so many", {}, { done: { minutes: 1e4 } }, 5, "five-minutes", true],
    ["of one pass too", slow, { done: { minutes: 2 } }, 6, "one-pass", false],
    ["a whole pass", slow, { done: { minutes: 8 } }, 5, "five-minutes", true],
    ["not of those that are still due", {}, { done: { minutes: 20 }, dueMin: 30 }, 30, "requirement", false],
    ["nor where all of the rest was run", {}, { done: { minutes: 500 }, dueMin: 6 }, 6, "requirement", false],
    ["fewer due than before a bottle", {}, { done: { minutes: 500 }, dueMin: 4 }, 5, "five-minutes", true],
  ])("%s", (_name, change, more, minutes, governs, isEnough) => {
    const found = goBy(change, more);
    if (found.kind !== "minutes") throw new Error("expected minutes");
    expect([found.minutes, found.governs, found.done?.isEnough]).toEqual([
      expect.closeTo(minutes, 9),
      ...[governs, isEnough],
    ]);
    const { volumeL, flowLpm } = { ...STATED, ...change };
    expect(found.passes).toBeCloseTo((minutes * flowLpm) / volumeL, 9);
    expect(minutesSinceStart(found)).toBeCloseTo(minutes + (more.done?.minutes ?? 0), 9);
    expect(describeGoBy(found).endsWith(") more")).toBe(isEnough !== undefined);
  });

  test("more of them than ingress leaves room for: a bottle shows where the level is", () => {
    // 1250 per mL at first and 100,000 a minute into 60 L: above 1300 after half an hour.
    const rising = {
      start: startOf(1250),
      betas: [{ sizeUmC: 6, beta: 10 }],
      ingress: [{ sizeUmC: 4, particlesPerMin: 1e5 }],
    };
    expect(goBy(rising, { done: { minutes: 600 } })).toMatchObject({ minutes: 5, done: { isEnough: true } });
  });

  test.each([-1, Number.NaN, Number.POSITIVE_INFINITY])("%d is refused", (minutes) => {
    expect(() => goBy({}, { done: { minutes } })).toThrow("done.minutes");
  });

  test.each<[number | undefined, string, string]>([
    [undefined, "circulate 13 min (3.1 passes)", "circulate 13 min (3.1 passes), then draw a bottle"],
    [2, "circulate 11 min (2.6 passes) more", "circulate 11 min (2.6 passes) more, then draw a bottle"],
    [60, "circulate 5 min (1.3 passes) more", "draw a bottle now, after 5 min at full flow"],
  ])("%s of them: %s", (minutes, alone, withBottle) => {
    const found = goBy({}, minutes === undefined ? {} : { done: { minutes } });
    expect([describeGoBy(found), describeGoByThenDraw(found, "a bottle")]).toEqual([alone, withBottle]);
  });

  test.each<[Partial<GoByInput>, string]>([
    [{ dueMin: "1" as never }, "dueMin"],
    [{ confidence: { confidence: "1" as never } }, "confidence"],
    [{ confidence: { draws: "1" as never } }, "draws"],
    [{ confidence: { seed: "1" as never } }, "seed"],
  ])("a number that comes as text is refused by its name: %j", (asked, name) => {
    expect(() => goBy({}, asked)).toThrow(new RegExp(`^${name} must be a number`));
  });

  test("what they rest on is returned with the answer, a time or none", () => {
    const assumptions = [{ code: "as-run", message: "as it was run" }];
    const stuck = [{ sizeUmC: 4, particlesPerMin: 0.8 * 1300 * 0.9 * 15_000 }];
    for (const ingress of [[], stuck]) {
      const found = goBy(
        { ingress },
        { done: { minutes: 3, assumptions }, confidence: { uncertainty: { ...EXACT, ingress: 0.5 } } },
      );
      expect(found.kind).toBe(ingress === stuck ? "no-time" : "minutes");
      expect(found.assumptions).toContainEqual(assumptions[0]);
    }
  });
});

describe("where no time is long enough", () => {
  test("no minutes are given, and it is said how often a bottle would be accepted at the most", () => {
    const ingress = [{ sizeUmC: 4, particlesPerMin: 0.8 * 1300 * 0.9 * 15_000 }];
    const found = goBy({ ingress }, { confidence: { uncertainty: { ...EXACT, ingress: 0.5 } } });
    expect(found.kind).toBe("no-time");
    expect("minutes" in found).toBe(false);
    expect(describeGoBy(found)).toMatch(
      /^no time of circulating is known to be long enough: .* at most \d\d(\.\d)? % .* 95 % is required$/,
    );
  });

  test("nor where the stated values alone do not get there, with the obstacle", () => {
    const found = goBy({ betas: [{ sizeUmC: 4, beta: 1 }] });
    expect(found.kind === "no-time" && found.why).toContain("remove none of the smallest");
  });
});

describe("the flow that is needed within some minutes", () => {
  const within = (minutes: number) =>
    answerCirculation({
      circuit: STATED,
      start: { counts: STATED.start, assumptions: [] },
      confidence: { uncertainty: EXACT },
      withinMinutes: minutes,
    }).within?.flow;

  test("gives that time to go by, and a little less flow a longer one", () => {
    const flow = within(8);
    if (flow?.kind !== "enough") throw new Error("expected a flow");
    expect(minutesOf(goBy({ flowLpm: flow.value }))).toBeLessThanOrEqual(8);
    expect(minutesOf(goBy({ flowLpm: 0.99 * flow.value }))).toBeGreaterThan(8);
  });

  test("is smaller by what passed the element already, whatever the flow", () => {
    const done = { minutes: 6 };
    const asked = { circuit: STATED, start: { counts: STATED.start, assumptions: [] } };
    const { within: found } = answerCirculation({
      ...{ ...asked, confidence: { uncertainty: EXACT } },
      ...{ done, withinMinutes: 8 },
    });
    if (found?.flow.kind !== "enough") throw new Error("expected a flow");
    const { value: flowLpm } = found.flow;
    const left = (flow: number) =>
      minutesOf(goBy({ flowLpm: flow }, { done: { minutes: (done.minutes * STATED.flowLpm) / flow } }));
    expect(left(flowLpm)).toBeLessThanOrEqual(8);
    expect(left(0.99 * flowLpm)).toBeGreaterThan(8);
    expect(flowLpm).toBeLessThan(STATED.flowLpm);
  });

  test("is none where a bottle would be drawn before five minutes", () => {
    expect(within(4.9)).toEqual({ kind: "never-enough" });
  });
});

test("a start within the target by the stated values is said so, and no time of nothing", () => {
  const plan = planCirculation({ ...STATED, start: startOf(1300) });
  if (!plan.reachable) throw new Error(plan.obstacle);
  expect(describeStatedTime(plan)).toMatch(/the start is within the target already, and a verifying bottle/);
});

test.each([
  [7.353, "7.4 min", "7.4 passes"],
  [9.96, "10 min", "10 passes"],
  [10.01, "11 min", "11 passes"],
  [99.2, "100 min", "100 passes"],
  [104, "110 min", "110 passes"],
  [1201, "1300 min", "1300 passes"],
  [0, "0 min", "0 passes"],
])("%f is said in two digits, rounded up: %s", (value, minutes, passes) => {
  expect([formatMinutes(value), formatPasses(value)]).toEqual([minutes, passes]);
});
