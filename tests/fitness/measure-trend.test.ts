import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseTarget } from "../../src/cleanliness/index.js";
import {
  boundsOf,
  dayAfter,
  describeForecast,
  describeNextSample,
  describeTrend,
  fleetLevels,
  limitsNotFollowed,
} from "../../src/fitness/index.js";
import { formatChance } from "../../src/fitness/trends/trend-notes.js";
import type { Circuit, Requirement } from "../../src/samples/index.js";
import { CIRCUIT, FIRST, rising, SCATTER, sampleOf, trendOf } from "../support/trend-samples.js";

const event = (kind: Circuit["events"][number]["kind"], day: number, addedL?: number) => ({
  kind,
  on: dayAfter(FIRST, day),
  ...(addedL !== undefined && { addedL }),
});
const withEvents = (...events: Circuit["events"]): Circuit => ({ ...CIRCUIT, events });
const codes = (trend: ReturnType<typeof trendOf>) => trend.notes.map(({ code }) => code);

test("a change of the fluid that is still to come cuts no trend", () => {
  const samples = rising(60, 6, 14).map(sampleOf);
  const [without, planned] = [CIRCUIT, withEvents(event("fluid-change", 13 * 30 + 60))].map((circuit) => {
    const { notes, ...trend } = trendOf(samples, { circuit });
    return { ...trend, notes: notes.map(({ code }) => code) };
  });
  expect(planned).toEqual(without);
});

describe("a plain rise", () => {
  const trend = trendOf(rising(60, 6, 14).map(sampleOf));

  test("has its slope per year inside its interval", () => {
    if (trend.slope.kind !== "slope" || trend.slope.interval.kind !== "interval") throw new Error("no slope");
    expect(trend.slope.slope).toBeCloseTo((6 * 365.25) / 30, -1);
    expect(trend.slope.interval.low).toBeLessThan(73.05);
    expect(trend.slope.interval.high).toBeGreaterThan(73.05);
    expect(trend.n).toBe(14);
  });

  test("crosses 200 about 23.3 months after the first sample, between earliest and latest", () => {
    if (trend.forecast.kind !== "crosses") throw new Error(trend.forecast.kind);
    const expected = dayAfter(FIRST, 700);
    expect(trend.forecast.earliest < expected && expected < (trend.forecast.latest ?? "")).toBe(true);
    expect(Math.abs(Date.parse(trend.forecast.on) - Date.parse(expected)) / 86_400_000).toBeLessThan(25);
  });

  test("asks for the next sample after the longest interval, because the limit is far", () => {
    expect(trend.nextSample).toMatchObject({
      on: dayAfter(FIRST, 13 * 30 + 45),
      because: "longest-interval",
    });
    const patient = trendOf(rising(60, 6, 14).map(sampleOf), { longestDays: 3000 });
    expect(patient.nextSample.because).toBe("risk");
    expect(patient.nextSample.on < (patient.forecast.kind === "crosses" ? patient.forecast.on : "")).toBe(
      true,
    );
  });

  test("says all this in words that never leave a date alone", () => {
    expect(describeTrend(trend)).toMatch(
      /^water: rising by \d+.* ppm by mass a year \(90 % interval .* to .*\), from 14 samples$/,
    );
    expect(describeForecast(trend.forecast)).toMatch(
      /^crosses the limit about .*: at the earliest .*, at the latest .*$/,
    );
    expect(describeNextSample(trend)).toMatch(/longest interval/);
  });
});

describe("a fluid change in a rise", () => {
  const before = rising(60, 6, 12);
  const after = rising(55, 6, 8, 12);
  const circuit = withEvents(event("fluid-change", 30 * 11 + 3));
  const trend = trendOf([...before, ...after].map(sampleOf), { circuit });

  test("starts a new segment, so that the trend rises as it did before and after", () => {
    expect(trend.segments.map(({ readings }) => readings.length)).toEqual([12, 8]);
    expect(trend.segments[1]?.startedBy?.kind).toBe("fluid-change");
    for (const { slope } of trend.segments) expect(slope.kind === "slope" && slope.slope).toBeGreaterThan(50);
    expect(trend.n).toBe(8);
    expect(trend.test.score).toBeGreaterThan(0);
  });

  test("never yields a falling trend, wherever it falls and however much it takes away", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 18 }),
        fc.integer({ min: 0, max: 140 }),
        fc.integer({ min: 2, max: 9 }),
        (at, fall, perMonth) => {
          const months = Array.from({ length: 20 }, (_, month) => ({
            day: 30 * month,
            water: 150 + perMonth * month + (SCATTER[month % 15] as number) - (month >= at ? fall : 0),
          }));
          const reported = trendOf(months.map(sampleOf), {
            circuit: withEvents(event("fluid-change", 30 * at - 7)),
          });
          const falls =
            reported.slope.kind === "slope" && reported.slope.slope < 0 && reported.test.pValue <= 0.05;
          expect(falls).toBe(false);
        },
      ),
      { numRuns: 150 },
    );
  });

  test("a sample drawn on the day of the change counts as drawn before it", () => {
    const sameDay = trendOf([...before, ...after].map(sampleOf), {
      circuit: withEvents(event("fluid-change", 30 * 12)),
    });
    expect(sameDay.segments.map(({ readings }) => readings.length)).toEqual([13, 7]);
  });

  test("with no sample since, nothing can be told and a sample is due today", () => {
    const empty = trendOf(before.map(sampleOf), { circuit: withEvents(event("fluid-change", 30 * 11 + 3)) });
    expect(empty.forecast).toMatchObject({ kind: "cannot-tell", n: 0 });
    expect(empty.nextSample).toEqual({ on: empty.on, because: "no-sample" });
  });
});

describe("events that make a jump", () => {
  test("top-ups cut the line and not the slope; their note tells of one after the last sample", () => {
    // 6 a month, and each top-up takes 20 away.
    const months = rising(60, 6, 18).map((entry, month) => ({
      ...entry,
      water: (entry.water as number) - 20 * Math.floor(month / 6),
    }));
    const circuit = withEvents(event("top-up", 170), event("top-up", 350), event("top-up", 513));
    const trend = trendOf(months.map(sampleOf), { circuit });
    expect(trend.slope.kind === "slope" && trend.slope.slope).toBeCloseTo(73, -1);
    expect(trend.steps.map(({ kind }) => kind)).toEqual(["known", "known"]);
    expect(codes(trend)).toContain("event-after-last-sample");
    const blind = trendOf(months.map(sampleOf));
    expect(blind.slope.kind === "slope" && blind.slope.slope).toBeLessThan(45);
  });

  test("a sample drawn on the day of a top-up belongs to the time before it", () => {
    const months = rising(60, 6, 12).map((entry) => ({
      ...entry,
      water: (entry.water as number) - (entry.day > 180 ? 40 : 0),
    }));
    const trend = trendOf(months.map(sampleOf), { circuit: withEvents(event("top-up", 180)) });
    expect(trend.lines.map(({ from }) => from)).toEqual([FIRST, dayAfter(FIRST, 210)]);
  });

  test("with litres and the value of new fluid the generation is told from the dilution", () => {
    let water = 60;
    const months = Array.from({ length: 16 }, (_, month) => {
      const entry = { day: 30 * month, water };
      water += 5 + 5;
      if (month % 5 === 2) water -= 0.2 * (water - 5 - 40);
      return entry;
    });
    const circuit = withEvents(...[2, 7, 12].map((month) => event("top-up", 30 * month + 15, 20)));
    const trend = trendOf(months.map(sampleOf), { circuit, newFluidValue: 40 });
    expect(trend.generation?.perYear).toBeCloseTo((10 * 365.25) / 30, 0);
    expect(trendOf(months.map(sampleOf), { circuit }).generation).toBeUndefined();
    const beyond = [event("top-up", -20), event("top-up", 500)];
    const more = { ...circuit, events: [...circuit.events, ...beyond] };
    expect(trendOf(months.map(sampleOf), { circuit: more, newFluidValue: 40 }).generation).toEqual(
      trend.generation,
    );
    const unknown = withEvents(event("top-up", 75, 20), event("top-up", 225));
    expect(trendOf(months.map(sampleOf), { circuit: unknown, newFluidValue: 40 }).generation).toBeUndefined();
  });

  test("dehydrating begins anew for water and does nothing to acid", () => {
    const circuit = withEvents(event("dehydration", 200));
    const samples = rising(60, 6, 12).map((entry, month) =>
      sampleOf({ ...entry, acid: 0.05 + 0.01 * month }),
    );
    expect(trendOf(samples, { circuit }).segments).toHaveLength(2);
    expect(trendOf(samples, { circuit, measure: "acid", bounds: [] }).segments).toHaveLength(1);
  });

  test("an element change steps the particles and does nothing to water", () => {
    const circuit = withEvents(event("element-change", 200));
    const samples = rising(60, 6, 12).map((entry, month) =>
      sampleOf({ ...entry, counts: [1000 + 30 * month, 300, 40] }),
    );
    expect(trendOf(samples, { circuit }).steps).toEqual([]);
    expect(trendOf(samples, { circuit, measure: "particles-4", bounds: [] }).steps).toMatchObject([
      { kind: "known" },
    ]);
  });
});

describe("what fools a trend", () => {
  test("an unexplained step is reported with its days and size, and the slope otherwise", () => {
    const months = rising(60, 4, 16).map((entry) => ({
      ...entry,
      water: (entry.water as number) + (entry.day >= 270 ? 60 : 0),
    }));
    const trend = trendOf(months.map(sampleOf));
    expect(trend.steps).toMatchObject([
      {
        kind: "found",
        after: dayAfter(FIRST, 240),
        before: dayAfter(FIRST, 270),
        size: expect.closeTo(60, -1),
      },
    ]);
    expect(trend.slope.kind === "slope" && trend.slope.slope).toBeCloseTo(48.7, -1);
    expect(trend.notes.find(({ code }) => code === "step-found")?.message).toMatch(
      /steps by .*otherwise|taken as part/,
    );
    expect(trend.n).toBe(16);
  });

  test("a run of < 50 has no slope of its own, however long and on whatever days", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 0, max: 700 }), { minLength: 1, maxLength: 40 }),
        (days) => {
          const trend = trendOf(days.map((day) => sampleOf({ day, water: "<50" })));
          expect(trend.slope.kind).toBe("cannot-tell");
          expect(trend.forecast.kind).toBe("cannot-tell");
          expect(trend.latestBeyond).toBe(false);
        },
      ),
    );
  });

  test("a laboratory that changes its reporting limit from 100 to 50 makes no fall", () => {
    const limits = Array.from({ length: 20 }, (_, month) => ({
      day: 30 * month,
      water: month < 10 ? "<100" : "<50",
    }));
    const seen = [
      ...limits,
      ...[20, 21, 22, 23].map((month) => ({ day: 30 * month, water: 30 + (month % 2) })),
    ];
    const trend = trendOf(seen.map(sampleOf));
    expect(trend.forecast.kind).not.toBe("crosses");
    expect(trend.slope.kind === "slope" && trend.slope.slope < 0 && trend.test.pValue <= 0.05).toBe(false);
    expect(codes(trend)).toContain("limit-values");
  });

  test("four samples with laboratory scatter are no trend, and three cannot tell", () => {
    expect(
      trendOf([70, 78, 74, 81].map((water, month) => sampleOf({ day: 30 * month, water }))).forecast.kind,
    ).toBe("no-trend");
    const three = trendOf([70, 90, 110].map((water, month) => sampleOf({ day: 30 * month, water })));
    expect(three.forecast).toMatchObject({ kind: "cannot-tell", n: 3, needed: 4 });
    expect(codes(three)).toContain("cannot-tell");
  });

  test("an odd result is flagged with its sample and kept in the number", () => {
    const months = rising(60, 2, 12).map((entry) => (entry.day === 150 ? { ...entry, water: 190 } : entry));
    const trend = trendOf(months.map(sampleOf));
    expect(trend.outliers).toMatchObject([{ sample: "S-150", value: 190 }]);
    expect(trend.n).toBe(12);
    expect(codes(trend)).toContain("outlier");
  });

  test("a latest result beyond the limit is said, and a sample is due at once, whatever the line says", () => {
    const months = rising(60, 1, 12).map((entry) => (entry.day === 330 ? { ...entry, water: 260 } : entry));
    const trend = trendOf(months.map(sampleOf));
    expect(trend.latestBeyond).toBe(true);
    expect(trend.beyondNow).toBe(false);
    expect(trend.nextSample).toEqual({ on: dayAfter(FIRST, 330), because: "latest-beyond" });
    expect(codes(trend)).toContain("latest-beyond");
  });

  test("a latest < 250 against a limit of 200 is not surely beyond it; 200 itself is not; 200.1 is", () => {
    const ending = (water: number | string) =>
      trendOf([...rising(60, 1, 11), { day: 330, water }].map(sampleOf)).latestBeyond;
    expect([ending("<250"), ending(200), ending(200.1)]).toEqual([false, false, true]);
  });

  test("of limit values > 200 is surely beyond 200, ≥ 200 is not, ≥ 201 is", () => {
    const ending = (value: number, limit: "above" | "at-least") => {
      const last = { ...sampleOf({ day: 330 }), waterPpm: { value, limit } };
      return trendOf([...rising(60, 1, 11).map(sampleOf), last]).latestBeyond;
    };
    expect([ending(200, "above"), ending(200, "at-least"), ending(201, "at-least")]).toEqual([
      true,
      false,
      true,
    ]);
  });

  test("samples after today take no part", () => {
    const all = rising(60, 6, 14).map(sampleOf);
    expect(trendOf(all, { on: dayAfter(FIRST, 200) }).n).toBe(7);
  });
});

describe("results on a straight line, by hand", () => {
  // 60 ppm and 6 more every 30 days: 200 is reached 700 days after the first, 0.2 a day.
  const straight = (months: number, perMonth = 6) =>
    Array.from({ length: months }, (_, month) => sampleOf({ day: 30 * month, water: 60 + perMonth * month }));

  test("cross the limit on the day of the line, which is also the earliest and the latest", () => {
    const { forecast } = trendOf(straight(14), { horizonDays: 400 });
    if (forecast.kind !== "crosses") throw new Error(forecast.kind);
    const hand = Date.parse(dayAfter(FIRST, 700));
    for (const day of [forecast.on, forecast.earliest, forecast.latest ?? ""])
      expect(Math.abs(Date.parse(day) - hand) / 86_400_000).toBeLessThanOrEqual(1);
  });

  test("beyond the horizon the day is given all the same, and the earliest where it lies within", () => {
    const { forecast } = trendOf(straight(14), { horizonDays: 100 });
    if (forecast.kind !== "beyond-horizon") throw new Error(forecast.kind);
    const hand = Date.parse(dayAfter(FIRST, 700));
    expect(Math.abs(Date.parse(forecast.on ?? "") - hand) / 86_400_000).toBeLessThanOrEqual(1);
    expect(forecast).not.toHaveProperty("earliest");

    const scattered = rising(60, 6, 14).map(sampleOf);
    const crossing = trendOf(scattered, { horizonDays: 1000 }).forecast;
    if (crossing.kind !== "crosses") throw new Error(crossing.kind);
    const today = Date.parse(dayAfter(FIRST, 395));
    const between = (Date.parse(crossing.on) + Date.parse(crossing.earliest)) / 2;
    const horizonDays = Math.round((between - today) / 86_400_000);
    expect(trendOf(scattered, { horizonDays }).forecast).toEqual({
      kind: "beyond-horizon",
      on: crossing.on,
      earliest: crossing.earliest,
      level: crossing.level,
    });
  });

  test("are drawn from the first result to the last, and from top-up to top-up", () => {
    const [line, ...more] = trendOf(straight(14)).lines;
    expect(more).toEqual([]);
    expect(line).toEqual({
      from: FIRST,
      to: dayAfter(FIRST, 390),
      startsAt: expect.closeTo(60, 6),
      endsAt: expect.closeTo(138, 6),
    });
    const topped = straight(14).map((one, month) => ({
      ...one,
      waterPpm: { value: 60 + 6 * month - (month > 6 ? 20 : 0) },
    }));
    const circuit = withEvents(event("top-up", 195));
    expect(trendOf(topped, { circuit }).lines).toEqual([
      {
        from: FIRST,
        to: dayAfter(FIRST, 180),
        startsAt: expect.closeTo(60, 6),
        endsAt: expect.closeTo(96, 6),
      },
      {
        from: dayAfter(FIRST, 210),
        to: dayAfter(FIRST, 390),
        startsAt: expect.closeTo(82, 6),
        endsAt: expect.closeTo(118, 6),
      },
    ]);
  });

  test("of two limits the one that is reached first is told and decides when to sample", () => {
    const [near, far] = [
      { limit: 150, towards: "above" as const },
      { limit: 200, towards: "above" as const },
    ];
    for (const bounds of [
      [near, far],
      [far, near],
    ]) {
      const both = trendOf(straight(14), { bounds, longestDays: 1000 });
      expect(both.bound).toEqual(near);
      const alone = trendOf(straight(14), { bounds: [near], longestDays: 1000 });
      expect(both.nextSample).toEqual(alone.nextSample);
      expect(both.forecast).toEqual(alone.forecast);
      expect(alone.nextSample.because).toBe("risk");
      // 150 is reached 60 days after the last sample.
      expect(Date.parse(alone.nextSample.on)).toBeLessThanOrEqual(Date.parse(dayAfter(FIRST, 450)));
      expect(Date.parse(alone.nextSample.on)).toBeGreaterThan(Date.parse(dayAfter(FIRST, 440)));
    }
  });

  test("are beyond now when the line has passed any limit, and a measure with no limit is beyond none", () => {
    const [passed, far] = [
      { limit: 130, towards: "above" as const },
      { limit: 10, towards: "below" as const },
    ];
    expect(trendOf(straight(14), { bounds: [passed, far] }).beyondNow).toBe(true);
    expect(trendOf(straight(14), { bounds: [far] }).beyondNow).toBe(false);
    expect(trendOf(straight(14), { bounds: [] })).not.toHaveProperty("beyondNow");
    expect(trendOf(straight(14), { bounds: [] })).toMatchObject({ latestBeyond: false });
    expect(trendOf(straight(2), {})).toMatchObject({ lines: [], outliers: [] });
    expect(trendOf(straight(2), {})).not.toHaveProperty("line");
  });

  test("a sample of the day of judging takes part", () => {
    expect(trendOf(straight(8), { on: dayAfter(FIRST, 180) }).n).toBe(7);
  });

  test("a result at a lower limit is not surely beyond it, one below it is, whatever an upper limit says", () => {
    const bounds = [
      { limit: 16, towards: "above" as const },
      { limit: 11, towards: "below" as const },
    ];
    const ending = (viscosity: number) =>
      trendOf(
        [0, 30, 60, 90, 120].map((day) => sampleOf({ day, viscosity: day === 120 ? viscosity : 13 })),
        { measure: "viscosity", bounds },
      ).latestBeyond;
    expect([10.99, 11, 13, 16, 16.01].map(ending)).toEqual([true, false, false, false, true]);
  });
});

describe("limits on both sides", () => {
  const falling = Array.from({ length: 14 }, (_, month) =>
    sampleOf({ day: 30 * month, viscosity: 13.5 - 0.12 * month + 0.02 * (SCATTER[month] as number) }),
  );
  const bounds = [
    { limit: 16, towards: "above" as const },
    { limit: 11, towards: "below" as const },
  ];

  test("the one that the level moves towards is told", () => {
    const trend = trendOf(falling, { measure: "viscosity", bounds });
    expect(trend.bound).toEqual({ limit: 11, towards: "below" });
    expect(trend.forecast.kind).toBe("crosses");
    expect(trend.slope.kind === "slope" && trend.slope.slope).toBeLessThan(0);
  });

  test("without a limit no crossing is told, and the note says why", () => {
    const trend = trendOf(falling, { measure: "viscosity", bounds: [] });
    expect(trend.forecast).toMatchObject({ kind: "cannot-tell", why: "no-limit" });
    expect(codes(trend)).toContain("no-limit");
    expect(trend.bound).toBeUndefined();
  });
});

describe("particles", () => {
  test("a doubling every 100 days is 3.65 codes a year", () => {
    const samples = Array.from({ length: 12 }, (_, month) => {
      const times = 2 ** ((30 * month) / 100);
      return sampleOf({ day: 30 * month, counts: [100 * times, 30 * times, 4 * times] });
    });
    const trend = trendOf(samples, { measure: "particles-4", bounds: [{ limit: 18, towards: "above" }] });
    expect(trend.unit).toBe("ISO 4406 codes");
    expect(trend.slope.kind === "slope" && trend.slope.slope).toBeCloseTo(3.65, 1);
  });

  test("the limit is read from the requirement at its size, and none from size ranges", () => {
    const requirement = (...targets: string[]): Requirement => ({
      system: "main system",
      fluids: ["MIL-PRF-83282"],
      cleanliness: targets.map(parseTarget),
      waterPpmMax: 200,
      acidMgKohPerGMax: 0.2,
      sampleAgeDaysMax: 45,
    });
    expect(boundsOf("particles-6", requirement("18/16/13"))).toEqual([{ limit: 16, towards: "above" }]);
    expect(boundsOf("particles-6", requirement("18/16/13", "17/15/12"))).toEqual([
      { limit: 15, towards: "above" },
    ]);
    expect(boundsOf("particles-6", requirement("NAS 1638 7"))).toEqual([]);
    expect(boundsOf("water", requirement("18/16/13"))).toEqual([{ limit: 200, towards: "above" }]);
    expect(boundsOf("viscosity", requirement("18/16/13"))).toEqual([]);
    expect(
      boundsOf("viscosity", { ...requirement("18/16/13"), viscosity40Mm2PerS: { min: 13, max: 15 } }),
    ).toEqual([
      { limit: 15, towards: "above" },
      { limit: 13, towards: "below" },
    ]);
    const [sizeA] = boundsOf("particles-4", requirement("AS4059 cumulative 7A-F"));
    expect(sizeA?.towards).toBe("above");
    expect(limitsNotFollowed("particles-6", requirement("18/16/13", "NAS 1638 7"))).toEqual(["NAS 1638 7"]);
    expect(limitsNotFollowed("water", requirement("NAS 1638 7"))).toEqual([]);
  });

  test("counts beyond the scale are limit values", () => {
    const samples = [0, 30, 60].map((day) => sampleOf({ day, counts: [5e6, 0.001, 0.001] }));
    const trend = trendOf(samples, { measure: "particles-4", bounds: [] });
    expect(trend.segments[0]?.readings[0]).toMatchObject({ value: 28, limit: "above" });
    const fine = trendOf(samples, { measure: "particles-14", bounds: [] });
    expect(fine.segments[0]?.readings[0]).toMatchObject({ value: 0, limit: "below" });
  });
});

test("the last two results are held against the scatter of one operator and of two laboratories", () => {
  const trend = trendOf(
    [0.3, 0.31, 0.3, 0.34].map((acid, month) => sampleOf({ day: 30 * month, acid })),
    { measure: "acid", bounds: [] },
  );
  // ASTM D664, used fluid: r = 0.117 · 0.32 = 0.0374, R = 0.44 · 0.32 = 0.1408.
  expect(trend.lastChange?.sameLaboratory).toMatchObject({
    outcome: "different",
    allowed: expect.closeTo(0.0374, 4),
  });
  expect(trend.lastChange?.differentLaboratories).toMatchObject({
    outcome: "not-different",
    allowed: expect.closeTo(0.1408, 4),
  });
  expect(codes(trend)).toContain("last-two-results");
});

test("acid in phosphate ester is said to speed up, acid in a hydrocarbon is not", () => {
  const samples = [0.3, 0.31, 0.3, 0.34].map((acid, month) => sampleOf({ day: 30 * month, acid }));
  const ester: Circuit = { ...CIRCUIT, fluid: "AS1241 Type IV" };
  expect(codes(trendOf(samples, { measure: "acid", circuit: ester }))).toContain("acid-may-speed-up");
  expect(codes(trendOf(samples, { measure: "acid" }))).not.toContain("acid-may-speed-up");
});

test("a risk or horizon out of range is refused by name", () => {
  const samples = rising(60, 6, 5).map(sampleOf);
  expect(() => trendOf(samples, { risk: 1 })).toThrow(/^risk/);
  expect(() => trendOf(samples, { horizonDays: 0 })).toThrow(/^horizonDays/);
  expect(() => trendOf(samples, { longestDays: Number.NaN })).toThrow(/^longestDays/);
});

describe("alarm levels of a fleet", () => {
  const carts = [
    { cart: "C-1", circuits: [CIRCUIT, { ...CIRCUIT, circuit: "2", fluid: "AS1241 Type IV" as const }] },
  ];
  const samples = Array.from({ length: 60 }, (_, index) => [
    sampleOf({ day: index, water: index < 10 ? "<50" : 50 + index }),
    { ...sampleOf({ day: index, water: 4000 }), circuit: "2" },
  ]).flat();

  test("take the circuits of one fluid only, and count limit values", () => {
    const fleet = fleetLevels("water", "MIL-PRF-83282", { carts, samples });
    expect(fleet).toMatchObject({ circuits: 1, limited: 10, levels: { kind: "levels", n: 60 } });
    expect(fleet.levels.kind === "levels" && fleet.levels.percentiles.alarm).toBeLessThan(120);
  });

  test("too few results cannot tell", () => {
    const fleet = fleetLevels("acid", "MIL-PRF-83282", { carts, samples });
    expect(fleet.levels).toEqual({ kind: "cannot-tell", n: 0, needed: 50 });
  });
});

describe("in words", () => {
  test.each([
    [
      { kind: "crosses", on: "2026-05-02", earliest: "2026-04-01", latest: "2026-07-09", level: 0.9 },
      "crosses the limit about 2026-05-02: at the earliest 2026-04-01, at the latest 2026-07-09",
    ],
    [
      { kind: "crosses", on: "2026-05-02", earliest: "2026-04-01", level: 0.9 },
      "crosses the limit about 2026-05-02: at the earliest 2026-04-01, with no known end",
    ],
    [{ kind: "no-trend", pValue: 0.4 }, "no trend, so no crossing is given"],
    [{ kind: "beyond-horizon", level: 0.9 }, "does not cross the limit within the horizon"],
    [
      { kind: "beyond-horizon", on: "2027-05-02", level: 0.9 },
      "does not cross the limit within the horizon (about 2027-05-02)",
    ],
    [
      { kind: "beyond-horizon", on: "2027-05-02", earliest: "2026-12-01", level: 0.9 },
      "does not cross the limit within the horizon (about 2027-05-02), though it could as early as 2026-12-01",
    ],
    [{ kind: "cannot-tell", why: "too-few", n: 3, needed: 4 }, "cannot tell from 3 samples"],
    [{ kind: "cannot-tell", why: "no-limit", n: 9, needed: 9 }, "no limit applies, so no crossing is given"],
  ] as const)("a forecast: %o", (forecast, words) => {
    expect(describeForecast(forecast)).toBe(words);
  });

  test.each([
    [
      "risk",
      0.05,
      "then the chance of having crossed the limit reaches the risk chosen (chance of having crossed 0.05)",
    ],
    ["longest-interval", undefined, "the longest interval allowed"],
    [
      "risk-already-reached",
      undefined,
      "at once, the chance of having crossed the limit has reached the risk chosen",
    ],
    ["latest-beyond", undefined, "at once, the latest result is beyond the limit"],
    ["no-sample", undefined, "there is no sample of this fluid"],
  ] as const)("the next sample because of %s", (because, chance, why) => {
    const nextSample = { on: "2026-04-18", because, ...(chance !== undefined && { chance }) };
    expect(describeNextSample({ nextSample })).toBe(`2026-04-18: ${why}`);
  });

  test("a rise, a fall, a level and too few samples", () => {
    const said = (perMonth: number, months = 14) =>
      describeTrend(trendOf(rising(150, perMonth, months).map(sampleOf)));
    expect(said(6)).toMatch(
      /^water: rising by 7\d ppm by mass a year \(90 % interval 7.* to 7.*\), from 14 samples$/,
    );
    expect(said(-6)).toMatch(
      /^water: falling by 7\d ppm by mass a year \(90 % interval -7.* to -7.*\), from 14 samples$/,
    );
    expect(said(0)).toMatch(
      /^water: no trend; -?\d.* ppm by mass a year is within chance \(90 % interval .* to .*\), from 14 samples$/,
    );
    expect(said(6, 2)).toBe("water: no trend can be read from 2 samples");
  });
});

describe("notes tell what a reader has to know", () => {
  const noteOf = (trend: ReturnType<typeof trendOf>, code: string) =>
    trend.notes.find((entry) => entry.code === code)?.message;
  const straight = (months: number, end?: number) =>
    Array.from({ length: months }, (_, month) =>
      sampleOf({ day: 30 * month, water: month === months - 1 && end !== undefined ? end : 60 + 6 * month }),
    );

  test("of a plain rise only how the last two results stand to scatter", () => {
    const { notes } = trendOf(straight(14));
    expect(notes.map(({ code }) => code)).toEqual([
      "last-two-results",
      "precision-from-memory",
      // Its scatter goes up and down in turn.
      "serial-correlation",
    ]);
    expect(notes[0]?.message).toMatch(
      /^the last two results, 132 and 138 ppm by mass, differ by no more than one operator's scatter of [\d.]+ and no more than two laboratories' scatter of [\d.]+$/,
    );
  });

  test("too few samples, mostly limits, and no limit to go by", () => {
    expect(noteOf(trendOf(straight(2)), "cannot-tell")).toMatch(
      /^2 samples since the fluid was new cannot tell a trend: measured values on \d different days are needed$/,
    );
    const mostly = Array.from({ length: 9 }, (_, month) =>
      sampleOf({ day: 30 * month, water: month < 6 ? "<50" : 60 + month }),
    );
    const limited = trendOf(mostly);
    expect(noteOf(limited, "limit-values")).toBe(
      '6 of 9 values are limits such as "< 50" and were not turned into numbers',
    );
    const more = Array.from({ length: 30 }, (_, month) =>
      sampleOf({ day: 30 * month, water: month < 25 ? "<50" : 60 + month }),
    );
    expect(noteOf(trendOf(more), "cannot-tell")).toBe(
      "30 samples since the fluid was new cannot tell a trend: most of them are known only as below or above a limit",
    );
    const some = trendOf(
      Array.from({ length: 12 }, (_, month) =>
        sampleOf({ day: 30 * month, water: month < 3 ? "<50" : 60 + 5 * month }),
      ),
    );
    expect(some.notes.find(({ code }) => code === "limit-values")).toEqual({
      code: "limit-values",
      message:
        '3 of 12 values are limits such as "< 50" and were not turned into numbers; they took part only where their order is sure',
      source: "AKRITAS-THEIL-SEN",
    });
    expect(noteOf(trendOf(straight(14), { bounds: [] }), "no-limit")).toBe(
      "no limit applies, so no crossing is given",
    );
  });

  test("an odd result above and below the line, with its sample, day and value", () => {
    const odd = (water: number) =>
      trendOf(rising(60, 6, 12).map((entry) => sampleOf(entry.day === 150 ? { ...entry, water } : entry)));
    expect(noteOf(odd(160), "outlier")).toMatch(
      /^water of sample S-150, 2025-05-31 \(160 ppm by mass\), lies [\d.]+ standard deviations above the line; it was kept/,
    );
    expect(noteOf(odd(20), "outlier")).toMatch(
      /^water of sample S-150, .* standard deviations below the line/,
    );
  });

  test("a step, with the chance of it, what the slope would be without it, and where to look", () => {
    const stepped = trendOf(
      Array.from({ length: 24 }, (_, month) =>
        sampleOf({
          day: 30 * month,
          water: 80 + 2 * (SCATTER[month % 15] as number) + (month >= 12 ? 60 : 0),
        }),
      ),
    );
    const found = stepped.notes.find(({ code }) => code === "step-found");
    expect(found?.source).toBe("WANG");
    expect(found?.message).toMatch(
      /^water steps by 5\d[\d.]* ppm by mass between 2025-11-27 and 2025-12-27 without a recorded event \(chance (below 0\.0001|0\.0\d+) at most\); it was taken as a step; taken as part of a rise or fall, the slope would be [\d.]+ a year\. Look for a change of fluid, laboratory or sampling port$/,
    );
  });

  test.each([
    [0.00009, "below 0.0001"],
    [0.0001, "0.0001"],
    [0, "below 0.0001"],
    [0.25, "0.25"],
  ])("a chance of %d is said as %j", (chance, said) => {
    expect(formatChance(chance)).toBe(said);
  });

  test("acid in phosphate ester may speed up; other fluids and measures have no such note", () => {
    const ester: Circuit = { ...CIRCUIT, fluid: "AS1241 Type IV" };
    const acid = Array.from({ length: 9 }, (_, month) =>
      sampleOf({ day: 30 * month, water: 90, acid: 0.1 + 0.01 * month }),
    );
    expect(trendOf(acid, { measure: "acid", circuit: ester }).notes).toContainEqual({
      code: "acid-may-speed-up",
      message:
        "acid in phosphate ester feeds its own rise once the scavenger is used up, so a straight line can be too late",
      source: "ESTER-HYDROLYSIS",
    });
    for (const other of [trendOf(acid, { measure: "acid" }), trendOf(acid, { circuit: ester })])
      expect(codes(other)).not.toContain("acid-may-speed-up");
  });

  test("an event after the last sample, by its day, and none before it or after today", () => {
    const toppedUpOn = (day: number) =>
      noteOf(trendOf(straight(14), { circuit: withEvents(event("top-up", day)) }), "event-after-last-sample");
    expect(toppedUpOn(392)).toBe(
      `top up on ${dayAfter(FIRST, 392)}, after the last sample: the forecast does not know of it`,
    );
    expect(toppedUpOn(390)).toContain(dayAfter(FIRST, 390));
    expect(toppedUpOn(395)).toContain(dayAfter(FIRST, 395));
    expect([toppedUpOn(389), toppedUpOn(396)]).toEqual([undefined, undefined]);
  });

  test("a level and a latest result beyond the limit", () => {
    const bounds = [{ limit: 130, towards: "above" as const }];
    const crossed = trendOf(straight(14), { bounds });
    expect(noteOf(crossed, "limit-crossed")).toMatch(
      /^the level of water is beyond the limit of 130 ppm by mass already, since about 2025-12-1\d$/,
    );
    expect(noteOf(crossed, "latest-beyond")).toBe(
      `water of the latest sample, S-390 of ${dayAfter(FIRST, 390)}, is beyond the limit, whatever the line says`,
    );
    const single = trendOf(straight(14, 260));
    expect(noteOf(single, "latest-beyond")).toContain("S-390");
    expect(noteOf(single, "limit-crossed")).toBeUndefined();
  });
});
