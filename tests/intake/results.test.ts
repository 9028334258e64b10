import { describe, expect, test } from "vitest";
import { gatherResults, type NumberConventions } from "../../src/intake/cells/results.js";
import type { Measurand } from "../../src/intake/layout/meaning.js";
import type { ReportedResult } from "../../src/intake/samples/entry.js";

const FILE: NumberConventions = { decimal: ".", decimalIsGiven: false, blanks: ["n/a"], words: new Map() };
const COUNT = { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 1 } as const;
const WATER = { holds: "water", unit: "mg/kg" } as const;

function result(measurand: Measurand, cell: string, says: Partial<ReportedResult> = {}): ReportedResult {
  return { measurand, cell, row: 2, column: measurand.holds, ...says };
}

/** What is gathered from results that are all in one row, or each in a row of its own. */
function gathered(results: readonly ReportedResult[], more: Partial<NumberConventions> = {}) {
  const { results: says, flagged, refused, assumptions } = gatherResults([results], { ...FILE, ...more });
  return {
    ...says,
    ...(flagged.length > 0 && { flagged: flagged.map(({ cell, holds }) => [cell, holds]) }),
    ...(refused.length > 0 && { refused: refused.map(({ result: { row }, code }) => [row, code]) }),
    ...(assumptions.length > 0 && { assumed: assumptions.map(({ code }) => code) }),
  };
}

describe("a word in the place of a number", () => {
  test.each([
    ["water", WATER, "not detected", [{ measurand: "water", said: "not-detected" }]],
    ["particles", COUNT, "TNTC", [{ measurand: "count above 4 µm(c)", said: "too-many-to-count" }]],
  ])("of %s is kept", (_, measurand, cell, wordedResults) => {
    expect(gathered([result(measurand, cell)])).toEqual({ wordedResults });
  });

  test("of one run makes the run unusable", () => {
    expect(gathered([result({ ...COUNT, run: 2 }, "TNTC")])).toEqual({
      refused: [[2, "counts-break-a-rule"]],
    });
  });

  test.each(["n/a", "", "-"])("%j is nothing", (cell) => {
    const iso = { holds: "class", standard: "ISO 4406" } as const;
    expect(gathered([result(WATER, cell), result(COUNT, cell), result(iso, cell)])).toEqual({});
  });
});

test("a note that says that something is wrong is kept as a remark, another is set aside", () => {
  expect(gathered([result(WATER, "220 (alarm)")])).toEqual({
    waterPpm: { value: 220 },
    flagged: [["220 (alarm)", "remarks"]],
  });
  expect(gathered([result(WATER, "220 (repeat)")])).toEqual({
    ...{ waterPpm: { value: 220 }, assumed: ["note-with-number"] },
  });
});

test("a limit of a count is kept as one", () => {
  expect(gathered([result(COUNT, "< 5")])).toEqual({
    limitedCounts: [{ sizeUm: 4, volumeMl: 1, count: 5, limit: "below" }],
  });
});

test("what is said of the bottle is no number, and the colour of a patch is a remark too", () => {
  const cloudy = [result({ holds: "appearance" }, "cloudy"), result({ holds: "smell" }, "burnt")];
  expect(gathered(cloudy)).toMatchObject({ appearance: ["cloudy"], smell: "unusual" });
  expect(gathered(cloudy).flagged).toBeUndefined();
  expect(gathered([result({ holds: "patch-colour" }, "grey")])).toMatchObject({
    ...{ patchTest: { colour: "grey" }, flagged: [["grey", "remarks"]] },
  });
});

test("a number with two readings rests on the mark of the file, unless a person gave it", () => {
  const water = [result(WATER, "1.500")];
  expect(gathered(water)).toEqual({ waterPpm: { value: 1.5 }, assumed: ["decimal-mark-of-file"] });
  expect(gathered(water, { decimal: "," })).toMatchObject({ waterPpm: { value: 1500 } });
  expect(gathered(water, { decimalIsGiven: true })).toEqual({ waterPpm: { value: 1.5 } });
});

test("a counted volume without a unit is said and not used", () => {
  const counted = { holds: "counted" } as const;
  expect(gathered([result(counted, "10")])).toEqual({ assumed: ["counted-volume-without-unit"] });
  expect(gathered([result(counted, "10 mL")])).toEqual({ countedVolumeMl: 10 });
  expect(gathered([result({ ...counted, unit: "mL" }, "10")])).toEqual({ countedVolumeMl: 10 });
});

describe("a class", () => {
  const iso = { holds: "class", standard: "ISO 4406" } as const;
  const as4059 = { holds: "class", standard: "AS4059" } as const;
  test.each<[string, Measurand, string, object]>([
    ["as it is written", iso, "17/15/12", { standard: "ISO 4406", class: "17/15/12" }],
    [
      "with the table of its column",
      { ...as4059, table: "differential" },
      "6",
      { standard: "AS4059", class: "6", table: "differential" },
    ],
    ["with no table", as4059, "6", { standard: "AS4059", class: "6" }],
    [
      "with the table of its cell",
      as4059,
      "6 (cumulative)",
      { standard: "AS4059", class: "6 (cumulative)", table: "cumulative" },
    ],
    [
      "of another standard with no table",
      { holds: "class", standard: "NAS 1638" },
      "6 (cumulative)",
      { standard: "NAS 1638", class: "6 (cumulative)" },
    ],
  ])("%s", (_, measurand, cell, stated) => {
    expect(gathered([result(measurand, cell)])).toEqual({ reportedClasses: [stated] });
  });

  test("that is stated twice is kept once, and another next to it", () => {
    const twice = [result(iso, "17/15/12"), result({ ...iso }, "17/15/12"), result({ ...iso }, "18/15/12")];
    expect(gathered(twice).reportedClasses).toEqual([
      { standard: "ISO 4406", class: "17/15/12" },
      { standard: "ISO 4406", class: "18/15/12" },
    ]);
  });

  test("of one run says nothing that the counts of the run do not show", () => {
    const runs = [1, 2].flatMap((run) =>
      ([4, 6, 14] as const).map((fromUm) =>
        result({ ...COUNT, fromUm, run }, { 4: "900", 6: "300", 14: "30" }[fromUm]),
      ),
    );
    // ISO 4406: above 640 to 1300 is 17, above 160 to 320 is 15, above 20 to 40 is 12.
    const ofRun = (stated: string) => gathered([...runs, result(iso, stated, { run: 2 })]).reportedClasses;
    expect(ofRun("17/15/12")).toBeUndefined();
    expect(ofRun("19/15/12")).toEqual([{ standard: "ISO 4406", class: "19/15/12" }]);
    expect(gathered([result(iso, "17/15/12", { run: 2 })]).reportedClasses).toHaveLength(1);
  });
});

describe("a result that a file gives again in the same words", () => {
  const twice = (cell: string, again: string) => [result(WATER, cell), result(WATER, again, { row: 3 })];
  test("is taken once", () => {
    expect(gathered(twice("90", "90"))).toEqual({ waterPpm: { value: 90 }, assumed: ["taken-once"] });
    expect(gathered(twice("90", ""))).toEqual({ waterPpm: { value: 90 } });
  });

  test("and blank both times is nothing", () => {
    expect(gathered(twice("", ""))).toEqual({});
  });

  test("is taken once although another is refused", () => {
    const acid = result({ holds: "acid", unit: "mg KOH/g" }, "O.1");
    expect(gathered([...twice("90", "90"), acid])).toEqual({
      ...{ waterPpm: { value: 90 }, assumed: ["taken-once"], refused: [[2, "cell-not-read"]] },
    });
  });

  test("is refused wherever it is", () => {
    expect(gathered(twice("9O", "9O"))).toEqual({
      ...{
        refused: [
          [2, "cell-not-read"],
          [3, "cell-not-read"],
        ],
      },
    });
    expect(gathered(twice("90", "91"))).toEqual({
      ...{
        refused: [
          [2, "repeated-measurand"],
          [3, "repeated-measurand"],
        ],
      },
    });
  });

  test("also among many others", () => {
    const others = Array.from({ length: 30 }, (_, at) =>
      result({ ...COUNT, fromUm: 30 + at }, String(900 - at)),
    );
    expect(gathered(others).assumed).toBeUndefined();
    expect(gathered([...others, ...twice("90", "90")])).toMatchObject({
      ...{ waterPpm: { value: 90 }, assumed: ["taken-once"] },
    });
  });
});

describe("the volume of a count by its title, its cell and a column of volumes", () => {
  const per = (cell: string) => ({ countsPer: { cell, row: 2, column: "per" } });
  const { volumeMl: _, ...open } = COUNT;
  const volumeOf = (measurand: Measurand, cell: string, says?: Partial<ReportedResult>) => {
    const { results, refused } = gatherResults([[result(measurand, cell, says)]], FILE);
    return results.counts?.volumeMl ?? refused[0]?.expected;
  };
  test.each<[Measurand, string, string | undefined, unknown]>([
    [COUNT, "900", undefined, 1],
    [COUNT, "900 /mL", "1 mL", 1],
    [COUNT, "900", "", 1],
    [open, "900 per 100 mL", undefined, 100],
    [open, "900 per  100  mL", undefined, 100],
    [open, "900", "per  100  mL", 100],
    [open, "900 /1000000 mL", undefined, 1_000_000],
    [open, "900 /1000001 mL", undefined, "the volume that the counts stand for, such as 1 mL"],
    [open, "900 /0 mL", undefined, "the volume that the counts stand for, such as 1 mL"],
    [
      COUNT,
      "900 /100 mL",
      undefined,
      "a count per 1 mL, as the title says, and not per 100 mL, as the cell says",
    ],
    [COUNT, "O9", undefined, 'a number of 0 or more with "." as decimal mark'],
    [COUNT, "900", "some", "the volume that the counts stand for, such as 1 mL"],
    [open, "900", "count per 100 mL", "the volume that the counts stand for, such as 1 mL"],
    [open, "900", "100 mL", 100],
    [open, "900", "per 100 mL", 100],
    [open, "900", "/100 mL", 100],
    [open, "900 p/100 mL", "", 100],
    [COUNT, "900", "100 mL", 'a count per 1 mL, as the title says, and not per 100 mL, as column "per" says'],
    [
      COUNT,
      "900 /100 mL",
      "1 mL",
      "a count per 1 mL, as the title says, and not per 100 mL, as the cell says",
    ],
    [
      open,
      "900 /100 mL",
      "1 mL",
      'a count per 100 mL, as the cell says, and not per 1 mL, as column "per" says',
    ],
    [open, "900", "", "the volume that the counts stand for, such as 1 mL"],
    [open, "900", undefined, "a column map that settles: do the counts stand for 1 mL or for 100 mL?"],
  ])("%j %s, column %j: %s", (measurand, cell, column, expected) => {
    expect(volumeOf(measurand, cell, column === undefined ? {} : per(column))).toEqual(expected);
  });
});
