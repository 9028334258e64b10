// What a small file may cost is counted in what is looked at, never by the clock.
import { describe, expect, test } from "vitest";
import { bytesInMemory, IntakeError, readLabFile, understand } from "../../src/intake/index.js";
import { findLayout } from "../../src/intake/layout/layout.js";
import { inSections } from "../../src/intake/layout/sections.js";
import { filledDown } from "../../src/intake/rows/merged-cells.js";
import { isNearlyEmpty } from "../../src/intake/rows/nearly-empty.js";
import type { MergedDown, RawRow, RowSource } from "../../src/intake/rows/row.js";
import { unpackWorkbook } from "../../src/intake/rows/workbook-parts.js";
import { unreadEntry } from "../../src/intake/samples/entry.js";
import type { Fate } from "../../src/intake/samples/fates.js";
import { ReadableShare } from "../../src/intake/samples/readable-share.js";
import { archiveOf, membersOf, SHEET, STRINGS, workbookParts } from "../support/archive-of.js";

const TITLES = ["sample", "cart", "circuit", "drawn on", "4 µm(c) per mL", "water (mg/kg)"];
const encode = (text: string) => new TextEncoder().encode(text);

/** Rows that count how often somebody looks at their cells. */
function counted(rows: readonly (readonly string[])[]) {
  const looks = { cells: 0 };
  const raw = rows.map(
    (cells, index): RawRow => ({
      row: index + 1,
      text: cells.join(","),
      get cells() {
        looks.cells += 1;
        return cells;
      },
    }),
  );
  const source: RowSource = {
    ...{ file: "lab.csv", format: "delimited text", readAs: "text" },
    rows: () => raw,
  };
  return { looks, raw, source };
}

async function refusal(name: string, bytes: Uint8Array): Promise<string> {
  try {
    await readLabFile(name, bytes);
  } catch (error) {
    expect(error).toBeInstanceOf(IntakeError);
    return (error as Error).message;
  }
  return "taken";
}

describe("headers further down", () => {
  const words = Array.from({ length: 300 }, (_, at) => [`word ${at}`, `other ${at}`]);
  const again = [
    ...TITLES.map((title) => title.replace("mg/kg", "ppm by mass").replace("per mL", "per 100 mL")),
  ];
  const { looks, raw, source } = counted([TITLES, ...words, again, ...words]);
  const layout = findLayout({}, raw.slice(0, 100), undefined);
  if (layout === undefined) throw new Error("the first header was not found");
  const sections = () => [...inSections(source, layout, undefined)].map(([, section]) => section);

  test("are looked for the first time only, and the same ones are found again", () => {
    looks.cells = 0;
    const first = sections();
    expect(new Set(first).size).toBe(2);
    expect(looks.cells).toBeGreaterThan(600);
    looks.cells = 0;
    expect(sections()).toEqual(first);
    expect(looks.cells).toBe(0);
  });

  test("another source under the same header is gone through by itself", () => {
    const other = counted([TITLES, ...words]);
    expect(new Set([...inSections(other.source, layout, undefined)].map(([, one]) => one)).size).toBe(1);
    expect(other.looks.cells).toBeGreaterThan(300);
    expect(new Set(sections()).size).toBe(2);
  });

  /** How often the bytes of a file are read to say what is understood of it. */
  async function readings(headers: number, titlesOf: (at: number) => string) {
    const row = "S-1,C-1,fore,2026-03-04,1300,120\n";
    const text = Array.from({ length: headers }, (_, at) => `${titlesOf(at)}\n${row}`).join("");
    const inMemory = bytesInMemory("lab.csv", encode(text));
    let read = 0;
    const tables = await understand({
      ...inMemory,
      chunks: () => {
        read += 1;
        return inMemory.chunks();
      },
    });
    return { read, tables };
  }
  const TITLE = TITLES.slice(0, 5).join(",");

  test("200 different headers take no more readings of the file than 20", async () => {
    const other = (at: number) => `${TITLE},water (mg/kg) ${at}`;
    const [few, many] = [await readings(20, other), await readings(200, other)];
    expect([few.tables.length, many.tables.length]).toEqual([20, 200]);
    expect(many.read).toBe(few.read);
  });

  test("two headers that take turns are understood once each", async () => {
    const { tables } = await readings(50, (at) => `${TITLE},water (${at % 2 === 0 ? "mg/kg" : "%"})`);
    expect(tables.map(({ headerRows }) => headerRows)).toEqual([[1], [3]]);
  });
});

describe("one number of a sample in many rows", () => {
  const row = (value: number) => `S-1,C-1,fore,2026-03-04,iron,${value},ppm\n`;
  const file = (values: readonly number[]) =>
    encode(`sample,cart,circuit,drawn on,parameter,result,unit\n${values.map(row).join("")}`);

  test("1,000 equal rows are one sample, and one more sets all of them aside", async () => {
    const within = await readLabFile("lab.csv", file(Array.from({ length: 1000 }, () => 7)));
    expect([within.samples.length, within.quarantine.length]).toEqual([1, 0]);
    const above = await readLabFile("lab.csv", file(Array.from({ length: 1001 }, () => 7)));
    expect([above.samples.length, above.quarantine.length]).toEqual([0, 1001]);
    expect(above.quarantine[1000]).toMatchObject({ row: 1002, cart: "C-1", circuit: "fore", sample: "S-1" });
    expect(above.quarantine[1000]?.issues.map(({ expected }) => expected)).toEqual([
      "at most 1000 rows of one sample; more of them bear this number",
    ]);
  });
});

describe("a file of which nearly no row can be read", () => {
  const issue = { file: "lab.csv", code: "row-of-wrong-length", column: "(row)", value: "3 cells" } as const;
  const fates = {
    broken: (row: number): Fate => ({
      kind: "quarantined",
      row: { file: "lab.csv", row, text: "", issues: [{ ...issue, row, expected: "5 cells" }] },
    }),
    footer: (row: number): Fate => ({
      kind: "not-a-sample",
      row: { file: "lab.csv", row, text: "the pump whines", why: "footer" },
    }),
    blank: (row: number): Fate => ({
      kind: "not-a-sample",
      row: { file: "lab.csv", row, text: "", why: "blank" },
    }),
    // A row of a sample whose other results come further down.
    open: () => undefined,
  };

  /** Rows of a file, in runs of one kind each; the message with which it is refused. */
  function refusalOf(...runs: readonly (readonly [number, keyof typeof fates])[]): string | undefined {
    const share = new ReadableShare("lab.csv");
    let row = 1;
    try {
      for (const [times, kind] of runs) {
        for (let time = 0; time < times; time += 1) {
          row += 1;
          const raw = { row, text: "", cells: [] };
          share.see(
            kind === "footer" || kind === "blank"
              ? { skipped: { row: raw, why: kind } }
              : { entry: unreadEntry(raw, {}, undefined) },
          );
          const fate = fates[kind](row);
          if (fate !== undefined) share.after(fate);
        }
      }
      return undefined;
    } catch (error) {
      expect(error).toBeInstanceOf(IntakeError);
      return (error as Error).message;
    }
  }
  const REMEDY = "Correct the titles or the rows, or save the rows of samples as a file of their own";

  test("is refused from 5,000 such rows on, with the first of them and its cause", () => {
    expect(refusalOf([4999, "broken"])).toBeUndefined();
    expect(refusalOf([5000, "broken"])).toBe(
      `lab.csv: expected a table of samples, and none of the first 5000 rows could be read as one; nothing was taken. The first that could not: lab.csv row 2, column "(row)": expected 5 cells, found "3 cells". ${REMEDY}`,
    );
  });

  test("is not read in part: samples below a broken half do not count without it", () => {
    expect(refusalOf([5000, "broken"], [5000, "open"])).toContain("none of the first 5000 rows");
  });

  test("is read in full where one row of a hundred is of a sample, complete or not", () => {
    expect(refusalOf([51, "open"], [5000, "broken"], [2, "open"])).toBeUndefined();
    expect(refusalOf([50, "open"], [5000, "broken"])).toContain("only 50 of the first 5050 rows");
    // 51 of 5,101 rows are less than one of a hundred.
    expect(refusalOf([51, "open"], [5049, "broken"])).toBeUndefined();
    expect(refusalOf([51, "open"], [5050, "broken"])).toContain("only 51 of the first 5101 rows");
  });

  test("lines of text are rows without a sample too, and blank rows are none", () => {
    expect(refusalOf([1, "open"], [5000, "footer"])).toContain(
      'The first that could not: row 3 is a line of text, "the pump whines". ',
    );
    expect(refusalOf([1, "open"], [9000, "blank"], [4999, "footer"])).toBeUndefined();
  });

  test("is stopped by the same rule when it is read", async () => {
    const rows = ["sample,cart,circuit,drawn on,water (mg/kg)", "S-1,QB-01,fore,2026-03-04,120"];
    const bytes = encode([...rows, ...Array<string>(5000).fill("S-0,1"), ""].join("\n"));
    expect(await refusal("lab.csv", bytes)).toContain("only 1 of the first 5001 rows could be read");
  });
});

describe("merged cells that lie over each other", () => {
  /** How often the ends of ranges are looked at: each begins a row below the one before. */
  function looks(ranges: number, endOf: (at: number) => number): number {
    let ends = 0;
    const mergedDown = Array.from({ length: ranges }, (_, at): MergedDown => {
      const toRow = endOf(at);
      return {
        column: 1,
        fromRow: at + 2,
        get toRow() {
          ends += 1;
          return toRow;
        },
      };
    });
    const { source } = counted([
      ["sample", "cart"],
      ...Array.from({ length: ranges }, (_, at) => ["S", `C-${at}`]),
    ]);
    const rows = [...filledDown({ ...source, mergedDown }, 1).rows()];
    expect(rows.map(({ cells }) => cells[1])).toEqual([
      "cart",
      ...Array.from({ length: ranges }, (_, at) => `C-${at}`),
    ]);
    return ends;
  }

  test.each([
    ["all to the last row", () => 5000],
    ["each one row further", (at: number) => 5000 + at],
    ["each one row less far", (at: number) => 5000 - at],
  ])("twice as many are less than three times the work: %s", (_, endOf) => {
    expect(looks(400, endOf) / looks(200, endOf)).toBeLessThan(3);
  });

  test("the first of them fills the blanks below it, and the longer one those after it", () => {
    const { source } = counted([["cart"], ["C-1"], [""], ["C-2"], [""], [""], [""]]);
    const mergedDown = [
      { column: 0, fromRow: 2, toRow: 5 },
      { column: 0, fromRow: 4, toRow: 6 },
    ];
    const cells = [...filledDown({ ...source, mergedDown }, 1).rows()].map((row) => row.cells[0]);
    expect(cells).toEqual(["cart", "C-1", "C-1", "C-2", "C-1", "C-2", ""]);
  });
});

describe("tables that are nearly empty", () => {
  test.each([
    [1_000_000, 0, false],
    [1_000_001, 20_000, true],
    [1_000_001, 20_001, false],
  ])("%d places with %d of them written: %s", (places, written, isSo) => {
    expect(isNearlyEmpty(places, written)).toBe(isSo);
  });

  const names = Object.fromEntries(Array.from({ length: 1900 }, (_, at) => [`name ${at}`, at]));
  const found =
    /expected objects with much the same names, found 1900 names in 101 objects|found 1900 names in 6\d\d objects/;

  test.each(["lab.json", "lab.jsonl"])(
    "%s: 1,900 names of which all objects but one have none are refused",
    async (file) => {
      const objects = [names, ...Array.from({ length: 600 }, () => ({}))].map((one) => JSON.stringify(one));
      const text = file.endsWith("l") ? objects.join("\n") : `[${objects.join(",")}]`;
      expect(await refusal(file, encode(text))).toMatch(found);
    },
  );

  test("a sheet whose rows each have one cell far to the right is refused", async () => {
    const parts = await workbookParts();
    const rows = Array.from(
      { length: 5000 },
      (_, at) => `<row r="${at + 3}"><c r="HG${at + 3}"><v>1</v></c></row>`,
    );
    const xml = (parts.get(SHEET) as string).replace("</sheetData>", `${rows.join("")}</sheetData>`);
    const bytes = archiveOf(membersOf(new Map([...parts, [SHEET, xml]])));
    expect(await refusal("lab.xlsx", bytes)).toContain("spread over 5002 rows and 215 columns");
  });
});

describe("workbooks that grow when they are unpacked", () => {
  const GROWN = "unpack to more than a spreadsheet packs into so few";

  test.each([
    ["tags that mean nothing", SHEET, "<a/>".repeat(600_000)],
    ["blanks", SHEET, " ".repeat(12_000_000)],
    ["equal texts", STRINGS, "<si><t>x</t></si>".repeat(300_000)],
  ])("%s are refused before they are read", async (_, part, more) => {
    const parts = await workbookParts();
    const xml = (parts.get(part) as string).replace(/<\/(?:worksheet|sst)>$/, (end) => `${more}${end}`);
    expect(await refusal("lab.xlsx", archiveOf(membersOf(new Map([...parts, [part, xml]]))))).toContain(
      GROWN,
    );
  });

  test("100,000 rows with a height and nothing in them, as a spreadsheet writes them, are unpacked", async () => {
    const parts = await workbookParts();
    const blank = (row: number) =>
      `<row r="${row}" customFormat="false" ht="12.8" hidden="false" customHeight="false" outlineLevel="0" collapsed="false"></row>`;
    const rows = Array.from({ length: 100_000 }, (_, at) => blank(at + 3)).join("");
    const xml = (parts.get(SHEET) as string).replace("</sheetData>", `${rows}</sheetData>`);
    const unpacked = unpackWorkbook("lab.xlsx", archiveOf(membersOf(new Map([...parts, [SHEET, xml]]))));
    expect(unpacked.get(SHEET)).toHaveLength(encode(xml).length);
  });
});
