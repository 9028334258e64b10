import { writeFileSync } from "node:fs";
import { join } from "node:path";
import ExcelJS from "exceljs";
import { describe, expect, test } from "vitest";
import { bytesOnDisk, describeIssue, IntakeError, openLabFile, readLabFile } from "../../src/intake/index.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const read = (text: string, file = "lab.csv") => readLabFile(file, new TextEncoder().encode(text));
const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL,water (mg/kg)";
const ROW = "S-1,C-1,1,2026-03-04,1500,320,120";

describe("rows that are no samples", () => {
  test("preamble, header, blank, repeated header and footer are distinguished, and each keeps its text", async () => {
    const lines = [
      "Report of the harbour laboratory",
      "",
      HEADER,
      ROW,
      ",,,,,,",
      HEADER,
      ROW.replace("S-1", "S-2"),
      "Total 2 samples",
    ];
    const file = await read(lines.join("\n"));
    expect(file.samples.map(({ sample }) => sample)).toEqual(["S-1", "S-2"]);
    expect(file.notSamples.map(({ row, why }) => [row, why])).toEqual([
      [1, "above the table"],
      [2, "blank"],
      [3, "header"],
      [5, "blank"],
      [6, "header"],
      [8, "footer"],
    ]);
    for (const { row, text } of file.notSamples) expect(text).toBe(lines[row - 1]);
  });
});

describe("quotation marks", () => {
  test("separators, marks and line breaks inside quoted cells are kept", async () => {
    const file = await read(`${HEADER},remark\n${ROW},"a, ""b""\nc"\n${ROW.replace("S-1", '"S-2"')},`);
    expect(file.samples.map(({ sample }) => sample)).toEqual(["S-1", "S-2"]);
    expect(file.rows).toBe(2);
  });

  test("a mark that is never closed breaks its own row and no other", async () => {
    const rows = Array.from({ length: 600 }, (_, index) => ROW.replace("S-1", `S-${index}`));
    rows[100] = `"${rows[100]}`;
    const file = await read([HEADER, ...rows].join("\n"));
    expect(file.samples).toHaveLength(599);
    expect(file.quarantine.map(({ row, issues }) => [row, issues[0]?.code])).toEqual([
      [102, "row-not-split"],
    ]);
  });

  test("an inch mark within a cell is a character like any other", async () => {
    const file = await read(`${HEADER},hose\n${ROW},1/2" hose\n`);
    expect(file.samples).toHaveLength(1);
  });
});

describe("line breaks and encodings", () => {
  test.each(["\n", "\r\n", "\r"])("lines that end with %j", async (lineBreak) => {
    const file = await read([HEADER, ROW, ROW.replace("S-1", "S-2")].join(lineBreak) + lineBreak);
    expect([file.samples.length, file.notSamples.length]).toEqual([2, 1]);
  });

  test.each([1, 2, 3])(
    "a character of which %i bytes stand before the end of a piece is read whole",
    async (bytes) => {
      // Files on disk are read in pieces of 256 KiB, each in the place of the one before.
      const before = "S-1,C-1,1,2026-03-04,1500,320,120,";
      const open = `${HEADER},remark\n${before}`;
      const filler = "x".repeat(256 * 1024 - Buffer.byteLength(open) - bytes);
      const path = join(temporaryFolder(), "pieces.csv");
      writeFileSync(
        path,
        `${open}${filler}\u{1f6e2}${"y".repeat(256 * 1024)}\nS-2,Grö\u{1f6e2}ße,1,2026-03-04,1500,320,120,\n`,
      );
      const opened = await openLabFile(bytesOnDisk(path));
      expect(opened.readAs).toContain("UTF-8");
      expect([...opened.fates()].map((fate) => fate.kind === "sample" && fate.fate.sample.cart)).toEqual([
        false,
        "C-1",
        "Grö\u{1f6e2}ße",
      ]);
    },
  );

  test("a character that was lost is not taken for a name", async () => {
    const file = await readLabFile(
      "lab.csv",
      Buffer.concat([
        Buffer.from(`\ufeff${HEADER}\n`),
        Buffer.from("S-1,C-"),
        Buffer.from([0xff]),
        Buffer.from(",1,2026-03-04,1500,320,120"),
      ]),
    );
    expect(file.quarantine[0]?.issues[0]?.expected).toBe("the cart in readable characters");
  });
});

describe("what rows rest on that have one reading only because of others", () => {
  const titles = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg)";
  const codes = ["date-order-of-file", "decimal-mark-of-file"];
  const file = (rows: readonly string[]) => `${titles}\n${rows.join("\n")}\n`;
  const many = (day: string, count: string) =>
    Array.from({ length: 300 }, (_, index) => `S-${index},C-1,1,${day},"${count}",120`);

  test.each([
    ["27/03/2026", "1500.5", "03/04/2026", "1.500", ["day first", "decimal point"], "2026-04-03", 1.5],
    ["03/27/2026", "1500.5", "03/04/2026", "1.500", ["month first", "decimal point"], "2026-03-04", 1.5],
    ["27/03/2026", "1500,5", "03/04/2026", "1,500", ["day first", "decimal comma"], "2026-04-03", 1.5],
    ["27/03/2026", "1500,5", "03/04/2026", "1.500", ["day first", "decimal comma"], "2026-04-03", 1500],
    ["27/03/2026", "1500.5", "27/03/2026", "1.5", [], "2026-03-27", 1.5],
    ["27.03.2026", "1500.5", "03.04.2026", "0.500", [], "2026-04-03", 0.5],
    ["2026-03-27", "1500.5", "2026-04-03", "1500", [], "2026-04-03", 1500],
  ])(
    "among days such as %s and numbers such as %s, %s and %s rest on %j",
    async (day, count, odd, oddCount, says, read, value) => {
      const text = file([...many(day, count), `S-9,C-1,2,${odd},"${oddCount}",120`]);
      const { samples, assumptions } = await readLabFile("lab.csv", new TextEncoder().encode(text));
      const last = samples.at(-1);
      expect([last?.drawnOn, last?.counts?.counts[0]?.count]).toEqual([read, value]);
      const found = assumptions.filter(({ code }) => codes.includes(code)).map(({ message }) => message);
      expect(found.sort()).toHaveLength(says.length);
      for (const said of says) expect(found.some((message) => message.includes(said))).toBe(true);
    },
  );

  test("with a column map that gives both they rest on nothing", async () => {
    const text = file([...many("27/03/2026", "1500.5"), 'S-9,C-1,2,03/04/2026,"1.500",120']);
    const map = {
      siltbookColumnMap: 1,
      name: "any",
      columns: {},
      decimal: ".",
      dates: "day-month-year",
    } as const;
    const { assumptions } = await readLabFile("lab.csv", new TextEncoder().encode(text), { map });
    expect(assumptions.filter(({ code }) => codes.includes(code))).toEqual([]);
  });
});

describe("counts", () => {
  test("ranges that join are added up from the largest size, and the file says so", async () => {
    const file = await read(
      "sample,cart,circuit,drawn on,4-6 µm(c) per mL,6-14 µm(c) per mL,> 14 µm(c) per mL\nS-1,C-1,1,2026-03-04,0.1,0.2,0.3",
    );
    expect(file.samples[0]?.counts?.counts).toEqual([
      { sizeUm: 4, count: 0.6 },
      { sizeUm: 6, count: 0.5 },
      { sizeUm: 14, count: 0.3 },
    ]);
    expect(file.assumptions.map(({ code }) => code)).toEqual(["ranges-added-up"]);
  });

  test("ranges with a gap or without an open end are not added up", async () => {
    const file = await read(
      "sample,cart,circuit,drawn on,4-6 µm(c) per mL,14-21 µm(c) per mL,> 21 µm(c) per mL\nS-1,C-1,1,2026-03-04,10,5,1",
    );
    expect(file.quarantine[0]?.issues[0]?.expected).toContain("a range that ends at 14 µm");
  });

  test("counts on another scale are kept as reported and not as µm(c)", async () => {
    const file = await read(
      "sample,cart,circuit,drawn on,> 5 µm per 100 mL (ISO 4402),5-15 µm microscope per 100 mL\nS-1,C-1,1,2026-03-04,32000,< 100",
    );
    expect(file.samples[0]?.counts).toBeUndefined();
    expect(file.samples[0]?.otherScaleCounts).toEqual([
      { scale: "um-older", fromUm: 5, volumeMl: 100, count: 32_000 },
      { scale: "um-microscope", fromUm: 5, toUm: 15, volumeMl: 100, count: 100, limit: "below" },
    ]);
  });

  test("a limit that contradicts a count beside it is quarantined", async () => {
    const file = await read(`${HEADER}\n${ROW.replace("1500", "< 100")}`);
    expect(file.quarantine[0]?.issues[0]?.code).toBe("counts-break-a-rule");
  });
});

describe("units in cells", () => {
  test("a quantity without a unit in its title is read with the unit in the cell", async () => {
    const file = await read(
      "sample,cart,circuit,drawn on,water\nS-1,C-1,1,2026-03-04,0.05 % m/m\nS-2,C-1,1,2026-03-04,300 mg/kg",
    );
    expect(file.samples.map(({ waterPpm }) => waterPpm?.value)).toEqual([500, 300]);
  });

  test("a quantity without any unit is questioned", async () => {
    await expect(read("sample,cart,circuit,drawn on,water\nS-1,C-1,1,2026-03-04,300")).rejects.toThrow(
      'a column map has to settle "water": in which unit is water?',
    );
  });
});

test("of two different results of one measurand in one sample neither is taken; two equal ones are one result", async () => {
  const rows = ["W,water,95", "W,water,105", "W,water,95", "W,acid number,0.2", "E,water,80", "E,water,80"];
  const lines = rows.map((row) => {
    const [sample, measurand, value] = row.split(",");
    return `${sample},C-1,1,2026-03-04,${measurand},${value},${measurand === "water" ? "ppm" : "mg KOH/g"}`;
  });
  const file = await read(["sample,cart,circuit,drawn on,test,result,unit", ...lines].join("\n"));
  expect(file.samples.map(({ sample, waterPpm }) => [sample, waterPpm])).toEqual([
    ["W", undefined],
    ["E", { value: 80 }],
  ]);
  expect(file.quarantine.map(({ row }) => row).sort()).toEqual([2, 3, 4]);
  expect(file.samples.map(({ origin }) => origin[0]?.rows)).toEqual([[5], [6, 7]]);
  expect(file.assumptions.map(({ code }) => code)).toContain("taken-once");
});

test("a page of a long report that was exported twice is read as if it stood there once", async () => {
  const page = [
    "> 4 µm(c),1500,1/mL",
    "> 6 µm(c),320,1/mL",
    "ISO 4406,18/16/-,",
    "water,0.02,% m/m",
    "TAN,nd,",
  ];
  const report = (lines: readonly string[]) =>
    read(
      [
        "sample,cart,circuit,drawn on,test,result,unit",
        ...lines.map((line) => `S-1,C-1,1,2026-03-04,${line}`),
      ].join("\n"),
    );
  const results = ({ samples }: Awaited<ReturnType<typeof read>>) =>
    samples.map(({ origin: _, ...sample }) => sample);
  const [once, twice] = [await report(page), await report([...page, ...page])];
  expect(results(twice)).toEqual(results(once));
  expect(twice.quarantine).toEqual([]);
  expect(twice.samples[0]?.origin[0]?.rows).toEqual([2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
  // The same water in another unit is the same result as well.
  const inPpm = await report([...page, "water,200,mg/kg"]);
  expect(results(inPpm)).toEqual(results(once));
  expect(inPpm.quarantine).toEqual([]);
  // Two blank cells are no result that was taken once.
  const blank = await report(["water,120,mg/kg", "TAN,,mg KOH/g", "TAN,,mg KOH/g"]);
  expect(blank.assumptions).toEqual([]);
  // A row that is refused is refused wherever it stands.
  const broken = await report([...page, "> 14 µm(c),many,1/mL", "> 14 µm(c),many,1/mL"]);
  expect(broken.quarantine.map(({ row }) => row)).toEqual([7, 8]);
});

describe("workbooks", () => {
  async function workbook(fill: (book: ExcelJS.Workbook) => void): Promise<Uint8Array> {
    const book = new ExcelJS.Workbook();
    fill(book);
    return new Uint8Array(await book.xlsx.writeBuffer());
  }

  const samplesAnd = (name: string, rows: readonly (readonly (string | number)[])[]) =>
    workbook((book) => {
      const sound = ["S-1", "C-1", "1", "2026-03-04", 1500, 320, 120];
      book.addWorksheet("June").addRows([HEADER.split(","), sound]);
      book.addWorksheet(name).addRows(rows.map((row) => [...row]));
    });

  test.each([
    ["a cart", ["sample", "circuit", "drawn on", "water (mg/kg)"], "missing cart"],
    ["a sample number", ["cart", "circuit", "drawn on", "water (mg/kg)"], "missing sample"],
    ["a day", ["sample", "cart", "circuit", "water (mg/kg)"], "missing day drawn"],
  ])("a second sheet of samples without %s stops the file", async (_, titles, missing) => {
    const bytes = await samplesAnd("July", [titles, titles.map(() => 7)]);
    await expect(readLabFile("lab.xlsx", bytes)).rejects.toThrow(missing);
  });

  test.each([
    [
      "limits, which have the titles of results",
      [
        ["limit of", "water (mg/kg)"],
        ["main system", 200],
      ],
      0,
    ],
    [
      "carts without results",
      [
        ["cart", "circuit", "base"],
        ["C-1", "1", "north"],
      ],
      0,
    ],
    [
      "a legend",
      [
        ["FAIL", "sample failed the limits"],
        ["PASS", "within limits"],
      ],
      0,
    ],
    ["notes on nothing that has a name", [["failed samples are drawn again"]], 0],
    ["a note that a sample failed", [["S-1 FAILED, do not use"]], 1],
    ["a note in two cells", [["S-1", "failed"]], 1],
  ])("a second sheet of %s is read beside it", async (_, rows, waiting) => {
    const { samples, quarantine } = await readLabFile("lab.xlsx", await samplesAnd("Notes", rows));
    expect([samples.length, quarantine.map(({ sheet }) => sheet)]).toEqual([1, Array(waiting).fill("Notes")]);
  });

  test("an error in a cell is not a blank, and its issue names the sheet", async () => {
    const bytes = await workbook((book) => {
      const sheet = book.addWorksheet('June & "July"');
      sheet.addRow(HEADER.split(","));
      sheet.addRow([
        "S-1",
        "C-1",
        "1",
        "2026-03-04",
        1500,
        { formula: "1/0", result: { error: "#DIV/0!" } },
        120,
      ]);
    });
    const { quarantine } = await readLabFile("lab.xlsx", bytes);
    expect(quarantine.flatMap(({ issues }) => issues.map(describeIssue))).toEqual([
      'lab.xlsx sheet "June & "July"" row 2, column "6 µm(c) per mL": expected a number of 0 or more, found "#DIV/0!"',
    ]);
  });

  test("a formula that no program has computed is not a blank, but one that gives an empty text is", async () => {
    const bytes = await workbook((book) => {
      const sheet = book.addWorksheet("June");
      sheet.addRow(HEADER.split(","));
      sheet.addRow(["S-1", "C-1", "1", "2026-03-04", 1500, { formula: "E2/5" }, 120]);
      sheet.addRow(["S-2", "C-1", "1", "2026-03-05", 1500, 320, { formula: 'IF(1=2,9,"")', result: "" }]);
      sheet.addRow(["S-3", "C-1", "1", "2026-03-06", 1500, { formula: "E4/5", result: 300 }, 130]);
    });
    const { samples, quarantine } = await readLabFile("lab.xlsx", bytes);
    expect(quarantine.flatMap(({ issues }) => issues.map(describeIssue))[0]).toBe(
      'lab.xlsx sheet "June" row 2, column "6 µm(c) per mL": expected a number of 0 or more, found "=E2/5 (not computed)"',
    );
    expect(samples.map(({ sample, waterPpm }) => [sample, waterPpm?.value])).toEqual([
      ["S-2", undefined],
      ["S-3", 130],
    ]);
  });

  test("a number that is shown in per cent is read as it is shown", async () => {
    const bytes = await workbook((book) => {
      const sheet = book.addWorksheet("June");
      sheet.addRow("sample,cart,circuit,drawn on,water (%)".split(","));
      for (const [number, format] of [
        [0.0031, "0.00%"],
        [0.0057, "0%"],
        [0.31, "0.00"],
        [0.31, '0.00" %"'],
      ] as const) {
        const row = sheet.addRow([`S-${sheet.rowCount}`, "C-1", "1", "2026-03-04", number]);
        row.getCell(5).numFmt = format;
      }
    });
    const { samples } = await readLabFile("lab.xlsx", bytes);
    expect(samples.map(({ waterPpm }) => waterPpm?.value)).toEqual([3100, 5700, 3100, 3100]);
  });

  test("a number that is shown in per cent is no count and no ppm", async () => {
    const bytes = await workbook((book) => {
      const sheet = book.addWorksheet("June");
      sheet.addRow(HEADER.split(","));
      const row = sheet.addRow(["S-1", "C-1", "1", "2026-03-04", 1500, 320, 0.31]);
      row.getCell(6).numFmt = "0%";
      row.getCell(7).numFmt = "0.00%";
    });
    const { quarantine } = await readLabFile("lab.xlsx", bytes);
    expect(quarantine.flatMap(({ issues }) => issues.map(({ column, value }) => [column, value]))).toEqual([
      ["6 µm(c) per mL", "32000%"],
      ["water (mg/kg)", "31%"],
    ]);
  });

  test("what a cell shows around its number is taken with it", async () => {
    const bytes = await workbook((book) => {
      const sheet = book.addWorksheet("June");
      sheet.addRow(HEADER.split(","));
      const formatted = (format: string, column: number, number: number) => {
        const row = sheet.addRow([`S-${sheet.rowCount}`, "C-1", "1", "2026-03-04", 1500, 320, 120]);
        row.getCell(column).value = number;
        row.getCell(column).numFmt = format;
      };
      formatted('"<"0.0', 7, 50);
      formatted('0" mg/kg"', 7, 130);
      formatted('0" °C"', 7, 40);
      formatted('"QX-"0000', 1, 12);
      formatted("00000", 1, 34);
      formatted('[<20]"<20";0', 7, 14);
      formatted("#,##0,", 5, 1_500_000);
      formatted("#,##0.0_);[Red](#,##0.0)", 7, 140);
    });
    const { samples, quarantine, assumptions } = await readLabFile("lab.xlsx", bytes);
    expect(assumptions.find(({ code }) => code === "number-as-shown")?.message).toBe(
      'numbers of sheet "June" were read as their cells show them, such as "<50" where the cell holds 50',
    );
    expect(samples.map(({ sample, waterPpm }) => [sample, waterPpm])).toEqual([
      ["S-1", { value: 50, limit: "below" }],
      ["S-2", { value: 130 }],
      ["QX-0012", { value: 120 }],
      ["00034", { value: 120 }],
      ["S-6", { value: 20, limit: "below" }],
      ["S-8", { value: 140 }],
    ]);
    expect(quarantine.flatMap(({ issues }) => issues.map(({ column, value }) => [column, value]))).toEqual([
      ["water (mg/kg)", "40 °C"],
      ["4 µm(c) per mL", "1500000 (shown in thousands)"],
    ]);
  });

  test("a format of numbers longer than any program writes is refused", async () => {
    const bytes = await workbook((book) => {
      const row = book.addWorksheet("June").addRow([1]);
      row.getCell(1).numFmt = `0"${"x".repeat(1000)}"`;
    });
    await expect(readLabFile("lab.xlsx", bytes)).rejects.toThrow(
      /lab\.xlsx: expected a workbook \(xlsx\): the number format "0.x+" in it has more than 1000 characters/,
    );
  });

  test("a date with a time of day keeps it, to the second", async () => {
    const bytes = await workbook((book) => {
      const sheet = book.addWorksheet("a");
      sheet.addRow(HEADER.split(","));
      const row = sheet.addRow([
        "S-1",
        "C-1",
        "1",
        new Date(Date.UTC(2026, 2, 4, 9, 30, 15)),
        1500,
        320,
        120,
      ]);
      row.getCell(4).numFmt = "yyyy-mm-dd hh:mm";
    });
    const { samples, assumptions } = await readLabFile("lab.xlsx", bytes);
    expect(samples[0]).toMatchObject({ drawnOn: "2026-03-04", drawnTime: "09:30:15" });
    expect(assumptions.map(({ code }) => code)).toEqual(["times-are-local"]);
  });

  test("a sheet without samples is counted and named, and does not keep the others out", async () => {
    const bytes = await workbook((book) => {
      book.addWorksheet("notes").addRows([
        ["Method", "as agreed"],
        ["Checked", "yes"],
      ]);
      book.addWorksheet("results").addRows([HEADER.split(","), ROW.split(",")]);
    });
    const file = await readLabFile("lab.xlsx", bytes);
    expect(file.samples).toHaveLength(1);
    expect(file.notSamples.map(({ sheet, why }) => [sheet, why])).toEqual([
      ["results", "header"],
      ["notes", "sheet without samples"],
      ["notes", "sheet without samples"],
    ]);
    expect(file.assumptions.map(({ message }) => message)).toContain(
      'sheet "notes" holds no table of samples and was not read',
    );
  });

  test.each(["hidden", "veryHidden"] as const)(
    "a sheet that is %s is read, and said to be hidden",
    async (state) => {
      const bytes = await workbook((book) => {
        book.addWorksheet("June").addRows([HEADER.split(","), ROW.split(",")]);
        const sheet = book.addWorksheet("May", { state });
        sheet.addRows([HEADER.split(","), ROW.replace("S-1", "S-0").split(",")]);
      });
      const { samples, assumptions } = await readLabFile("lab.xlsx", bytes);
      expect(samples.map(({ sample }) => sample)).toEqual(["S-1", "S-0"]);
      expect(assumptions.map(({ message }) => message)).toEqual([
        'sheet "May" is hidden in the workbook and was read like any other',
      ]);
    },
  );

  test("a sheet named after an encoding is no file in that encoding", async () => {
    const bytes = await workbook((book) => {
      book.addWorksheet("Windows-1252").addRows([HEADER.split(","), ROW.split(",")]);
    });
    const { samples, assumptions } = await readLabFile("lab.xlsx", bytes);
    expect(samples).toHaveLength(1);
    expect(assumptions).toEqual([]);
  });

  test.each([
    ["an old binary workbook", [0xd0, 0xcf, 0x11, 0xe0, 1], "found an old binary workbook"],
    ["a PDF", [0x25, 0x50, 0x44, 0x46, 0x2d], "found a PDF"],
    ["a broken archive", [0x50, 0x4b, 3, 4, 9, 9], "expected a workbook (xlsx)"],
    ["an empty file", [], "the file is empty"],
  ])("%s is refused by name", async (_, bytes, message) => {
    const reading = readLabFile("lab.xlsx", new Uint8Array(bytes));
    await expect(reading).rejects.toThrow(IntakeError);
    await expect(reading).rejects.toThrow(message);
  });
});

describe("JSON", () => {
  test("objects within objects are named by both names", async () => {
    const entry = {
      sample: "S-1",
      cart: "C-1",
      circuit: "1",
      "drawn on": "2026-03-04",
      counts: { "4 µm(c) per mL": 1500.5 },
      "water (ppm)": null,
    };
    const file = await read(JSON.stringify([entry]), "lab.json");
    expect(file.samples[0]?.counts?.counts).toEqual([{ sizeUm: 4, count: 1500.5 }]);
    expect(file.samples[0]?.waterPpm).toBeUndefined();
  });

  test("a broken line of JSON Lines is quarantined by itself", async () => {
    const line = (sample: string) =>
      JSON.stringify({ sample, cart: "C-1", circuit: "1", "drawn on": "2026-03-04", "water (mg/kg)": 100 });
    const file = await read([line("S-1"), '{"sample": ', line("S-3")].join("\n"), "lab.jsonl");
    expect(file.samples.map(({ sample }) => sample)).toEqual(["S-1", "S-3"]);
    expect(file.quarantine.map(({ row, issues }) => [row, issues[0]?.code])).toEqual([[2, "row-not-split"]]);
  });

  test("names that reach into the language itself are titles like any other", async () => {
    const text =
      '[{"__proto__":{"polluted":1},"constructor":"x","sample":"S-1","cart":"C-1","circuit":"1","drawn on":"2026-03-04","water (mg/kg)":100}]';
    const file = await read(text, "lab.json");
    expect(file.samples).toHaveLength(1);
    expect({}).not.toHaveProperty("polluted");
  });

  test.each([["[1, 2"], ['{"a": [1], "b": [2]}'], ["[]"]])("%j is refused by name", async (text) => {
    await expect(read(text, "lab.json")).rejects.toThrow(/^lab.json: expected/);
  });
});
