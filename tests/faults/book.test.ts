import { spawnSync } from "node:child_process";
import {
  closeSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { join } from "node:path";
import Database from "libsql";
import { afterEach, beforeAll, beforeEach, describe, expect, test, vi } from "vitest";
import { beginChainOfBook } from "../../src/book/chain/begin.js";
import { Book, BookError } from "../../src/book/index.js";
import { attempt, connect, disconnect, numberOf } from "../../src/book/storage/database.js";
import { BOOK_APPLICATION_ID, MIGRATIONS } from "../../src/book/storage/migrations.js";
import { takeIn } from "../../src/book/taking-in/take-in.js";
import { bytesInMemory } from "../../src/intake/index.js";
import { HANG_MS } from "../support/hang.js";
import { run, runExplained } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();
const FLEET = join(import.meta.dirname, "..", "support", "fleet");
const CLI = join(import.meta.dirname, "..", "..", "dist", "cli", "main.js");
const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg)";
const DAY = { today: "2026-12-31" };
const fileOf = (name: string, rows: number, water: number | string = 120) =>
  bytesInMemory(
    name,
    new TextEncoder().encode(
      [HEADER, ...Array.from({ length: rows }, (_, row) => `S-${row},C-1,1,2026-03-04,1300,${water}`)].join(
        "\n",
      ),
    ),
  );

let folder: string;
let path: string;
let made = 0;
const sound = join(root, "sound.siltbook");

beforeAll(async () => {
  const book = Book.open(sound, { create: true });
  book.keepCarts("carts.json", readFileSync(join(FLEET, "carts.json"), "utf8"));
  book.keepRequirements("requirement.json", readFileSync(join(FLEET, "requirement.json"), "utf8"));
  await book.takeIn(fileOf("first.csv", 200), DAY);
  await book.takeIn(fileOf("damp.csv", 100, "damp"), DAY);
  book.close();
});

beforeEach(() => {
  made += 1;
  folder = join(root, String(made));
  mkdirSync(folder);
  path = join(folder, "base.siltbook");
  copyFileSync(sound, path);
});

/** Everything that a command says when it cannot be done: one line that a person can act on. */
async function refusal(...args: string[]): Promise<string> {
  const { code, err } = await run(...args);
  expect(code).toBe(2);
  expect(err).not.toContain("a fault of siltbook itself");
  return err;
}

function expectWhole(book: Book): void {
  expect(book.check()).toEqual([]);
  expect(book.sampleCount).toBe(200);
}

describe("a full disk", () => {
  test("the engine says that the disk is full: nothing of the file is in the book, all before it is", async () => {
    const db = connect(path, {}, beginChainOfBook);
    const pages = numberOf(db, "SELECT page_count FROM pragma_page_count");
    db.exec(`PRAGMA max_page_count = ${pages + 4}`);
    let said = "";
    try {
      await takeIn(db, fileOf("large.csv", 20_000), DAY);
    } catch (error) {
      try {
        attempt(path, () => {
          throw error;
        });
      } catch (told) {
        said = (told as Error).message;
      }
    }
    disconnect(db);
    expect(said).toBe(
      `${path}: the disk is full; nothing of this step was kept, all before it is in the book. Make room and do it again`,
    );
    const book = Book.open(path);
    expectWhole(book);
    await book.takeIn(fileOf("large.csv", 20_000), DAY);
    expect(book.sampleCount).toBe(20_000);
    book.close();
  });

  /** Runs the built command where no file may grow beyond some blocks of 1,024 bytes. */
  function runLimited(blocks: number, ...args: string[]) {
    const { status, stderr } = spawnSync(
      "sh",
      ["-c", `ulimit -f ${blocks * 2}; exec "$0" "$@"`, process.execPath, CLI, ...args],
      { encoding: "utf8", timeout: HANG_MS, killSignal: "SIGKILL" },
    );
    return { code: status, err: stderr };
  }

  test("no room for the book to grow: the first file is taken, the second is not, and both are said", () => {
    const small = join(folder, "small.csv");
    const large = join(folder, "large.csv");
    const third = join(folder, "third.csv");
    for (const [file, rows] of [
      [small, 5],
      [large, 40_000],
      [third, 5],
    ] as const) {
      writeFileSync(
        file,
        [
          HEADER,
          ...Array.from({ length: rows }, (_, row) => `${rows}-${row},C-1,1,2026-03-04,1300,120`),
        ].join("\n"),
      );
    }
    const limit = Math.ceil(statSync(path).size / 1024) + 200;
    const { code, err } = runLimited(limit, "import", "--book", path, small, large, third);
    expect(code).toBe(2);
    expect(err).toMatch(/the disk (is full|cannot be written or read \(SQLITE_IOERR).*Make room/);
    expect(err).toContain("third.csv: was not tried, because large.csv could not be brought in");
    const book = Book.open(path);
    expect(book.check()).toEqual([]);
    expect(book.sampleCount).toBe(205);
    book.close();
  });

  test("a place for a backup that no system has is said, and nothing is written", () => {
    const book = Book.open(path);
    expect(() => book.backup(`${path}\0.bak`)).toThrow(BookError);
    expect(readdirSync(folder)).toEqual(["base.siltbook", "base.siltbook-shm", "base.siltbook-wal"]);
    book.close();
  });

  test("no room for a backup: there is no half backup, and the message names the backup's place", () => {
    const to = join(folder, "copy.siltbook");
    const { code, err } = runLimited(80, "backup", "--book", path, "--to", to);
    expect(code).toBe(2);
    expect(err).toContain(`siltbook: ${to}: the disk`);
    expect(readdirSync(folder).filter((name) => name.startsWith("copy"))).toEqual([]);
  });

  test("no room for a report or an export: the one from before is there still", () => {
    for (const [name, ...args] of [
      ["old.html", "report", "--book", path, "--on", "2026-03-05", "--out"],
      ["old.csv", "export", "--book", path, "--to"],
    ] as const) {
      const to = join(folder, name);
      writeFileSync(to, "the one before");
      const { code, err } = runLimited(4, ...args, to);
      expect(code).toBe(2);
      expect(err).toMatch(/Make room|name a place on another disk|could not|cannot be written/);
      expect(readFileSync(to, "utf8")).toBe("the one before");
    }
    expect(readdirSync(folder).sort()).toEqual(["base.siltbook", "old.csv", "old.html"]);
  });

  test("a device that is full says so, and is not replaced by a file", async () => {
    const to = join(folder, "full.csv");
    symlinkSync("/dev/full", to);
    expect(await refusal("export", "--book", path, "--to", to)).toBe(
      `siltbook: --to: ${to} cannot be written: the disk is full; make room, or name a place on another disk\n`,
    );
    expect(statSync("/dev/full").isCharacterDevice()).toBe(true);
  });
});

describe("a place that cannot be written", () => {
  // A path below a file and a folder of the kernel refuse the administrator too, whom permissions do not stop.
  test.each(["below", "kernel"])("%s: every command says which place, and what to do", async (kind) => {
    const file = join(folder, "lab.csv");
    writeFileSync(file, `${HEADER}\nS-999,C-1,1,2026-03-04,1300,damp`);
    const to = (name: string) => (kind === "below" ? join(file, name) : join("/proc/siltbook", name));
    const messages = [
      [await refusal("import", "--book", to("b.siltbook"), file), "cannot be opened; does the folder exist"],
      [await refusal("backup", "--book", path, "--to", to("c.siltbook")), /cannot be (written|opened)/],
      [
        await refusal("export", "--book", path, "--to", to("e.csv")),
        /--to: .* cannot be written: (there is no|a part)/,
      ],
      [
        await refusal("report", "--book", path, "--out", to("r.html")),
        /--out: .* cannot be written: (there is no|a part)/,
      ],
      [
        await refusal("columns", file, "--write", to("m.json")),
        /--write: .* cannot be written: (there is no|a part)/,
      ],
      [
        await refusal("import", "--book", path, "--quarantine", to("q"), file),
        /--quarantine: .* cannot be made: .*the quarantined rows are in the book/,
      ],
    ] as const;
    for (const [message, expected] of messages) expect(message).toMatch(expected);
    const book = Book.open(path);
    expect(book.quarantine().filter(({ file: name }) => name === "lab.csv")).toHaveLength(1);
    expectWhole(book);
    book.close();
  });

  test("a book that the engine may only read is said to be read-only", () => {
    const db = new Database(path, { readonly: true } as Database.Options);
    db.pragma("query_only = ON");
    expect(() => attempt(path, () => db.exec("CREATE TABLE x (y)"))).toThrow(
      `${path}: cannot be written: the file or its folder is read-only; give it back its permission`,
    );
    db.close();
  });
});

describe("a book in use", () => {
  test("held for long by another program: readers go on, a writer says what to do, and nothing is lost", async () => {
    const other = new Database(path);
    other.pragma("journal_mode = WAL");
    other.exec("BEGIN IMMEDIATE");
    const book = Book.open(path, { waitMs: 200 });
    expect(book.sampleCount).toBe(200);
    const busy =
      /: another program( \(process \d+, \w+\))? is writing to the book; try again when it has finished/;
    await expect(book.takeIn(fileOf("second.csv", 300), DAY)).rejects.toThrow(busy);
    expect(() =>
      book.keepRequirements("r.json", readFileSync(join(FLEET, "requirement.json"), "utf8")),
    ).toThrow(busy);
    other.exec("ROLLBACK");
    other.close();
    expect((await book.takeIn(fileOf("second.csv", 300), DAY)).taken).toBe(100);
    book.close();
  });

  test("locked against everybody: opening says what to do after the wait", () => {
    const other = new Database(path);
    other.exec("BEGIN EXCLUSIVE");
    expect(() => Book.open(path, { waitMs: 100 })).toThrow(
      /another program( \(process \d+, \w+\))? is writing to the book/,
    );
    other.exec("ROLLBACK");
    other.close();
    const book = Book.open(path);
    expectWhole(book);
    book.close();
  });
});

describe("a book of another version", () => {
  test("a newer one is refused and not touched", async () => {
    const db = new Database(path);
    db.pragma(`user_version = ${MIGRATIONS.length + 1}`);
    db.close();
    const before = readFileSync(path);
    expect(await refusal("judge", "--book", path)).toContain("was written by a newer siltbook");
    expect(await refusal("import", "--book", path, "x.csv")).toContain("update siltbook");
    expect(readFileSync(path).equals(before)).toBe(true);
  });

  test("one of the first version, with data in it, is brought up to date and keeps all of it", async () => {
    const first = join(folder, "first.siltbook");
    const db = new Database(first);
    db.exec(MIGRATIONS[0] as string);
    db.exec(`PRAGMA application_id = ${BOOK_APPLICATION_ID}; PRAGMA user_version = 1`);
    // The tables that the first version has, as a book of this version has filled them.
    db.exec(`ATTACH '${path}' AS later`);
    for (const table of [
      "column_map",
      "file",
      "reading",
      "cart",
      "circuit",
      "requirements",
      "sample",
      "amendment",
      "quarantine",
      "other_row",
      "row_text",
    ]) {
      const columns = (db.prepare(`PRAGMA main.table_info(${table})`).all() as { name: string }[])
        .map(({ name }) => name)
        .join(", ");
      db.exec(`INSERT INTO main.${table} (${columns}) SELECT ${columns} FROM later.${table}`);
    }
    db.exec("DETACH later");
    db.close();
    const [old, now] = [Book.open(first), Book.open(path)];
    expectWhole(old);
    for (const read of [
      (book: Book) => [...book.samples()],
      (book: Book) => book.history("C-1", "1"),
      // The number of the sample is kept since a later version.
      (book: Book) => book.quarantine().map(({ sample: _sample, ...row }) => row),
      (book: Book) => book.files(),
      (book: Book) => book.carts(),
      (book: Book) => book.requirements(),
      (book: Book) => book.files().map(({ sha256 }) => [...book.rows(sha256)]),
    ]) {
      expect(read(old)).toEqual(read(now));
    }
    old.close();
    now.close();
    expect((await runExplained("judge", "--book", first, "--on", "2026-03-05")).code).toBe(1);
    expect(
      (
        await run(
          "override",
          "--book",
          first,
          "--cart",
          "C-1",
          "--circuit",
          "1",
          "--person",
          "A",
          "--decision",
          "resample",
          "--reason",
          "x",
        )
      ).code,
    ).toBe(0);
  });
});

describe("a damaged book", () => {
  /** Every way of asking a book; a damaged one may answer or say that it is damaged, and nothing else. */
  async function askEverything(book: string): Promise<string[]> {
    const said: string[] = [];
    for (const args of [
      ["judge", "--on", "2026-03-05"],
      ["fleet", "--on", "2026-03-05"],
      ["history", "--cart", "C-1", "--circuit", "1"],
      ["rows", "first.csv"],
      ["export", "--to", join(folder, "e.csv")],
      ["export", "--to", join(folder, "e.jsonl")],
      ["trend", "--cart", "C-1", "--circuit", "1", "--measure", "water"],
    ]) {
      // An error that is no book error would be thrown by this and fail the test.
      const { code, err } = await run(args[0] as string, "--book", book, ...args.slice(1));
      if (code === 2) said.push(err);
    }
    return said;
  }

  test.each([
    [
      "cut off in the middle",
      (file: string) => truncateSync(file, 20_000),
      /is damaged; keep it as it is, and go on with the last backup/,
    ],
    ["cut off in its header", (file: string) => truncateSync(file, 30), /is damaged|is not a sample book/],
    [
      "empty",
      (file: string) => truncateSync(file, 0),
      /is empty; name another file, or go on with the last backup/,
    ],
    ["one byte", (file: string) => writeFileSync(file, "\0"), /is not a sample book; name another file/],
    [
      "no database",
      (file: string) => writeFileSync(file, `${HEADER}\nS-1,C-1,1,2026-03-04,1300,120\n`),
      /is not a sample book; name another file/,
    ],
    [
      "a database of something else",
      (file: string) => {
        writeFileSync(file, "");
        const db = new Database(file);
        db.exec("CREATE TABLE t (x)");
        db.close();
      },
      /is a database, but not a sample book; name another file/,
    ],
  ])("%s: every command says so, and the file stays as it is", async (_what, damage, message) => {
    damage(path);
    const before = readFileSync(path);
    const said = await askEverything(path);
    expect(said).toHaveLength(7);
    for (const text of said) expect(text).toMatch(message);
    expect(readFileSync(path).equals(before)).toBe(true);
  });

  test("a folder in its place: every command says so", async () => {
    const said = await askEverything(folder);
    for (const text of said) expect(text).toContain("is a folder; name a file");
    expect(said).toHaveLength(7);
  });

  test("a book that is not there: every command says so and makes none", async () => {
    const none = join(folder, "none.siltbook");
    for (const text of await askEverything(none)) expect(text).toContain("there is no such book");
    expect(existsSync(none)).toBe(false);
  });

  test("bytes flipped in the header and in each page: it answers, or says that it is damaged", async () => {
    const size = statSync(path).size;
    let refused = 0;
    for (let at = 16; at < size; at += at < 100 ? 20 : 8191) {
      copyFileSync(sound, path);
      const handle = openSync(path, "r+");
      writeSync(handle, Buffer.alloc(64, 0xa5), 0, 64, at);
      closeSync(handle);
      for (const text of await askEverything(path)) {
        expect(text).toMatch(
          /^siltbook: .*(is damaged; keep it|is not a sample book; name|update siltbook|not a sample book; name|has no circuit|has read no file|cannot be written|go on with the last backup)/,
        );
        refused += 1;
      }
    }
    expect(refused).toBeGreaterThan(10);
  });
});

test("a text of the book whose bytes were damaged on the disk is named by the check", async () => {
  const bytes = readFileSync(path);
  const place = bytes.indexOf("S-100");
  expect(place).toBeGreaterThan(0);
  for (let at = place; at > 0; at = bytes.indexOf("S-100", at + 1)) bytes[at] = 0xff;
  writeFileSync(path, bytes);
  const book = Book.open(path);
  expect(book.check()).toContain("1 of the rows of sample hold bytes that are no text; the first is row 101");
  book.close();
});

describe("a clock that goes backwards", () => {
  afterEach(() => {
    vi.useRealTimers();
  });

  test("what was done later stays later, whatever the clock said", async () => {
    const book = Book.open(join(folder, "clock.siltbook"), { create: true });
    const reportOf = (name: string, water: number, reported: string) => {
      const text = `${HEADER},reported on\nS-1,C-1,1,2026-03-04,1300,${water},${reported}`;
      return bytesInMemory(name, new TextEncoder().encode(text));
    };
    await book.takeIn(reportOf("first.csv", 120, "2026-03-08"), DAY);
    const at = (day: string) => vi.setSystemTime(new Date(`${day}T12:00:00Z`));
    vi.useFakeTimers({ toFake: ["Date"] });
    for (const [index, day] of ["2026-06-01", "2024-01-01", "1970-01-02"].entries()) {
      at(day);
      await book.takeIn(reportOf(`again-${index}.csv`, 200 + index, `2026-03-1${index}`), DAY);
      book.keepRequirements(
        "r.json",
        readFileSync(join(FLEET, "requirement.json"), "utf8").replace(
          /"revision": *"[^"]*"/,
          `"revision": "${index}"`,
        ),
      );
    }
    const [first] = book.history("C-1", "1");
    expect(first?.sample.waterPpm?.value).toBe(202);
    expect(first?.amendments.map(({ earlier }) => earlier.waterPpm?.value)).toEqual([120, 200, 201]);
    expect(first?.amendments.map(({ at: when }) => when.slice(0, 4))).toEqual(["2026", "2024", "1970"]);
    expect(book.requirements()?.revision).toBe("2");
    expect(
      book
        .files()
        .map(({ file }) => file)
        .slice(-3),
    ).toEqual(["again-0.csv", "again-1.csv", "again-2.csv"]);
    book.close();
    vi.useRealTimers();
    await runExplained("judge", "--book", path, "--on", "2026-03-05");
    vi.useFakeTimers({ toFake: ["Date"] });
    const later = Book.open(path);
    const [verdict] = later.verdicts({ cart: "C-1", circuit: "1" });
    for (const [index, day] of ["2026-06-01", "1970-01-02"].entries()) {
      at(day);
      later.override(verdict?.id ?? 0, { person: `P-${index}`, decision: "resample", reason: "x" });
    }
    expect(later.verdicts({ cart: "C-1", circuit: "1" })[0]?.overrides.map(({ person }) => person)).toEqual([
      "P-0",
      "P-1",
    ]);
    later.close();
  });

  test("a clock that has lost the year sets rows aside and says which day it is; set right, they are taken", async () => {
    const book = Book.open(path);
    vi.useFakeTimers({ toFake: ["Date"] });
    vi.setSystemTime(new Date("1970-01-01T00:00:00Z"));
    const file = fileOf("new.csv", 201);
    const early = await book.takeIn(file);
    expect(early).toMatchObject({ taken: 0, quarantined: 201 });
    expect(early.quarantine[0]?.issues[0]?.expected).toContain("a day not after today, 1970-01-01");
    vi.setSystemTime(new Date("2026-12-31T00:00:00Z"));
    expect(await book.takeIn(file)).toMatchObject({ taken: 1, known: 200, quarantined: 0 });
    book.close();
  });
});

test("an error of the book is one of its own kind, so that a program can tell it", () => {
  expect(() => Book.open(join(folder, "none.siltbook"))).toThrow(BookError);
});
