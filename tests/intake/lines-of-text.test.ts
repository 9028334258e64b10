import ExcelJS from "exceljs";
import { describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";

const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL,water (mg/kg),remarks";
const ROW = "S-1,QB-01,1,2026-03-04,900,250,90,";
const read = (text: string) => readLabFile("lab.csv", new TextEncoder().encode(text));
const below = async (line: string, table = `${HEADER}\n${ROW}\n`) => {
  const { samples, quarantine, notSamples } = await read(`${table}${line}\n`);
  expect(samples.length).toBeGreaterThan(0);
  return [quarantine.length, notSamples.at(-1)?.why];
};

describe("a line of text below the table, in any language, is no row in quarantine", () => {
  test.each([
    ...["Page 1 of 1", "Seite 1 von 2", "Página 1 de 3", "1/2", "- 2 -", "-----", "Report 2026-4711 page 2"],
    ...["Ende des Berichts", "Fin del informe", "5 samples", "Printed 2026-11-12 08:00", "Datum: 12.11.2026"],
    ...[
      "Geprüft: M. Muster",
      "Vérifié par le laboratoire",
      "Tel. +49 40 123 456",
      "Lab: Harbour Laboratory, Quay 5",
    ],
    ...[
      "Legende: n.b. = nicht bestimmt",
      "Legende:,n.b. = nicht bestimmt",
      "* = value below detection limit",
    ],
    ...["(1) measured twice", "ND: not detected; NT: not tested", "Counts by ISO 11171, water by ASTM D6304"],
    ...["These results relate only to the items tested, and to no other sample, whatever it is"],
    ...["Limit of water: 200 mg/kg", "Nachweisgrenze 20 mg/kg"],
  ])("%s", async (line) => {
    expect(await below(line)).toEqual([0, "footer"]);
    expect(await below(`${line},,,,,,`)).toEqual([0, "footer"]);
  });

  test("also where it is indented, and between the samples", async () => {
    const { samples, quarantine } = await read(
      `${HEADER}\n${ROW}\n,,,Seite 1 von 2\n${ROW.replace("S-1", "S-2")}\n`,
    );
    expect([samples.length, quarantine.length]).toEqual([2, 0]);
  });
});

describe("a line that may hold a result or the name of a sample waits for a person", () => {
  test.each([
    ...[
      "S-2",
      "S-2,QB-01",
      "S-2,QB-01,1,2026-03-05,900",
      "QB-01",
      "4711",
      "4711,fore",
      "S-2 lost",
      "sample S-2",
    ],
    ...["4 µm 90000", "water 900 mg/kg", "next page: 900 250 90", "S-2;QB-01;1;2026-03-05;900;250;90;"],
    ...["Free water in all bottles", "all samples failed", "bottles 1 to 3: cloudy", ",,,,,,,and it smells"],
  ])("%s", async (line) => {
    expect((await below(line))[0]).toBe(1);
  });

  test.each([
    ["Probe 2", "Probe 1"],
    ["Bravo", "Alpha"],
    ["Wagen links 3", "Wagen rechts 2"],
  ])("%s has the form of the sample %s", async (line, sample) => {
    expect(await below(line, `${HEADER}\n${ROW.replace("S-1", sample)}\n`)).toEqual([1, "header"]);
  });
});

describe("a row without the blank cells at its end", () => {
  test("is read where only texts are missing", async () => {
    const { samples, quarantine } = await read(
      `${HEADER},colour\n${ROW},red\nS-2,QB-01,1,2026-03-05,900,250,90\n`,
    );
    expect([samples.map(({ sample }) => sample), quarantine]).toEqual([["S-1", "S-2"], []]);
  });

  test("is set aside where a result is missing: it may have been cut short", async () => {
    const { quarantine } = await read(`${HEADER}\n${ROW}\nS-2,QB-01,1,2026-03-05,900,250\n`);
    expect(quarantine.map(({ issues }) => issues[0]?.code)).toEqual(["row-of-wrong-length"]);
  });

  test("belongs to its sample in a table with a row for each measurand", async () => {
    const { samples } = await read(
      "sample,cart,circuit,drawn on,test,result,unit,remark\nS-1,QB-01,1,2026-03-04,4 µm(c),900,1/mL\nS-1,QB-01,1,2026-03-04,6 µm(c),250,1/mL\n",
    );
    expect(samples.map(({ counts }) => counts?.counts.length)).toEqual([2]);
  });
});

describe("cells of a workbook merged over several samples", () => {
  async function workbook(rows: readonly (readonly (string | number)[])[], merged: readonly string[]) {
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet("March");
    for (const row of rows) sheet.addRow([...row]);
    for (const range of merged) sheet.mergeCells(range);
    return readLabFile("lab.xlsx", new Uint8Array(await book.xlsx.writeBuffer()));
  }
  const TITLES = ["sample", "cart", "circuit", "drawn on", "4 µm(c) per mL", "water (mg/kg)"];
  const sampleRow = (name: string) => [name, "QB-01", "1", "2026-03-04", 900, 90];

  test("hold for each of them, and the reading says so", async () => {
    const rows = [
      TITLES,
      sampleRow("S-1"),
      sampleRow("S-2"),
      sampleRow("S-3"),
      ["S-4", "QB-02", "1", "2026-03-05", 800, 80],
    ];
    const file = await workbook(rows, ["B2:B4", "D2:D3"]);
    expect(file.samples.map(({ sample, cart, drawnOn }) => [sample, cart, drawnOn])).toEqual([
      ["S-1", "QB-01", "2026-03-04"],
      ["S-2", "QB-01", "2026-03-04"],
      ["S-3", "QB-01", "2026-03-04"],
      ["S-4", "QB-02", "2026-03-05"],
    ]);
    expect(file.assumptions.map(({ code }) => code)).toEqual(["merged-cells"]);
  });

  test("a name merged over the rows of its measurands makes one sample", async () => {
    const rows = [
      ["sample", "cart", "circuit", "drawn on", "test", "result", "unit"],
      ["S-1", "QB-01", "1", "2026-03-04", "4 µm(c)", 900, "1/mL"],
      ["S-1", "QB-01", "1", "2026-03-04", "6 µm(c)", 250, "1/mL"],
    ];
    const file = await workbook(rows, ["A2:A3", "B2:B3", "C2:C3", "D2:D3"]);
    expect(file.samples.map(({ counts }) => counts?.counts.length)).toEqual([2]);
  });

  test("titles merged over two rows of a header stay titles", async () => {
    const rows = [
      ["sample", "cart", "circuit", "drawn on", "Particles per mL", ""],
      ["", "", "", "", "4 µm(c)", "6 µm(c)"],
      ["S-1", "QB-01", "1", "2026-03-04", 900, 250],
    ];
    const file = await workbook(rows, ["A1:A2", "B1:B2", "C1:C2", "D1:D2", "E1:F1"]);
    expect(file.samples.map(({ counts }) => counts?.counts.length)).toEqual([2]);
    expect(file.assumptions).toEqual([]);
  });
});
