// What a time to go by is made from, one value at a time and by hand.
import { describe, expect, test } from "vitest";
import { acceptedLevels } from "../../src/circulation/go-by/accepted-level.js";
import { statedCirculation } from "../../src/circulation/go-by/circuit-of-cart.js";
import { flowToGoBy } from "../../src/circulation/go-by/time-to-go-by.js";
import {
  type CirculationInput,
  describeStatedTime,
  describeWhyThatTime,
  formatPasses,
  leastTimes,
  planCirculation,
  timeToGoBy,
  withCustomaryValues,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import type { Circuit } from "../../src/samples/index.js";
import { CIRCUIT as CART_CIRCUIT } from "../support/fitness/bases.js";

const START = cumulativeCounts(
  [
    { sizeUm: 4, count: 20_000 },
    { sizeUm: 6, count: 5000 },
  ],
  1,
);
const LIMIT = { channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 };
const BARE: CirculationInput = {
  ...{ volumeL: 60, flowLpm: 15, betas: [{ sizeUmC: 4, beta: 10 }] },
  ...{ start: START, limits: [LIMIT] },
};

describe("a circuit of the carts file", () => {
  const { volumeL, flowLpm, element } = CART_CIRCUIT;
  const bare = { volumeL, flowLpm, betas: element.betas };
  const stated = (change: Partial<Circuit>) => statedCirculation({ ...CART_CIRCUIT, ...change });

  test("states no more than it holds", () => {
    expect(stated({})).toEqual({ circuit: bare, uncertainty: {}, assumptions: [] });
  });

  test.each<[string, Partial<Circuit>, object, object]>([
    ["a bypass, its seal as usual", { bypass: 0.2 }, { bypass: 1 - (1 - 0.2) }, { leakage: 0.1 }],
    ["a bypass of nothing", { bypass: 0 }, { bypass: 0 }, { leakage: 0.1 }],
    ["a seal, and nothing more that leaks", { leakage: 0.05 }, { bypass: 1 - (1 - 0.05) }, { leakage: 0 }],
    ["a sound seal", { leakage: 0 }, { bypass: 0 }, { leakage: 0 }],
    ["both, one after the other", { bypass: 0.2, leakage: 0.1 }, { bypass: 1 - 0.8 * 0.9 }, { leakage: 0 }],
    [
      "a slow zone",
      { slowZone: { fraction: 0.3, exchangePerPass: 0.05 } },
      { mixing: { kind: "two-zone", slowFraction: 0.3, exchangePerPass: 0.05 } },
      {},
    ],
    ["settled dirt", { settled: 0.5 }, { settled: 0.5 }, {}],
    ["no settled dirt", { settled: 0 }, { settled: 0 }, {}],
    [
      "ingress",
      { ingress: [{ sizeUmC: 4, particlesPerMin: 1e6 }] },
      { ingress: [{ sizeUmC: 4, particlesPerMin: 1e6 }] },
      {},
    ],
  ])("%s", (_name, change, circuit, uncertainty) => {
    expect(stated(change)).toEqual({ circuit: { ...bare, ...circuit }, uncertainty, assumptions: [] });
  });

  test("hoses: their volume is known, and how the fluid flows in them", () => {
    const hoses = [{ boreMm: 25, lengthM: 8, count: 2 }];
    const { circuit, uncertainty, flow, assumptions } = stated({ hoses });
    expect([circuit, uncertainty]).toEqual([bare, { hoses: 0 }]);
    expect(flow?.kind).toBe("laminar");
    const codes = assumptions.map(({ code }) => code);
    expect(codes).toEqual(expect.arrayContaining(["hoses-in-volume", "coldest-fluid"]));
    const cold = stated({ hoses, coldestC: 5 }).assumptions.map(({ code }) => code);
    expect(cold).not.toContain("coldest-fluid");
    expect(cold).toHaveLength(codes.length - 1);
  });
});

describe("what is customary", () => {
  const taken = (change: Partial<CirculationInput>) => withCustomaryValues({ ...BARE, ...change });
  const uncertaintyOf = (change: Partial<CirculationInput>) => taken(change).required.uncertainty;
  const twoZones = { kind: "two-zone", slowFraction: 0.1, exchangePerPass: 0.1 } as const;

  test.each<[string, Partial<CirculationInput>, object]>([
    ["nothing stated", {}, { slowZone: 0.5, ingress: 1, leakage: 0.1 }],
    ["mixing", { mixing: twoZones }, { slowZone: 0.3, ingress: 1 }],
    ["ingress", { ingress: [] }, { slowZone: 0.5, ingress: 0.3 }],
    ["the bypass of a second element", { inSeries: [{ betas: BARE.betas, bypass: 0 }] }, { leakage: 0 }],
    ["a second element without one", { inSeries: [{ betas: BARE.betas }] }, { leakage: 0.1 }],
    ["plug flow, which no circuit does", { mixing: { kind: "plug" } }, { slowZone: 0.5 }],
  ])("of the uncertainties: %s", (_name, change, uncertainty) => {
    expect(uncertaintyOf(change)).toMatchObject(uncertainty);
  });

  test("plug flow gives no shorter time to go by than nothing stated", () => {
    const minutes = (mixing?: CirculationInput["mixing"]) => {
      const circuit = { ...BARE, ...(mixing && { mixing }) };
      const { goBy } = timeToGoBy({ circuit, plan: planCirculation(circuit) });
      return goBy.kind === "minutes" ? goBy.minutes : Number.NaN;
    };
    expect(minutes({ kind: "plug" })).toBe(minutes());
    const [, said] = taken({ mixing: { kind: "plug" } }).assumptions;
    expect(said?.message).toMatch(
      /^how the circuit mixes is not known from plug flow, which no circuit does, so/,
    );
    expect(minutes({ kind: "plug" })).toBeGreaterThan(minutes({ kind: "well-mixed" }));
  });

  // 5 % of the tightest of limit over start, of each size, with every litre of 15 L/min.
  const perMin = (share: number, count: number) => 0.05 * share * count * 1000 * 15;
  test.each<[string, Partial<CirculationInput>, number]>([
    ["all above a size", {}, 1300 / 20_000],
    [
      "a range: 15,000 between 4 and 6 µm(c)",
      { limits: [{ channel: "4-6", fromUm: 4, toUm: 6, limit: 1500, volumeMl: 1 }] },
      1500 / 15_000,
    ],
    [
      "limits per 100 mL",
      { limits: [{ channel: "4", fromUm: 4, limit: 130_000, volumeMl: 100 }] },
      1300 / 20_000,
    ],
    [
      "the tightest of two",
      { limits: [LIMIT, { channel: "6", fromUm: 6, limit: 100, volumeMl: 1 }] },
      100 / 5000,
    ],
  ])("of ingress, with %s", (_name, change, share) => {
    const { ingress = [] } = taken(change).input;
    expect(ingress.map(({ sizeUmC }) => sizeUmC)).toEqual([4, 6]);
    for (const [index, count] of [20_000, 5000].entries())
      expect(ingress[index]?.particlesPerMin).toBeCloseTo(perMin(share, count), 6);
  });

  test("of ingress, with a start per 100 mL, is the same", () => {
    const counts = START.counts.map(({ sizeUm, count }) => ({ sizeUm, count: 100 * count }));
    const { ingress = [] } = taken({ start: cumulativeCounts(counts, 100) }).input;
    expect(ingress[0]?.particlesPerMin).toBeCloseTo(perMin(1300 / 20_000, 20_000), 6);
  });

  test("no ingress is customary at sizes of which the start shows none", () => {
    const none = (counts: readonly [number, number]) =>
      taken({
        start: cumulativeCounts(
          [4, 6].map((sizeUm, at) => ({ sizeUm, count: counts[at] as number })),
          1,
        ),
        limits: [LIMIT, { channel: "6", fromUm: 6, limit: 100, volumeMl: 1 }],
      }).input.ingress;
    expect(none([0, 0])).toEqual([]);
    // The limit at 6 µm(c), of which there are none, does not bound what enters.
    expect(none([20_000, 0])?.map(({ particlesPerMin }) => particlesPerMin)).toEqual([
      expect.closeTo(perMin(1300 / 20_000, 20_000), 6),
      0,
    ]);
  });
});

describe("the least times", () => {
  test("are a pass, five minutes and what the requirement still asks for, each in its words", () => {
    expect(leastTimes({ volumeL: 60, flowLpm: 15, dueMin: 30 })).toEqual([
      {
        ...{ rule: "one-pass", minutes: 4, source: "NAVEDTRA-14018-CIRCULATION" },
        meaning: "one circuit volume through the filters, 4 min",
      },
      {
        ...{ rule: "five-minutes", minutes: 5, source: "SE-SAMPLING" },
        meaning: "5 min at full flow before a bottle is drawn, longer in proportion at a lower flow",
      },
      {
        ...{ rule: "requirement", minutes: 30, source: "PRACTICE" },
        meaning: "30 min that the requirement still asks for",
      },
    ]);
    expect(leastTimes({ volumeL: 60, flowLpm: 15 }).map(({ rule }) => rule)).toEqual([
      "one-pass",
      "five-minutes",
    ]);
  });

  test.each([
    [{ volumeL: 60 }, undefined, "five-minutes", 5, /^the least that a rule asks for: 5 min at full flow/],
    [
      { volumeL: 300 },
      undefined,
      "one-pass",
      20,
      /^the least that a rule asks for: one circuit volume .* 20 min$/,
    ],
    [{}, 90, "requirement", 90, /^the least that a rule asks for: 90 min that the requirement/],
    [
      { dirty: true },
      undefined,
      "acceptance",
      undefined,
      /^a verifying bottle drawn then is accepted in 95 % of/,
    ],
  ] as const)("%j, %j due: %s governs, and says so", (change, dueMin, governs, minutes, words) => {
    const { dirty = false, ...volume } = { dirty: false, ...change };
    const clean = cumulativeCounts([{ sizeUm: 4, count: dirty ? 20_000 : 100 }], 1);
    const circuit = { ...BARE, ...volume, start: clean };
    const { goBy } = timeToGoBy({
      ...{ circuit, plan: planCirculation(circuit) },
      ...(dueMin !== undefined && { dueMin }),
    });
    if (goBy.kind !== "minutes") throw new Error(goBy.why);
    expect(goBy.governs).toBe(governs);
    if (minutes !== undefined) expect(goBy.minutes).toBe(minutes);
    expect(describeWhyThatTime(goBy)).toMatch(words);
  });

  test("the time by the stated values is said, and that nobody goes by it", () => {
    const plan = planCirculation({ ...BARE, start: cumulativeCounts([{ sizeUm: 4, count: 20_000 }], 1) });
    if (!plan.reachable) throw new Error(plan.obstacle);
    // ln(20000/1300)/0.9 = 3.04 passes of 4 minutes.
    expect(describeStatedTime(plan)).toBe(
      "by the stated values alone 13 min (3.1 passes), which is enough in about half of the cases at best: do not go by it",
    );
    expect([0.95, 1, 1.01].map(formatPasses)).toEqual(["1 pass", "1 pass", "1.1 passes"]);
  });
});

describe("the level at which a bottle is accepted", () => {
  const plan = planCirculation({
    ...BARE,
    limits: [
      LIMIT,
      { channel: "4-6", fromUm: 4, toUm: 6, limit: 980, volumeMl: 1 },
      { channel: "6", fromUm: 6, limit: 3, volumeMl: 1 },
    ],
  });

  test("lies below a limit of 3 in 1 mL by counting alone: 1.366, half the 5 % point of χ² with 8 degrees of freedom", () => {
    expect(acceptedLevels(plan, { countedMl: 1, laboratory: 0 }, 0.95)[2]).toBeCloseTo(1.366, 3);
    // A volume in which 3 is 2.9999999 of the limit still allows 3.
    expect(acceptedLevels(plan, { countedMl: 1 - 1e-9, laboratory: 0 }, 0.95)[2]).toBeCloseTo(1.366, 3);
  });

  test("is that of its own channel where the judge accepts less", () => {
    const acceptance = {
      countedMl: 100,
      limits: [
        { channel: "4-6", fromUm: 4, toUm: 6, limit: 49_000, volumeMl: 100 },
        { channel: "6", fromUm: 6, limit: 100, volumeMl: 100 },
      ],
    };
    const [all, range, larger] = acceptedLevels(plan, { countedMl: 100, laboratory: 0 }, 0.95, acceptance);
    // 1.645 times the root of the count below 130,000, 49,000 and 100 particles in 100 mL.
    expect(all).toBeCloseTo(1300 - (1.645 * Math.sqrt(130_000)) / 100, 0);
    expect(range).toBeCloseTo(490 - (1.645 * Math.sqrt(49_000)) / 100, 0);
    expect(larger).toBeCloseTo(1 - (1.645 * Math.sqrt(100)) / 100, 1);
  });
});

describe("the flow with which the time to go by is no longer than some minutes", () => {
  const input = { circuit: BARE, plan: planCirculation(BARE), confidence: { draws: 100 } };
  const minutesAt = (flowLpm: number) => {
    const circuit = { ...BARE, flowLpm };
    const { goBy } = timeToGoBy({ ...input, circuit, plan: planCirculation(circuit) });
    return goBy.kind === "minutes" ? goBy.minutes : Number.POSITIVE_INFINITY;
  };

  test("is just enough: a hundredth less is not", () => {
    const need = flowToGoBy(input, 12);
    if (need.kind !== "enough") throw new Error("expected a flow");
    expect(minutesAt(need.value)).toBeLessThanOrEqual(12);
    expect(minutesAt(0.99 * need.value)).toBeGreaterThan(12);
  });

  test("is none below the five minutes that a rule asks for, whatever flows, and 5 minutes can be had", () => {
    expect(flowToGoBy(input, 4.9).kind).toBe("never-enough");
    expect(flowToGoBy(input, 5).kind).toBe("enough");
  });

  test.each([0, -1, Number.NaN])("of %f minutes is refused by name", (minutes) => {
    expect(() => flowToGoBy(input, minutes)).toThrow(`minutes must be more than 0, not ${minutes}`);
  });
});
