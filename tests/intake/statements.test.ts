import { describe, expect, test } from "vitest";
import { cumulativeCounts } from "../../src/counts/index.js";
import type { Measurand } from "../../src/intake/layout/meaning.js";
import {
  describeStatement,
  givesAgain,
  holdsOf,
  isOfOneReport,
  keyOfMeasurand,
  keyOfWord,
  nameOfStatement,
  statementsOf,
} from "../../src/intake/reports/statements.js";
import type { Sample } from "../../src/samples/index.js";

const counts = (count: number, volumeMl = 1, counting?: { countedMl: number }) =>
  cumulativeCounts([{ sizeUm: 4, count }], volumeMl, "um(c)", counting);

describe("what a report says, measurand by measurand", () => {
  test.each<[string, Partial<Sample>, object]>([
    ["counts per mL", { counts: counts(90_000, 100) }, { "count above 4 µm(c)": { perMl: 900 } }],
    [
      "counts with the volume that was counted",
      { counts: counts(900, 1, { countedMl: 10 }) },
      { "count above 4 µm(c)": { perMl: 900 }, "counted volume": { countedMl: 10 } },
    ],
    [
      "a limit of a count",
      { limitedCounts: [{ sizeUm: 14, volumeMl: 10, count: 50, limit: "below" }] },
      { "count above 14 µm(c)": { perMl: 5, limit: "below" } },
    ],
    [
      "a word for a quantity",
      { wordedResults: [{ measurand: "water", said: "trace" }] },
      { waterPpm: { said: "trace" } },
    ],
    [
      "a word for a metal",
      { wordedResults: [{ measurand: "iron", said: "trace" }] },
      { iron: { said: "trace" } },
    ],
    ["a quantity", { waterPpm: { value: 9, limit: "below" } }, { waterPpm: { value: 9, limit: "below" } }],
    [
      "metals one by one",
      { metalsPpm: { iron: { value: 3 }, copper: { value: 2 } } },
      { iron: { value: 3 }, copper: { value: 2 } },
    ],
    [
      "classes by their standard",
      {
        reportedClasses: [
          { standard: "ISO 4406", class: "17/15/12" },
          { standard: "NAS 1638", class: "6" },
          { standard: "ISO 4406", class: "18/15/12" },
        ],
      },
      {
        "ISO 4406 class": [
          { standard: "ISO 4406", class: "17/15/12" },
          { standard: "ISO 4406", class: "18/15/12" },
        ],
        "NAS 1638 class": [{ standard: "NAS 1638", class: "6" }],
      },
    ],
    ["a time without its seconds", { drawnTime: "09:30:00" }, { drawnTime: "09:30" }],
    [
      "words by what they are about",
      {
        laboratorySays: [
          { column: "remarks", text: "a" },
          { column: "remarks", text: "b" },
          { column: "status", text: "c" },
        ],
        wordsNotUnderstood: [{ about: "colour", text: "d" }] as Sample["wordsNotUnderstood"],
        acceptedChecks: ["factor-of-100"],
        otherTexts: [{ column: "desk", text: "e" }],
      },
      {
        ...{ "laboratory's remarks": ["a", "b"], "laboratory's status": ["c"], "words about colour": ["d"] },
        "accepted factor-of-100": ["factor-of-100"],
      },
    ],
    ["nothing of who it is of", { sample: "S-1", cart: "C-1", circuit: "1", origin: [] }, {}],
  ])("%s", (_, report, expected) => {
    expect(Object.fromEntries(statementsOf(report))).toEqual(expected);
  });

  test("one specification in two spellings is one statement, and other text stays as it is", () => {
    const fluid = (written: string) => statementsOf({ fluid: written }).get("fluid");
    expect(fluid("MIL PRF 83282")).toEqual(fluid("MIL-PRF-83282"));
    expect(fluid("MIL-PRF-87257")).not.toEqual(fluid("MIL-PRF-83282"));
    expect(fluid("unknown")).toBe("unknown");
  });
});

test.each([
  ["count above 4 µm(c)", "count"],
  ["ISO 4406 class", "class"],
  ["waterPpm", "water"],
  ["iron", "iron"],
  ["counted volume", "counted"],
  ["patchTest.code", "patch-class"],
  ["receivedOn", "received"],
  ["laboratory's remarks", "sample"],
])("what is said of %s is in a column that holds %s", (key, holds) => {
  expect(holdsOf(key)).toBe(holds);
});

const COUNT = { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 1 } as const;
test.each<[Measurand, string]>([
  [COUNT, "count above 4 µm(c)"],
  [{ ...COUNT, scale: "um-older" }, "otherScaleCounts"],
  [{ ...COUNT, blank: true }, "blank"],
  [{ ...COUNT, run: 2 }, "replicates"],
  [{ holds: "run" } as Measurand, "replicates"],
  [{ holds: "class", standard: "NAS 1638" }, "NAS 1638 class"],
  [{ holds: "water" }, "waterPpm"],
  [{ holds: "iron" }, "iron"],
  [{ holds: "counted" }, "counted volume"],
  [{ holds: "fibres" } as Measurand, "appearance"],
  [{ holds: "clear-and-bright" } as Measurand, "appearance"],
  [{ holds: "crackle" } as Measurand, "crackle"],
])("%j is said under %s", (measurand, key) => {
  expect(keyOfMeasurand(measurand)).toBe(key);
});

test("a word is said under the same name as a number", () => {
  expect(["water", "acid number", "iron", "count above 4 µm(c)"].map(keyOfWord)).toEqual([
    ...["waterPpm", "acidMgKohPerG", "iron", "count above 4 µm(c)"],
  ]);
});

test.each([
  ["laboratory's remarks", true],
  ["receivedOn", true],
  ["reportedOn", false],
  ["waterPpm", false],
])("%s is said of one report alone: %s", (key, expected) => {
  expect(isOfOneReport(key)).toBe(expected);
});

describe("a report gives an earlier one again where it has each of its results, whatever their numbers", () => {
  const earlier: Partial<Sample> = {
    counts: counts(900),
    waterPpm: { value: 90 },
    receivedOn: "2026-03-05",
    fluid: "x",
  };
  test.each<[string, Partial<Sample>, boolean]>([
    ["all of them", { counts: counts(800), waterPpm: { value: 95 } }, true],
    [
      "all of them and more",
      { counts: counts(800), waterPpm: { value: 95 }, acidMgKohPerG: { value: 0.1 } },
      true,
    ],
    ["a word for one", { counts: counts(800), wordedResults: [{ measurand: "water", said: "trace" }] }, true],
    ["one less", { counts: counts(800) }, false],
    ["none", {}, false],
  ])("%s: %j", (_, later, expected) => {
    expect(givesAgain(earlier, later)).toBe(expected);
  });
});

test.each<[unknown, string]>([
  [{ perMl: 900 }, "900 per mL"],
  [{ perMl: 5, limit: "below" }, "< 5 per mL"],
  [{ said: "too-many-to-count" }, "too many to count"],
  [{ value: 90 }, "90"],
  [{ value: 90, limit: "above" }, "> 90"],
  [{ countedMl: 10 }, "10 mL"],
  [["a", "b"], "a, b"],
  [
    [
      { standard: "NAS 1638", class: "6" },
      { standard: "NAS 1638", class: "7" },
    ],
    "6, 7",
  ],
  [{ type: "x" }, '{"type":"x"}'],
  ["2026-03-04", "2026-03-04"],
  [null, "null"],
  [true, "yes"],
  [29.444444444444443, "29.44"],
  ["main-flow-line", "main flow line"],
  ["blue-green", "blue-green"],
  [["two-layers", "cloudy"], "two layers, cloudy"],
  [["factor-of-100"], "factor-of-100"],
  [{ scale: "um(c)", volumeMl: 1, counts: [{ sizeUm: 4, count: 90 }] }, "4=90 per 1 mL"],
  [[{ scale: "um-older", fromUm: 5, toUm: 15, volumeMl: 100, count: 9 }], "9 5 to 15 µm per 100 mL"],
])("%j is said as %s", (value, words) => {
  expect(describeStatement(value)).toBe(words);
});

test.each([
  ["waterPpm", "water (ppm by mass)"],
  ["reportedOn", "reported on"],
  ["iron", "iron (ppm by mass)"],
  ["patchTest.freeWater", "free water on the patch"],
  ["count above 4 µm(c)", "count above 4 µm(c)"],
  ["colour", "colour"],
])("people call %s %s", (key, name) => {
  expect(nameOfStatement(key)).toBe(name);
});
