import { describe, expect, test } from "vitest";
import { dayAfter, describeOverHours, type MeasureTrend } from "../../src/fitness/index.js";
import { readLabFile } from "../../src/intake/index.js";
import { hourMeterOf, namesHourMeter, type Sample } from "../../src/samples/index.js";
import { CIRCUIT, FIRST, sampleOf, trendOf } from "../support/trend-samples.js";

/** A sample with the hour-meter reading that its report gives. */
const at = (day: number, hours: number | string | undefined, water: number): Sample => ({
  ...sampleOf({ day, water }),
  ...(hours !== undefined && { otherTexts: [{ column: "Hour meter", text: String(hours) }] }),
});
const LIMIT = { bounds: [{ limit: 300, towards: "above" as const }] };

// Half a ppm an hour from 100 ppm at 1000 h: 300 ppm at 1400 h. The cart stands for months in between.
const HOURS = [1000, 1020, 1100, 1110, 1180, 1200, 1260];
const DAYS = [0, 90, 100, 200, 210, 330, 340];
const steady = HOURS.map((hours, index) => at(DAYS[index] as number, hours, 100 + (hours - 1000) / 2));

function overHours(trend: MeasureTrend) {
  if (trend.overHours?.kind !== "hours") throw new Error(JSON.stringify(trend.overHours));
  return trend.overHours;
}

test("half a ppm an hour from 230 ppm at 1260 h reaches 300 ppm after 140 h", () => {
  const found = overHours(trendOf(steady, LIMIT));
  expect(found).toMatchObject({ n: 7, without: 0, last: { hours: 1260, on: dayAfter(FIRST, 340) } });
  expect(found.slope.slope).toBeCloseTo(0.5, 10);
  if (found.forecast.kind !== "crosses") throw new Error(found.forecast.kind);
  expect(found.forecast.hours).toBeCloseTo(1400, 6);
  expect(found.forecast.earliest).toBeCloseTo(1400, 6);
  expect(describeOverHours(found)).toMatch(/after 140 h \(140 h to 140 h\).*whichever comes first/);
});

test("hours that are written down with events serve samples between them, in proportion to the days", () => {
  const events = [0, 100, 200, 300, 400].map((day, index) => ({
    kind: "circulation" as const,
    on: dayAfter(FIRST, day),
    minutes: 30,
    hourMeterH: [1000, 1200, 1200, 1300, 1400][index] as number,
  }));
  // Days 50, 150, 250, 350 lie at 1100, 1200, 1250 and 1350 h; day 450 is after the last reading.
  const days = [0, 50, 150, 250, 350, 450];
  const water = [100, 150, 175, 200, 225, 250];
  const trend = trendOf(
    days.map((day, index) => at(day, undefined, water[index] as number)),
    { ...LIMIT, circuit: { ...CIRCUIT, events } },
  );
  expect(overHours(trend)).toMatchObject({ n: 5, without: 1, last: { hours: 1400 } });
});

test("a meter that is read for the last weeks only says how much the cart runs in a day", () => {
  // 4 h a day since day 300, and a third of a ppm a day: 83 ppm more are 1000 h, of 1460 in the year that is looked ahead.
  const days = [0, 60, 120, 180, 240, 300, 310, 320, 330, 340, 350];
  const trend = trendOf(
    days.map((day) => at(day, day < 300 ? undefined : 1000 + 4 * (day - 300), 100 + day / 3)),
    { ...LIMIT, horizonDays: 365 },
  );
  const { forecast, n, without } = overHours(trend);
  expect({ n, without }).toEqual({ n: 6, without: 5 });
  if (forecast.kind !== "crosses") throw new Error(forecast.kind);
  expect(forecast.hours).toBeCloseTo(2200, 6);
});

test("a reading of fluid that is gone and cannot be read is not spoken of", () => {
  const circuit = { ...CIRCUIT, events: [{ kind: "fluid-change" as const, on: dayAfter(FIRST, 300) }] };
  const after = [0, 20, 40, 60, 80].map((hours, index) => at(310 + 10 * index, 5000 + hours, 100 + hours));
  const trend = trendOf([at(0, "1,020", 100), at(90, "n/a", 100), ...after], { ...LIMIT, circuit });
  expect(overHours(trend).notRead).toEqual([]);
});

describe("no hours are taken where the readings cannot be true", () => {
  const second = (hours: number | string) => [steady[0] as Sample, at(90, hours, 110), ...steady.slice(2)];
  test.each([
    ["a meter that falls", 900, /falls between 1000 h .* and 900 h .*replaced or misread/],
    ["a decimal point that was left out", 10200, /more than 24 hours a day between 1000 h .* and 10200 h/],
  ])("%s", (_, hours, why) => {
    const { overHours: found } = trendOf(second(hours), LIMIT);
    expect(found).toMatchObject({ kind: "cannot-tell", why: expect.stringMatching(why) });
  });

  test("a reading that is no plain number is named, and the day takes its hours from those around it", () => {
    const found = overHours(trendOf(second("1,020"), LIMIT));
    expect(found).toMatchObject({ n: 7, notRead: ['"1,020" of sample S-90'] });
    expect(describeOverHours(found)).toContain('not read: "1,020" of sample S-90');
  });

  test("three readings of the meter are too few", () => {
    const { overHours: found } = trendOf(steady.slice(0, 3), LIMIT);
    expect(found).toMatchObject({ kind: "cannot-tell", n: 3, why: expect.stringContaining("4 different") });
  });

  test("a meter that stands still says nothing", () => {
    const { overHours: found } = trendOf(
      DAYS.map((day, index) => at(day, 1000, 100 + 20 * index)),
      LIMIT,
    );
    expect(found).toMatchObject({ kind: "cannot-tell", n: 7 });
  });

  test("a meter that nobody read is not spoken of", () => {
    expect(
      trendOf(
        DAYS.map((day) => at(day, undefined, 100 + day)),
        LIMIT,
      ),
    ).not.toHaveProperty("overHours");
  });
});

test("hours before a change of the fluid make no slope, and a meter replaced with it is no contradiction", () => {
  const circuit = { ...CIRCUIT, events: [{ kind: "fluid-change" as const, on: dayAfter(FIRST, 300) }] };
  const after = [0, 20, 40, 60, 80].map((hours, index) => at(310 + 10 * index, 5000 + hours, 100 + hours));
  expect(overHours(trendOf([...steady.slice(0, 5), ...after], { ...LIMIT, circuit })).n).toBe(5);
});

test("a column of the hour-meter is kept with its sample, and is no column that was not used", async () => {
  const lines = [
    "Sample no.,Cart,Circuit,Drawn on,Hour meter (h),Hours on oil,Water (ppm)",
    "S-1,C-1,main,2026-03-04,1250.4,310,90",
  ];
  const { samples, unusedColumns } = await readLabFile("lab.csv", Buffer.from(lines.join("\n")));
  expect(samples.map(hourMeterOf)).toEqual([1250.4]);
  expect(unusedColumns).toEqual(["Hours on oil"]);
});

describe("which titles name the hour-meter, and which cells are hours", () => {
  test.each([
    ["Hour meter", true],
    ["Hour-meter reading (h)", true],
    ["Cart hours run", true],
    ["Running hours", true],
    ["Betriebsstunden", true],
    // Those of the fluid since its change, of the laboratory, or of nobody knows what.
    ["Hours on oil", false],
    ["Hours", false],
    ["Lab hours", false],
    ["Running hours since change", false],
  ])("%s: %s", (title, is) => {
    expect(namesHourMeter(title)).toBe(is);
  });

  test.each([
    ["1250", 1250],
    ["1250.4 h", 1250.4],
    ["1250,4", 1250.4],
    ["1,250", "1,250"],
    ["n/a", "n/a"],
    ["-3", "-3"],
  ])("%s is %s", (text, hours) => {
    expect(hourMeterOf({ otherTexts: [{ column: "Hour meter", text }] })).toBe(hours);
  });
});
