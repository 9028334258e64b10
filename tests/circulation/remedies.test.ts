import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  type CirculationInput,
  describeInstead,
  insteadOfTime,
  planCirculation,
  type Remedy,
  remediesFor,
  timeToGoBy,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

/** 60 L, 15 L/min, β 1.7 and ingress that holds the particles above 4 µm(c) at 1,133 per mL, too near the limit. */
const STUCK: CirculationInput = {
  volumeL: 60,
  flowLpm: 15,
  betas: [{ sizeUmC: 4, beta: 1.7 }],
  start: cumulativeCounts([{ sizeUm: 4, count: 20_000 }], 1),
  limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
  ingress: [{ sizeUmC: 4, particlesPerMin: 7e6 }],
};
const confidence = { draws: 300 };

function minutesWith(change: Partial<CirculationInput>): number {
  const circuit = { ...STUCK, ...change };
  const { goBy } = timeToGoBy({ circuit, plan: planCirculation(circuit), confidence });
  return goBy.kind === "minutes" ? goBy.minutes : Number.POSITIVE_INFINITY;
}

function enoughOf(remedy: Remedy): number {
  if (remedy.kind !== "enough") throw new Error("expected a value");
  return remedy.value;
}

const CHANGES: [
  string,
  keyof ReturnType<typeof remediesFor>,
  (value: number) => Partial<CirculationInput>,
  1 | -1,
][] = [
  ["β", "beta", (beta) => ({ betas: [{ sizeUmC: 4, beta }] }), 1],
  ["flow", "flowLpm", (flowLpm) => ({ flowLpm }), 1],
  [
    "ingress",
    "ingressFraction",
    (share) => ({ ingress: [{ sizeUmC: 4, particlesPerMin: 7e6 * share }] }),
    -1,
  ],
];

describe.each([75, 120])("remedies within %s minutes", (withinMinutes) => {
  const remedies = remediesFor({ circuit: STUCK, confidence }, withinMinutes);

  test.each(CHANGES)(
    "%s gives a time to go by that is no longer, and one less in its second digit does not",
    (_name, field, change, up) => {
      const remedy = remedies[field] as Remedy;
      const value = enoughOf(remedy);
      expect(value).toBe(Number(value.toPrecision(2)));
      const minutes = minutesWith(change(value));
      expect(remedy).toMatchObject({ minutes });
      expect(minutes).toBeLessThanOrEqual(remedies.withinMinutes);
      const lastDigit = 10 ** (Math.floor(Math.log10(value)) - 1);
      expect(minutesWith(change(value - up * lastDigit))).toBeGreaterThan(remedies.withinMinutes);
    },
  );
});

test("an hour is waited for, or ten passes where those take longer", () => {
  expect(remediesFor({ circuit: STUCK, confidence }).withinMinutes).toBe(60);
  expect(remediesFor({ circuit: { ...STUCK, volumeL: 300 }, confidence }).withinMinutes).toBe(200);
});

test.each<[string, Partial<CirculationInput>, string, string]>([
  ["an element that is too coarse", {}, "finer-element", "fit a finer element"],
  [
    "ingress that is too much for any element",
    { ingress: [{ sizeUmC: 4, particlesPerMin: 1e9 }] },
    ...(["less-ingress", "find and stop what lets dirt in"] as const),
  ],
  [
    "both at once",
    { betas: [{ sizeUmC: 4, beta: 1.0001 }], ingress: [{ sizeUmC: 4, particlesPerMin: 1e9 }] },
    ...(["fresh-fluid", "exchange the fluid"] as const),
  ],
  [
    "two elements that are both too coarse",
    { betas: [{ sizeUmC: 4, beta: 1.01 }], inSeries: [{ betas: [{ sizeUmC: 4, beta: 1.01 }] }] },
    ...(["finer-element", "fit a finer element"] as const),
  ],
])("in place of circulating, with %s: %s", (_name, change, instead, words) => {
  const input = { circuit: { ...STUCK, ...change }, confidence };
  expect(insteadOfTime(input)).toBe(instead);
  expect(describeInstead(insteadOfTime(input))).toBe(words);
});

test("minutes that were run do not make a remedy enough", () => {
  const input = { circuit: { ...STUCK, volumeL: 400 }, confidence };
  expect(remediesFor({ ...input, done: { minutes: 500 } })).toEqual(remediesFor(input));
});

test("minutes that a requirement asks for anyway are waited for, and leave no remedy out", () => {
  const due = remediesFor({ circuit: STUCK, confidence, dueMin: 90 });
  expect(due.withinMinutes).toBe(90);
  expect([due.beta, due.flowLpm, due.ingressFraction].map(({ kind }) => kind)).toEqual(
    Array(3).fill("enough"),
  );
  expect(due.beta).toMatchObject({ minutes: 90 });
  expect(remediesFor({ circuit: STUCK, confidence, dueMin: 30 }).withinMinutes).toBe(60);
});

test("no β is enough where ingress alone is too much, and no flow where nothing is held back", () => {
  const flood = { ...STUCK, ingress: [{ sizeUmC: 4, particlesPerMin: 1e9 }] };
  expect(remediesFor({ circuit: flood, confidence }).beta).toEqual({ kind: "never-enough" });
  const blind = remediesFor({ circuit: { ...STUCK, betas: [{ sizeUmC: 6, beta: 100 }] }, confidence });
  expect([blind.flowLpm, blind.ingressFraction].map(({ kind }) => kind)).toEqual([
    "never-enough",
    "never-enough",
  ]);
  expect(blind.beta.kind).toBe("enough");
});

test("a second element in series is replaced with the first", () => {
  const inSeries = [{ betas: [{ sizeUmC: 4, beta: 1.01 }] }];
  const alone = remediesFor({ circuit: STUCK, confidence }).beta;
  const both = remediesFor({ circuit: { ...STUCK, inSeries }, confidence }).beta;
  // The β of two elements in a row multiply, so each needs the root of what one alone needs, but for rounding and leakage.
  expect(enoughOf(both) ** 2).toBeGreaterThan(enoughOf(alone) - 0.1);
  expect((enoughOf(both) - 0.2) ** 2).toBeLessThan(enoughOf(alone));
});

test("the β is that of the smallest size with a limit", () => {
  const limits = [{ channel: "14", fromUm: 14, limit: 40, volumeMl: 1 }, ...STUCK.limits];
  const start = cumulativeCounts(
    [
      { sizeUm: 4, count: 20_000 },
      { sizeUm: 14, count: 100 },
    ],
    1,
  );
  const ingress = [...(STUCK.ingress ?? []), { sizeUmC: 14, particlesPerMin: 0 }];
  const { fromUmC, beta } = remediesFor({ circuit: { ...STUCK, start, limits, ingress }, confidence });
  expect([fromUmC, beta.kind]).toEqual([4, "enough"]);
});

test("the flow that is enough may be any multiple of the stated one that a pump can give", () => {
  const large = {
    ...STUCK,
    ...{ volumeL: 120, flowLpm: 40, ingress: [{ sizeUmC: 4, particlesPerMin: 2e7 }] },
  };
  const flow = enoughOf(remediesFor({ circuit: large, confidence }).flowLpm);
  // Ingress over flow has to fall as far as from 7e6/15 to what 30 L/min make of it, see above, or further.
  expect(flow).toBeGreaterThan(40 * 2);
  expect(flow).toBeLessThan(40 * 2.5);
});

test("are given wherever there is no time to go by, also where the stated values alone get there", () => {
  const circuit = { ...STUCK, ingress: [{ sizeUmC: 4, particlesPerMin: 6e6 }] };
  const { start, ...rest } = circuit;
  const answer = answerCirculation({ circuit: rest, start: { counts: start, assumptions: [] }, confidence });
  expect([answer.plan.reachable, answer.goBy.kind]).toEqual([true, "no-time"]);
  expect(answer.remedies?.beta.kind).toBe("enough");
  const { remedies } = answerCirculation({
    circuit: { ...rest, ingress: [] },
    start: { counts: start, assumptions: [] },
    confidence,
  });
  expect(remedies).toBeUndefined();
});
