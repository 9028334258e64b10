import { describe, expect, test } from "vitest";
import { readDate } from "../../src/intake/cells/dates.js";
import { readLabFile } from "../../src/intake/index.js";

const NOTHING_SHOWN = { order: "not-shown", settled: false } as const;
const dayOf = (text: string) => {
  const reading = readDate(text, NOTHING_SHOWN);
  return reading.kind === "read" ? [reading.moment.day, reading.moment.time] : reading.kind;
};

describe("a day with one reading is read in every hand", () => {
  test.each([
    ...["26. Sept. 2026", "26. September 2026", "26 Sept 2026", "26-SEP-2026", "26Sep2026", "26/Sep/2026"],
    ...["26th September 2026", "September 26th, 2026", "Sept. 26, 2026", "2026-Sep-26", "2026 Sep 26"],
    ...[
      "26 septembre 2026",
      "26 de septiembre de 2026",
      "26 settembre 2026",
      "26 set. 2026",
      "26 de setembro de 2026",
    ],
    ...["26. 9. 2026", "26.09.2026.", "2026-9-26", "2026/9/26", "2026年9月26日", "26‑09‑2026"],
    ...["Sat 26 Sep 2026", "Saturday, 26 September 2026", "Sa., 26.09.2026", "samedi 26 septembre 2026"],
    ...["2026-09-26 00:00:00", "2026-09-26T00:00:00.000Z", "26.09.2026 00:00", "9/26/2026 12:00:00 AM"],
  ])("%s", (text) => {
    expect(dayOf(text)).toEqual(["2026-09-26", undefined]);
  });

  test.each([
    ["10. März 2026", "2026-03-10"],
    ["10 Mrz 2026", "2026-03-10"],
    ["10. Mai 2026", "2026-05-10"],
    ["10 mei 2026", "2026-05-10"],
    ["1er août 2026", "2026-08-01"],
    ["10 déc. 2026", "2026-12-10"],
    ["10 Okt 2026", "2026-10-10"],
    ["10 ott 2026", "2026-10-10"],
    ["10 out 2026", "2026-10-10"],
    // "mar" is March here, and Tuesday in other languages.
    ["Mar 10, 2026", "2026-03-10"],
    ["Mar 10 2026", "2026-03-10"],
    ["mar. 10 mars 2026", "2026-03-10"],
    ["10 dic 2026", "2026-12-10"],
  ])("%s is %s", (text, day) => {
    expect(dayOf(text)).toEqual([day, undefined]);
  });

  test("a time that is not midnight stays with its day", () => {
    expect(dayOf("26 Sept 2026 09:30")).toEqual(["2026-09-26", "09:30"]);
    expect(dayOf("2026-09-26T00:00:01")).toEqual(["2026-09-26", "00:00:01"]);
  });
});

describe("what is no day, or has two readings, is not read", () => {
  test.each([
    ...["26 Foo 2026", "31. Feb. 2026", "32 Sep 2026", "Sept 2026", "26. Sept.", "26 Sept 26", "46291"],
    // The 26th of September 2026 is a Saturday.
    ...["Sun 26 Sep 2026", "Montag, 26.09.2026", "26 Sep 2026 27 Sep 2026"],
  ])("%s", (text) => {
    expect(dayOf(text)).toBe("refused");
  });

  test.each(["03/04/2026", "03‑04‑2026", "Fri 03/04/2026"])("%s", (text) => {
    expect(dayOf(text)).toBe("ambiguous");
  });
});

describe("cells that a spreadsheet marked as text, and names in other letters, are read as meant", () => {
  const HEADER = "sample,cart,circuit,drawn on,water (mg/kg)";
  test.each([
    ['="00123",QB-01,1,2026-03-04,90', ["00123", "QB-01", 90]],
    ['"=""00123""",QB-01,1,2026-03-04,90', ["00123", "QB-01", 90]],
    ["'00124,'QB-01,1,'2026-03-04,'90", ["00124", "QB-01", 90]],
    ['S-1,="QB-01",1,="2026-03-04",="90"', ["S-1", "QB-01", 90]],
    ["S-1,Pru\u0308f-1,1,2026-03-04,90", ["S-1", "Pr\u00fcf-1", 90]],
    // An apostrophe inside a name, or around it, belongs to it.
    ["O'Neil 4,QB-01,1,2026-03-04,90", ["O'Neil 4", "QB-01", 90]],
    ["'S-1',QB-01,1,2026-03-04,90", ["'S-1'", "QB-01", 90]],
  ])("%s", async (row, expected) => {
    const file = await readLabFile("lab.csv", new TextEncoder().encode(`${HEADER}\n${row}\n`));
    expect(file.quarantine).toEqual([]);
    expect(file.samples.map(({ sample, cart, waterPpm }) => [sample, cart, waterPpm?.value])).toEqual([
      expected,
    ]);
  });
});

test.each([
  ["90 µg/g", 90],
  ["90 ug/g", 90],
  ["0.009 wt.%", 90],
  ["0.009 wt%", 90],
  ["0.009 Mass-%", 90],
])("water written as %s has one unit", async (cell, ppm) => {
  const bytes = new TextEncoder().encode(
    `sample,cart,circuit,drawn on,water\nS-1,QB-01,1,2026-03-04,${cell}\n`,
  );
  const { samples } = await readLabFile("lab.csv", bytes);
  expect(samples[0]?.waterPpm?.value).toBeCloseTo(ppm, 9);
});

test.each([
  ["90 µg/g", 1],
  ["90 mg/kg", 1],
  // By mass, as ppm alone is read everywhere; the sample carries the assumption.
  ["90 ppm", 1],
  ["0.009 %", 0],
])("%s under a title in mg/kg: %i samples", async (cell, expected) => {
  const bytes = new TextEncoder().encode(
    `sample,cart,circuit,drawn on,water (mg/kg)\nS-1,QB-01,1,2026-03-04,${cell}\n`,
  );
  expect((await readLabFile("lab.csv", bytes)).samples).toHaveLength(expected);
});
