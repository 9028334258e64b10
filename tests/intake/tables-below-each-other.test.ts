// Tables of several shapes in one file: each is read by its own titles, whichever stands first. The files are made up by hand.
import ExcelJS from "exceljs";
import { describe, expect, test } from "vitest";
import { describeIssue, readLabFile } from "../../src/intake/index.js";
import { briefOf, readBriefly } from "../support/intake/brief.js";

const WIDE = ["sample,cart,circuit,drawn on,4 µm(c) per mL,water (ppm)", "S-1,QB-01,fore,2026-08-03,900,90"];
const LONG = [
  "sample,cart,circuit,drawn on,test,result,unit",
  "S-1,QB-01,fore,2026-08-03,4 µm(c),900,1/mL",
  "S-1,QB-01,fore,2026-08-03,water,90,ppm",
];
const ACROSS = [
  "Sample no.,S-2,S-3",
  "Cart,QB-01,QB-01",
  "Circuit,aft,mid",
  "Date drawn,2026-08-04,2026-08-05",
  "4 µm(c) per 100 mL,70000,60000",
  "Water (ppm),80,70",
];
const FIRST = "S-1 QB-01 fore 2026-08-03 4:900 /1 w90";
const NEXT = ["S-2 QB-01 aft 2026-08-04 4:70000 /100 w80", "S-3 QB-01 mid 2026-08-05 4:60000 /100 w70"];
const LAST = "S-9 QB-02 fore 2026-08-09 4:500 /1 w60";
const MORE = [WIDE[0] as string, "S-9,QB-02,fore,2026-08-09,500,60"];

describe("a table with its samples across is read by its own titles", () => {
  test.each<[string, string[], string[]]>([
    ["below a wide table", [FIRST, ...NEXT], [...WIDE, "", ...ACROSS]],
    ["below a table with a row for each result", [FIRST, ...NEXT], [...LONG, "", ...ACROSS]],
    ["without a blank line between them", [FIRST, ...NEXT], [...WIDE, ...ACROSS]],
    ["below its own title", [FIRST, ...NEXT], [...WIDE, "", "Further samples,,,,,", ...ACROSS]],
    ["between two wide tables", [FIRST, ...NEXT, LAST], [...WIDE, "", ...ACROSS, "", ...MORE]],
    ["above a wide table", [...NEXT, LAST], [...ACROSS, "", ...MORE]],
    [
      "below another of its kind and a wide one",
      [FIRST, ...NEXT, "S-4 QB-02 fore 2026-08-06 w50", "S-5 QB-02 aft 2026-08-06 w55"],
      [
        ...WIDE,
        ...ACROSS,
        ...["Sample no.,S-4,S-5", "Cart,QB-02,QB-02", "Circuit,fore,aft", "Date drawn,2026-08-06,2026-08-06"],
        "Water (ppm),50,55",
      ],
    ],
    [
      "where its days are under those of the wide table",
      [
        FIRST,
        ...["S-2 QB-01 aft", "S-3 QB-01 mid", "S-4 QB-02 fore"].map(
          (who, n) => `${who} 2026-08-0${4 + n} w8${n}`,
        ),
      ],
      [
        ...WIDE,
        ...[
          "Date drawn,2026-08-04,2026-08-05,2026-08-06",
          "Sample no.,S-2,S-3,S-4",
          "Cart,QB-01,QB-01,QB-02",
        ],
        ...["Circuit,aft,mid,fore", "Water (ppm),80,81,82"],
      ],
    ],
  ])("%s", async (_, expected, lines) => {
    const { samples, issues, places } = await readBriefly(`${lines.join("\n")}\n`);
    expect([samples, issues]).toEqual([expected, []]);
    expect(new Set(places).size).toBe(places.length);
  });

  test("below a wide table of a sheet that is longer than where other tables are looked for it is set aside, and named", async () => {
    const rows = Array.from({ length: 10_000 }, (_, row) => `S-1${row},QB-01,fore,2026-08-03,900,90`);
    const { file, aside } = await readBriefly([WIDE[0], ...rows, "", ...ACROSS].join("\n"));
    expect([file.samples.length, aside.length > 0]).toEqual([10_000, true]);
    expect(file.samples.some(({ sample }) => sample === "S-2")).toBe(false);
  });

  test("below a wide table of a workbook it keeps its sheet and its columns", async () => {
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet("August");
    for (const line of [...WIDE, "", ...ACROSS])
      sheet.addRow(line.split(",").map((cell) => (/^\d+$/.test(cell) ? Number(cell) : cell)));
    const file = await readLabFile("lab.xlsx", new Uint8Array(await book.xlsx.writeBuffer()));
    expect(file.samples.map(briefOf)).toEqual([FIRST, ...NEXT]);
    expect(file.samples.map(({ origin }) => origin[0]?.sheet)).toEqual(["August", "August", "August"]);
  });

  test("a column map gives the titles of either table", async () => {
    const lines = [...WIDE, "", ...ACROSS.map((line) => line.replace("Sample no.", "Nr 1"))];
    const { samples, issues } = await readBriefly(lines.join("\n"), {
      columns: { "Nr 1": { holds: "sample" } },
    });
    expect([samples, issues]).toEqual([[FIRST, ...NEXT], []]);
  });
});

describe("a sample in rows of labels is read by its labels", () => {
  const BLOCK = ["Sample,S-2", "Cart,QB-01", "Circuit,aft", "Drawn,2026-08-04", "Water (ppm),80"];
  const OTHER = ["Sample,S-3", "Cart,QB-01", "Circuit,mid", "Drawn,2026-08-05", "Water (ppm),70"];
  const READ = "S-2 QB-01 aft 2026-08-04 w80";

  test.each<[string, string[], string[]]>([
    ["below a wide table", [FIRST, READ], [...WIDE, "", ...BLOCK]],
    ["below each other", [FIRST, READ, "S-3 QB-01 mid 2026-08-05 w70"], [...WIDE, ...BLOCK, "", ...OTHER]],
    ["between two wide tables", [FIRST, READ, LAST], [...WIDE, "", ...BLOCK, "", ...MORE]],
    [
      "between a wide table and one across",
      [FIRST, READ, "S-3 QB-01 mid 2026-08-05 w70", "S-4 QB-01 fore 2026-08-05 w71"],
      [
        ...[...WIDE, ...BLOCK, "Sample,S-3,S-4", "Cart,QB-01,QB-01", "Circuit,mid,fore"],
        ...["Drawn,2026-08-05,2026-08-05", "Water (ppm),70,71"],
      ],
    ],
  ])("%s", async (_, expected, lines) => {
    const { samples, issues, places } = await readBriefly(lines.join("\n"));
    expect([samples, issues]).toEqual([expected, []]);
    expect(new Set(places).size).toBe(places.length);
  });

  test("below a wide table it waits whole where its circuit is left out", async () => {
    const { samples, aside } = await readBriefly(
      [...WIDE, ...BLOCK.filter((line) => !line.includes("aft"))].join("\n"),
    );
    expect([samples, aside]).toEqual([[FIRST], [3, 4, 5, 6]]);
  });
});

describe("a wide table goes on where what stands below it is no table of samples", () => {
  test.each<[string, string[], string[], number]>([
    ["a legend", [FIRST, LAST], [...WIDE, "Cart,the cart as we call it", MORE[1] as string], 0],
    ["a table whose samples have no names", [FIRST], [...WIDE, "Sample no.,S-2,S-3", "Water (ppm),80,70"], 2],
  ])("%s", async (_, expected, lines, set) => {
    const { samples, aside } = await readBriefly(lines.join("\n"));
    expect([samples, aside.length]).toEqual([expected, set]);
  });
});

test("a broken day in the lower table sets its own column aside and nothing above it", async () => {
  const lines = [...WIDE, "", ...ACROSS.map((line) => line.replace("2026-08-05", "2026-08-35"))];
  const { file, samples } = await readBriefly(lines.join("\n"));
  expect(samples).toEqual([FIRST, NEXT[0]]);
  expect(file.quarantine.flatMap(({ issues }) => issues.map(describeIssue))).toEqual([
    'lab.txt column C from row 4, row "Date drawn": expected a day of the calendar since 1900, written as 2026-03-14 or 14.03.2026, found "2026-08-35"',
  ]);
});
