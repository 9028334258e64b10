import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Database from "libsql";
import { beforeAll, beforeEach, describe, expect, test } from "vitest";
import { Book, BookError, type KnownFile, salvageBook } from "../../src/book/index.js";
import { damagedBooks, SMALL_FILES, smallBook } from "../support/damaged-books.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const base = temporaryFolder();
const ON = "2026-11-22";
/** `DAMAGED_BOOKS=300` tries more. */
const BOOKS = Number(process.env.DAMAGED_BOOKS ?? 12);
let sound: string;
let book: string;
let to: string;

beforeAll(async () => {
  sound = await smallBook(base);
});

beforeEach(() => {
  const folder = mkdtempSync(join(base, "t-"));
  book = join(folder, "a.siltbook");
  to = join(folder, "new.siltbook");
  copyFileSync(sound, book);
});

function damage(sql: string): void {
  const db = new Database(book);
  db.exec(`PRAGMA foreign_keys = OFF; ${sql}`);
  db.close();
}

function samplesOf(path: string): string[] {
  const opened = Book.open(path);
  const lines = [...opened.jsonLines()];
  opened.close();
  return lines;
}

async function verdictsOf(path: string): Promise<[string, string][]> {
  const { json } = await runJson("judge", "--book", path, "--on", ON);
  return json.circuits.map(({ cart, circuit, verdict }: Record<string, string>) => [
    `${cart} ${circuit}`,
    verdict,
  ]);
}

test("of a sound book everything is in the new one, and its chain goes on", async () => {
  const { head } = (await runJson("verify", "--book", book)).json;
  const { code, json } = await runJson("salvage", "--book", book, "--to", to);
  expect([code, json.lost, json.chainGoesOn]).toEqual([0, [], true]);
  const { json: verified } = await runJson("verify", "--book", to, "--against", head.hash);
  expect(verified).toMatchObject({ fits: true, against: { isInBook: true } });
  expect(samplesOf(to)).toEqual(samplesOf(book));
});

/** [what is damaged, how, what is lost, whether circuits are blocked until files are imported again] */
const DAMAGES: readonly [string, string, readonly { what: string; rows: number }[], boolean][] = [
  ["a sample", "UPDATE sample SET water_ppm = 1 WHERE id = 7", [{ what: "samples", rows: 1 }], true],
  [
    "a circuit, and what is of it",
    "UPDATE circuit SET body = replace(body, 'fluid', 'flujd') WHERE id = 1",
    [
      { what: "circuits", rows: 1 },
      { what: "samples", rows: expect.any(Number) as unknown as number },
    ],
    true,
  ],
  [
    "a text that is no text",
    "UPDATE verdict SET cart = CAST(x'51ff' AS TEXT) WHERE id = 1",
    [{ what: "verdicts", rows: 1 }],
    false,
  ],
  [
    "an input of a verdict, and the verdicts that rest on it",
    "UPDATE judged_input SET body = x'00' WHERE sha256 = (SELECT json_each.value ->> '$.sha256' FROM verdict, json_each(inputs) WHERE verdict.id = 1 AND json_each.value ->> '$.role' = 'circuit')",
    [
      { what: "what verdicts rest on", rows: 1 },
      { what: "verdicts", rows: 1 },
    ],
    false,
  ],
  ["the name in an entry", "UPDATE entry SET by = 'B. Person' WHERE number = 2", [], false],
];

describe("damaged:", () => {
  test.each(DAMAGES)("%s", async (_what, sql, lost, isBlocked) => {
    damage(sql);
    const { code, json } = await runJson("salvage", "--book", book, "--to", to);
    expect([code, json.chainGoesOn]).toEqual([1, false]);
    expect(json.lost).toEqual(lost);
    expect(json.importAgain).toEqual(isBlocked ? SMALL_FILES : []);
    expect((await runJson("verify", "--book", to)).json.fits).toBe(true);
    if (isBlocked) for (const [, verdict] of await verdictsOf(to)) expect(verdict).not.toBe("fit");
  });
});

test("where it is lost which file was read when, and one was withdrawn, no circuit is called fit", async () => {
  const opened = Book.open(book);
  const [file] = opened.files() as [KnownFile, ...KnownFile[]];
  opened.withdraw(file, { person: "A. Person", reason: "why" });
  opened.close();
  damage("UPDATE reading SET rows = rows + 1, known = known + 1 WHERE file_id = 1");
  expect(salvageBook(book, to)).toMatchObject({
    lost: [{ what: "what became of the rows of files", rows: 1 }],
    importAgain: SMALL_FILES,
  });
  for (const [, verdict] of await verdictsOf(to)) expect(verdict).not.toBe("fit");
});

test("with the files imported again, the new book says what the old one said", async () => {
  damage("UPDATE sample SET water_ppm = 1 WHERE id IN (7, 30); DELETE FROM row_text WHERE file_id = 2");
  salvageBook(book, to);
  await run("import", "--book", to, ...SMALL_FILES.map((file) => join(base, file)));
  expect(samplesOf(to).sort()).toEqual(samplesOf(sound).sort());
  expect(await verdictsOf(to)).toEqual(await verdictsOf(sound));
});

test("a requirement that is lost lets no earlier one be judged by", async () => {
  damage(
    `INSERT INTO requirements (sha256, document, revision, kept_at, body) SELECT 'x', document, '9', kept_at, body FROM requirements`,
  );
  salvageBook(book, to);
  const { code, err } = await run("judge", "--book", to, "--on", ON);
  expect([code, err]).toEqual([2, expect.stringContaining("the book has no requirements")]);
});

test("books with one flipped bit: nothing that was not in the book is in the new one, and it fits its chain", async () => {
  const known = new Set(samplesOf(sound));
  const expected = new Map(await verdictsOf(sound));
  for (const { bytes, where } of damagedBooks(sound, BOOKS, 5)) {
    writeFileSync(book, bytes);
    rmSync(to, { force: true });
    try {
      salvageBook(book, to);
    } catch (error) {
      expect([where, error]).toEqual([where, expect.any(BookError)]);
      expect(existsSync(to)).toBe(false);
      continue;
    }
    expect([where, samplesOf(to).filter((line) => !known.has(line))]).toEqual([where, []]);
    expect([where, (await runJson("verify", "--book", to)).json.fits]).toEqual([where, true]);
    const { code, out } = await run("judge", "--book", to, "--on", ON, "--json");
    if (code === 2) continue;
    for (const { cart, circuit, verdict } of JSON.parse(out).circuits) {
      if (verdict === "fit") expect([where, expected.get(`${cart} ${circuit}`)]).toEqual([where, "fit"]);
    }
  }
});

/** [what is at the two ends, what is said] */
const REFUSALS: readonly [string, () => void, string][] = [
  ["a new book that is there", () => copyFileSync(sound, to), "exists already; salvaging overwrites nothing"],
  ["a book that is not there", () => rmSync(book), "there is no such book"],
  ["a text", () => writeFileSync(book, "no book"), "is not a sample book, or nothing of it can be read"],
];

test.each(REFUSALS)("%s is refused in one line", async (_what, act, said) => {
  act();
  const before = existsSync(to) ? readFileSync(to) : undefined;
  const { code, err } = await run("salvage", "--book", book, "--to", to);
  expect([code, err.includes(said), err.split("\n").length]).toEqual([2, true, 2]);
  expect(existsSync(to) ? readFileSync(to) : undefined).toEqual(before);
});

describe("backup, verify and restore, one command each:", () => {
  test("a book that is gone is restored as it was, and fits", async () => {
    expect((await run("backup", "--book", book, "--to", to)).code).toBe(0);
    expect((await run("verify", "--book", to)).code).toBe(0);
    const samples = samplesOf(book);
    rmSync(book);
    const { code, json } = await runJson("restore", "--from", to, "--to", book);
    expect([code, json.samples]).toEqual([0, samples.length]);
    expect(samplesOf(book)).toEqual(samples);
    expect((await runJson("verify", "--book", book, "--against", json.head.hash)).code).toBe(0);
  });

  test("a backup that does not fit is not restored, and nothing is overwritten", async () => {
    expect((await run("restore", "--from", sound, "--to", book)).err).toContain("exists already");
    copyFileSync(sound, to);
    const db = new Database(to);
    db.exec("UPDATE sample SET water_ppm = 1 WHERE id = 7");
    db.close();
    rmSync(book);
    const { code, err } = await run("restore", "--from", to, "--to", book);
    expect([code, err]).toEqual([
      2,
      expect.stringMatching(/^siltbook: .*record was changed.*take an earlier backup\n$/),
    ]);
    expect(existsSync(book)).toBe(false);
  });
});
