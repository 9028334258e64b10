import { cumulativeStdNormalProbability } from "simple-statistics";
import { expect, test } from "vitest";
import {
  type CirculationInput,
  levelBands,
  planCirculation,
  planConfidence,
  TYPICAL_UNCERTAINTY,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { seededRandom } from "../../src/numeric/index.js";
import { demo, minutesAt } from "../support/plan-confidence-cases.js";

test("the same seed gives the same answer, another seed another one", () => {
  const ask = (seed: number) =>
    planConfidence(demo, TYPICAL_UNCERTAINTY, seededRandom(seed), { draws: 2000 });
  expect(ask(7)).toEqual(ask(7));
  expect(ask(7).minutesFor).not.toEqual(ask(8).minutesFor);
});

test("with nothing uncertain every probability has the minutes of the plan", () => {
  const plan = planCirculation(demo);
  const sure = planConfidence(demo, {}, seededRandom(1), { draws: 100 });
  for (const entry of sure.minutesFor) {
    expect(entry).toMatchObject({ kind: "minutes", minutes: plan.reachable ? plan.minutes : 0 });
  }
  expect(sure.agreement).toEqual({ kind: "agrees", toleranceMin: 0 });
});

test("more uncertainty moves the 95 % time later and leaves the median where it is", () => {
  const ask = (volume: number) =>
    planConfidence(demo, { volume }, seededRandom(3), { draws: 20_000 }).minutesFor;
  expect(minutesAt(0.95, ask(0.2))).toBeGreaterThan(1.1 * minutesAt(0.95, ask(0.05)));
  expect(minutesAt(0.5, ask(0.2)) / minutesAt(0.5, ask(0.05))).toBeCloseTo(1, 1);
});

test("the first-order estimate agrees where the time is nearly linear in what is uncertain, and names the largest part", () => {
  const sure = planConfidence({ ...demo, ingress: [] }, { volume: 0.02, flow: 0.01 }, seededRandom(4), {
    draws: 100_000,
  });
  expect(sure.agreement.kind).toBe("agrees");
  if (sure.firstOrder.kind !== "estimate") throw new Error("expected an estimate");
  expect(sure.firstOrder.contributions.map((entry) => entry.of)).toEqual(["volume", "flow"]);
  // The time is proportional to the volume: 2 % of it.
  expect(sure.firstOrder.contributions[0]?.minutes).toBeCloseTo(0.02 * sure.firstOrder.minutes, 2);
});

test("the first-order parts by hand: of one clean channel the time is V/(Q·e)·ln(C0/Ct)", () => {
  const channel: CirculationInput = {
    volumeL: 60,
    flowLpm: 45,
    betas: [{ sizeUmC: 4, beta: 10 }],
    start: cumulativeCounts([{ sizeUm: 4, count: 200 }], 1),
    limits: [{ channel: "4", fromUm: 4, limit: 20, volumeMl: 1 }],
    ingress: [],
  };
  const uncertainty = { volume: 0.02, flow: 0.05, laboratory: 0.2, countedMl: 10 };
  const { firstOrder } = planConfidence(channel, uncertainty, seededRandom(1), { draws: 1000 });
  if (firstOrder.kind !== "estimate") throw new Error(firstOrder.why);
  const perE = 60 / (45 * 0.9);
  const minutes = perE * Math.log(10);
  const spread = (relative: number) => Math.sqrt(Math.log(1 + relative ** 2));
  const byHand = {
    laboratory: perE * spread(0.2),
    flow: minutes * spread(0.05),
    // 2,000 particles were counted, and half a particle more by the prior.
    counting: perE * (Math.sqrt(2000.5) / 2000),
    volume: minutes * spread(0.02),
  };
  expect(firstOrder.minutes).toBeCloseTo(minutes, 9);
  expect(firstOrder.contributions.map(({ of }) => of)).toEqual(["laboratory", "flow", "volume", "counting"]);
  for (const { of, minutes: part } of firstOrder.contributions)
    expect(part).toBeCloseTo(byHand[of as keyof typeof byHand], 5);
  const all = Math.hypot(...Object.values(byHand));
  expect(firstOrder.standardUncertaintyMin).toBeCloseTo(all, 5);
  expect(firstOrder.minutes95).toBeCloseTo(minutes + 1.645 * all, 3);
});

test("each time is also given in passes, and the curve runs evenly from the start to a tenth past the last cases", () => {
  const { minutesFor, curve } = planConfidence({ ...demo, ingress: [] }, { volume: 0.05 }, seededRandom(3), {
    draws: 999,
  });
  const perPass = demo.volumeL / demo.flowLpm;
  for (const entry of minutesFor) {
    if (entry.kind !== "minutes") throw new Error(entry.kind);
    expect(entry.passes).toBeCloseTo(entry.minutes / perPass, 9);
  }
  expect(curve[0]?.minutes).toBe(0);
  const step = curve[1]?.minutes ?? 0;
  for (const [index, { minutes }] of curve.entries()) expect(minutes).toBeCloseTo(index * step, 9);
  expect(curve.at(-1)?.probability).toBe(1);
  const rising = curve.map(({ probability }) => probability);
  expect(rising).toEqual([...rising].sort((a, b) => a - b));
  // All but 0.5 % of the cases are in after 1/1.1 of the curve.
  const before = curve.filter(({ minutes }) => minutes <= (curve.at(-1)?.minutes ?? 0) / 1.1).at(-1);
  expect(before?.probability).toBeGreaterThan(0.95);
  expect(before?.probability).toBeLessThanOrEqual(0.9955);
});

test("where no time is 95 % sure the two estimates are not compared, and it is said why", () => {
  const near = demo.ingress?.map((entry) => ({ ...entry, particlesPerMin: entry.particlesPerMin * 8 }));
  const { agreement } = planConfidence({ ...demo, ingress: near ?? [] }, { ingress: 0.5 }, seededRandom(4), {
    draws: 500,
  });
  expect(agreement).toEqual({
    kind: "no-comparison",
    why: "fewer than 95 % of the cases are at the target at any one time",
  });
});

test("what was spread and what was taken as exact is told with the answer", () => {
  const reported = (uncertainty: Parameters<typeof planConfidence>[1]) =>
    planConfidence({ ...demo, ingress: [] }, uncertainty, seededRandom(1), { draws: 100 })
      .assumptions.filter(({ code }) => /^(spread|counting|taken)/.test(code))
      .map(({ code, message }) => (code === "taken-as-exact" ? message : code));
  expect(reported({ volume: 0.1, countedMl: 10 })).toEqual([
    "spread-log-normal",
    "taken as exact: flow, β, ingress, slow zone, hoses in the volume, seals without leakage, laboratory reproducibility",
  ]);
  const all = {
    volume: 0.1,
    flow: 0.1,
    beta: 0.1,
    ingress: 0.1,
    slowZone: 0.1,
    hoses: 0.1,
    leakage: 0.1,
    laboratory: 0.1,
  };
  expect(reported(all)).toEqual(["spread-log-normal", "counting-statistics-left-out"]);
});

test("a start exactly at its limit is there at once, and every other time when the start itself is uncertain", () => {
  const channel: CirculationInput = {
    volumeL: 60,
    flowLpm: 45,
    betas: [{ sizeUmC: 4, beta: 10 }],
    start: cumulativeCounts([{ sizeUm: 4, count: 200 }], 1),
    limits: [{ channel: "4", fromUm: 4, limit: 200, volumeMl: 1 }],
    ingress: [],
  };
  const atOnce = (uncertainty: Parameters<typeof planConfidence>[1]) =>
    planConfidence(channel, uncertainty, seededRandom(2), { draws: 4000 }).curve[0];
  expect(atOnce({ volume: 0.02 })).toEqual({ minutes: 0, probability: 1 });
  expect(atOnce({ volume: 0.02, laboratory: 0.2 })?.probability).toBeCloseTo(0.5, 1);
  expect(atOnce({ volume: 0.02, countedMl: 10 })?.probability).toBeCloseTo(0.5, 1);
  // 2,000 were counted: by 1.96·√2000 more, 2088, the start is below 200 in 2.5 of 100 cases.
  const dirtier = { ...channel, start: cumulativeCounts([{ sizeUm: 4, count: 208.8 }], 1) };
  const { curve } = planConfidence(dirtier, { countedMl: 10 }, seededRandom(2), { draws: 4000 });
  expect(curve[0]?.probability).toBeCloseTo(0.025, 2);
});

test("a plan that does not reach its target has no first-order estimate, and says why", () => {
  const stuck = demo.ingress?.map((entry) => ({ ...entry, particlesPerMin: entry.particlesPerMin * 100 }));
  const { firstOrder, agreement } = planConfidence(
    { ...demo, ingress: stuck ?? [] },
    { volume: 0.02 },
    seededRandom(1),
    {
      draws: 1000,
    },
  );
  expect(firstOrder).toEqual({ kind: "none", why: "the plan itself does not reach the target" });
  expect(agreement).toEqual({ kind: "no-comparison", why: "the plan itself does not reach the target" });
});

test("the first-order estimate disagrees near the floor, where the time bends away, and says by how much", () => {
  const near = demo.ingress?.map((entry) => ({ ...entry, particlesPerMin: entry.particlesPerMin * 5 }));
  const sure = planConfidence(
    { ...demo, ingress: near ?? [] },
    { ingress: 0.3, volume: 0.1 },
    seededRandom(4),
  );
  expect(sure.agreement).toMatchObject({ kind: "disagrees", byMin: expect.any(Number) });
});

test("where ingress may keep the circuit from its target no time is 95 % sure, and the highest probability is given", () => {
  const near = demo.ingress?.map((entry) => ({ ...entry, particlesPerMin: entry.particlesPerMin * 8 }));
  const sure = planConfidence({ ...demo, ingress: near ?? [] }, { ingress: 0.5 }, seededRandom(4));
  const at95 = sure.minutesFor.find((entry) => entry.probability === 0.95);
  expect(at95).toMatchObject({ kind: "never-so-sure" });
  expect(at95?.kind === "never-so-sure" && at95.highest).toBeCloseTo(sure.everReached, 2);
});

test("a case that leaves its target again no longer counts as being there", () => {
  const window: CirculationInput = {
    ...demo,
    betas: [
      { sizeUmC: 4, beta: 1.2 },
      { sizeUmC: 14, beta: 1000 },
    ],
    start: cumulativeCounts(
      [
        { sizeUm: 4, count: 2000 },
        { sizeUm: 14, count: 1900 },
      ],
      1,
    ),
    limits: [{ channel: "4", fromUm: 4, limit: 800, volumeMl: 1 }],
    ingress: [
      { sizeUmC: 4, particlesPerMin: 3e6 },
      { sizeUmC: 14, particlesPerMin: 0 },
    ],
  };
  const plan = planCirculation(window);
  expect(plan).toMatchObject({ reachable: true, leavesAfterMinutes: expect.any(Number) });
  // The moments scale with the volume: when it is badly known, some cases have left before others get there.
  const sure = planConfidence(window, { volume: 0.6 }, seededRandom(2), { draws: 2000 });
  expect(sure.everReached).toBe(1);
  const spread = Math.sqrt(Math.log(1 + 0.6 ** 2));
  const [enters, leaves] = plan.reachable ? [plan.minutes, plan.leavesAfterMinutes as number] : [0, 0];
  const reach = Math.log(leaves / enters) / 2 / spread;
  const at95 = sure.minutesFor.find((entry) => entry.probability === 0.95);
  if (at95?.kind !== "never-so-sure") throw new Error("expected that no time is 95 % sure");
  // The most that can be inside at once: a normal variable within ± reach.
  expect(at95.highest).toBeCloseTo(2 * cumulativeStdNormalProbability(reach) - 1, 1);
});

test("the band holds 90 of 100 cases around the level of the plan", () => {
  const [band] = levelBands(demo, TYPICAL_UNCERTAINTY, seededRandom(5), [0, 5, 10]);
  expect(band?.points.map((point) => point.low < point.median && point.median < point.high)).toEqual([
    true,
    true,
    true,
  ]);
  // At the start only the laboratory and chance count: a factor of e^(1.645·σ) each way.
  const sigma = Math.sqrt(Math.log(1 + 0.2 ** 2));
  expect((band?.points[0]?.high as number) / 20000).toBeCloseTo(Math.exp(1.645 * sigma), 1);
});

test("what cannot be is refused by name", () => {
  expect(() => planConfidence(demo, { volume: -0.1 }, seededRandom(1))).toThrow(
    "uncertainty of volume must be 0 or more, not -0.1",
  );
  expect(() => planConfidence(demo, { countedMl: 0 }, seededRandom(1))).toThrow(
    "countedMl must be more than 0, not 0",
  );
  expect(() => planConfidence(demo, {}, seededRandom(1), { probabilities: [1] })).toThrow(
    "between 0 and 1, not 1",
  );
  expect(() => seededRandom(0.5)).toThrow("seed must be a whole number, not 0.5");
});
