// What a person types in place of what carts file, requirement or samples say: the minutes are those that judging would give had it
// been stated there, and each replaced value is said.
import { describe, expect, test } from "vitest";
import { answerCirculation } from "../../src/circulation/index.js";
import { parseTarget } from "../../src/cleanliness/index.js";
import {
  type CircuitCase,
  type CirculationChanges,
  circulationOfCircuit,
  judgeCircuit,
} from "../../src/fitness/index.js";
import { circulationFieldsOf, minutesToGoBy, readChanges } from "../../src/page/model/minutes.js";
import type { Circuit, Sample } from "../../src/samples/index.js";
import { ALL_US } from "../../src/units/index.js";
import { CIRCUIT, CLEAN, caseOf, countedIn, counts, REQUIREMENT } from "../support/fitness/bases.js";

// Two hoses of 8 m and 25 mm hold 16 m × π/4 × (25 mm)² = 7.854 L; one of them half of it.
const HOSES = [{ boreMm: 25, lengthM: 8, count: 2 }];
const ONE_HOSE = [{ boreMm: 25, lengthM: 8, count: 1 }];
const HOSES_L = (16 * Math.PI * 0.25 ** 2 * 10) / 4;
const DIRTY = countedIn(20, 20_000, 5000, 640);
const START = {
  counts: countedIn(20, 9000, 2000, 300),
  assumptions: [{ code: "read-so", message: "as read" }],
};

const asStated = (circuit: Partial<Circuit>): Partial<CircuitCase> => ({
  circuit: { ...CIRCUIT, ...circuit } as Circuit,
  samples: [{ ...CLEAN, counts: DIRTY }],
});
const STATED = asStated({ hoses: HOSES, volumeL: 60 + HOSES_L, coldestC: 10 });
const sampled = (change: Partial<Sample>): Partial<CircuitCase> => ({
  samples: [{ ...CLEAN, counts: DIRTY, ...change }],
});

/** The same, with the fields of the page. */
function doneOnPage(input: CircuitCase, { flowLpm, betas, volumeL }: CirculationChanges): number | undefined {
  const found = readChanges(
    {
      ...circulationFieldsOf(input.circuit),
      ...(flowLpm && { flow: `${flowLpm} L/min` }),
      ...(volumeL && { volume: `${volumeL} L` }),
      ...(betas && { betas: Object.fromEntries(betas.map(({ sizeUmC, beta }) => [sizeUmC, String(beta)])) }),
    },
    input,
  );
  const minutes = found.kind === "read" ? minutesToGoBy(found.value) : undefined;
  return minutes?.kind === "minutes" ? (minutes.goBy.done?.minutes ?? 0) : undefined;
}

function askedOf(base: Partial<CircuitCase>, changes?: CirculationChanges) {
  const found = circulationOfCircuit(caseOf(base), changes);
  if (found.kind !== "question") throw new Error(found.why);
  return found;
}

describe("a typed value takes the place of the one that is stated", () => {
  test.each<[string, CirculationChanges, Partial<CircuitCase>, Partial<CircuitCase>, string]>([
    [
      "a volume",
      { volumeL: 30 },
      asStated({}),
      asStated({ volumeL: 30 }),
      "volume: 30 L was typed and takes the place of 60 L",
    ],
    [
      "a volume, to which the hoses are added",
      { volumeL: 30 },
      STATED,
      asStated({ hoses: HOSES, volumeL: 30 + HOSES_L, coldestC: 10 }),
      "volume: 30 L was typed and takes the place of 60 L",
    ],
    [
      "hoses, whose litres take the place of those of the ones listed",
      { hoses: ONE_HOSE },
      STATED,
      asStated({ hoses: ONE_HOSE, volumeL: 60 + HOSES_L / 2, coldestC: 10 }),
      "hoses: what was typed takes the place of the 1 that are listed",
    ],
    [
      "hoses where none were listed",
      { hoses: HOSES },
      asStated({ coldestC: 10 }),
      STATED,
      "hoses: what was typed takes the place of nothing stated",
    ],
    [
      "volume and hoses",
      { volumeL: 40, hoses: ONE_HOSE },
      STATED,
      asStated({ hoses: ONE_HOSE, volumeL: 40 + HOSES_L / 2, coldestC: 10 }),
      "volume: 40 L was typed and takes the place of 60 L",
    ],
    [
      "a flow",
      { flowLpm: 30 },
      asStated({}),
      asStated({ flowLpm: 30 }),
      "flow: 30 L/min was typed and takes the place of 45 L/min",
    ],
    [
      "an element",
      {
        betas: [
          { sizeUmC: 4, beta: 50 },
          { sizeUmC: 14, beta: 200 },
        ],
      },
      asStated({
        element: {
          position: "return",
          betas: [{ sizeUmC: 4, beta: 2 }],
          assumptions: [{ code: "x", message: "y" }],
        },
      }),
      asStated({
        element: {
          position: "return",
          betas: [
            { sizeUmC: 4, beta: 50 },
            { sizeUmC: 14, beta: 200 },
          ],
        },
      }),
      "element: β4(c) = 50, β14(c) = 200 was typed and takes the place of β4(c) = 2",
    ],
    [
      "a bypass",
      { bypass: 0.2 },
      asStated({ leakage: 0 }),
      asStated({ bypass: 0.2, leakage: 0 }),
      "bypass: 20 % was typed and takes the place of nothing stated",
    ],
    [
      "that there is no bypass",
      { bypass: 0 },
      asStated({ bypass: 0.3 }),
      asStated({ bypass: 0 }),
      "bypass: 0 % was typed and takes the place of 30 %",
    ],
    [
      "ingress",
      { ingress: [{ sizeUmC: 4, particlesPerMin: 1e5 }] },
      asStated({}),
      asStated({ ingress: [{ sizeUmC: 4, particlesPerMin: 1e5 }] }),
      "ingress: what was typed takes the place of nothing stated",
    ],
    [
      "ingress in place of another one",
      { ingress: [{ sizeUmC: 4, particlesPerMin: 0 }] },
      asStated({ ingress: [{ sizeUmC: 4, particlesPerMin: 1e5 }] }),
      asStated({ ingress: [{ sizeUmC: 4, particlesPerMin: 0 }] }),
      "ingress: what was typed takes the place of the one stated",
    ],
    [
      "a slow zone",
      { slowZone: { kind: "two-zone", slowFraction: 0.3, exchangePerPass: 0.05 } },
      asStated({}),
      asStated({ slowZone: { fraction: 0.3, exchangePerPass: 0.05 } }),
      "slow zone: what was typed takes the place of nothing stated",
    ],
    [
      "another slow zone",
      { slowZone: { kind: "two-zone", slowFraction: 0, exchangePerPass: 0 } },
      asStated({ slowZone: { fraction: 0.3, exchangePerPass: 0.05 } }),
      asStated({ slowZone: { fraction: 0, exchangePerPass: 0 } }),
      "slow zone: what was typed takes the place of the one stated",
    ],
    [
      "settled dirt",
      { settled: 0.5 },
      asStated({}),
      asStated({ settled: 0.5 }),
      "settled dirt: 50 % was typed and takes the place of nothing stated",
    ],
    [
      "a target",
      { target: parseTarget("18/16/13") },
      sampled({}),
      { ...sampled({}), requirement: { ...REQUIREMENT, cleanliness: [parseTarget("18/16/13")] } },
      "target: ISO 4406 18/16/13 was typed and takes the place of ISO 4406 17/15/12",
    ],
    [
      "a target in place of two",
      { target: parseTarget("18/16/13") },
      {
        ...sampled({}),
        requirement: { ...REQUIREMENT, cleanliness: ["17/15/12", "NAS 1638 6"].map(parseTarget) },
      },
      { ...sampled({}), requirement: { ...REQUIREMENT, cleanliness: [parseTarget("18/16/13")] } },
      "target: ISO 4406 18/16/13 was typed and takes the place of ISO 4406 17/15/12 and NAS 1638 6",
    ],
    [
      "a port downstream",
      { port: "downstream" },
      sampled({}),
      sampled({ samplePoint: "downstream-of-element" }),
      "port: downstream was typed and takes the place of that of the samples",
    ],
    [
      "a port upstream",
      { port: "upstream" },
      sampled({ samplePoint: "downstream-of-element" }),
      sampled({ samplePoint: "upstream-of-element" }),
      "port: upstream was typed and takes the place of that of the samples",
    ],
    [
      "a start",
      { start: START },
      sampled({}),
      sampled({ sample: "as typed", drawnOn: "2026-03-14", counts: START.counts }),
      "start: what was typed takes the place of the last sample",
    ],
    [
      "a start and its port",
      { start: START, port: "downstream" },
      sampled({}),
      sampled({
        sample: "as typed",
        drawnOn: "2026-03-14",
        counts: START.counts,
        samplePoint: "downstream-of-element",
      }),
      "port: downstream was typed and takes the place of that of the samples",
    ],
  ])("%s", (_, changes, base, stated, said) => {
    const { goBy } = judgeCircuit(caseOf(stated));
    expect(goBy?.kind).toBe("minutes");
    const found = askedOf(base, changes);
    expect(found.verdict.goBy).toEqual(goBy);
    // The question asks for the same minutes as the verdict.
    expect(answerCirculation(found.question).goBy).toMatchObject({
      kind: "minutes",
      minutes: goBy?.kind === "minutes" && goBy.minutes,
    });
    const messages = found.assumptions
      .filter(({ code }) => code === "typed-in-place-of")
      .map(({ message }) => message);
    expect(messages).toContain(said);
    expect(messages).toHaveLength(Object.keys(changes).length);
    const without = askedOf(base);
    expect(without.assumptions).toEqual([]);
    expect(without.verdict).toEqual(judgeCircuit(caseOf(base)));
    expect(without.verdict.goBy).not.toEqual(goBy);
  });
});

describe("the question", () => {
  test("says which sample it starts from, and what was assumed of it and of a typed start", () => {
    const stated = askedOf(sampled({}));
    expect(stated.from).toEqual({ sample: "S-1", drawnOn: "2026-03-04" });
    expect(stated.question.start.counts).toEqual(DIRTY);
    const typed = askedOf(sampled({}), { start: START });
    expect(typed.from).toEqual({ sample: "as typed", drawnOn: "2026-03-14" });
    expect(typed.question.start.counts).toBe(START.counts);
    expect(typed.question.start.assumptions).toContainEqual(START.assumptions[0]);
    expect(stated.question.start.assumptions).not.toContainEqual(START.assumptions[0]);
  });

  test("a typed start takes the place of every count, class and limit that was reported, and of nothing else", () => {
    const worse: Sample = {
      ...CLEAN,
      ...{ sample: "S-2", drawnOn: "2026-03-10", counts: countedIn(20, 80_000, 20_000, 2560) },
      limitedCounts: [{ sizeUm: 21, volumeMl: 1, count: 1e5, limit: "above" }],
      waterPpm: { value: 900 },
    };
    const { verdict } = askedOf({ samples: [CLEAN, worse] }, { start: START });
    const alone = askedOf(sampled({}), { start: START });
    expect(verdict.goBy).toEqual(alone.verdict.goBy);
    expect(verdict.reasons.map(({ code }) => code)).toContain("water-outside");
  });

  test("carries port, confidence, acceptance, minutes due, hoses and units where there are any, and no such field elsewhere", () => {
    const plain = askedOf(sampled({}));
    for (const field of ["port", "acceptance", "dueMin", "flow", "shownIn"])
      expect(plain.question).not.toHaveProperty(field);
    const { circuit, ...rest } = asStated({
      hoses: HOSES,
      volumeL: 60 + HOSES_L,
      coldestC: 10,
      shownIn: ALL_US,
    });
    const changed = { on: "2026-03-01", kind: "element-change" as const };
    const whole = askedOf({
      ...rest,
      circuit: { ...(circuit as Circuit), events: [changed] },
      samples: [{ ...CLEAN, counts: DIRTY, samplePoint: "downstream-of-element" }],
      requirement: {
        ...REQUIREMENT,
        confidence: { probability: 0.9 },
        after: [{ event: "element-change", sample: true, circulatedMinutesMin: 50 }],
      },
    });
    expect(whole.question).toMatchObject({
      ...{ port: "downstream", dueMin: 50, shownIn: ALL_US },
      confidence: { confidence: 0.9 },
      flow: { fluid: "MIL-PRF-83282", hoses: HOSES, coldestC: 10 },
    });
    expect(whole.question.acceptance?.limits.map(({ channel }) => channel)).toEqual(["4", "6", "14"]);
    expect(whole.verdict.goBy).toMatchObject({ kind: "minutes", minutes: 50, governs: "requirement" });
    expect(answerCirculation(whole.question).goBy).toEqual(whole.verdict.goBy);
  });

  test("is none where the counts are inside, which is said apart from other causes", () => {
    expect(circulationOfCircuit(caseOf({}))).toMatchObject({ kind: "none", isClean: true });
    expect(circulationOfCircuit(caseOf({ samples: [] }))).toMatchObject({ kind: "none", isClean: false });
    const target = parseTarget("21/19/16");
    expect(circulationOfCircuit(caseOf(sampled({})), { target })).toMatchObject({
      kind: "none",
      isClean: true,
    });
    const dirty = circulationOfCircuit(caseOf({ samples: [{ ...CLEAN, counts: counts(1300) }] }));
    expect(dirty).toMatchObject({ kind: "none", isClean: false });
  });

  test("of a circuit without a requirement is asked with a typed target as little as without", () => {
    const { requirement: _none, ...input } = caseOf(sampled({}));
    const found = circulationOfCircuit(input, { target: parseTarget("17/15/12") });
    expect(found).toMatchObject({
      kind: "none",
      why: "no requirement is known for this circuit, so there is no target",
    });
    expect(found.assumptions.map(({ message }) => message)).toEqual([
      "target: ISO 4406 17/15/12 was typed and takes the place of nothing stated",
    ]);
  });
});

describe("minutes that were run before something was typed", () => {
  const BETAS = CIRCUIT.element.betas;
  const run = { on: "2026-03-05", kind: "circulation", minutes: 3 } as const;
  const events: Circuit["events"] = [run];

  // 3 min at 45 L/min are 135 L.
  test.each<[string, Circuit["events"], CirculationChanges, number]>([
    ["count as they are", events, {}, 3],
    ["count by the litres that passed, at half of the flow", events, { flowLpm: 22.5 }, 6],
    ["and at the flow of the log", [{ ...run, flowLpm: 15 }], { flowLpm: 30 }, 1.5],
    ["count through the same element, typed in another order", events, { betas: [...BETAS].reverse() }, 3],
    ["do not count through another element", events, { betas: [{ sizeUmC: 4, beta: 200 }] }, 0],
    [
      "nor when they are written with another event",
      [{ on: "2026-03-05", kind: "hookup", circulatedMinutes: 3 }],
      { betas: [{ sizeUmC: 4, beta: 200 }] },
      0,
    ],
    ["count in a volume that is typed", events, { volumeL: 90 }, 3],
  ])("%s", (_, log, changes, done) => {
    const { question } = askedOf(asStated({ events: log }), changes);
    expect(question.done?.minutes).toBeCloseTo(done, 9);
    const said = JSON.stringify(question.done?.assumptions ?? []);
    expect(said.includes("not run through the element that was typed")).toBe(done === 0 && log === events);
    expect(doneOnPage(caseOf(asStated({ events: log })), changes)).toBeCloseTo(done, 9);
  });
});
