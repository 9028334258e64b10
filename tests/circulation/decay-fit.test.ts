import { describe, expect, test } from "vitest";
import { type DecayPoint, fitDecay } from "../../src/circulation/index.js";
import { remainingTime } from "../../src/circulation/interim/remaining.js";

/** Half of 2.7055, the 90 % point of χ² with one degree of freedom (any table of χ²). */
const DROP = 2.7055 / 2;

const exact = (minutes: number, count: number, countedMl = 1): DecayPoint => ({
  minutes,
  countedMl,
  observed: { kind: "exact", count },
});

/** Where a function of one hump is highest, by narrowing in thirds. */
function highest(of: (value: number) => number, low: number, high: number): { at: number; value: number } {
  let [from, to] = [low, high];
  for (let round = 0; round < 36; round += 1) {
    const third = (to - from) / 3;
    if (of(from + third) < of(to - third)) from += third;
    else to -= third;
  }
  return { at: (from + to) / 2, value: of((from + to) / 2) };
}

/** The place between an inner and an outer value where a falling function passes a level. */
function passes(of: (value: number) => number, inner: number, outer: number, level: number): number {
  let [within, without] = [inner, outer];
  for (let round = 0; round < 60; round += 1) {
    const middle = (within + without) / 2;
    if (of(middle) >= level) within = middle;
    else without = middle;
  }
  return within;
}

describe("two counts and no floor, by hand: of all particles the later count has a binomial part", () => {
  test.each([
    ["of the same volume", 1000, 1, 400, 1],
    ["of different volumes", 1000, 1, 2400, 10],
    ["few", 12, 10, 3, 10],
  ])("%s", (_, before, beforeMl, after, afterMl) => {
    const { netRate } = fitDecay([exact(0, before, beforeMl), exact(4, after, afterMl)], 0);
    const logLikelihood = (rate: number) => {
      const [early, late] = [beforeMl, afterMl * Math.exp(-4 * rate)];
      return before * Math.log(early / (early + late)) + after * Math.log(late / (early + late));
    };
    const best = Math.log(before / beforeMl / (after / afterMl)) / 4;
    expect(netRate.estimate).toBeCloseTo(best, 4);
    const cut = logLikelihood(best) - DROP;
    expect(netRate.low).toBeCloseTo(passes(logLikelihood, best, -1, cut), 4);
    expect(netRate.high).toBeCloseTo(passes(logLikelihood, best, 5, cut), 4);
  });
});

describe.each([0, 0.01])(
  "start, rate and floor against a search by thirds, relative variance %d",
  (variance) => {
    const counts = [
      [0, 5000],
      [5, 2000],
      [10, 900],
      [20, 500],
    ] as const;
    // Poisson, or Poisson mixed with a gamma distribution (negative binomial), without what hangs on the count alone.
    const of = (count: number, mean: number) =>
      count * Math.log(mean) -
      (variance === 0 ? mean : (count + 1 / variance) * Math.log(1 + mean * variance));
    const logLikelihood = (start: number, floor: number, rate: number) =>
      counts.reduce(
        (sum, [minutes, count]) => sum + of(count, floor + (start - floor) * Math.exp(-rate * minutes)),
        0,
      );
    const overStart = (floor: number, rate: number) =>
      highest((start) => logLikelihood(start, floor, rate), Math.max(floor, 1), 20_000);
    const byRate = (rate: number) => highest((floor) => overStart(floor, rate).value, 0, 1500).value;
    const byFloor = (floor: number) => highest((rate) => overStart(floor, rate).value, 0.01, 2).value;
    const top = highest(byRate, 0.01, 2);
    const fit = fitDecay(
      counts.map(([minutes, count]) => exact(minutes, count)),
      variance,
    );

    test("the best rate is the most likely one, and the best floor is the one that goes with it", () => {
      expect(fit.best.rate).toBeCloseTo(top.at, 3);
      expect(fit.rate.estimate).toBe(fit.best.rate);
      expect(fit.floor.estimate).toBe(fit.best.floor);
      expect(logLikelihood(fit.best.start, fit.best.floor, fit.best.rate)).toBeCloseTo(top.value, 4);
    });

    test("the intervals end where the likelihood has fallen by half the 90 % point of χ²", () => {
      const cut = top.value - DROP;
      for (const rate of [fit.rate.low, fit.rate.high ?? Number.NaN])
        expect(byRate(rate)).toBeCloseTo(cut, 2);
      expect(byFloor(fit.floor.high ?? Number.NaN)).toBeCloseTo(cut, 2);
      if (fit.floor.low === 0) expect(byFloor(0)).toBeGreaterThanOrEqual(cut);
      else expect(byFloor(fit.floor.low)).toBeCloseTo(cut, 2);
      expect(fit.rate.low).toBeLessThan(fit.best.rate);
      expect(fit.rate.high).toBeGreaterThan(fit.best.rate);
    });
  },
);

describe("the time that remains until a limit", () => {
  const falling = [
    [0, 5000],
    [5, 2000],
    [10, 900],
    [20, 500],
  ] as const;
  const points = falling.map(([minutes, count]) => exact(minutes, count));
  const remaining = (limit: number, until = 20) =>
    remainingTime(points, 0, fitDecay(points, 0), limit, until);

  test("ends where no decay through the limit at that moment is likely enough, by a search in thirds", () => {
    const left = remaining(700, 10);
    if (left.kind !== "minutes" || left.high === undefined) throw new Error(left.kind);
    const logLikelihood = (start: number, floor: number, rate: number) =>
      falling.reduce((sum, [minutes, count]) => {
        const mean = floor + (start - floor) * Math.exp(-rate * minutes);
        return sum + count * Math.log(mean) - mean;
      }, 0);
    const through = (moment: number) =>
      highest(
        (floor) =>
          highest(
            (rate) => logLikelihood(floor + (700 - floor) * Math.exp(rate * moment), floor, rate),
            0.01,
            1,
          ).value,
        0,
        699,
      ).value;
    const { start, floor, rate } = fitDecay(points, 0).best;
    const cut = logLikelihood(start, floor, rate) - DROP;
    expect(left.estimate).toBeCloseTo(Math.log((start - floor) / (700 - floor)) / rate - 10, 6);
    expect(through(10 + left.low)).toBeCloseTo(cut, 1);
    expect(through(10 + left.high)).toBeCloseTo(cut, 1);
    expect(left.low).toBeLessThan(left.estimate);
    expect(left.high).toBeGreaterThan(left.estimate);
  });

  test("has no latest end where the floor may lie as high as the limit", () => {
    const { best, floor } = fitDecay(points, 0);
    expect(floor.low).toBeLessThan(460);
    expect(floor.high).toBeGreaterThan(460);
    expect(best.floor).toBeLessThan(460);
    const open = remaining(460);
    expect(open).toMatchObject({ kind: "at-least" });
    expect(open).not.toHaveProperty("estimate");
    // A limit that lies above every floor that is likely enough is reached at some time.
    expect(remaining(485)).toHaveProperty("high");
  });

  test("is none inside the limit and never ends above the floor", () => {
    expect(remaining(2000)).toEqual({ kind: "minutes", estimate: 0, low: 0, high: 0 });
    const { floor } = fitDecay(points, 0).best;
    expect(remaining(floor * 0.9)).toEqual({ kind: "not-reached", floor });
    const steady = [exact(0, 1000), exact(4, 1000), exact(8, 1000)];
    expect(remainingTime(steady, 0, fitDecay(steady, 0), 500, 8)).toMatchObject({ kind: "not-reached" });
  });
});

test("counts that stay the same allow a rate of 0, and no floor above them", () => {
  const fit = fitDecay([exact(0, 1000), exact(4, 1000), exact(8, 1000)], 0);
  expect(fit.netRate.low).toBe(0);
  expect(fit.netRate.estimate).toBeCloseTo(0, 6);
  // By hand: the slope of three counts of 1000 over 0, 4 and 8 min has a standard deviation of 1/√(1000·32).
  expect(fit.netRate.high).toBeCloseTo(1.645 / Math.sqrt(1000 * 32), 3);
});

test("one count, or two of the same moment, are refused", () => {
  const said = "a fit needs counts at two or more different moments";
  expect(() => fitDecay([exact(0, 1000)], 0)).toThrow(said);
  expect(() => fitDecay([exact(0, 1000), exact(4, 500), exact(4, 400)], 0)).toThrow(said);
});
