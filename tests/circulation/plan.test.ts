import { expect, test } from "vitest";
import {
  bracketOf,
  type CirculationInput,
  channelLevel,
  circulationFloor,
  expectAfter,
  flowNeeded,
  type PlannedChannel,
  passesToLimit,
  planCirculation,
  portLevel,
  rulesOfThumb,
} from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

const perMl = (counts: Record<number, number>) =>
  cumulativeCounts(
    Object.entries(counts).map(([size, count]) => ({ sizeUm: Number(size), count })),
    1,
  );

const demo: CirculationInput = {
  volumeL: 60,
  flowLpm: 45,
  betas: [
    { sizeUmC: 4, beta: 20 },
    { sizeUmC: 6, beta: 100 },
    { sizeUmC: 14, beta: 1000 },
  ],
  start: perMl({ 4: 20000, 6: 5000, 14: 640 }),
  limits: limitsOfTarget(parseTarget("17/15/12")),
};

/** Of the demo's bins, by hand: 1000 of all get through, 50 of those above 6 µm(c) and 0.64 of those above 14. */
const REMOVED_4_6 = 1 - (1000 - 50) / 15_000;
const REMOVED_6_14 = 1 - (50 - 0.64) / 4360;

function minutesOf(input: CirculationInput): number {
  const plan = planCirculation(input);
  if (!plan.reachable) throw new Error(plan.obstacle);
  return plan.minutes;
}

function channelOf(input: CirculationInput, name: string): PlannedChannel {
  return planCirculation(input).channels.find((channel) => channel.channel === name) as PlannedChannel;
}

test("with one β for all sizes the bins give the hand formula t = (V/(Q·e))·ln((C0−C∞)/(Ct−C∞)) to rounding", () => {
  for (const beta of [1.5, 10, 75, 1000]) {
    for (const ingress of [0, 3e5, 1e7]) {
      const input: CirculationInput = {
        ...demo,
        betas: [{ sizeUmC: 4, beta }],
        ingress: [{ sizeUmC: 4, particlesPerMin: ingress }],
        limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
      };
      const e = 1 - 1 / beta;
      const floor = ingress / (45 * 1000 * e);
      const minutes = (60 / (45 * e)) * Math.log((20000 - floor) / (1300 - floor));
      expect(minutesOf(input) / minutes).toBeCloseTo(1, 13);
    }
  }
});

test("the closed form of one channel gives the same passes as the bins", () => {
  const plan = planCirculation({ ...demo, betas: [{ sizeUmC: 4, beta: 10 }] });
  const alone = passesToLimit({ start: 20000, removal: 0.9, ingressPerMlPerPass: 0 }, 1300);
  expect(plan.channels[0]?.outcome).toMatchObject({
    passes: expect.closeTo(alone.kind === "reached" ? alone.passes : 0, 12),
  });
});

test("two bins by hand: of 15,000 particles 950 get through, of 5000 50, and their sum meets the limit", () => {
  const input = {
    ...demo,
    start: perMl({ 4: 20000, 6: 5000 }),
    limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
  };
  const passes = (minutesOf(input) * 45) / 60;
  // β = 20 lets 1000 of all 20,000 through, β = 100 lets 50 of the 5000 above 6 µm(c) through.
  expect(15000 * Math.exp(-(1 - 950 / 15000) * passes) + 5000 * Math.exp(-0.99 * passes)).toBeCloseTo(
    1300,
    8,
  );
});

test("the particles of a range are held against its limit by themselves", () => {
  const range = { channel: "6-14", fromUm: 6, toUm: 14, limit: 32000, volumeMl: 100 };
  const channel = channelOf({ ...demo, limits: [range] }, "6-14");
  expect(channel.start).toBe(4360);
  // 50 of 5000 get through, and 0.64 of the 640 above 14 µm(c).
  const passes = Math.log(4360 / 320) / (1 - (50 - 0.64) / 4360);
  expect(channel.outcome).toMatchObject({ passes: expect.closeTo(passes, 12) });
});

test.each([
  // Bin 4-6: 10,000 − 250 of 15,000 get through, 0.65. 15,000·e^(−0.35 n) is at 1300 after 6.99 passes of 4 minutes.
  { betas: [2, 20, 1000], minutes: 28.0, governing: "4", digits: 1 },
  // Bin 4-6: 13,333 − 1000 of 15,000 get through, 0.822, so 13.76 passes.
  { betas: [1.5, 5, 75], minutes: 55.0, governing: "4", digits: 1 },
  // Above 14 µm(c) 640 must come to 40, ln 16 / 0.999 passes; the bins below are faster.
  { betas: [75, 200, 1000], minutes: 11.1, governing: "14", digits: 2 },
])("β $betas at 4, 6 and 14 µm(c) are cumulative: 21/19/16 to 17/15/12 takes $minutes min by hand", (row) => {
  const plan = planCirculation({
    ...demo,
    flowLpm: 15,
    betas: [4, 6, 14].map((sizeUmC, index) => ({ sizeUmC, beta: row.betas[index] as number })),
  });
  expect(plan).toMatchObject({ reachable: true, governing: row.governing });
  expect(plan.reachable && plan.minutes).toBeCloseTo(row.minutes, row.digits);
});

test.each([
  // Nothing is credited below the smallest rated size, and no bin loses more than all of its particles.
  { name: "rated from 6 µm(c)", betas: { 6: 10, 14: 100 }, start: { 4: 9000, 6: 3000, 14: 100 }, removed: 0 },
  // 500 of 1000 get through by β4, 49.5 of 990 by β6: more than the 10 of the bin, so all of them.
  { name: "nearly empty", betas: { 4: 2, 6: 20 }, start: { 4: 1000, 6: 990 }, removed: 0 },
  // An empty bin counts as half a particle: 10.5/10 − 10/20 get through, that is all of it.
  { name: "empty, far better above", betas: { 4: 10, 6: 20 }, start: { 4: 10, 6: 10 }, removed: 0 },
  // 1.5/100 − 1/200 = 0.01 get through, of half a particle.
  { name: "empty, little above", betas: { 4: 100, 6: 200 }, start: { 4: 1, 6: 1 }, removed: 0.98 },
  { name: "one β for all sizes", betas: { 4: 50 }, start: { 4: 1000, 6: 900, 14: 10 }, removed: 0.98 },
  // β falls with size: no bin is credited with more than its smallest β, 1 − 1/5.
  { name: "falling β", betas: { 4: 20, 5: 5, 6: 20 }, start: { 4: 1000, 6: 500 }, removed: 0.8 },
  // (1000/10 − 500/100) of 500: 1 − 95/500.
  { name: "rising β", betas: { 4: 10, 6: 100 }, start: { 4: 1000, 6: 500 }, removed: 0.81 },
])(
  "of the bin 4 to 6 µm(c) the first pass removes $removed where it is $name",
  ({ betas, start, removed }) => {
    const limits = [{ channel: "4-6", fromUm: 4, toUm: 6, limit: 1, volumeMl: 1 }];
    const rated = Object.entries(betas).map(([size, beta]) => ({ sizeUmC: Number(size), beta }));
    const { removal } = channelOf({ ...demo, betas: rated, start: perMl(start), limits }, "4-6");
    expect(removal).toBeCloseTo(removed, 12);
  },
);

test("counts per 100 mL give the plan of the same counts per mL, above a size and in a range", () => {
  const limits = [
    { channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 },
    { channel: "6-14", fromUm: 6, toUm: 14, limit: 32000, volumeMl: 100 },
  ];
  const mixing = { kind: "two-zone", slowFraction: 0.3, exchangePerPass: 0.1 } as const;
  const reported = cumulativeCounts(
    [
      { sizeUm: 4, count: 2_000_000 },
      { sizeUm: 6, count: 500_000 },
      { sizeUm: 14, count: 64_000 },
    ],
    100,
  );
  const input = { ...demo, limits, mixing };
  expect(planCirculation({ ...input, start: reported })).toEqual(planCirculation(input));
});

test("a count exactly on its limit needs no circulation, one particle more does", () => {
  const limits = [{ channel: "4", fromUm: 4, limit: 130_000, volumeMl: 100 }];
  expect(minutesOf({ ...demo, start: cumulativeCounts([{ sizeUm: 4, count: 130_000 }], 100), limits })).toBe(
    0,
  );
  expect(
    minutesOf({ ...demo, start: cumulativeCounts([{ sizeUm: 4, count: 130_001 }], 100), limits }),
  ).toBeGreaterThan(0);
});

test("a count exactly on its limit is inside although its bins add up to a hair more", () => {
  // In binary (1300 − 408.8) + (408.8 − 214.9) + 214.9 is more than 1300.
  const limits = [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }];
  expect(minutesOf({ ...demo, start: perMl({ 4: 1300, 6: 408.8, 14: 214.9 }), limits })).toBe(0);
});

test("credited below the smallest rated size, log β takes the lower of two straight lines", () => {
  const limits = [{ channel: "4-6", fromUm: 4, toUm: 6, limit: 1, volumeMl: 1 }];
  const removal = (betas: CirculationInput["betas"]) =>
    channelOf({ ...demo, betas, limits, belowRated: "log-line" }, "4-6").removal;
  // From β = 1 at 0 µm: 100^(4/6) = 21.5; prolonged from 6 and 14 µm: 56.2. Of 20,000 and of the 5000 above 6 µm.
  expect(
    removal([
      { sizeUmC: 6, beta: 100 },
      { sizeUmC: 14, beta: 1000 },
    ]),
  ).toBeCloseTo(1 - (20_000 / 100 ** (4 / 6) - 50) / 15_000, 12);
  // From β = 1 at 0 µm: 10^(4/6) = 4.64; prolonged from 6 and 8 µm: 10/10 = 1, no removal.
  expect(
    removal([
      { sizeUmC: 6, beta: 10 },
      { sizeUmC: 8, beta: 100 },
    ]),
  ).toBeCloseTo(0, 12);
});

test("elements in series multiply what they let through, and a bypass goes around each", () => {
  const limits = [{ channel: "14", fromUm: 14, limit: 40, volumeMl: 1 }];
  const betas = [{ sizeUmC: 4, beta: 2 }];
  const removal = (extra: Partial<CirculationInput>) =>
    channelOf({ ...demo, betas, limits, ...extra }, "14").removal;
  expect(removal({})).toBe(0.5);
  expect(removal({ bypass: 0.1 })).toBeCloseTo(0.45, 14);
  expect(
    removal({ bypass: 0.1, inSeries: [{ betas: [{ sizeUmC: 4, beta: 5 }], bypass: 0.25 }] }),
  ).toBeCloseTo(1 - (1 - 0.45) * (1 - 0.6), 14);
});

test("a side stream of a third of the flow adds a third of its own removal to each pass", () => {
  const sideStream = { flowLpm: 15, betas: [{ sizeUmC: 4, beta: 4 }] };
  const betas = [{ sizeUmC: 4, beta: 2 }];
  expect(channelOf({ ...demo, betas, sideStream }, "14").removal).toBeCloseTo(0.5 + 0.75 / 3, 14);
});

test("below the smallest rated size nothing is credited, so those particles keep a channel from its limit", () => {
  const betas = [{ sizeUmC: 6, beta: 100 }];
  const plan = planCirculation({ ...demo, betas });
  expect(plan).toMatchObject({ reachable: false, governing: "4" });
  expect(plan.channels[0]?.floor).toBe(15000);
  expect(plan.assumptions.map((entry) => entry.code)).toContain("no-removal-below-rated");
  const credited = planCirculation({ ...demo, betas, belowRated: "log-line" });
  expect(credited.reachable).toBe(true);
  expect(credited.assumptions.map((entry) => entry.code)).toContain("beta-credited-below-rated");
});

test("where β falls with size a bin takes its smallest β, and says so", () => {
  const betas = [
    { sizeUmC: 4, beta: 50 },
    { sizeUmC: 10, beta: 5 },
    { sizeUmC: 14, beta: 50 },
  ];
  const limits = [{ channel: "6-14", fromUm: 6, toUm: 14, limit: 320, volumeMl: 1 }];
  expect(channelOf({ ...demo, betas, limits }, "6-14").removal).toBeCloseTo(0.8, 14);
  expect(planCirculation({ ...demo, betas, limits }).assumptions.map((entry) => entry.code)).toContain(
    "beta-falls-with-size",
  );
});

test("the slowest channel decides, and when all are inside the one nearest its limit", () => {
  expect(planCirculation(demo).governing).toBe("4");
  expect(planCirculation({ ...demo, start: perMl({ 4: 1000, 6: 310, 14: 20 }) })).toMatchObject({
    governing: "6",
    passes: 0,
    minutes: 0,
  });
});

test("a channel that is inside but rises above its limit before the others are clean makes the target unreachable", () => {
  const plan = planCirculation({
    ...demo,
    start: perMl({ 4: 20000, 6: 100, 14: 1 }),
    ingress: [
      { sizeUmC: 4, particlesPerMin: 2.1e7 },
      { sizeUmC: 6, particlesPerMin: 2e7 },
      { sizeUmC: 14, particlesPerMin: 1 },
    ],
  });
  expect(plan).toMatchObject({
    ...{ reachable: false, governing: "6" },
    obstacle:
      "channel 6 is inside for a while but ingress lifts it above its limit before the others are clean",
  });
});

test("a channel that comes in and leaves again says when, and the plan says to stop before", () => {
  const input: CirculationInput = {
    ...demo,
    betas: [
      { sizeUmC: 4, beta: 1.2 },
      { sizeUmC: 14, beta: 1000 },
    ],
    start: perMl({ 4: 2000, 14: 1900 }),
    limits: [{ channel: "4", fromUm: 4, limit: 800, volumeMl: 1 }],
    ingress: [
      { sizeUmC: 4, particlesPerMin: 9e6 },
      { sizeUmC: 14, particlesPerMin: 0 },
    ],
  };
  const plan = planCirculation(input);
  if (!plan.reachable || plan.leavesAfterMinutes === undefined) throw new Error("expected a window");
  const [channel] = plan.channels as [PlannedChannel];
  const level = (minutes: number) => channelLevel(plan, channel, minutes / plan.minutesPerPass);
  expect(level(plan.minutes)).toBeCloseTo(800, 8);
  expect(level(plan.leavesAfterMinutes)).toBeCloseTo(800, 8);
  expect(level((plan.minutes + plan.leavesAfterMinutes) / 2)).toBeLessThan(800);
  const [warning] = plan.assumptions.filter(({ code }) => code === "will-not-stay");
  const passes = /lifts it above after ([\d.]+) passes if circulation goes on$/.exec(
    warning?.message ?? "",
  )?.[1];
  expect(warning?.message).toMatch(/^channel 4 is inside its limit for a while/);
  // Rounded down, so that nobody circulates into it.
  expect(level(Number(passes) * plan.minutesPerPass)).toBeLessThanOrEqual(800);
  expect(level((Number(passes) + 0.01) * plan.minutesPerPass)).toBeGreaterThan(800);
});

test("a limit of no particle is met below half a particle in its volume, and the plan says so", () => {
  const limits = [{ channel: "F", fromUm: 14, limit: 0, volumeMl: 100 }];
  const plan = planCirculation({ ...demo, limits });
  expect(plan).toMatchObject({ passes: expect.closeTo(Math.log(640 / 0.005) / 0.999, 10) });
  expect(plan.assumptions.map((entry) => entry.code)).toContain("zero-limit");
});

test("plug flow goes in a straight line from one whole pass to the next, by hand", () => {
  const plug: CirculationInput = { ...demo, betas: [{ sizeUmC: 4, beta: 20 }], mixing: { kind: "plug" } };
  const plan = planCirculation(plug);
  // 0.95 of 640 particles go in the first pass, and 600 of them have to.
  expect(plan).toMatchObject({ passes: expect.closeTo(600 / (0.95 * 640), 12), governing: "14" });
  const level = (passes: number) => channelLevel(plan, plan.channels[0] as PlannedChannel, passes);
  expect([0.5, 1, 1.5].map(level)).toEqual(
    [20_000 * (1 - 0.475), 1000, 1000 * (1 - 0.475)].map((perMl) => expect.closeTo(perMl, 9)),
  );
});

test.each([0.1, 0.3, 0.9, 1.7])(
  "below and between whole passes plug flow is never slower than mixing: e^−%f left",
  (e) => {
    const input = { ...demo, start: perMl({ 4: 1300 * Math.exp(e) }), limits: demo.limits.slice(0, 1) };
    expect(minutesOf({ ...input, mixing: { kind: "plug" } })).toBeLessThan(minutesOf(input));
  },
);

test("plug flow with ingress agrees with parcels that are marched around the circuit", () => {
  const ingress = [{ sizeUmC: 4, particlesPerMin: 4.5e7 }];
  const mixing = { kind: "plug" } as const;
  const plan = planCirculation({
    ...demo,
    start: perMl({ 4: 20000 }),
    limits: [demo.limits[0] as never],
    betas: [{ sizeUmC: 4, beta: 5 }],
    ingress,
    mixing,
  });
  // 1000 parcels in a ring; each step moves one of them through the element, and all take in their share.
  const parcels = new Array<number>(1000).fill(20000);
  const perStep = 1000 / parcels.length;
  for (let step = 0; step < 3 * parcels.length; step += 1) {
    const at = step % parcels.length;
    // A parcel passes in the middle of its step, with half of the step's intake on either side.
    for (let index = 0; index < parcels.length; index += 1)
      parcels[index] = (parcels[index] as number) + perStep / 2;
    parcels[at] = (parcels[at] as number) / 5;
    for (let index = 0; index < parcels.length; index += 1)
      parcels[index] = (parcels[index] as number) + perStep / 2;
  }
  const average = parcels.reduce((sum, level) => sum + level, 0) / parcels.length;
  expect(channelLevel(plan, plan.channels[0] as PlannedChannel, 3) / average).toBeCloseTo(1, 10);
});

test("with a slow zone the port looks cleaner than the circuit", () => {
  const plan = planCirculation({
    ...demo,
    mixing: { kind: "two-zone", slowFraction: 0.3, exchangePerPass: 0.1 },
  });
  const [channel] = plan.channels as [PlannedChannel];
  expect(portLevel(plan, channel, 3)).toBeLessThan(0.5 * channelLevel(plan, channel, 3));
  expect(channelLevel(plan, channel, 0)).toBeCloseTo(20000, 9);
  expect(portLevel(plan, channel, 0)).toBeCloseTo(20000, 9);
});

test("the bracket holds the plan between plug flow and the slow zone", () => {
  const slow = { kind: "two-zone", slowFraction: 0.3, exchangePerPass: 0.1 } as const;
  const bracket = bracketOf({ ...demo, mixing: slow });
  const [plug, wellMixed, twoZone] = ([{ kind: "plug" }, { kind: "well-mixed" }, slow] as const).map(
    (mixing) => {
      const minutes = minutesOf({ ...demo, mixing });
      return { kind: "reached" as const, passes: expect.closeTo(minutes * (45 / 60), 12), minutes };
    },
  );
  expect(bracket).toEqual({ plug, wellMixed, twoZone });
  expect(plug?.minutes).toBeLessThan(wellMixed?.minutes ?? 0);
  expect(wellMixed?.minutes).toBeLessThan(twoZone?.minutes ?? 0);
  expect(bracketOf(demo)).not.toHaveProperty("twoZone");
});

test("the bracket says out of reach where ingress alone holds the circuit above the target", () => {
  const ingress = [{ sizeUmC: 4, particlesPerMin: 1e9 }];
  expect(bracketOf({ ...demo, ingress })).toEqual({
    plug: { kind: "out-of-reach" },
    wellMixed: { kind: "out-of-reach" },
  });
});

test("the floor by hand is ingress over flow and removal, bin by bin", () => {
  const floor = circulationFloor({
    ...demo,
    ingress: [
      { sizeUmC: 4, particlesPerMin: 1e7 },
      { sizeUmC: 6, particlesPerMin: 1e6 },
      { sizeUmC: 14, particlesPerMin: 1e5 },
    ],
  });
  const [at14, at6, at4] = [1e5 / 0.999, 9e5 / REMOVED_6_14, 9e6 / REMOVED_4_6].map(
    (perMin) => perMin / 45_000,
  ) as [number, number, number];
  expect(floor).toMatchObject({
    kind: "settles",
    counts: {
      counts: [
        { sizeUm: 4, count: expect.closeTo(at4 + at6 + at14, 8) },
        { sizeUm: 6, count: expect.closeTo(at6 + at14, 8) },
        { sizeUm: 14, count: expect.closeTo(at14, 8) },
      ],
    },
  });
});

test("ingress that is given at a smaller size only is used, at the removal of the channel's own lower size", () => {
  const input = { ...demo, ingress: [{ sizeUmC: 4, particlesPerMin: 1e6 }] };
  expect(channelOf(input, "14").floor).toBeCloseTo(1e6 / 45_000 / 0.999, 10);
  expect(channelOf(input, "4").floor).toBeCloseTo(1e6 / 45_000 / REMOVED_4_6, 10);
  expect(() => planCirculation({ ...demo, ingress: [{ sizeUmC: 6, particlesPerMin: 1 }] })).toThrow(
    "ingress is needed at 4 µm(c) or below",
  );
});

test("without any removal ingress raises the level in a straight line", () => {
  const betas = [{ sizeUmC: 4, beta: 1 }];
  const ingress = [{ sizeUmC: 4, particlesPerMin: 45_000_000 }];
  const fluid = expectAfter({ ...demo, betas, ingress }, 4);
  expect(fluid.circuit.counts[0]?.count).toBeCloseTo(20000 + 3 * 1000, 8);
  expect(circulationFloor({ ...demo, betas, ingress })).toEqual({ kind: "rises", sizesUmC: [4, 6, 14] });
});

test("where ingress is not known at the smallest size nothing is said of that size, and this is told", () => {
  const ingress = [
    { sizeUmC: 6, particlesPerMin: 1000 },
    { sizeUmC: 14, particlesPerMin: 100 },
  ];
  const fluid = expectAfter({ ...demo, ingress }, 4);
  expect(fluid.circuit.counts.map(({ sizeUm }) => sizeUm)).toEqual([6, 14]);
  expect(fluid.assumptions.filter(({ code }) => code === "ingress-not-known-at-size")).toEqual([
    {
      code: "ingress-not-known-at-size",
      message: "nothing is said above 4 µm(c), because ingress is only given above 6 µm(c)",
    },
  ]);
  for (const all of [expectAfter(demo, 4), expectAfter({ ...demo, ingress: [] }, 4)]) {
    expect(all.circuit.counts.map(({ sizeUm }) => sizeUm)).toEqual([4, 6, 14]);
    expect(all.assumptions.map(({ code }) => code)).not.toContain("ingress-not-known-at-size");
  }
  expect(expectAfter(demo, 0).circuit.counts[0]?.count).toBeCloseTo(20000, 9);
});

test("rounding in the minutes does not put the circuit into the class above the one it was planned for", () => {
  // Planned for 17/15/12 with ingress; of these volumes some land on 1300.0000000000002 per mL.
  for (let volumeL = 40; volumeL <= 200; volumeL += 1) {
    const input: CirculationInput = {
      volumeL,
      flowLpm: 30,
      betas: [
        { sizeUmC: 4, beta: 5 },
        { sizeUmC: 6, beta: 20 },
        { sizeUmC: 14, beta: 200 },
      ],
      ingress: [
        { sizeUmC: 4, particlesPerMin: 1e7 },
        { sizeUmC: 6, particlesPerMin: 3e6 },
        { sizeUmC: 14, particlesPerMin: 1e5 },
      ],
      start: perMl({ 4: 12000, 6: 3000, 14: 250 }),
      limits: limitsOfTarget(parseTarget("17/15/12")),
    };
    const { classes } = expectAfter(input, minutesOf(input));
    expect(classes.iso4406?.[0]).toMatchObject({ scaleNumber: 17 });
  }
});

test("after the planned minutes the circuit is expected in the class it was planned for", () => {
  const fluid = expectAfter(demo, minutesOf(demo));
  expect(fluid.classes.iso4406?.[0]).toMatchObject({ scaleNumber: 17 });
  expect(fluid.circuit.counts[0]?.count).toBeCloseTo(1300, 8);
});

test("the flow needed for a time gives that time", () => {
  const need = flowNeeded(demo, 10);
  if (need.kind !== "enough") throw new Error("expected a flow");
  expect(minutesOf({ ...demo, flowLpm: need.value })).toBeCloseTo(10, 10);
});

test("a plan says what was taken for granted: how the fluid mixes, and ingress only where none was given", () => {
  const told = (extra: Partial<CirculationInput>) =>
    planCirculation({ ...demo, ...extra }).assumptions.map(({ code, message }) => [code, message]);
  const rating = "with nothing settled, and the elements as holding back what their rating says";
  const none =
    "no ingress was given, so the time by the stated values includes none; dirt that enters while circulating lengthens it";
  expect(told({})).toEqual([
    ["well-mixed", `the time by the stated values takes the circuit as well mixed, ${rating}`],
    ["no-ingress", none],
  ]);
  expect(told({ mixing: { kind: "plug" } })[0]).toEqual([
    "plug",
    `the fluid was taken as passing the element in turn without mixing, which no circuit does: the time is the shortest thinkable; ${rating}`,
  ]);
  expect(told({ mixing: { kind: "two-zone", slowFraction: 0.3, exchangePerPass: 0.05 } })[0]).toEqual([
    "two-zone",
    `30 % of the circuit was taken as a slow zone that trades 5 % of the circuit volume per pass, both zones as equally dirty at the start and taking in dirt by volume, ${rating}`,
  ]);
  const ingress = [4, 6, 14].map((sizeUmC) => ({ sizeUmC, particlesPerMin: 1000 }));
  expect(told({ ingress }).map(([code]) => code)).toEqual(["well-mixed"]);
});

test.each([
  [
    "ingress that nothing holds back",
    [{ sizeUmC: 14, beta: 1000 }],
    [{ sizeUmC: 4, particlesPerMin: 1e6 }],
    "dirt comes in that no element removes, so the level rises without end",
  ],
  [
    // All but the 640 above 14 µm(c) stay.
    "sizes that no element is rated for",
    [{ sizeUmC: 14, beta: 1000 }],
    undefined,
    "the elements as rated remove none of the smallest of these particles, which leaves the level at 19400 per mL, not below the limit of 1300 per mL",
  ],
  [
    // 1e9/45,000 of ingress over 0.999 is 22,244 beside 19,360 that stay.
    "both at once",
    [{ sizeUmC: 14, beta: 1000 }],
    [
      { sizeUmC: 4, particlesPerMin: 1e9 },
      { sizeUmC: 6, particlesPerMin: 1e9 },
      { sizeUmC: 14, particlesPerMin: 1e9 },
    ],
    "the elements as rated remove none of the smallest of these particles, which with the ingress leaves the level at 41600 per mL, not below the limit of 1300 per mL",
  ],
  [
    // 1e9/45,000 over 0.95 to 0.999.
    "ingress alone",
    demo.betas,
    [
      { sizeUmC: 4, particlesPerMin: 1e9 },
      { sizeUmC: 6, particlesPerMin: 1e9 },
      { sizeUmC: 14, particlesPerMin: 1e9 },
    ],
    "ingress holds the level at 22200 per mL, not below the limit of 1300 per mL",
  ],
])("a target out of reach says why: %s", (_, betas, ingress, why) => {
  const limits = [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }];
  const plan = planCirculation({ ...demo, limits, betas, ...(ingress && { ingress }) });
  expect(plan).toMatchObject({ reachable: false, governing: "4", obstacle: `channel 4 µm(c): ${why}` });
  expect(plan.channels[0]?.outcome).toEqual({ kind: "out-of-reach", obstacle: why });
});

test("of several channels the slowest governs, and each has its own time, size and removal", () => {
  const plan = planCirculation({
    ...demo,
    limits: [
      { channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 },
      { channel: "6-14", fromUm: 6, toUm: 14, limit: 10, volumeMl: 1 },
      { channel: "14", fromUm: 14, limit: 40, volumeMl: 1 },
    ],
  });
  expect(plan.governing).toBe("6-14");
  const [all, range, coarse] = plan.channels as [PlannedChannel, PlannedChannel, PlannedChannel];
  expect(range).toMatchObject({ sizeUmC: 6, toUmC: 14, removal: expect.closeTo(REMOVED_6_14, 12) });
  expect(all).not.toHaveProperty("toUmC");
  // Of all particles above 4 µm(c) the first pass leaves what β = 20 says.
  expect(all.removal).toBeCloseTo(0.95, 12);
  expect(coarse.outcome).toMatchObject({
    kind: "reached",
    passes: expect.closeTo(Math.log(16) / 0.999, 12),
    minutes: expect.closeTo((Math.log(16) / 0.999) * (60 / 45), 12),
  });
  const empty = channelOf({ ...demo, start: perMl({ 4: 20000, 6: 5000, 14: 0 }) }, "14");
  expect(empty.removal).toBeCloseTo(0.999, 12);
  expect(empty.outcome).toMatchObject({ kind: "reached", passes: 0 });
});

test("the handbook's one pass is shown beside what the model leaves, 36.8 % with an ideal element", () => {
  const [onePass, seven] = rulesOfThumb(planCirculation({ ...demo, betas: [{ sizeUmC: 4, beta: 1e15 }] }));
  expect(onePass).toMatchObject({ passes: 1, minutes: 60 / 45, source: "NAVEDTRA-14018-CIRCULATION" });
  expect(onePass?.modelLeaves).toBeCloseTo(0.368, 3);
  expect(onePass?.meaning).toContain("36.8 % of the particles");
  expect(onePass?.meaning).toContain("The model asks for more");
  expect(seven?.meaning).toContain("The model asks for no more than");
});

test("what cannot be is refused by name", () => {
  const refused = (extra: Partial<CirculationInput>) => () => planCirculation({ ...demo, ...extra });
  expect(refused({ volumeL: 0 })).toThrow("volumeL must be more than 0, not 0");
  expect(refused({ flowLpm: Number.NaN })).toThrow("flowLpm must be more than 0, not NaN");
  expect(refused({ bypass: 1.2 })).toThrow("bypass must be a fraction from 0 to 1, not 1.2");
  expect(refused({ sideStream: { flowLpm: 0, betas: demo.betas } })).toThrow(
    "the side stream's flowLpm must be more than 0",
  );
  expect(refused({ mixing: { kind: "two-zone", slowFraction: 1, exchangePerPass: 0.1 } })).toThrow(
    "slowFraction must be from 0 to less than 1, not 1",
  );
  expect(refused({ mixing: { kind: "two-zone", slowFraction: 0.1, exchangePerPass: -1 } })).toThrow(
    "exchangePerPass must be 0 or more, not -1",
  );
  expect(refused({ limits: [{ channel: "A", fromUm: 21, limit: 1, volumeMl: 1 }] })).toThrow(
    "start: no count at 21 µm(c)",
  );
  expect(refused({ limits: [] })).toThrow("limits: at least one is needed");
});
