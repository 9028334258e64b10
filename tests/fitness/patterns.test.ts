import { describe, expect, test } from "vitest";
import { checkOutlook } from "../../src/fitness/checks/outlook.js";
import {
  trendsOf as fleetTrendsOf,
  MEASURES,
  type Measure,
  type Outlook,
  type Suggestion,
  suggestFrom,
} from "../../src/fitness/index.js";
import type { Circuit, Sample } from "../../src/samples/index.js";
import { CIRCUIT, type Results, SCATTER, sampleOf, trendOf } from "../support/trend-samples.js";

const ESTER: Circuit = { ...CIRCUIT, fluid: "AS1241 Type IV" };
const scatter = (month: number) => SCATTER[month % SCATTER.length] as number;

const trendsOf = (circuit: Circuit, samples: readonly Sample[], measures: readonly Measure[] = MEASURES) =>
  measures.map((measure) => trendOf(samples, { circuit, measure, bounds: [] }));

const suggestionsOf = (circuit: Circuit, months: readonly Results[]) =>
  suggestFrom({ circuit, trends: trendsOf(circuit, months.map(sampleOf)) });

/** Two years of months, each made from its number. */
const monthly = (make: (month: number) => Omit<Results, "day">): Results[] =>
  Array.from({ length: 24 }, (_, month) => ({ day: 30 * month, ...make(month) }));

const steadyCounts = (month: number): [number, number, number] => [
  900 + 20 * scatter(month),
  250 + 8 * scatter(month + 3),
  30 + scatter(month + 6),
];

describe("water rising with acid in phosphate ester suggests hydrolysis", () => {
  const both = monthly((month) => ({
    water: 2000 + 60 * month + 20 * scatter(month),
    acid: 0.1 + 0.02 * month + 0.005 * scatter(month + 5),
  }));

  test("with the slopes that brought it up, its source and what would confirm it", () => {
    const [suggestion] = suggestionsOf(ESTER, both);
    expect(suggestion).toMatchObject({
      code: "hydrolysis",
      reading:
        "water and acid rise together in a phosphate ester: the fluid may be breaking down in the water it holds; acid and heat speed it up",
      confirmedBy: [
        "a second sample with water and acid number",
        "where the water comes in: breather, reservoir cover, washing",
        "the highest fluid temperature of the cart: above 100 °C with more than 0.5 % of water its life shortens several-fold",
      ],
      source: "ESTER-HYDROLYSIS",
    });
    expect(suggestion?.because).toHaveLength(2);
    expect(suggestion?.because[0]).toMatch(/^water: 7\d\d(\.\d)? ppm by mass a year/);
    expect(suggestion?.confirmedBy.length).toBeGreaterThan(0);
  });

  test("but not in a hydrocarbon, nor when one of the two is steady", () => {
    expect(suggestionsOf(CIRCUIT, both)).toEqual([]);
    const waterOnly = both.map((entry, month) => ({ ...entry, acid: 0.1 + 0.005 * scatter(month + 5) }));
    expect(suggestionsOf(ESTER, waterOnly)).toEqual([]);
    const acidOnly = both.map((entry, month) => ({ ...entry, water: 2000 + 20 * scatter(month) }));
    expect(suggestionsOf(ESTER, acidOnly)).toEqual([]);
    const drying = both.map((entry, month) => ({ ...entry, water: 4000 - 60 * month + 20 * scatter(month) }));
    expect(suggestionsOf(ESTER, drying)).toEqual([]);
  });

  test("nor when one of the two was never measured", () => {
    expect(
      suggestionsOf(
        ESTER,
        both.map(({ day, water }) => ({ day, water: water as number })),
      ),
    ).toEqual([]);
    expect(
      suggestionsOf(
        ESTER,
        both.map(({ day, acid }) => ({ day, acid: acid as number })),
      ),
    ).toEqual([]);
    const trends = trendsOf(ESTER, both.map(sampleOf));
    for (const missing of ["water", "acid"]) {
      const others = trends.filter(({ measure }) => measure !== missing);
      expect(suggestFrom({ circuit: ESTER, trends: others })).toEqual([]);
    }
  });
});

describe("fine particles rising while the coarse stay suggest silting", () => {
  const fine = monthly((month) => {
    const [at4, at6, at14] = steadyCounts(month);
    return { counts: [at4 * 1.06 ** month, at6 * 1.05 ** month, at14] };
  });

  test("with all three channels' slopes, as common practice", () => {
    const [suggestion] = suggestionsOf(CIRCUIT, fine);
    expect(suggestion).toMatchObject({
      code: "silting",
      reading:
        "fine particles rise while the coarse ones stay: silt builds up, an element no longer holds it back, or fine dust gets in",
      confirmedBy: [
        "the element's age and its pressure drop with warm fluid",
        "the breather and the reservoir cover",
        "a sample after a circulation: fines that do not come down are not held back",
      ],
      source: "PRACTICE",
    });
    expect(suggestion?.because).toHaveLength(3);
    expect(suggestion?.because[2]).toMatch(
      /^particles-14: .* a year \(90 % interval .* to .*\), p .*, 24 samples$/,
    );
    expect(suggestion?.confirmedBy).toHaveLength(3);
  });

  test("but not when one of the three sizes was not counted, nor when only one of the fine sizes rises", () => {
    const trends = trendsOf(CIRCUIT, fine.map(sampleOf));
    for (const missing of ["particles-4", "particles-6", "particles-14"]) {
      const others = trends.filter(({ measure }) => measure !== missing);
      expect(suggestFrom({ circuit: CIRCUIT, trends: others })).toEqual([]);
    }
    const one = (rising: 0 | 1) =>
      monthly((month) => ({
        counts: steadyCounts(month).map((count, index) =>
          index === rising ? count * 1.05 ** month : count,
        ) as [number, number, number],
      }));
    expect(suggestionsOf(CIRCUIT, one(0))).toEqual([]);
    expect(suggestionsOf(CIRCUIT, one(1))).toEqual([]);
  });

  test("but not when the coarse rise too, nor when all are steady", () => {
    const all = monthly((month) => ({
      counts: steadyCounts(month).map((count) => count * 1.06 ** month) as [number, number, number],
    }));
    expect(suggestionsOf(CIRCUIT, all)).toEqual([]);
    expect(
      suggestionsOf(
        CIRCUIT,
        monthly((month) => ({ counts: steadyCounts(month) })),
      ),
    ).toEqual([]);
  });
});

describe("a jump in the last sample", () => {
  const jump = (times: readonly [number, number, number]) =>
    monthly((month) => ({
      counts: steadyCounts(month).map((count, index) =>
        month === 23 ? count * (times[index] as number) : count,
      ) as [number, number, number],
    }));

  test("of coarse particles alone suggests wear or sampling, and names the sample", () => {
    const [suggestion] = suggestionsOf(CIRCUIT, jump([1, 1, 5]));
    expect(suggestion).toMatchObject({
      code: "wear-or-sampling",
      reading:
        "coarse particles jump alone in the last sample: a wear event, or dirt from the port or the bottle",
      confirmedBy: [
        "a second sample from the flushed port with the fluid flowing",
        "the particles themselves on a membrane under the microscope",
      ],
      source: "PRACTICE",
    });
    expect(suggestion?.because).toEqual([
      expect.stringMatching(
        /^sample S-690 of 2026-11-22: above 14 µm\(c\) [\d.]+ standard deviations over the line of the others, above 4 and 6 µm\(c\) not out of line$/,
      ),
    ]);
  });

  test.each([
    ["all sizes", [5, 5, 5]],
    ["coarse particles with those above 4 µm(c)", [5, 1, 5]],
    ["coarse particles with those above 6 µm(c)", [4, 4, 5]],
    ["coarse particles downwards", [1, 1, 0.2]],
  ] as const)("of %s does not", (_, times) => {
    expect(suggestionsOf(CIRCUIT, jump(times)).map(({ code }) => code)).not.toContain("wear-or-sampling");
  });

  test("of coarse particles does not when it is not the last sample, nor where a finer size was not counted", () => {
    const early = monthly((month) => ({
      counts: steadyCounts(month).map((count, index) =>
        month === 12 && index === 2 ? count * 5 : count,
      ) as [number, number, number],
    }));
    expect(suggestionsOf(CIRCUIT, early)).toEqual([]);
    const trends = trendsOf(CIRCUIT, jump([1, 1, 5]).map(sampleOf));
    for (const missing of ["particles-4", "particles-6"]) {
      const others = trends.filter(({ measure }) => measure !== missing);
      expect(suggestFrom({ circuit: CIRCUIT, trends: others })).toEqual([]);
    }
  });

  test("of water in the last sample alone is told by that sample, and a drop is no water that came in", () => {
    const last = (water: number) =>
      monthly((month) => ({ water: month === 23 ? water : 80 + 2 * scatter(month) }));
    const [suggestion, ...more] = suggestionsOf(CIRCUIT, last(150));
    expect(more).toEqual([]);
    expect(suggestion?.code).toBe("water-entered");
    expect(suggestion?.because).toEqual([
      expect.stringMatching(/^sample S-690 of 2026-11-22 lies .* standard deviations above the line$/),
    ]);
    expect(suggestionsOf(CIRCUIT, last(20))).toEqual([]);
    const drop = monthly((month) => ({ water: 180 + 2 * scatter(month) - (month >= 20 ? 60 : 0) }));
    expect(suggestionsOf(CIRCUIT, drop)).toEqual([]);
  });

  test("of water within the series is told by its days and size", () => {
    const wet = monthly((month) => ({ water: 80 + 2 * scatter(month) + (month >= 20 ? 60 : 0) }));
    const [suggestion] = suggestionsOf(CIRCUIT, wet);
    expect(suggestion?.because[0]).toMatch(
      /^a step of (5[5-9]|6[0-5])(\.\d+)? ppm by mass between 2026-07-25 and 2026-08-24, without a recorded event$/,
    );
    expect(suggestion).toMatchObject({
      reading:
        "water jumps instead of creeping: it may have come in at once, as rain, washing water or from a cooler",
      confirmedBy: [
        "a second sample, and the look of the fluid in a clear bottle after it has stood",
        "the reservoir's low point for free water",
      ],
    });
  });

  test("of water suggests that water came in at once; creeping water does not", () => {
    const wet = monthly((month) => ({ water: 80 + 2 * scatter(month) + (month >= 20 ? 60 : 0) }));
    expect(suggestionsOf(CIRCUIT, wet)).toMatchObject([{ code: "water-entered", source: "PRACTICE" }]);
    const creeping = monthly((month) => ({ water: 80 + 3 * month + 2 * scatter(month) }));
    expect(suggestionsOf(CIRCUIT, creeping)).toEqual([]);
  });
});

describe("the viscosities of two circuits drawing together suggest cross-mixing", () => {
  const drift = (start: number, perMonth: number) =>
    monthly((month) => ({ viscosity: start + perMonth * month + 0.03 * scatter(month) })).map(sampleOf);
  const ask = (
    own: readonly Sample[],
    other: readonly Sample[],
    fluid: Circuit["fluid"] = "MIL-PRF-83282",
  ) => {
    const neighbour: Circuit = { ...CIRCUIT, circuit: "2", fluid };
    return suggestFrom({
      circuit: ESTER,
      trends: trendsOf(ESTER, own, ["viscosity"]),
      neighbour: { circuit: neighbour, trends: trendsOf(neighbour, other, ["viscosity"]) },
    });
  };

  test("with both levels and slopes, and the signs that would confirm it", () => {
    const [suggestion] = ask(drift(10.5, 0.05), drift(14, -0.05));
    expect(suggestion).toMatchObject({
      code: "cross-mixing-of-circuits",
      reading: "the viscosities of circuits 1 and 2 draw together: fluid may pass from one to the other",
      source: "PRACTICE",
    });
    const slope = String.raw`viscosity: -?[\d.]+ mm²/s a year \(90 % interval -?[\d.]+ to -?[\d.]+\), p below 0.0001, 24 samples`;
    expect(suggestion?.because).toEqual([
      expect.stringMatching(/^levels on 2026-\d\d-\d\d: 11\.\d+ and 12\.\d+ mm²\/s at 40 °C$/),
      expect.stringMatching(new RegExp(`^circuit 1, ${slope}$`)),
      expect.stringMatching(new RegExp(`^circuit 2, ${slope}$`)),
    ]);
    expect(suggestion?.confirmedBy.join()).toMatch(/FTIR/);
  });

  test("one that moves towards a steady other is enough", () => {
    expect(ask(drift(10.5, 0.05), drift(14, 0))).toHaveLength(1);
    expect(ask(drift(10.5, 0), drift(14, -0.05))).toHaveLength(1);
    expect(ask(drift(14, -0.05), drift(10.5, 0))).toHaveLength(1);
    expect(ask(drift(14, 0), drift(10.5, 0.05))).toHaveLength(1);
    expect(ask(drift(10.5, -0.05), drift(14, -0.1))).toEqual([]);
    expect(ask([], drift(14, -0.05))).toEqual([]);
    expect(ask(drift(10.5, 0.05), [])).toEqual([]);
  });

  test("but not when they stay, draw apart, move the same way, or hold the same fluid", () => {
    expect(ask(drift(10.5, 0), drift(14, 0))).toEqual([]);
    expect(ask(drift(10.5, -0.05), drift(14, 0.05))).toEqual([]);
    expect(ask(drift(10.5, 0.05), drift(14, 0.05))).toEqual([]);
    expect(ask(drift(10.5, 0.05), drift(14, -0.05), "AS1241 Type IV")).toEqual([]);
  });
});

describe("viscosities that draw together put a verdict in doubt", () => {
  const suggestion = {
    code: "cross-mixing-of-circuits",
    reading: "the viscosities draw together",
    because: ["levels now 11 and 12 mm²/s", "circuit 1 rises"],
    confirmedBy: [],
    source: "PRACTICE",
  } as const;
  const outlook = (suggestions: readonly Suggestion[]): Outlook => ({
    nextSampleBy: "2026-03-04",
    overdue: [],
    rises: [],
    because: "interval",
    crossings: [],
    suggestions,
  });

  test("with the numbers that brought it up", () => {
    expect(checkOutlook(outlook([suggestion])).reasons).toMatchObject([
      {
        code: "circuits-may-mix",
        message: "the viscosities draw together (levels now 11 and 12 mm²/s; circuit 1 rises)",
      },
    ]);
  });

  test("and no other pattern does, nor none", () => {
    expect(checkOutlook(outlook([{ ...suggestion, code: "silting" }]))).toEqual({ reasons: [] });
    expect(checkOutlook(outlook([]))).toEqual({ reasons: [] });
    expect(checkOutlook(undefined)).toEqual({ reasons: [] });
  });
});

describe("where water and acid of a circuit are heading", () => {
  const months = Array.from({ length: 12 }, (_, month) => ({ day: 30 * month, acid: 0.1 + 0.01 * month }));

  test("rests on limit values only where there are some, and says how many", () => {
    const wet = months.map((entry, month) => ({ ...entry, water: month < 3 ? "<50" : 60 + 5 * month }));
    const trends = fleetTrendsOf(CIRCUIT, wet.map(sampleOf));
    expect(trends.assumptions).toEqual([
      {
        code: "limit-values",
        message: "3 values known only as limits took part in the trend where their order is sure",
        source: "AKRITAS-THEIL-SEN",
      },
    ]);
    expect(trends.acidMgKohPerGPerYear).toMatchObject({ kind: "slope", slope: expect.closeTo(0.12175, 5) });
    const measured = months.map((entry, month) => ({ ...entry, water: 60 + 5 * month }));
    const plain = fleetTrendsOf(CIRCUIT, measured.map(sampleOf));
    expect(plain.assumptions).toEqual([]);
    expect(plain.waterPpmPerYear).toMatchObject({ kind: "slope", slope: expect.closeTo(60.875, 3) });
  });
});

test("without results nothing is suggested", () => {
  expect(suggestFrom({ circuit: ESTER, trends: trendsOf(ESTER, []) })).toEqual([]);
});
