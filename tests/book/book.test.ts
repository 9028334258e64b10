import { copyFileSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Database from "libsql";
import { beforeEach, describe, expect, test } from "vitest";
import { Book, BookError, readFleetOfBook } from "../../src/book/index.js";
import { bytesInMemory, type ColumnMap, IntakeError } from "../../src/intake/index.js";
import { resultsOf, sampleSchema } from "../../src/samples/index.js";
import { plainSamples, twelveFiles } from "../support/forty-samples.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const CARTS = readFileSync(join(import.meta.dirname, "..", "support", "fleet", "carts.json"), "utf8");
const REQUIREMENT = readFileSync(
  join(import.meta.dirname, "..", "support", "fleet", "requirement.json"),
  "utf8",
);

const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg)";
const file = (name: string, ...rows: string[]) =>
  bytesInMemory(name, new TextEncoder().encode([HEADER, ...rows].join("\n")));
const row = (
  number: number,
  water: number | string = 120,
  counts = "1503.27,320.5,40",
  drawn = "2026-03-04",
) => `S-${number},C-1,1,${drawn},${counts},${water}`;

/** The same with the day of the report in a column of its own. */
const dated = (name: string, day: string, ...rows: string[]) =>
  bytesInMemory(
    name,
    new TextEncoder().encode([`${HEADER},reported on`, ...rows.map((text) => `${text},${day}`)].join("\n")),
  );

const today = { today: "2026-12-31" };
let book: Book;
let path: string;
let made = 0;

beforeEach(() => {
  made += 1;
  path = join(folder, `book-${made}.siltbook`);
  book = Book.open(path, { create: true });
  return () => book.close();
});

describe("what comes in", () => {
  test("every sample says its file, SHA-256, row and column map", async () => {
    const map: ColumnMap = {
      siltbookColumnMap: 1,
      name: "harbour laboratory",
      columns: { Flasche: { holds: "sample" } },
    };
    const source = file("march.csv", row(1), row(2));
    const flasche = new TextEncoder().encode([HEADER.replace("sample", "Flasche"), row(1)].join("\n"));
    const report = await book.takeIn(bytesInMemory("march.csv", flasche), { ...today, map });
    await book.takeIn(source, today);
    const [first, second] = book.history("C-1", "1");
    expect(first?.source).toEqual({
      file: "march.csv",
      sha256: report.sha256,
      rows: [2],
      columnMap: "harbour laboratory",
    });
    expect(second?.source).toMatchObject({ file: "march.csv", rows: [3] });
    expect(second?.source.columnMap).toBeUndefined();
    expect(second?.source.sha256).toMatch(/^[0-9a-f]{64}$/);
  });

  test("the 40 samples of each of the 12 files come out of the book as they went in, whatever the file", async () => {
    const files = await twelveFiles(plainSamples(40));
    const reports = [];
    for (const { file: name, bytes } of files)
      reports.push(await book.takeIn(bytesInMemory(name, bytes), today));
    const [first, ...others] = reports;
    expect(first).toMatchObject({ taken: 40, known: 0 });
    for (const { file: name, taken, known, amended, quarantined, notSamples, rows } of others) {
      expect([taken, quarantined]).toEqual([0, 0]);
      // One of the files has a column of remarks, which the samples did not have before.
      if (name === "05.csv") expect(amended).toBeGreaterThan(0);
      else expect(amended).toBe(0);
      expect(known + amended + notSamples).toBe(rows);
    }
    const samples = [...book.samples()];
    expect(samples).toHaveLength(40);
    for (const sample of samples) expect(sampleSchema.parse(sample)).toEqual(sample);
  });

  test("taking in the same file twice changes nothing", async () => {
    const source = file("march.csv", row(1), row(2), row(3, "damp"));
    const first = await book.takeIn(source, today);
    const before = [...book.samples()];
    const second = await book.takeIn(source, today);
    expect(first).toMatchObject({ rows: 4, taken: 2, known: 0, amended: 0, quarantined: 1, notSamples: 1 });
    expect(second).toMatchObject({ rows: 4, taken: 0, known: 2, amended: 0, quarantined: 1, notSamples: 1 });
    expect([...book.samples()]).toEqual(before);
    expect(book.files()).toHaveLength(1);
    expect(book.quarantine()).toHaveLength(1);
  });

  test("a limit value, a result in words and a zone come out as they went in", async () => {
    const text = `${HEADER},time drawn\n${row(1, "≤ 50", "TNTC,> 3000,40")},09:30+02:00\n${row(2, "trace", "500,30,1")},`;
    await book.takeIn(bytesInMemory("words.csv", new TextEncoder().encode(text)), today);
    const [second, first] = [...book.samples()];
    expect(first).toMatchObject({
      drawnTime: "09:30+02:00",
      waterPpm: { value: 50, limit: "at-most" },
      counts: { counts: [{ sizeUm: 14, count: 40 }] },
      limitedCounts: [{ sizeUm: 6, volumeMl: 1, count: 3000, limit: "above" }],
      wordedResults: [{ measurand: "count above 4 µm(c)", said: "too-many-to-count" }],
    });
    expect(second?.waterPpm).toBeUndefined();
    expect(second?.wordedResults).toEqual([{ measurand: "water", said: "trace" }]);
  });
});

describe("corrections", () => {
  test("a report of a later day becomes an amendment, with the earlier values kept and shown", async () => {
    const first = dated("march.csv", "2026-03-08", row(1));
    await book.takeIn(first, today);
    await book.takeIn(file("march-2.csv", row(2)), today);
    const correction = dated("march-corrected.csv", "2026-03-09", row(1, 180));
    expect(await book.takeIn(correction, today)).toMatchObject({ taken: 0, amended: 1 });
    const [amended, other] = book.history("C-1", "1");
    expect(amended?.sample.waterPpm).toEqual({ value: 180 });
    expect(amended?.amendments).toMatchObject([
      { by: { file: "march-corrected.csv", rows: [2] }, earlier: { waterPpm: { value: 120 } } },
    ]);
    expect(other?.amendments).toEqual([]);
    expect([...book.samples()][0]?.origin.map((origin) => origin.file)).toEqual([
      "march-corrected.csv",
      "march.csv",
    ]);

    // The first file again is an old report, not a correction of the correction.
    expect(await book.takeIn(first, today)).toMatchObject({ known: 1, amended: 0 });
    expect(book.history("C-1", "1")[0]?.sample.waterPpm).toEqual({ value: 180 });
  });

  test("what a correction does not mention stays", async () => {
    await book.takeIn(dated("march.csv", "2026-03-08", row(1)), today);
    await book.takeIn(dated("water.csv", "2026-03-09", row(1, "", "1600,,")), today);
    const [sample] = [...book.samples()];
    expect(sample?.waterPpm).toEqual({ value: 120 });
    expect(sample?.counts?.counts.map(({ count }) => count)).toEqual([1600, 320.5, 40]);
  });

  test("one file that contradicts itself takes neither reading, and an earlier amendment of it is undone", async () => {
    await book.takeIn(dated("march.csv", "2026-03-08", row(1)), today);
    const report = await book.takeIn(
      dated("twice.csv", "2026-03-09", row(1, 150), row(2), row(1, 160), row(1, 150), row(2)),
      today,
    );
    expect(report).toMatchObject({ rows: 6, taken: 1, known: 1, amended: 0, quarantined: 3, notSamples: 1 });
    expect(report.quarantine.map((entry) => [entry.row, entry.text, entry.issues[0]?.code])).toEqual([
      [2, `${row(1, 150)},2026-03-09`, "conflicting-results"],
      [4, `${row(1, 160)},2026-03-09`, "conflicting-results"],
      [5, `${row(1, 150)},2026-03-09`, "conflicting-results"],
    ]);
    const [sample] = book.history("C-1", "1");
    expect(sample).toMatchObject({ sample: { waterPpm: { value: 120 } }, amendments: [] });
  });

  test("one number on two days is quarantined until a person says that the day was corrected", async () => {
    await book.takeIn(file("march.csv", row(1)), today);
    const report = await book.takeIn(file("april.csv", row(1, 120, "1503.27,320.5,40", "2026-04-04")), today);
    expect(report.quarantine[0]?.issues[0]).toMatchObject({
      code: "day-differs-from-book",
      column: "drawn on",
      value: "2026-04-04",
    });
    const accepted = new TextEncoder().encode(
      `${HEADER},quarantine accepted\n${row(1, 120, "1503.27,320.5,40", "2026-04-04")},day-differs-from-book`,
    );
    expect(await book.takeIn(bytesInMemory("again.csv", accepted), today)).toMatchObject({ amended: 1 });
    expect([...book.samples()][0]?.drawnOn).toBe("2026-04-04");
  });
});

describe("the original text of every row can be shown again", () => {
  test("taken, known, quarantined, header, blank and footer rows alike", async () => {
    const lines = [
      HEADER,
      row(1),
      "",
      row(2, "damp"),
      `"S-3",C-1,1,2026-03-04,1503.27,320.5,40,"1\n20"`,
      "End of report",
    ];
    const source = bytesInMemory("march.csv", new TextEncoder().encode(lines.join("\r\n")));
    const { sha256, rows } = await book.takeIn(source, today);
    expect(rows).toBe(6);
    expect(lines.map((_, index) => book.rowText(sha256, index + 1))).toEqual(lines);
    expect(book.rowText(sha256, 7)).toBeUndefined();
  });

  test("rows of a table whose samples are in rows that do not follow each other, and rows of a sheet", async () => {
    const variants = await twelveFiles(plainSamples(40));
    const long = variants.find((variant) => variant.file === "06.csv");
    const workbook = variants.find((variant) => variant.file === "09.xlsx");
    if (long === undefined || workbook === undefined) throw new Error("a file is missing");
    const { sha256 } = await book.takeIn(bytesInMemory(long.file, long.bytes), today);
    const lines = Buffer.from(long.bytes).swap16().toString("utf16le").trimEnd().split("\n");
    expect(lines.map((_, index) => book.rowText(sha256, index + 1))).toEqual(lines);
    const sheet = await book.takeIn(bytesInMemory(workbook.file, workbook.bytes), today);
    expect(book.rowText(sheet.sha256, 3, "second")).toContain("S-21\t");
    const inSheet = [...book.rows(sheet.sha256)].find(({ text }) => text.startsWith("S-21\t"));
    expect(inSheet).toMatchObject({ sheet: "second", row: 3, fate: "known" });
  });
});

describe("carts of the book", () => {
  test("a sample of an unknown cart or circuit is quarantined with the nearest known names", async () => {
    book.keepCarts("carts.json", CARTS);
    const names = file("names.csv", row(1), row(2).replace("C-1", "C1"), row(3).replace("C-1,1", "C-1,Ｉ"));
    const report = await book.takeIn(names, today);
    expect(report).toMatchObject({ taken: 1, quarantined: 2 });
    expect(report.quarantine.map(({ issues: [issue] }) => [issue?.column, issue?.expected])).toEqual([
      ["cart", "a cart of the book, the nearest are C-1, C-2 <spare>"],
      ["circuit", "a circuit of cart C-1, the nearest are 1, 2"],
    ]);
  });

  test("a row that waited for its cart comes in when the file is read again and the cart is known", async () => {
    book.keepCarts("carts.json", CARTS);
    const source = file("names.csv", row(1).replace("C-1", "C-9"));
    expect(await book.takeIn(source, today)).toMatchObject({ taken: 0, quarantined: 1 });
    const [cart] = JSON.parse(CARTS).carts;
    book.keepCarts("new.json", JSON.stringify({ carts: [{ ...cart, cart: "C-9" }] }));
    expect(await book.takeIn(source, today)).toMatchObject({ taken: 1, quarantined: 0 });
    expect(book.quarantine()).toEqual([]);
    expect(book.carts().map((entry) => entry.cart)).toEqual(["C-1", "C-2 <spare>", "C-9"]);
  });

  test("a book without carts takes names as they stand, and says so", async () => {
    const { assumptions } = await book.takeIn(file("march.csv", row(1)), today);
    expect(assumptions.map(({ code }) => code)).toEqual(["names-not-checked"]);
  });

  test("carts, circuits, elements, events and requirements can be asked for in SQL and judged by", async () => {
    book.keepCarts("carts.json", CARTS);
    book.keepRequirements("requirement.json", REQUIREMENT);
    await book.takeIn(file("march.csv", row(1)), today);
    book.close();
    const db = new Database(path);
    const [counts] = db
      .prepare(
        "SELECT (SELECT count(*) FROM element) AS elements, (SELECT count(*) FROM particle_count) AS counts",
      )
      .all();
    db.close();
    expect(counts).toEqual({ elements: 3, counts: 3 });
    const fleet = readFleetOfBook(path);
    expect(fleet.carts).toEqual(Book.open(path).carts());
    expect(fleet.document.document).toBe("example limits");
    expect(fleet.samples.map(({ sample }) => sample)).toEqual(["S-1"]);
    book = Book.open(path);
  });
});

describe("a factor of about 100 against the circuit's own history", () => {
  const usual = Array.from({ length: 5 }, (_, index) => row(index + 1, 120, `${1500 + index},320,40`));

  test.each([
    ["a hundred times", "150000,32000,4000"],
    ["a hundredth", "15.2,3.2,0.4"],
    ["ten thousand times", "15000000,3200000,400000"],
    ["a thousandth", "1.5,0.3,0.04"],
  ])("%s is quarantined, as per mL read for per 100 mL would be", async (_, counts) => {
    await book.takeIn(file("usual.csv", ...usual), today);
    const report = await book.takeIn(file("odd.csv", row(9, 120, counts)), today);
    expect(report.quarantine[0]?.issues[0]).toMatchObject({
      code: "factor-of-100",
      column: "4 µm(c) per mL",
    });
  });

  test.each([
    ["ten times more", "15000,3200,400"],
    ["only one size a hundred times more", "150000,330,41"],
    ["twenty times fewer", "75,16,2"],
  ])("%s is a result like any other", async (_, counts) => {
    await book.takeIn(file("usual.csv", ...usual), today);
    expect(await book.takeIn(file("odd.csv", row(9, 120, counts)), today)).toMatchObject({ taken: 1 });
  });

  test("three samples of history are needed, and a person may accept the sample", async () => {
    await book.takeIn(file("usual.csv", ...usual.slice(0, 2)), today);
    expect(await book.takeIn(file("a.csv", row(8, 120, "150000,32000,4000")), today)).toMatchObject({
      taken: 1,
    });
    const text = `${HEADER},quarantine accepted\n${row(9, 120, "15.2,3.2,0.4")},factor-of-100`;
    const report = await book.takeIn(bytesInMemory("b.csv", new TextEncoder().encode(text)), today);
    expect(report).toMatchObject({ taken: 1 });
    expect(report.assumptions.map(({ code }) => code)).toContain("check-accepted");
  });
});

describe("the book's file", () => {
  test("is one file when it is closed, with foreign keys that hold", async () => {
    await book.takeIn(file("march.csv", row(1)), today);
    book.close();
    expect(readdirSync(folder).filter((name) => name.startsWith(`book-${made}.`))).toEqual([
      `book-${made}.siltbook`,
    ]);
    const db = new Database(path);
    db.pragma("foreign_keys = ON");
    expect(() => db.exec("DELETE FROM file")).toThrow(/FOREIGN KEY/);
    db.close();
    book = Book.open(path);
  });

  test("a file that cannot be read leaves nothing behind", async () => {
    const source = bytesInMemory("bad.csv", new TextEncoder().encode("sample,cart\nS-1,C-1"));
    await expect(book.takeIn(source, today)).rejects.toThrow(IntakeError);
    expect(book.files()).toEqual([]);
    expect(book.sampleCount).toBe(0);
  });

  test("a backup is a whole book, and overwrites nothing", async () => {
    await book.takeIn(file("march.csv", row(1), row(2)), today);
    const copy = join(folder, `backup-${made}.siltbook`);
    book.backup(copy);
    expect(() => book.backup(copy)).toThrow("exists already");
    const other = Book.open(copy);
    expect([...other.samples()]).toEqual([...book.samples()]);
    expect(other.check()).toEqual([]);
    other.close();
  });

  test("a damaged book, another database, a text, a missing book and a newer book are each distinguished", () => {
    book.close();
    const at = (name: string) => join(folder, `${made}-${name}`);
    const bytes = readFileSync(path);
    bytes.fill(0x5a, 100, 4096);
    writeFileSync(at("damaged"), bytes);
    expect(() => Book.open(at("damaged"))).toThrow(BookError);
    writeFileSync(at("text"), "not a database ".repeat(100));
    expect(() => Book.open(at("text"))).toThrow(`${at("text")}: is not a sample book; name another file`);
    const other = new Database(at("other"));
    other.exec("CREATE TABLE something (a)");
    other.close();
    expect(() => Book.open(at("other"))).toThrow("is a database, but not a sample book");
    expect(() => Book.open(at("missing"))).toThrow(`${at("missing")}: there is no such book`);
    copyFileSync(path, at("newer"));
    const newer = new Database(at("newer"));
    newer.pragma("user_version = 99");
    newer.close();
    expect(() => Book.open(at("newer"))).toThrow("was written by a newer siltbook (tables of version 99");
    book = Book.open(path);
  });
});

describe("exports", () => {
  const rows = [
    row(1),
    row(2, "< 50"),
    row(3, 90, "> 5000,320.5,40"),
    row(4, "=1+1", ",,").replace("S-4", "=cmd"),
  ];

  test("the delimited text comes in again as the same samples", async () => {
    await book.takeIn(file("march.csv", ...rows.slice(0, 3)), today);
    const text = [...book.csv()].join("");
    const other = Book.open(":memory:", { create: true });
    await other.takeIn(bytesInMemory("export.csv", new TextEncoder().encode(text)), today);
    expect([...other.samples()].map(resultsOf)).toEqual([...book.samples()].map(resultsOf));
    other.close();
  });

  test("the JSON Lines hold every sample with its origin", async () => {
    await book.takeIn(file("march.csv", ...rows.slice(0, 3)), today);
    const lines = [...book.jsonLines()].map((line) => JSON.parse(line));
    expect(lines).toEqual([...book.samples()]);
  });

  test("a name that a spreadsheet would run as a formula is written so that it does not", async () => {
    await book.takeIn(file("march.csv", row(1).replace("S-1", "=HYPERLINK(1)")), today);
    expect([...book.csv()].join("")).toContain("'=HYPERLINK(1)");
  });
});
