// What an interval of 90 % and a test at 5 % promise, tried on 2,000 simulated circuits each. Seeded: the numbers are the same
// every time. The circuits are invented; how they scatter is taken from what laboratories do: a share of the value, a little
// of its own, rounding to whole ppm, now and then an odd result, and samples every three to six weeks.
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, test } from "vitest";
import {
  crossingWindow,
  findSteps,
  levelLine,
  nextSampleDue,
  type Observation,
  theilSen,
  trendTest,
} from "../../src/trend/index.js";
import { resampleCrossing } from "../support/resample-crossing.js";

const CIRCUITS = 2000;
const LEVEL = 0.9;

function source(seed: number) {
  const generator = xoroshiro128plus(seed);
  const uniform = () => uniformFloat64(generator);
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return {
    uniform,
    normal,
    whole: (from: number, to: number) => from + Math.floor(uniform() * (to - from + 1)),
  };
}

interface SimulatedCircuit {
  readonly observations: Observation[];
  readonly start: number;
  readonly perYear: number;
}

/** A circuit whose water rises steadily, sampled on uneven days. */
function circuitOf(draws: ReturnType<typeof source>, perYear: number): SimulatedCircuit {
  const start = 60 + 40 * draws.uniform();
  let x = 0;
  const observations = Array.from({ length: draws.whole(10, 30) }, () => {
    x += draws.whole(21, 42) / 365.25;
    const odd = draws.uniform() < 0.04 ? 3 : 1;
    const scatter = Math.exp(0.05 * odd * draws.normal());
    return { x, y: Math.round((start + perYear * x) * scatter + 2 * draws.normal()) };
  });
  return { observations, start, perYear };
}

describe("over 2,000 simulated circuits", () => {
  test("the 90 % intervals of slope and crossing date have the true one in 90 ± 3 % of them", () => {
    const draws = source(6);
    let [slopes, crossings] = [0, 0];
    for (let circuit = 0; circuit < CIRCUITS; circuit += 1) {
      const { observations, start, perYear } = circuitOf(draws, 40 + 40 * draws.uniform());
      const fit = theilSen(observations, LEVEL);
      if (fit.kind !== "slope" || fit.interval.kind !== "interval") throw new Error("no interval");
      if (fit.interval.low <= perYear && perYear <= fit.interval.high) slopes += 1;
      const line = levelLine(observations, fit);
      if (line === undefined) throw new Error("no line");
      const crossing = (observations.at(-1)?.x ?? 0) + draws.uniform();
      const window = crossingWindow(line, start + perYear * crossing, LEVEL);
      if (window.earliest <= crossing && crossing <= (window.latest ?? Number.POSITIVE_INFINITY))
        crossings += 1;
    }
    console.log(`slope ${slopes / CIRCUITS}, crossing ${crossings / CIRCUITS}`);
    expect(Math.abs(slopes / CIRCUITS - LEVEL)).toBeLessThanOrEqual(0.03);
    expect(Math.abs(crossings / CIRCUITS - LEVEL)).toBeLessThanOrEqual(0.03);
  });

  test("the trend test at 5 % calls a trend in 5 ± 1.5 % of circuits without one", () => {
    const draws = source(7);
    let alarms = 0;
    for (let circuit = 0; circuit < CIRCUITS; circuit += 1) {
      if (trendTest(circuitOf(draws, 0).observations).pValue <= 0.05) alarms += 1;
    }
    console.log(`false alarms ${alarms / CIRCUITS}`);
    expect(Math.abs(alarms / CIRCUITS - 0.05)).toBeLessThanOrEqual(0.015);
  });

  test("the same holds when a fifth to a half of the values lie below a reporting limit", () => {
    const draws = source(8);
    let [alarms, slopes, reported, values, below] = [0, 0, 0, 0, 0];
    for (let circuit = 0; circuit < CIRCUITS; circuit += 1) {
      const flat = circuitOf(draws, 0);
      const limit = Math.round(flat.start * 0.98);
      const limited = (entries: readonly Observation[], at: number) =>
        entries.map((entry) => (entry.y < at ? { ...entry, y: at, limit: "below" as const } : entry));
      if (trendTest(limited(flat.observations, limit)).pValue <= 0.05) alarms += 1;
      const rising = circuitOf(draws, 30 + 30 * draws.uniform());
      const shown = limited(rising.observations, Math.round(rising.start + 0.5 * rising.perYear));
      values += shown.length;
      below += shown.filter((entry) => entry.limit !== undefined).length;
      const fit = theilSen(shown, LEVEL);
      if (fit.kind !== "slope" || fit.interval.kind !== "interval") continue;
      reported += 1;
      if (fit.interval.low <= rising.perYear && rising.perYear <= fit.interval.high) slopes += 1;
    }
    console.log(
      `with ${below / values} below: false alarms ${alarms / CIRCUITS}, slope ${slopes / reported} of ${reported}`,
    );
    expect(Math.abs(alarms / CIRCUITS - 0.05)).toBeLessThanOrEqual(0.015);
    expect(below / values).toBeGreaterThan(0.2);
    expect(below / values).toBeLessThan(0.5);
    expect(reported).toBeGreaterThan(0.95 * CIRCUITS);
    expect(Math.abs(slopes / reported - LEVEL)).toBeLessThanOrEqual(0.03);
  });

  test("a step is found without there being one in no more than 1.5 % of rising circuits", () => {
    const draws = source(9);
    let found = 0;
    for (let circuit = 0; circuit < CIRCUITS; circuit += 1) {
      if (findSteps(circuitOf(draws, 60 * draws.uniform()).observations).length > 0) found += 1;
    }
    console.log(`steps found ${found / CIRCUITS}`);
    expect(found / CIRCUITS).toBeLessThanOrEqual(0.015);
  });

  test("when the next sample is drawn as due at 10 %, at most 10 ± 3 % have crossed the limit unseen", () => {
    const draws = source(10);
    let [crossed, due] = [0, 0];
    for (let circuit = 0; circuit < CIRCUITS; circuit += 1) {
      const { observations, start, perYear } = circuitOf(draws, 40 + 40 * draws.uniform());
      const fit = theilSen(observations, LEVEL);
      const line = fit.kind === "slope" ? levelLine(observations, fit) : undefined;
      if (line === undefined) throw new Error("no line");
      const lastX = observations.at(-1)?.x ?? 0;
      const limit = start + perYear * (lastX + 0.1 + 0.5 * draws.uniform());
      const next = nextSampleDue(line, { limit, towards: "above" }, { lastX, risk: 0.1, longest: 5 });
      if (next.because !== "risk") continue;
      due += 1;
      if (start + perYear * next.x > limit) crossed += 1;
    }
    console.log(`crossed unseen ${crossed / due} of ${due}`);
    expect(due).toBeGreaterThan(0.5 * CIRCUITS);
    expect(crossed / due).toBeLessThanOrEqual(0.13);
  });
});

test("the window agrees with the bootstrap: its ends lie within a third of its width of the bootstrap's, mostly", () => {
  const draws = source(11);
  const apart: number[] = [];
  for (let circuit = 0; circuit < 25; circuit += 1) {
    const { observations, start, perYear } = circuitOf(draws, 60);
    const fit = theilSen(observations, LEVEL);
    const line = fit.kind === "slope" ? levelLine(observations, fit) : undefined;
    if (line === undefined) throw new Error("no line");
    const limit = start + perYear * ((observations.at(-1)?.x ?? 0) + 0.5);
    const window = crossingWindow(line, limit, LEVEL);
    if (window.latest === undefined) continue;
    const drawn = resampleCrossing(observations, limit, { random: draws.uniform, rounds: 300, level: LEVEL });
    const width = window.latest - window.earliest;
    apart.push((window.earliest - drawn.earliest) / width, (window.latest - drawn.latest) / width);
  }
  const sizes = apart.map(Math.abs).sort((a, b) => a - b);
  console.log(
    `median ${sizes[sizes.length >> 1]}, 90 % ${sizes[Math.floor(0.9 * sizes.length)]}, n ${sizes.length}`,
  );
  expect(sizes.length).toBeGreaterThan(40);
  expect(sizes[sizes.length >> 1]).toBeLessThan(0.15);
  expect(sizes[Math.floor(0.9 * sizes.length)]).toBeLessThan(0.34);
});
