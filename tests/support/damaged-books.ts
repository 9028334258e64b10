import { spawnSync } from "node:child_process";
import { copyFileSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import Database from "libsql";
import { Book, judgeBook, readFleetOutline } from "../../src/book/index.js";
import { random } from "./random.js";

const CHILD = join(import.meta.dirname, "damage-child.mjs");

/** What a command said of a book; without a code it did not come to an end. */
interface Said {
  readonly book: string;
  readonly name: string;
  readonly code?: number;
  readonly err: string;
  readonly answer: unknown;
}

/** Runs every command on some books in one process, or in more where one ends before its time. */
function sayAll(folder: string, on: string, books: readonly string[]): Said[] {
  const { stdout, stderr, status, signal } = spawnSync(process.execPath, [CHILD, folder, on, ...books], {
    encoding: "utf8",
    maxBuffer: 1 << 30,
  });
  const lines = stdout.trim().split("\n");
  const said = lines.filter((line) => line.includes('"code"')).map((line) => JSON.parse(line) as Said);
  if (lines.at(-1) === "end") return said;
  const { book, name } = JSON.parse(lines.filter((line) => line.startsWith("{")).at(-1) as string) as Said;
  const ended: Said = { book, name, err: `${signal ?? status}: ${stderr}`, answer: null };
  const rest = books.slice(books.indexOf(book) + 1);
  return [...said, ended, ...(rest.length === 0 ? [] : sayAll(folder, on, rest))];
}

/**
 * Flips one bit of a book at a time, and runs every command on each.
 *
 * @param sound - a book with the files that it was made from next to it
 * @returns what went wrong: a process that did not end by itself, a stack, another answer that was given, or an error of more
 *   than a line
 */
export function faultsOfDamaged(sound: string, on: string, books: number, seed: number): string[] {
  const folder = dirname(sound);
  const names = new Map<string, string>();
  for (const { bytes, where } of damagedBooks(sound, books, seed)) {
    const path = join(folder, String(names.size));
    writeFileSync(path, bytes);
    names.set(path, where);
  }
  const expected = sayAll(folder, on, [sound]).map(({ answer }) => JSON.stringify(answer));
  const said = sayAll(folder, on, [...names.keys()]);
  return [...names].flatMap(([path, where]) =>
    said
      .filter(({ book }) => book === path)
      .flatMap(({ name, code, err, answer }, place) => {
        const about = `${where}: ${name}`;
        if (code === undefined) return [`${about}: ended with ${err}`];
        if (code > 2 || err.split("\n").some((line) => line !== "" && !line.startsWith("siltbook: ")))
          return [`${about}: ${err}`];
        const isOther = answer !== null && JSON.stringify(answer) !== expected[place];
        return isOther ? [`${about}: another answer was given`] : [];
      }),
  );
}

/** Copies of a book with one flipped bit each, and where it is. */
export function* damagedBooks(
  sound: string,
  books: number,
  seed: number,
): Generator<{ readonly bytes: Buffer; readonly where: string }> {
  const bytes = readFileSync(sound);
  const places = placesIn(sound, bytes, random(seed));
  for (let number = 0; number < books; number += 1) {
    const { place, bit, where } = places.next().value;
    const damaged = Buffer.from(bytes);
    damaged[place] = (damaged[place] as number) ^ (1 << bit);
    yield { bytes: damaged, where: `byte ${place}, bit ${bit}${where}` };
  }
}

/** Where to flip a bit: in a value of each table in turn, and each second time anywhere in the file. */
function* placesIn(
  sound: string,
  bytes: Buffer,
  draw: () => number,
): Generator<{ place: number; bit: number; where: string }, never> {
  const below = (end: number) => Math.floor(draw() * end);
  const db = new Database(sound);
  const tables = db.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").raw().all() as [string][];
  const values = tables.flatMap(([name]) => {
    const rows = db.prepare(`SELECT * FROM "${name}" LIMIT 1000`).raw().all() as unknown[][];
    return rows.length === 0 ? [] : [{ name, rows }];
  });
  db.close();
  for (let turn = 0; ; turn += 1) {
    yield { place: below(bytes.length), bit: below(8), where: "" };
    const { name, rows } = values[turn % values.length] as (typeof values)[number];
    const row = rows[below(rows.length)] as unknown[];
    const long = row.filter(
      (value) => (typeof value === "string" || Buffer.isBuffer(value)) && value.length > 3,
    );
    const value = long[below(long.length)] as string | Buffer | undefined;
    if (value === undefined) continue;
    const found = Buffer.from(value as string);
    // A long value goes on in pages of its own, so that only its beginning is found for sure.
    const start = bytes.indexOf(found.subarray(0, 40));
    if (start < 0) continue;
    yield { place: start + below(Math.min(found.length, 40)), bit: below(8), where: ` in table ${name}` };
  }
}

const DEMO = join(import.meta.dirname, "..", "..", "datasets", "demo");
export const SMALL_FILES = ["lab-tidy.csv", "lab-semicolon.csv", "lab-long.csv"];

/** A book with the demonstration in it, judged once. */
export async function demoBook(path: string): Promise<string> {
  return await bookOf(DEMO, path);
}

/** A book with two carts of the demonstration in it, judged once, and next to it the files that it was made from. */
export async function smallBook(folder: string): Promise<string> {
  const { carts, ...others } = JSON.parse(readFileSync(join(DEMO, "carts.json"), "utf8"));
  const few = carts.filter(({ cart }: { cart: string }) => CARTS.includes(cart));
  writeFileSync(join(folder, "carts.json"), JSON.stringify({ ...others, carts: few }));
  copyFileSync(join(DEMO, "requirement.json"), join(folder, "requirement.json"));
  for (const file of SMALL_FILES) {
    const lines = readFileSync(join(DEMO, file), "utf8").split("\n");
    const own = lines.filter((line) => CARTS.includes(/QB-\d+/.exec(line)?.[0] ?? "QB-02"));
    writeFileSync(join(folder, file), own.join("\n"));
  }
  return await bookOf(folder, join(folder, "small.siltbook"));
}

const CARTS: readonly string[] = ["QB-02", "QB-03"];

async function bookOf(folder: string, path: string): Promise<string> {
  const book = Book.open(path, { create: true });
  book.keepCarts("carts.json", readFileSync(join(folder, "carts.json"), "utf8"));
  book.keepRequirements("requirement.json", readFileSync(join(folder, "requirement.json"), "utf8"));
  for (const file of SMALL_FILES) await book.takeIn(join(folder, file), { today: "2026-11-20" });
  book.close();
  for await (const _judged of judgeBook(path, readFleetOutline(path), "2026-11-20"));
  return path;
}
