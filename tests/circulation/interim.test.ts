import { describe, expect, test } from "vitest";
import {
  assessInterim,
  countsOfClass,
  type DecayPoint,
  fitDecay,
  type InterimSample,
  mostInformativeMinutes,
  planCirculation,
  startOfClass,
} from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { demo, LONG, noiseless, plan, RATED, SIZES, STARTS } from "../support/interim-cases.js";

test.each([
  ["as-rated", RATED, 0, LONG, false, /^The fluid is getting clean as the elements are rated for/],
  ["slower-than-rated", RATED / 2, 0, LONG, true, /more slowly than the elements are rated for/],
  ["levelling-off-above-target", RATED, 0.2, LONG, true, /levels off above the target/],
  ["not-falling", 0, 0, [0, 4, 8], true, /^The counts are not falling\. Stop and look/],
  [
    "cannot-tell-yet",
    RATED,
    0,
    [0, 0.2, 0.4],
    false,
    /^The samples do not yet tell\. Go on .* another sample\.$/,
  ],
  ["cannot-tell-yet", RATED / 3, 0, [0, 4, 8], true, /do not yet tell.* So far the counts fall more slowly/],
] as const)(
  "counts without noise are diagnosed %s",
  (diagnosis, rate, floorShare, moments, slower, words) => {
    const assessed = assessInterim({ plan, samples: noiseless(rate, floorShare, moments), laboratory: 0.05 });
    expect(assessed.diagnosis).toBe(diagnosis);
    expect(assessed.meaning).toMatch(words);
    expect(assessed.slowerSoFar).toBe(slower);
    expect(assessed.channels.map(({ channel }) => channel)).toEqual(["4", "6", "14"]);
    for (const { fit, ratedRate } of assessed.channels) {
      expect(ratedRate).toBeCloseTo(RATED, 9);
      expect(fit.rate.low).toBeLessThanOrEqual(rate + 1e-6);
      expect(fit.rate.high ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(rate - 1e-6);
    }
    expect(assessed.assumptions.map(({ code }) => code)).toEqual(["interim-single-exponential"]);
  },
);

test("the order in which interim samples are given does not matter, and the slowest channel governs", () => {
  const samples = noiseless(RATED, 0, LONG);
  const slow = samples.map(({ counts, ...one }) => ({
    ...one,
    counts: counts.map((entry) =>
      entry.sizeUmC === 14
        ? { ...entry, perMl: { value: (STARTS[2] as number) * Math.exp((-RATED / 2) * one.minutes) } }
        : entry,
    ),
  }));
  const assessed = assessInterim({ plan, samples: slow, laboratory: 0.05 });
  expect(assessed.diagnosis).toBe("slower-than-rated");
  expect(assessed.channels.map(({ diagnosis }) => diagnosis)).toEqual([
    "as-rated",
    "as-rated",
    "slower-than-rated",
  ]);
  expect(assessInterim({ plan, samples: [...slow].reverse(), laboratory: 0.05 })).toEqual(assessed);
  const minutes = assessed.channels.map(({ remaining }) =>
    remaining.kind === "minutes" ? remaining.estimate : Number.POSITIVE_INFINITY,
  );
  const slowest = assessed.channels[minutes.indexOf(Math.max(...minutes))];
  expect(assessed).toMatchObject({ governing: slowest?.channel, remaining: slowest?.remaining });
});

test("a range is read as the particles between its sizes, and is left out by name where both may be anything", () => {
  const range = { channel: "6-14", fromUm: 6, toUm: 14, limit: 320, volumeMl: 1 };
  const [four] = demo.limits;
  const ranged = planCirculation({ ...demo, limits: [...(four ? [four] : []), range] });
  const samples = noiseless(RATED, 0, LONG);
  const at16 = (limits: Readonly<Record<number, "below" | "above">>) =>
    samples.map((one) => ({
      ...one,
      counts: one.counts.map((entry) => {
        const limit = one.minutes === 16 ? limits[entry.sizeUmC] : undefined;
        return limit === undefined ? entry : { ...entry, perMl: { ...entry.perMl, limit } };
      }),
    }));
  const pointsWith = (of: (six: number, fourteen: number) => DecayPoint["observed"]) =>
    samples.map(({ minutes, countedMl, counts }) => {
      const [six, fourteen] = [1, 2].map((index) => counts[index]?.perMl.value ?? 0) as [number, number];
      const exact = { kind: "exact" as const, count: (six - fourteen) * countedMl };
      return { minutes, countedMl, observed: minutes === 16 ? of(six, fourteen) : exact };
    });
  const fitOf = (limits: Readonly<Record<number, "below" | "above">>) => {
    const assessed = assessInterim({ plan: ranged, samples: at16(limits), laboratory: 0 });
    expect(assessed.channels.map(({ channel }) => channel)).toEqual(["4", "6-14"]);
    return assessed.channels[1]?.fit;
  };
  const exact = pointsWith((six, fourteen) => ({ kind: "exact", count: (six - fourteen) * 20 }));
  expect(fitOf({})).toEqual(fitDecay(exact, 0));
  // Up to all above 6 µm(c) less none above 14; between none and all above 14 taken off; more than what is left.
  const upTo = pointsWith((six, fourteen) => ({ kind: "at-most", count: (six - fourteen) * 20 }));
  expect(fitOf({ 6: "below" })).toEqual(fitDecay(upTo, 0));
  const within = pointsWith((six, fourteen) => ({
    kind: "between",
    fewest: (six - fourteen) * 20,
    count: six * 20,
  }));
  expect(fitOf({ 14: "below" })).toEqual(fitDecay(within, 0));
  const more = pointsWith((six, fourteen) => ({ kind: "at-least", count: (six - fourteen) * 20 }));
  expect(fitOf({ 6: "above" })).toEqual(fitDecay(more, 0));

  const open = at16({ 6: "above", 14: "above" });
  const left = assessInterim({ plan: ranged, samples: open, laboratory: 0 });
  expect(left.channels.map(({ channel }) => channel)).toEqual(["4"]);
  expect(left.assumptions.at(-1)).toEqual({
    code: "range-not-assessed",
    message: "not assessed for want of counts at both sizes: 6-14",
  });
  const alone = planCirculation({ ...demo, limits: [range] });
  expect(() => assessInterim({ plan: alone, samples: open, laboratory: 0 })).toThrow(
    "no channel can be assessed: a range needs counts at both of its sizes",
  );
});

describe("a class that was reported on the way", () => {
  const perMl = (text: string) =>
    countsOfClass(parseTarget(text)).value.map(({ sizeUmC, perMl: { value, limit } }) => [
      sizeUmC,
      Number(value.toPrecision(6)),
      limit,
    ]);
  // NAS 1638 class 8 for 100 mL: 64,000, 11,400, 2,025, 360 and 64, added up from the last.
  test.each<[string, [number, number][]]>([
    ["NAS 1638 8", [[6, 778.49], [14, 138.49], [21, 24.49], [38, 4.24], [70, 0.64]]], // biome-ignore format: a table
    ["AS4059 7A-F", [[4, 1000], [6, 389], [14, 69.3], [21, 12.2], [38, 2.12], [70, 0.32]]], // biome-ignore format: a table
    ["AS4059 7B/9C", [[6, 389], [14, 277]]], // biome-ignore format: a table
    // No more than above the size before it.
    ["AS4059 5B/12C", [[6, 97.3], [14, 97.3]]], // biome-ignore format: a table
  ])("%s is at most what it allows", (text, most) => {
    const read = perMl(text);
    expect(read.map(([, , limit]) => limit)).toEqual(most.map(() => "at-most"));
    for (const [index, [size, count]] of most.entries()) {
      expect(read[index]?.[0]).toBe(size);
      expect(read[index]?.[1]).toBeCloseTo(count, 0);
    }
    expect(read).toHaveLength(most.length);
  });

  test("and as a start it is the dirtiest fluid of the class", () => {
    const { counts, lowerEdges } = startOfClass(parseTarget("NAS 1638 8"));
    expect(counts.counts[0]).toMatchObject({ sizeUm: 6, count: 778.49 });
    expect(lowerEdges?.every(({ moreThanPerMl }) => moreThanPerMl === 0)).toBe(true);
  });
});

test.each([
  ["below", { kind: "at-most", count: 179 }],
  ["above", { kind: "at-least", count: 180 }],
] as const)(
  "a last count of 9 per mL in 20 mL that is only known as %s is used as such",
  (limit, observed) => {
    const samples = noiseless(RATED, 0, [0, 4, 8]);
    const last: InterimSample = {
      minutes: 12,
      countedMl: 20,
      counts: SIZES.map((sizeUmC) => ({ sizeUmC, perMl: { value: 9, limit } })),
    };
    const points = [
      ...samples.map(({ minutes, countedMl, counts }) => ({
        minutes,
        countedMl,
        observed: { kind: "exact" as const, count: (counts[0]?.perMl.value ?? 0) * countedMl },
      })),
      { minutes: 12, countedMl: 20, observed },
    ];
    const assessed = assessInterim({ plan, samples: [...samples, last], laboratory: 0.05 });
    expect(assessed.channels[0]?.fit).toEqual(fitDecay(points, 0.05 ** 2));
  },
);

test("interim samples that cannot be are refused by name", () => {
  const assess =
    (samples: InterimSample[], laboratory = 0.05) =>
    () =>
      assessInterim({ plan, samples, laboratory });
  const needed = "the starting sample (at 0 minutes) and at least one interim sample are needed";
  expect(assess(noiseless(RATED, 0, [0]))).toThrow(needed);
  expect(assess(noiseless(RATED, 0, [1, 4]))).toThrow(needed);
  expect(assess([])).toThrow(needed);
  expect(assess(noiseless(RATED, 0, [0, -4, 4]))).toThrow(
    "no sample can be before 0 minutes, found one at -4",
  );
  expect(assess(noiseless(RATED, 0, LONG), -0.1)).toThrow("laboratory must be 0 or more, not -0.1");
  const bare = noiseless(RATED, 0, LONG).map((one) => ({ ...one, counts: one.counts.slice(0, 2) }));
  expect(assess(noiseless(RATED, 0, [0, 4, 8, 4]))).toThrow(
    "expected one sample for each moment, the start being that of 0 min; found two at 4 min",
  );
  expect(assess(bare)).toThrow("the sample at 0 minutes has no count at 14 µm(c)");
});

test("without noise the fit gives back rate and floor, and the remaining time by hand", () => {
  const samples = LONG.map(
    (minutes): InterimSample => ({
      minutes,
      countedMl: 1000,
      counts: SIZES.map((sizeUmC, index) => ({
        sizeUmC,
        perMl: { value: (STARTS[index] as number) * (0.02 + 0.98 * Math.exp(-0.2 * minutes)) },
      })),
    }),
  );
  const shown = planCirculation({ ...demo, limits: limitsOfTarget(parseTarget("16/14/11")) });
  const assessed = assessInterim({ plan: shown, samples, laboratory: 0 });
  const [channel] = assessed.channels;
  expect(channel?.fit.best.rate).toBeCloseTo(0.2, 5);
  expect(channel?.fit.best.floor).toBeCloseTo(400, 1);
  const byHand = Math.log((0.98 * 20000) / (640 - 400)) / 0.2 - 16;
  expect(channel?.remaining).toMatchObject({ kind: "minutes", estimate: expect.closeTo(byHand, 2) });
  expect(
    channel?.remaining.kind === "minutes" &&
      channel.remaining.low < byHand &&
      byHand < (channel.remaining.high ?? 1e9),
  ).toBe(true);
});

test("a count given only as below a limit is used as such and not as a number", () => {
  const exact = (minutes: number, count: number) => ({
    minutes,
    countedMl: 1,
    observed: { kind: "exact" as const, count },
  });
  const censored = { minutes: 12, countedMl: 1, observed: { kind: "at-most" as const, count: 9 } };
  const without = fitDecay([exact(0, 1000), exact(4, 370), exact(8, 135)], 0);
  const with9 = fitDecay([exact(0, 1000), exact(4, 370), exact(8, 135), exact(12, 9)], 0);
  const below = fitDecay([exact(0, 1000), exact(4, 370), exact(8, 135), censored], 0);
  // Both say "at most 9", but 0 particles would do as well: the censored count pulls no less than an exact 9.
  expect(below.best.rate).toBeGreaterThan(without.best.rate);
  expect(below.best.rate).toBeGreaterThan(with9.best.rate);
  const harmless = fitDecay(
    [
      exact(0, 1000),
      exact(4, 370),
      exact(8, 135),
      { minutes: 12, countedMl: 1, observed: { kind: "at-most", count: 500 } },
    ],
    0,
  );
  expect(harmless.best.rate).toBeCloseTo(without.best.rate, 4);
});

test("a counter that is full says at least, and the level is not taken for what it could show", () => {
  const exact = (minutes: number, count: number) => ({
    minutes,
    countedMl: 1,
    observed: { kind: "exact" as const, count },
  });
  const full = { minutes: 0, countedMl: 1, observed: { kind: "at-least" as const, count: 20000 } };
  const fit = fitDecay([full, exact(4, 14700), exact(8, 5400), exact(12, 2000)], 0);
  expect(fit.best.start).toBeGreaterThan(35000);
});

test("the moment that tells most is where start, rate and floor are fixed best, found again by a plain determinant", () => {
  const found = mostInformativeMinutes({ plan, untilMinutes: 12, countedMl: 1e9, laboratory: 0.2 });
  // Three samples and three unknowns: the information is the square of the determinant of the slopes over the noise.
  const rate = 0.99 / 4;
  const slopes = (minutes: number) => {
    const left = Math.exp(-rate * minutes);
    return [left, -minutes * left, 1 - left].map((slope) => slope / left) as [number, number, number];
  };
  const [a, c] = [slopes(0), slopes(12)];
  const score = (minutes: number) => {
    const b = slopes(minutes);
    return Math.abs(
      a[0] * (b[1] * c[2] - b[2] * c[1]) -
        a[1] * (b[0] * c[2] - b[2] * c[0]) +
        a[2] * (b[0] * c[1] - b[1] * c[0]),
    );
  };
  const best = Array.from({ length: 1199 }, (_, step) => (step + 1) / 100).reduce((x, y) =>
    score(y) > score(x) ? y : x,
  );
  expect(Math.abs(found - best)).toBeLessThan(0.13);
  const next = mostInformativeMinutes({
    plan,
    untilMinutes: 12,
    countedMl: 20,
    laboratory: 0.2,
    drawnMinutes: [found],
  });
  expect(next).toBeGreaterThan(found);
});

test("one interim sample bounds the rate from below and leaves it open above", () => {
  const { channels } = assessInterim({ plan, samples: noiseless(RATED, 0, [0, 4]), laboratory: 0.05 });
  for (const { fit, ratedRate } of channels) {
    expect(fit.rate.low).toBeLessThan(ratedRate);
    expect(fit.rate.high).toBeUndefined();
    expect(fit.floor.low).toBe(0);
  }
});

test("the moment that tells most is between the start and a later moment", () => {
  expect(() => mostInformativeMinutes({ plan, untilMinutes: 0, countedMl: 20, laboratory: 0 })).toThrow(
    "untilMinutes",
  );
});
