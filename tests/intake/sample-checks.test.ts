import { describe, expect, test } from "vitest";
import { cumulativeCounts } from "../../src/counts/index.js";
import { checkSample } from "../../src/intake/checks/checks.js";
import type { Sample } from "../../src/samples/index.js";

const origin = [{ file: "march.csv", rows: [2] }];
const SAMPLE: Sample = { sample: "S-1", cart: "C-1", circuit: "1", drawnOn: "2026-01-01", origin };

/** What is found of a sample: code, what the doubtful cell holds, and what is expected, without the reason in brackets. */
const found = (says: Partial<Sample>, today?: string) =>
  checkSample({ ...SAMPLE, ...says }, today).map(({ code, holds, expected }) => [
    code,
    holds,
    expected.replace(/ \([^()]*\)$/, ""),
  ]);

describe("the days of a sample follow each other", () => {
  // From 1 January to 2 March are 31 - 1 + 28 + 2 = 60 days.
  const lateDrawn = (day: string, what: string) => [
    ["drawn-long-before-received", "drawn", `a day at most 60 days before ${day}, when it was ${what}`],
  ];
  test.each<[Partial<Sample>, string[][]]>([
    [{}, []],
    [{ receivedOn: "2026-01-01", reportedOn: "2026-01-01" }, []],
    [
      { receivedOn: "2025-12-31" },
      [["drawn-after-received", "drawn", "a day not after 2025-12-31, when it was received"]],
    ],
    [
      { receivedOn: "2026-01-05", reportedOn: "2026-01-04" },
      [["received-after-reported", "reported", "a day not before 2026-01-05"]],
    ],
    [{ reportedOn: "2025-12-31" }, [["received-after-reported", "reported", "a day not before 2026-01-01"]]],
    [{ receivedOn: "2026-03-02", reportedOn: "2026-03-02" }, []],
    [{ receivedOn: "2026-03-03", reportedOn: "2026-03-04" }, lateDrawn("2026-03-03", "received")],
    [{ receivedOn: "2026-01-05", reportedOn: "2026-03-02" }, []],
    [{ receivedOn: "2026-01-05", reportedOn: "2026-03-03" }, lateDrawn("2026-03-03", "reported")],
    [{ reportedOn: "2026-03-03" }, lateDrawn("2026-03-03", "reported")],
  ])("%j: %j", (days, expected) => {
    expect(found(days)).toEqual(expected);
  });

  test("a day may be one after today, and is asked about for each day of reading", () => {
    const late = { drawnOn: "2026-03-16", receivedOn: "2026-03-16" };
    const future = (holds: string) => ["date-in-the-future", holds, "a day not after today, 2026-03-14"];
    expect(found(late, "2026-03-14")).toEqual([future("drawn"), future("received")]);
    expect(found(late, "2026-03-15")).toEqual([]);
    expect(found(late)).toEqual([]);
  });
});

describe("a quantity that cannot be", () => {
  const zero = ["water-zero", "water", "water above 0, or a limit such as < 50"];
  const perCent = ["water-per-cent-as-ppm", "water", "water of 3 ppm or more, or its unit written as %"];
  const ppm = ["water-ppm-as-per-cent", "water", "water of at most 5 %, or its unit written as ppm"];
  test.each<[NonNullable<Sample["waterPpm"]>, string[][]]>([
    [{ value: 0 }, [zero]],
    [{ value: 0, limit: "below" }, [zero]],
    [{ value: 0, limit: "at-most" }, [zero]],
    [{ value: 0, limit: "above" }, []],
    [{ value: 0, limit: "at-least" }, []],
    [{ value: 2.9 }, [perCent]],
    [{ value: 2.9, limit: "below" }, [perCent]],
    [{ value: 2.9, limit: "above" }, []],
    [{ value: 2.9, limit: "at-least" }, []],
    [{ value: 3 }, []],
    [{ value: 50_000 }, []],
    [{ value: 50_001 }, [ppm]],
    [{ value: 50_001, limit: "above" }, [ppm]],
    [{ value: 50_001, limit: "below" }, []],
    [{ value: 50_001, limit: "at-most" }, []],
  ])("water %j: %j", (waterPpm, expected) => {
    expect(found({ waterPpm })).toEqual(expected);
  });

  const acid = ["acid-zero", "acid", "an acid number above 0, or a limit such as < 0.05"];
  test.each<[NonNullable<Sample["acidMgKohPerG"]>, string[][]]>([
    [{ value: 0 }, [acid]],
    [{ value: 0, limit: "below" }, [acid]],
    [{ value: 0, limit: "above" }, []],
    [{ value: 0.0009 }, [acid]],
    [{ value: 0.0009, limit: "below" }, []],
    [{ value: 0.001 }, []],
  ])("acid number %j: %j", (acidMgKohPerG, expected) => {
    expect(found({ acidMgKohPerG })).toEqual(expected);
  });

  test("viscosity and density of 0", () => {
    const none = (of: string) => `a ${of} above 0, or a blank where it was not measured`;
    expect(
      found({ viscosity40Mm2PerS: { value: 0 }, density15KgPerM3: { value: 0, limit: "at-most" } }),
    ).toEqual([
      ["property-zero", "viscosity40", none("viscosity at 40 °C")],
      ["property-zero", "density15", none("density at 15 °C")],
    ]);
    expect(
      found({ viscosity40Mm2PerS: { value: 0.1 }, density15KgPerM3: { value: 0, limit: "above" } }),
    ).toEqual([]);
  });
});

describe("counts that no bottle of fluid has", () => {
  const counts = (volumeMl: number, sizes: Record<string, number>, counting?: { countedMl: number }) => ({
    counts: cumulativeCounts(
      Object.entries(sizes).map(([sizeUm, count]) => ({ sizeUm: Number(sizeUm), count })),
      volumeMl,
      "um(c)",
      counting,
    ),
  });
  const none = (size: number) => [
    ["counts-all-zero", "count", `particles above ${size} µm(c), at least 5 in 100 mL`],
  ];
  const equal = [["counts-all-equal", "count", "counts that fall with size"]];
  const breakOff = (size: number) => [
    [
      "counts-break-off",
      "count",
      `particles above ${size} µm(c), or that size left blank if it was not counted`,
    ],
  ];
  test.each([
    // 5 in 100 mL are 0.05 per mL.
    ["nothing above the smallest size", counts(100, { 4: 4.9, 14: 0 }), none(4)],
    ["as little as may be", counts(100, { 4: 5, 14: 0 }), []],
    ["nothing above 6 µm(c)", counts(1, { 6: 0.049 }), none(6)],
    ["nothing above a larger size", counts(1, { 10: 0, 14: 0 }), []],
    // 10 mL of what is given per mL were looked at, so 0.5 per mL are 5 particles; no more than are written are sure.
    ["the same 5 per mL at each size", counts(1, { 4: 5, 6: 5, 14: 5 }), equal],
    ["the same 4 per mL at each size", counts(1, { 4: 4, 6: 4, 14: 4 }), []],
    // 49 in 100 mL are 4.9 in the 10 mL that were looked at; in 100 mL that were looked at they are 49.
    ["the same 49 in 100 mL, of which a tenth was counted", counts(100, { 4: 49, 14: 49 }), []],
    ["the same 50 in 100 mL, of which a tenth was counted", counts(100, { 4: 50, 14: 50 }), equal],
    [
      "the same 49 in 100 mL, all of which were counted",
      counts(100, { 4: 49, 14: 49 }, { countedMl: 100 }),
      equal,
    ],
    ["the same at two of three sizes", counts(1, { 4: 6, 6: 6, 14: 3 }), []],
    // Above twice the size more than nine tenths are left.
    ["20 and 19 at twice the size", counts(1, { 4: 20, 8: 19 }), equal],
    ["20 and 19 at twice the size, then none", counts(1, { 4: 20, 8: 19, 30: 0 }), equal],
    ["20 and 18 at twice the size", counts(1, { 4: 20, 8: 18 }), []],
    ["19 and 18 at twice the size", counts(1, { 4: 19, 8: 18 }), []],
    ["20 and 19 at less than twice the size", counts(1, { 4: 20, 7.9: 19 }), []],
    ["hundreds, and none above the next size", counts(1, { 4: 5000, 6: 900, 14: 0 }), breakOff(14)],
    ["one size alone", counts(1, { 4: 500 }), []],
  ])("%s", (_, says, expected) => {
    expect(found(says)).toEqual(expected);
  });
});

describe("a stated class", () => {
  const counts = cumulativeCounts(
    [
      { sizeUm: 4, count: 15_000 },
      { sizeUm: 6, count: 1200 },
      { sizeUm: 14, count: 75 },
    ],
    1,
    "um(c)",
  );
  // ISO 4406: above 10 000 to 20 000 is 21, above 640 to 1300 is 17, above 40 to 80 is 13.
  test.each([
    ["21/17/13", []],
    ["21/17/12", [["class-differs-from-counts", "class", "the class of the counts, ISO 4406 21/17/13"]]],
    [
      "13/17/21",
      [
        [
          "class-cannot-be",
          "class",
          "three scale numbers that do not rise, such as 18/16/13: the class of the counts, ISO 4406 21/17/13",
        ],
      ],
    ],
  ])("%s with counts: %j", (stated, expected) => {
    expect(found({ counts, reportedClasses: [{ standard: "ISO 4406", class: stated }] })).toEqual(expected);
  });

  test("without counts it is only held against what can be", () => {
    const classes = (stated: string) => found({ reportedClasses: [{ standard: "ISO 4406", class: stated }] });
    expect(classes("13/17/21")).toEqual([
      ["class-cannot-be", "class", "three scale numbers that do not rise, such as 18/16/13"],
    ]);
    expect(classes("21/17/13")).toEqual([]);
    expect(classes("2/1/0")).toEqual([
      ["counts-all-zero", "class", "particles above 4 µm(c), at least 5 in 100 mL"],
    ]);
  });

  test("of several the one that cannot be is named by its standard", () => {
    const reportedClasses: Sample["reportedClasses"] = [
      { standard: "ISO 4406", class: "21/17/13" },
      { standard: "NAS 1638", class: "13" },
    ];
    expect(checkSample({ ...SAMPLE, reportedClasses }, undefined)).toEqual([
      expect.objectContaining({ code: "class-cannot-be", standard: "NAS 1638" }),
    ]);
  });
});
