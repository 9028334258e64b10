import ExcelJS from "exceljs";
import { describe, expect, test } from "vitest";
import {
  bytesInMemory,
  openLabFile,
  quarantineFilesOf,
  readLabFile,
  understand,
} from "../../src/intake/index.js";
import type { Sample } from "../../src/samples/index.js";

const NAMES = ["sample", "cart", "circuit", "drawn on"];
const TITLES = [...NAMES, "4 µm(c) per mL", "6 µm(c) per mL", "water (mg/kg)"];
const PER_100_ML = [...NAMES, "4 µm(c) per 100 mL", "6 µm(c) per 100 mL", "water (mg/kg)"];
const named = (sample: string) => [sample, "C-1", "1", "2026-03-04"];
const row = (sample: string, ...results: string[]) => [...named(sample), ...results];
const S1 = row("S-1", "1000", "300", "120");

type Rows = readonly (readonly string[])[];

const encode = (text: string) => new TextEncoder().encode(text);
const delimited = (separator: string) => (rows: Rows) =>
  Promise.resolve(["lab.csv", encode(rows.map((cells) => cells.join(separator)).join("\n"))] as const);

async function workbook(rows: Rows) {
  const book = new ExcelJS.Workbook();
  const sheet = book.addWorksheet("June");
  for (const cells of rows) sheet.addRow(cells.map((cell) => (/^\d+$/.test(cell) ? Number(cell) : cell)));
  return ["lab.xlsx", new Uint8Array(await book.xlsx.writeBuffer())] as const;
}

const KINDS: readonly (readonly [string, (rows: Rows) => Promise<readonly [string, Uint8Array]>])[] = [
  ["semicolons", delimited(";")],
  ["tabs", delimited("\t")],
  ["a workbook", workbook],
];

/** Sample, counts per mL, water. */
function brief({ sample, counts, waterPpm }: Sample) {
  return [sample, counts?.counts.map(({ count }) => count / counts.volumeMl) ?? [], waterPpm?.value];
}

const CLEAN = [[1000, 300], 120] as const;

describe.each(KINDS)("what stands below a later header is read by it, in a file of %s", (_kind, bytesOf) => {
  const read = async (rows: Rows) => readLabFile(...(await bytesOf(rows)));

  test.each<[string, Rows, unknown[]]>([
    ["another volume", [PER_100_ML, row("S-2", "100000", "30000", "120")], ["S-2", ...CLEAN]],
    [
      "other columns",
      [[...NAMES, "water (%)", "6 µm(c) per mL", "4 µm(c) per mL"], row("S-2", "0.012", "300", "1000")],
      ["S-2", [1000, 300], 120],
    ],
    [
      "names in another order",
      [
        ["sample", "circuit", "cart", ...TITLES.slice(3)],
        ["S-2", "1", "C-1", "2026-03-04", "1000", "300", "120"],
      ],
      ["S-2", ...CLEAN],
    ],
    [
      "more columns",
      [[...TITLES, "acid number (mg KOH/g)"], row("S-2", "1000", "300", "120", "1")],
      ["S-2", ...CLEAN],
    ],
    ["fewer columns", [TITLES.slice(0, 6), row("S-2", "1000", "300")], ["S-2", [1000, 300], undefined]],
    [
      "a row for each measurand",
      [
        [...NAMES, "parameter", "result", "unit"],
        row("S-2", "water", "120", "mg/kg"),
        row("S-2", "4 µm(c)", "1000", "1/mL"),
      ],
      ["S-2", [1000], 120],
    ],
    [
      "titles and units in two rows",
      [
        [...NAMES, "> 4 µm(c)", "> 6 µm(c)", "water"],
        ["", "", "", "", "/100 mL", "/100 mL", "%"],
        row("S-2", "100000", "30000", "0.012"),
      ],
      ["S-2", ...CLEAN],
    ],
    [
      "a group above its columns",
      [
        ["", "", "", "", "Particles per 100 mL", "", ""],
        [...NAMES, "> 4 µm(c)", "> 6 µm(c)", "water (mg/kg)"],
        row("S-2", "100000", "30000", "120"),
      ],
      ["S-2", ...CLEAN],
    ],
    [
      "the same titles on the next page",
      [["", "", "", "", "", "", "Page 2"], TITLES, row("S-2", "1000", "300", "120")],
      ["S-2", ...CLEAN],
    ],
  ])("%s", async (_, below, second) => {
    const { samples, quarantine } = await read([TITLES, S1, [], ...below]);
    expect(quarantine).toEqual([]);
    expect(samples.map(brief)).toEqual([["S-1", ...CLEAN], second]);
  });

  test.each<[string, Rows]>([
    ["leaves out the volume", [[...NAMES, "4 µm(c)", "6 µm(c)", "water (mg/kg)"]]],
    ["lacks the names", [["", "", "", "", "4 µm(c) per 100 mL", "6 µm(c) per 100 mL", "water (mg/kg)"]]],
    [
      "is in a language that is not known",
      [["Probe", "Gerät", "Kreis", "Tag", ">4 µm(c)/100 ml", ">6 µm(c)/100 ml", "Wasser [%]"]],
    ],
    ["has no title that is known", [["Próbka", "Wózek", "Obwód", "Dzień", "duże", "małe", "woda"]]],
    ["is a row of units against the titles", [["", "", "", "", "/100 mL", "/100 mL", "%"]]],
    ["is a line of text with another volume", [["All counts below are per 100 mL"]]],
    ["has a column of limits in place of results", [[...NAMES, "parameter", "limit", "unit"]]],
  ])("a header that %s sets aside what stands below it, to the next header", async (_, header) => {
    const wrong = row("S-2", "100000", "30000", "1");
    const { samples, quarantine } = await read([
      TITLES,
      S1,
      ...header,
      wrong,
      TITLES,
      row("S-3", "1000", "300", "120"),
    ]);
    expect(samples.map(brief)).toEqual([
      ["S-1", ...CLEAN],
      ["S-3", ...CLEAN],
    ]);
    expect(quarantine.map((one) => one.row)).toContain(4);
    expect(quarantine.find((one) => one.row === 4)?.issues[0]?.expected).toMatch(
      /below a header that can be read/,
    );
  });

  test("a second row of units below the same titles is that of the rows below it", async () => {
    const titles = [...NAMES, "> 4 µm(c)", "> 6 µm(c)", "water"];
    const units = (volume: string) => ["", "", "", "", volume, volume, "mg/kg"];
    const { samples } = await read([
      titles,
      units("/mL"),
      S1,
      units("/100 mL"),
      row("S-2", "100000", "30000", "120"),
      units("/mL"),
      row("S-3", "1000", "300", "120"),
    ]);
    expect(samples.map(brief)).toEqual(["S-1", "S-2", "S-3"].map((sample) => [sample, ...CLEAN]));
  });

  test("a list of limits below the table is no sample and waits for nobody", async () => {
    const { samples, quarantine } = await read([
      TITLES,
      S1,
      [],
      ["parameter", "limit", "unit"],
      ["water", "200", "mg/kg"],
    ]);
    expect([samples.map(brief), quarantine]).toEqual([[["S-1", ...CLEAN]], []]);
  });

  test.each<[string, string[]]>([
    ["lacks its day", ["S-2", "C-1", "1", "", "1000", "300", "120"]],
    ["was lost", ["S-2", "C-1", "1", "unknown", "lost", "lost", "broken"]],
    ["was not counted", ["S-2", "C-1", "1", "2026-03-04", "TNTC", "TNTC", "not measured"]],
  ])("a row of a bottle that %s is no header", async (_, cells) => {
    const { samples } = await read([TITLES, S1, cells, row("S-3", "1000", "300", "120")]);
    expect(samples.map(brief)).toContainEqual(["S-3", ...CLEAN]);
  });
});

test("of two tables the first is not taken for text above the second, which has more columns", async () => {
  const text = [
    TITLES.join(),
    S1.join(),
    [...TITLES, "acid number (mg KOH/g)"].join(),
    row("S-2", "1000", "300", "120", "0.1").join(),
  ];
  const { samples } = await readLabFile("lab.csv", encode(text.join("\n")));
  expect(samples.map(({ sample }) => sample)).toEqual(["S-1", "S-2"]);
});

test("rows in quarantine go back with the titles of their own header", async () => {
  const text = [
    TITLES,
    row("S-1", "x", "300", "120"),
    PER_100_ML,
    row("S-2", "x", "30000", "120"),
    [...NAMES, "4 µm(c)", "water (mg/kg)"],
    row("S-3", "1000", "120"),
  ];
  const bytes = encode(text.map((cells) => cells.join(";")).join("\n"));
  const source = bytesInMemory("lab.csv", bytes);
  const { tables } = await openLabFile(source);
  const { quarantine } = await readLabFile("lab.csv", bytes);
  const files = tables.flatMap((table) => quarantineFilesOf(table, quarantine, "0".repeat(64), undefined));
  const back = await Promise.allSettled(
    files.map(({ csv, map }) => readLabFile("back.csv", encode(csv.replace(/,x,/, ",100000,")), { map })),
  );
  expect(
    back.map((one) =>
      one.status === "fulfilled" ? one.value.samples.map(brief) : String(one.reason.message),
    ),
  ).toEqual([
    [["S-1", [100_000, 300], 120]],
    [["S-2", [1000, 300], 120]],
    expect.stringContaining("do the counts stand for 1 mL or for 100 mL?"),
  ]);
});

test("what is understood of a file names every header and what the map has to settle", async () => {
  const text = [TITLES, S1, [...NAMES, "4 µm(c)", "water (mg/kg)"], row("S-2", "1000", "120")];
  const tables = await understand(
    bytesInMemory("lab.csv", encode(text.map((cells) => cells.join(";")).join("\n"))),
  );
  expect(tables.map(({ headerRows, obstacle }) => [headerRows, obstacle === undefined])).toEqual([
    [[1], true],
    [[3], false],
  ]);
});
