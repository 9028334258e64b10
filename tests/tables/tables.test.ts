// Tables of a book as CSV, workbook, Parquet and calendar, each read back by another program than the one that wrote it.
// RFC 5545: 3.1 (lines of at most 75 bytes, folded), 3.3.11 (its example of an escaped text), 3.6.1.
import { readFileSync, writeFileSync } from "node:fs";
import ExcelJs from "exceljs";
import { parquetReadObjects } from "hyparquet";
import { beforeAll, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { dueSamples, type FleetRow } from "../../src/fitness/index.js";
import { escaped, folded } from "../../src/tables/calendar.js";
import {
  calendarOf,
  type Table,
  tableAsCsv,
  tableAsParquet,
  tablesAsWorkbook,
} from "../../src/tables/index.js";
import { readTable } from "../support/read-table.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const HOSTILE = [
  "=1+1",
  "+49 30 1",
  "-2-3",
  "@SUM(A1)",
  "'=x",
  "ab\u00b5\u00e9\u4e2d",
  'say "no", please',
  "two\nlines",
];
const TABLE: Table = {
  name: "test",
  columns: [
    { name: "name", type: "string" },
    { name: "waterPpm", type: "number" },
  ],
  rows: [
    ...HOSTILE.map((text, index) => [text, index + 0.1] as const),
    ["nothing known", undefined],
    [undefined, 1e-300],
    ["least", -123456789.123],
  ],
};

describe("a text that looks like a formula comes back as it was", () => {
  test("from CSV, which begins with a byte-order mark and guards it", () => {
    const csv = tableAsCsv(TABLE);
    expect(csv.charCodeAt(0)).toBe(0xfeff);
    for (const line of csv.split("\n")) expect(line).not.toMatch(/^"?[=+@]/);
    expect(readTable(csv).map((row) => row[0])).toEqual(["name", ...TABLE.rows.map(([name]) => name ?? "")]);
  });

  test("from a workbook, in which no cell is a formula", async () => {
    const workbook = new ExcelJs.Workbook();
    await workbook.xlsx.load(Buffer.from(await tablesAsWorkbook([TABLE])) as never);
    const sheet = workbook.getWorksheet("test") as ExcelJs.Worksheet;
    const rows = TABLE.rows.map((_, index) =>
      [1, 2].map((column) => sheet.getRow(index + 2).getCell(column)),
    );
    expect(rows.flat().filter((cell) => cell.type === ExcelJs.ValueType.Formula)).toEqual([]);
    expect(rows.map((row) => row.map(({ value }) => value ?? undefined))).toEqual(TABLE.rows);
  });

  test("from Parquet, where what is not known is null", async () => {
    const bytes = await tableAsParquet(TABLE);
    const file = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
    expect(await parquetReadObjects({ file })).toEqual(
      TABLE.rows.map(([name, waterPpm]) => ({ name: name ?? null, waterPpm: waterPpm ?? null })),
    );
  });
});

describe("a calendar", () => {
  test.for([
    [
      "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.",
      "Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.",
    ],
    ["one; two, three\\four", "one\\; two\\, three\\\\four"],
    ["bell\u0007", "bell "],
  ] as const)("%j is written as the standard does", ([text, written]) => {
    expect(escaped(text)).toBe(written);
  });

  test.for([74, 75, 76, 149, 150, 300])(
    "a line of %i two-byte letters is folded and unfolds to itself",
    (many) => {
      const line = "\u00e9".repeat(many);
      const lines = folded(line).split("\r\n");
      for (const piece of lines) expect(Buffer.byteLength(piece)).toBeLessThanOrEqual(75);
      expect(folded(line).replaceAll("\r\n ", "")).toBe(line);
    },
  );

  test("has an entry of a whole day for each sample; an overdue one stands on the day of the list", () => {
    const due = { cart: "C-1", circuit: "fore", serves: "main", action: "draw, now", daysOverdue: 0 };
    const calendar = calendarOf(
      [
        { ...due, dueOn: "2026-12-01" },
        { ...due, circuit: "aft", dueOn: "2026-11-10", daysOverdue: 10 },
      ],
      "2026-11-20",
    );
    expect(calendar.match(/BEGIN:VEVENT\r\n/g)).toHaveLength(2);
    expect(calendar).toContain("DTSTART;VALUE=DATE:20261201\r\n");
    expect(calendar).toContain(
      "DTSTART;VALUE=DATE:20261120\r\nSUMMARY:Sample due: C-1 aft (10 days overdue)\r\n",
    );
    expect(calendar.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
  });
});

test.for([
  [
    ["C-1", "2"],
    ["C", "1-2"],
  ],
  [
    ["a/b", "c"],
    ["a", "b/c"],
  ],
] as const)("the circuits of %j have an entry of their own each, by its UID", (names) => {
  const due = { serves: "main", action: "", daysOverdue: 0, dueOn: "2026-12-01" };
  const calendar = calendarOf(
    names.map(([cart, circuit]) => ({ ...due, cart, circuit })),
    "2026-11-20",
  );
  expect(new Set(calendar.match(/^UID:.*$/gm)).size).toBe(2);
});

describe("what is due within some days", () => {
  const row = (cart: string, stands: string, nextSampleBy?: string) =>
    ({
      cart,
      circuit: "a",
      serves: "s",
      stands,
      brief: { action: "" },
      ...(nextSampleBy && { nextSampleBy }),
    }) as FleetRow;
  const rows = [
    row("later", "fit", "2026-12-31"),
    row("last day", "fit", "2026-11-30"),
    row("a day more", "fit", "2026-12-01"),
    row("overdue", "fit", "2026-11-01"),
    row("unknown", "do-not-connect"),
    row("sample first", "resample", "2026-12-31"),
  ];

  test("holds the last day and not the one after it; what is overdue comes first, and a new sample is due now", () => {
    expect(
      dueSamples(rows, "2026-11-20", 10).map(({ cart, dueOn, daysOverdue }) => [cart, dueOn, daysOverdue]),
    ).toEqual([
      ["overdue", "2026-11-01", 19],
      ["sample first", "2026-11-20", 0],
      ["unknown", "2026-11-20", 0],
      ["last day", "2026-11-30", 0],
    ]);
  });

  test.for([-1, 1.5, Number.NaN])("%s days are refused", (days) => {
    expect(() => dueSamples(rows, "2026-11-20", days)).toThrow(RangeError);
  });
});

describe("a book", () => {
  const folder = temporaryFolder();
  const book = `${folder}/base.siltbook`;
  const exported = (to: string, ...args: string[]) =>
    run("export", "--book", book, "--to", `${folder}/${to}`, "--on", "2026-11-20", ...args);

  beforeAll(async () => {
    const fleet = ["--carts", "datasets/demo/carts.json", "--requirement", "datasets/demo/requirement.json"];
    await run("import", "--book", book, ...fleet, "datasets/demo/lab-tidy.csv", "datasets/demo/lab-long.csv");
    const report = (day: string, water: number) =>
      `Sample,Cart,Circuit,Drawn on,Reported on,Fluid,Water (mg/kg)\nT-1,QB-03,aft,2026-11-01,${day},MIL-H-5606,${water}\n`;
    writeFileSync(`${folder}/first.csv`, report("2026-11-05", 90));
    writeFileSync(`${folder}/later.csv`, report("2026-11-10", 95));
    await run("import", "--book", book, `${folder}/first.csv`, `${folder}/later.csv`);
  });

  test("becomes a workbook with a sheet for each table", async () => {
    expect((await exported("base.xlsx")).code).toBe(0);
    const workbook = new ExcelJs.Workbook();
    await workbook.xlsx.readFile(`${folder}/base.xlsx`);
    expect(workbook.worksheets.map(({ name }) => name)).toEqual([
      ...["samples", "verdicts", "quantities", "fleet", "due"],
    ]);
    const verdicts = workbook.getWorksheet("verdicts") as ExcelJs.Worksheet;
    expect(verdicts.rowCount).toBe(15);
  });

  test("has the fleet in its order, each circuit with its verdict in the report before, and keeps no verdict", async () => {
    const { json } = await runJson("fleet", "--book", book, "--on", "2026-11-18");
    await exported("fleet.csv", "--table", "fleet");
    const [titles = [], ...rows] = readTable(readFileSync(`${folder}/fleet.csv`, "utf8"));
    const column = (name: string) => rows.map((row) => row[titles.indexOf(name)]);
    expect(column("beforeOn")).toEqual(rows.map(() => "2026-11-18"));
    const before = new Map(
      json.circuits.map((one: Record<string, string>) => [`${one.cart} ${one.circuit}`, one.verdict]),
    );
    const names = rows.map(([cart, circuit]) => `${cart} ${circuit}`);
    expect(column("before")).toEqual(names.map((name) => before.get(name)));
    const opened = Book.open(book);
    expect(opened.verdicts({ on: "2026-11-20" })).toEqual([]);
    opened.close();
    const { json: now } = await runJson("fleet", "--book", book, "--on", "2026-11-20");
    expect(names).toEqual(now.circuits.map((one: Record<string, string>) => `${one.cart} ${one.circuit}`));
  });

  test("keeps where a sample came from, its classes, and whether it was corrected", async () => {
    await exported("samples.csv", "--table", "samples");
    const [titles = [], ...rows] = readTable(readFileSync(`${folder}/samples.csv`, "utf8"));
    const column = (name: string) => rows.map((row) => row[titles.indexOf(name)]);
    expect(column("amended").filter((cell) => cell === "yes")).toHaveLength(1);
    expect(new Set(column("originFile"))).toEqual(new Set(["lab-tidy.csv", "lab-long.csv", "later.csv"]));
    expect(column("iso4406").some((code) => /^\d+\/\d+\/\d+$/.test(code ?? ""))).toBe(true);
  });

  /** Rows of a table by the names of its columns. */
  async function rowsOf(file: string, ...args: string[]): Promise<Record<string, string>[]> {
    const { code, err } = await run("export", "--book", book, "--to", `${folder}/${file}`, ...args);
    if (code !== 0) throw new Error(err);
    const [titles = [], ...rows] = readTable(readFileSync(`${folder}/${file}`, "utf8"));
    return rows.map((row) => Object.fromEntries(titles.map((title, index) => [title, row[index] ?? ""])));
  }

  test("of one cart has every row of the whole that is of this cart, in each table, whatever the case of its name", async () => {
    const sheetsOf = async (file: string, ...args: string[]) => {
      await exported(file, "--days", "9999", ...args);
      const workbook = new ExcelJs.Workbook();
      await workbook.xlsx.readFile(`${folder}/${file}`);
      return workbook.worksheets.map((sheet) => {
        const [titles = [], ...rows] = sheet.getSheetValues().slice(1) as unknown[][];
        const named = rows.map((row) => titles.map((title, column) => [title, row[column]]));
        return named.map((row) => Object.fromEntries(row.filter(([, cell]) => cell !== undefined)));
      });
    };
    const whole = await sheetsOf("whole.xlsx");
    const own = await sheetsOf("own.xlsx", "--cart", "qb-03");
    for (const [index, rows] of whole.entries()) {
      expect(own[index]?.length).toBeGreaterThan(0);
      expect(rows.length).toBeGreaterThan(own[index]?.length ?? 0);
      expect(own[index]).toEqual(rows.filter(({ cart }) => cart === "QB-03"));
    }
    expect(whole).toHaveLength(5);
  });

  test.for([
    ["before the first report", "2026-11-04", undefined, undefined],
    ["after the first report", "2026-11-05", "90", "no"],
    ["on the day before the correction", "2026-11-09", "90", "no"],
    ["with the correction", "2026-11-10", "95", "yes"],
  ] as const)("as of a day has a sample as it was known then: %s", async ([, day, water, amended]) => {
    const asOf = ["--cart", "QB-03", "--as-of", day];
    const found = (rows: Record<string, string>[]) => rows.find(({ sample }) => sample === "T-1");
    expect(found(await rowsOf("t.csv", ...asOf))?.["water (mg/kg)"]).toBe(water);
    const { waterPpm, amended: is } = found(await rowsOf("t.csv", ...asOf, "--table", "samples")) ?? {};
    expect([waterPpm, is]).toEqual([water, amended]);
  });

  test("as of a day is judged for this day by the verdicts of judge, and says what it took for granted", async () => {
    const days = ["--as-of", "2026-11-12"];
    const { json } = await runJson("judge", "--book", book, ...days);
    const rows = await rowsOf("v.csv", "--table", "verdicts", ...days);
    expect(rows.map(({ on, cart, circuit, verdict }) => [on, cart, circuit, verdict])).toEqual(
      json.circuits.map((one: Record<string, string>) => ["2026-11-12", one.cart, one.circuit, one.verdict]),
    );
    const all = await runJson("export", "--book", book, "--to", `${folder}/v.xlsx`, ...days);
    expect(all.json).toMatchObject({ on: "2026-11-12", asOf: "2026-11-12" });
    expect(all.json.assumptions.map(({ code }: { code: string }) => code)).toContain("of-today");
  });

  test.for([
    [["a.csv", "--cart", "QB-99"], '--cart: there is no cart "QB-99"; known are QB-01, '],
    [["a.csv", "--as-of", "soon"], '--as-of: expected a day such as 2026-03-14, found "soon"'],
    [
      ["lake", "--base", "N", "--cart", "QB-03"],
      "--cart: with --base all samples are written as they are now",
    ],
    [["a.txt"], "--to: expected a name that ends in .csv, .jsonl, .xlsx, .parquet or .ics"],
    [
      ["a.csv", "--table", "rows"],
      '--table: expected one of samples, verdicts, quantities, fleet, due, found "rows"',
    ],
    [["a.ics", "--table", "fleet"], '--table: a calendar holds what is due, found "fleet"'],
    [["a.jsonl", "--table", "due"], '--table: .jsonl holds samples only, found "due"'],
    [["a.ics", "--days", "soon"], '--days: expected a whole number of at most 9999, found "soon"'],
  ] as const)("%j is refused", async ([[to, ...args], message]) => {
    expect((await exported(to, ...args)).err).toContain(message);
  });
});
