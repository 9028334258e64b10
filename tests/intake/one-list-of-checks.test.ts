import { writeFileSync } from "node:fs";
import { join } from "node:path";
import ExcelJS from "exceljs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { SAMPLE_CHECKS, type SampleCheck } from "../../src/intake/checks/checks.js";
import { bytesOnDisk, describeIssue, readLabFile } from "../../src/intake/index.js";
import { runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

/** A rule that siltbook does not have: fluid above 120 °C cannot be true. */
const NOT_SO_HOT: SampleCheck = ({ fluidTemperatureC = 0 }) =>
  fluidTemperatureC > 120
    ? [{ code: "property-zero", holds: "temperature", expected: "fluid of at most 120 °C" }]
    : [];

const NAMED = { sample: "S-1", cart: "C-1", circuit: "1", "drawn on": "2026-03-04" };
const RESULTS = { "4 µm(c) per mL": 900, "water (mg/kg)": 90 };
const TEMPERATURE = "fluid temperature (°C)";
type Cells = Readonly<Record<string, string | number>>;

const bytesOf = (lines: readonly string[]) => new TextEncoder().encode(`${lines.join("\n")}\n`);
const titled = (cells: Cells) => [Object.keys(cells).join(","), Object.values(cells).join(",")];
async function workbookOf(rows: readonly (readonly (string | number)[])[]): Promise<Uint8Array> {
  const book = new ExcelJS.Workbook();
  const sheet = book.addWorksheet("March");
  for (const row of rows) sheet.addRow([...row]);
  return new Uint8Array(await book.xlsx.writeBuffer());
}

/** Two samples with the same results, a column each. */
const across = (cells: Cells): (string | number)[][] =>
  Object.entries(cells).map(([label, value]) => [label, value, label === "sample" ? "S-2" : value]);
/** Cells below each other, parted by blanks. */
const aligned = (rows: readonly (readonly (string | number)[])[]) => {
  const widths = (rows[0] ?? []).map((_, column) =>
    Math.max(...rows.map((row) => String(row[column]).length)),
  );
  return rows.map((row) =>
    row.map((cell, column) => String(cell).padEnd((widths[column] ?? 0) + 2)).join(""),
  );
};

/** One sample in every shape of file. */
const SHAPES: Readonly<Record<string, (cells: Cells) => Promise<Uint8Array> | Uint8Array>> = {
  "wide.csv": (cells) => bytesOf(titled(cells)),
  "quoted.csv": (cells) => bytesOf(titled(cells).map((line) => `"${line.replaceAll(",", '","')}"`)),
  "semicolons.csv": (cells) => bytesOf(titled(cells).map((line) => line.replaceAll(",", ";"))),
  "long.csv": (cells) => {
    const results = Object.entries(cells).filter(([title]) => !(title in NAMED));
    const rows = results.map(([title, value]) => `${Object.values(NAMED).join(",")},${title},${value}`);
    return bytesOf([`${Object.keys(NAMED).join(",")},test,result`, ...rows]);
  },
  "block.csv": (cells) => bytesOf(Object.entries(cells).map(([label, value]) => `${label},${value}`)),
  "wide.xlsx": (cells) => workbookOf([Object.keys(cells), Object.values(cells)]),
  "across.csv": (cells) => bytesOf(across(cells).map((line) => line.join(","))),
  "across.xlsx": (cells) => workbookOf(across(cells)),
  "print.txt": (cells) => bytesOf(aligned([Object.keys(cells), Object.values(cells)])),
  "across.txt": (cells) => bytesOf(aligned(across(cells))),
  "strip.txt": (cells) => bytesOf(Object.entries(cells).map(([label, value]) => `${label}: ${value}`)),
  "block.xlsx": (cells) => workbookOf(Object.entries(cells)),
  "document.json": (cells) => bytesOf([JSON.stringify([cells])]),
  "lines.jsonl": (cells) => bytesOf([JSON.stringify(cells), JSON.stringify({ ...cells, sample: "S-2" })]),
};

const folder = temporaryFolder();
const fileOf = async (shape: string, celsius: number) => {
  const bytes = await (SHAPES[shape] as (typeof SHAPES)[string])({
    ...NAMED,
    ...RESULTS,
    [TEMPERATURE]: celsius,
  });
  const path = join(folder, `${celsius}-${shape}`);
  writeFileSync(path, bytes);
  return { path, bytes };
};

describe("a rule added to the one list of checks is kept by every way in", () => {
  beforeAll(() => {
    SAMPLE_CHECKS.push(NOT_SO_HOT);
  });
  afterAll(() => {
    SAMPLE_CHECKS.splice(SAMPLE_CHECKS.indexOf(NOT_SO_HOT), 1);
  });

  test.each(Object.keys(SHAPES))("%s: a file read by itself", async (shape) => {
    const { bytes } = await fileOf(shape, 121);
    const { samples, quarantine } = await readLabFile(shape, bytes);
    expect(samples).toEqual([]);
    expect(quarantine.length).toBeGreaterThan(0);
    for (const issue of quarantine.flatMap(({ issues }) => issues))
      expect(describeIssue(issue)).toContain(
        `${shape.startsWith("across") ? "row" : "column"} "${shape === "long.csv" ? "result" : TEMPERATURE}": expected fluid of at most 120 °C, found "121"`,
      );
    const cool = await readLabFile(shape, (await fileOf(shape, 120)).bytes);
    expect([cool.samples.length > 0, cool.quarantine]).toEqual([true, []]);
  });

  test.each(Object.keys(SHAPES))("%s: a file taken into a book", async (shape) => {
    const { path } = await fileOf(shape, 121);
    const book = Book.open(":memory:", { create: true });
    const report = await book.takeIn(bytesOnDisk(path), { today: "2026-12-31" });
    expect([report.taken, report.quarantined > 0, [...book.samples({ cart: "C-1" })]]).toEqual([0, true, []]);
    await book.takeIn(bytesOnDisk((await fileOf(shape, 120)).path), { today: "2026-12-31" });
    expect([...book.samples({ cart: "C-1" })].map(({ sample }) => sample)).toContain("S-1");
    book.close();
  });

  test.each(Object.keys(SHAPES))("%s: the command import", async (shape) => {
    const { path } = await fileOf(shape, 121);
    const { code, json } = await runJson("import", "--book", join(folder, `${shape}.siltbook`), path);
    expect(code).toBe(1);
    expect(JSON.stringify(json)).toContain('expected":"fluid of at most 120 °C');
  });
});

test("without the rule the same files are taken", async () => {
  for (const shape of Object.keys(SHAPES)) {
    const { quarantine } = await readLabFile(shape, (await fileOf(shape, 121)).bytes);
    expect(quarantine).toEqual([]);
  }
});
