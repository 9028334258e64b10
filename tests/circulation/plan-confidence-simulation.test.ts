import { randomGamma, randomNormal, randomPoisson } from "d3-random";
import { expect, test } from "vitest";
import { type CirculationInput, planConfidence, type Uncertainty } from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { seededRandom } from "../../src/numeric/index.js";
import { demo, minutesAt } from "../support/plan-confidence-cases.js";

/** What gets through of a bin, written out again: β is the ratio of all particles above a size, of those stated. */
function through(betas: readonly number[], index: number): number {
  const above = [20_000, 5000, 640];
  const [own, larger] = [above[index] as number, above[index + 1] ?? 0];
  return (own / (betas[index] as number) - larger / (betas[index + 1] ?? 1)) / (own - larger);
}

/** Level after some minutes, written out again: well mixed, bins 4-6, 6-14 and above 14 µm(c). */
function insideAfter(
  minutes: number,
  truth: { volumeL: number; flowLpm: number; betas: number[]; ingress: number[]; bins: number[] },
): boolean {
  const left = truth.bins.map((start, index) => {
    const perMinute = (truth.flowLpm * (1 - through(truth.betas, index))) / truth.volumeL;
    const floor = (truth.ingress[index] as number) / (1000 * truth.volumeL * perMinute);
    return floor + (start - floor) * Math.exp(-perMinute * minutes);
  }) as [number, number, number];
  return left[0] + left[1] + left[2] <= 1300 && left[1] + left[2] <= 320 && left[2] <= 40;
}

const spreads: Uncertainty = {
  volume: 0.1,
  flow: 0.08,
  beta: 0.5,
  ingress: 0.4,
  laboratory: 0.25,
  countedMl: 0.5,
};

/** A log-normal factor with a relative standard deviation, written out again. */
function spreader(random: () => number): (relative: number) => number {
  const normal = randomNormal.source(random)();
  return (relative) => Math.exp(Math.sqrt(Math.log(1 + relative ** 2)) * normal());
}

test("the 95 % time covers 95 ± 1 % of 20,000 simulated truths", () => {
  const random = seededRandom(20260314);
  const spread = spreader(random);
  const gamma = randomGamma.source(random);
  let covered = 0;
  const truths = 20_000;
  for (let index = 0; index < truths; index += 1) {
    // Another circuit each time, and a truth that lies about its stated values as their uncertainties say.
    const dirt = 10 ** (0.6 * random() - 0.3);
    const bins = [15000, 4360, 640].map((bin) => Math.round(bin * dirt)) as [number, number, number];
    const stated: CirculationInput = {
      ...demo,
      volumeL: 40 + 60 * random(),
      flowLpm: 10 + 20 * random(),
      start: cumulativeCounts(
        [
          { sizeUm: 4, count: bins[0] + bins[1] + bins[2] },
          { sizeUm: 6, count: bins[1] + bins[2] },
          { sizeUm: 14, count: bins[2] },
        ],
        1,
      ),
    };
    const [specimen, dustier, laboratory] = [spread(0.5), spread(0.4), spread(0.25)];
    const truth = {
      volumeL: stated.volumeL * spread(0.1),
      flowLpm: stated.flowLpm * spread(0.08),
      betas: [20, 100, 1000].map((beta) => 1 + (beta - 1) * specimen),
      ingress: [1.6e6, 3.6e5, 4e4].map((perMin) => perMin * dustier),
      bins: bins.map((bin) => (gamma(bin * 0.5 + 0.5)() / 0.5) * laboratory),
    };
    // The 190th of 199 draws is exceeded by the next case with a probability of exactly 5 %.
    const { minutesFor } = planConfidence(stated, spreads, random, { draws: 199, probabilities: [0.95] });
    if (insideAfter(minutesAt(0.95, minutesFor), truth)) covered += 1;
  }
  expect(covered / truths).toBeGreaterThan(0.94);
  expect(covered / truths).toBeLessThan(0.96);
});

test("a technician who reads off values scattered about the truth is at the target after the 95 % time in 95 of 100 cases", () => {
  const random = seededRandom(42);
  const spread = spreader(random);
  const poisson = randomPoisson.source(random);
  const cases = 4000;
  let covered = 0;
  for (let index = 0; index < cases; index += 1) {
    const truth = 20000 * 10 ** (0.6 * random() - 0.3);
    const [volumeL, flowLpm] = [40 + 60 * random(), 10 + 20 * random()];
    const { minutesFor } = planConfidence(
      {
        volumeL: volumeL * spread(0.1),
        flowLpm: flowLpm * spread(0.08),
        betas: [{ sizeUmC: 4, beta: 1e9 }],
        start: cumulativeCounts([{ sizeUm: 4, count: poisson(truth * 0.01 * spread(0.25))() / 0.01 }], 1),
        limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
      },
      { volume: 0.1, flow: 0.08, laboratory: 0.25, countedMl: 0.01 },
      random,
      { draws: 199, probabilities: [0.95] },
    );
    if (truth * Math.exp((-flowLpm / volumeL) * minutesAt(0.95, minutesFor)) <= 1300) covered += 1;
  }
  expect(covered / cases).toBeGreaterThan(0.94);
  expect(covered / cases).toBeLessThan(0.96);
});

test("the curve of one plan gives the part of independently drawn cases that is inside", () => {
  const sure = planConfidence(demo, spreads, seededRandom(1), { draws: 20_000 });
  const random = seededRandom(99);
  const gamma = randomGamma.source(random);
  const spread = spreader(random);
  const cases = Array.from({ length: 20_000 }, () => {
    const [volumeL, flowLpm, specimen, dustier, laboratory] = [
      60 * spread(0.1),
      15 * spread(0.08),
      spread(0.5),
      spread(0.4),
      spread(0.25),
    ] as const;
    return {
      volumeL,
      flowLpm,
      betas: [20, 100, 1000].map((beta) => 1 + (beta - 1) * specimen),
      ingress: [1.6e6, 3.6e5, 4e4].map((perMin) => perMin * dustier),
      bins: [15000, 4360, 640].map((bin) => (gamma(bin * 0.5 + 0.5)() / 0.5) * laboratory),
    };
  });
  for (const { minutes, probability } of sure.curve.filter((_, index) => index % 12 === 0)) {
    const inside = cases.filter((truth) => insideAfter(minutes, truth)).length / cases.length;
    expect(Math.abs(inside - probability)).toBeLessThan(0.015);
  }
});
