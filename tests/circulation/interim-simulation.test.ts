// What is said of samples that are drawn with the chance of counting and the scatter of a laboratory.
import { randomGamma, randomPoisson } from "d3-random";
import { expect, test } from "vitest";
import { assessInterim, type Diagnosis, fitDecay, type InterimSample } from "../../src/circulation/index.js";
import { seededRandom } from "../../src/numeric/index.js";
import { LONG, plan, RATED, SIZES, STARTS } from "../support/interim-cases.js";

/** Draws samples as a counter and a laboratory see them. */
function sampler(seed: number, laboratory: number, countedMl: number) {
  const random = seededRandom(seed);
  const poisson = randomPoisson.source(random);
  const gamma = randomGamma.source(random);
  return (ratePerMin: number, floorShare: number, moments: readonly number[]): InterimSample[] =>
    moments.map((minutes) => {
      const size = 1 / laboratory ** 2;
      const sample = laboratory === 0 ? 1 : gamma(size)() / size;
      return {
        minutes,
        countedMl,
        counts: SIZES.map((sizeUmC, index) => {
          const start = STARTS[index] as number;
          const level = start * (floorShare + (1 - floorShare) * Math.exp(-ratePerMin * minutes));
          return { sizeUmC, perMl: { value: poisson(level * sample * countedMl)() / countedMl } };
        }),
      };
    });
}

test("the 90 % interval of the rate covers the known rate in 90 ± 3 % of 2,000 simulated cases", () => {
  const random = seededRandom(314);
  const poisson = randomPoisson.source(random);
  const gamma = randomGamma.source(random);
  let [rate, floor] = [0, 0];
  const cases = 2000;
  for (let index = 0; index < cases; index += 1) {
    const truth = {
      start: 10 ** (2.5 + 2 * random()),
      rate: 0.1 + 0.4 * random(),
      share: 0.01 + 0.1 * random(),
    };
    const laboratory = 0.1;
    const points = [0, 2, 4, 7, 11].map((minutes) => {
      const level = truth.start * (truth.share + (1 - truth.share) * Math.exp(-truth.rate * minutes));
      const mean = 10 * level * gamma(1 / laboratory ** 2)() * laboratory ** 2;
      return { minutes, countedMl: 10, observed: { kind: "exact" as const, count: poisson(mean)() } };
    });
    const fit = fitDecay(points, laboratory ** 2);
    const holds = (interval: { low: number; high?: number }, value: number) =>
      interval.low <= value && value <= (interval.high ?? Number.POSITIVE_INFINITY);
    if (holds(fit.rate, truth.rate)) rate += 1;
    if (holds(fit.floor, truth.share * truth.start)) floor += 1;
  }
  expect(rate / cases).toBeGreaterThan(0.87);
  expect(rate / cases).toBeLessThan(0.93);
  // The floor cannot be below 0, so its interval may hold the truth more often.
  expect(floor / cases).toBeGreaterThan(0.87);
});

/** How often each diagnosis is made of simulated cases. */
function diagnoses(
  samples: () => InterimSample[],
  laboratory: number,
  cases = 100,
): Record<Diagnosis, number> {
  const tally = {
    "as-rated": 0,
    "slower-than-rated": 0,
    "levelling-off-above-target": 0,
    "not-falling": 0,
    "cannot-tell-yet": 0,
  };
  for (let index = 0; index < cases; index += 1) {
    tally[assessInterim({ plan, samples: samples(), laboratory }).diagnosis] += 1;
  }
  return tally;
}

test("working as rated is recognised, and never taken for a fault of the element", () => {
  const draw = sampler(1, 0.05, 20);
  const found = diagnoses(() => draw(RATED, 0, LONG), 0.05);
  expect(found["as-rated"]).toBeGreaterThan(85);
  expect(
    found["slower-than-rated"] + found["not-falling"] + found["levelling-off-above-target"],
  ).toBeLessThan(5);
});

test("an element that takes out half of what it is rated for is found slower than rated", () => {
  const draw = sampler(2, 0.05, 20);
  const found = diagnoses(() => draw(RATED / 2, 0, LONG), 0.05);
  expect(found["slower-than-rated"]).toBeGreaterThan(80);
  expect(found["as-rated"] + found["not-falling"]).toBe(0);
});

test("a level that stays at a fifth of the start is found levelling off above the target", () => {
  const draw = sampler(3, 0.05, 20);
  const found = diagnoses(() => draw(RATED, 0.2, LONG), 0.05);
  expect(found["levelling-off-above-target"]).toBeGreaterThan(95);
});

test("counts that do not fall are found so: stop and look", () => {
  const draw = sampler(4, 0.05, 20);
  const found = diagnoses(() => draw(0, 0, [0, 4, 8]), 0.05);
  expect(found["not-falling"]).toBeGreaterThan(95);
});

test("noise alone is called cannot tell yet", () => {
  // Two samples within the first half minute, and a laboratory that is good to 30 %: nothing but noise to see.
  const draw = sampler(5, 0.3, 20);
  const found = diagnoses(() => draw(RATED, 0, [0, 0.2, 0.4]), 0.3, 200);
  expect(found["cannot-tell-yet"]).toBeGreaterThan(0.85 * 200);
});

test("a fall that is slower so far is said even when its reason does not show yet", () => {
  const draw = sampler(6, 0.1, 20);
  const assessed = Array.from({ length: 20 }, () =>
    assessInterim({ plan, samples: draw(RATED / 3, 0, [0, 4, 8]), laboratory: 0.1 }),
  );
  const reported = assessed.filter((entry) => entry.diagnosis === "cannot-tell-yet" && entry.slowerSoFar);
  expect(reported.length).toBeGreaterThan(10);
  expect(reported[0]?.meaning).toContain("more slowly than rated");
});

test("the remaining time's 90 % interval covers the true one in 90 ± 6 % of 200 cases", () => {
  const draw = sampler(8, 0.05, 20);
  let covered = 0;
  const cases = 200;
  const truth = Math.log(20000 / 1300) / RATED - 8;
  for (let index = 0; index < cases; index += 1) {
    const { channels } = assessInterim({ plan, samples: draw(RATED, 0, [0, 3, 6, 8]), laboratory: 0.05 });
    const remaining = channels[0]?.remaining;
    if (remaining?.kind === "at-least" && remaining.minutes <= truth) covered += 1;
    if (remaining?.kind === "minutes" && remaining.low <= truth && truth <= remaining.high) covered += 1;
  }
  expect(covered / cases).toBeGreaterThan(0.84);
  expect(covered / cases).toBeLessThan(0.96);
});
