import { spawnSync } from "node:child_process";
import { copyFileSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Book, judgeBook, readFleetOutline } from "../../src/book/index.js";
import { random } from "./random.js";

const CHILD = join(import.meta.dirname, "damage-child.mjs");

/** What the child process said of a book; undefined where it did not come to an end by itself. */
interface Said {
  readonly verify: { readonly code: number; readonly err: string };
  readonly judge: { readonly code: number; readonly err: string; readonly verdicts: unknown };
}

function look(book: string, on: string): { readonly said?: Said; readonly ended: string } {
  const { status, signal, stdout, stderr } = spawnSync(process.execPath, [CHILD, book, on], {
    encoding: "utf8",
  });
  if (status !== 0) return { ended: `${signal ?? status}: ${stderr}` };
  return { said: JSON.parse(stdout) as Said, ended: "" };
}

/**
 * Flips one bit of a book at a time, and verifies and judges each in a process of its own.
 *
 * @returns what went wrong: a process that did not end by itself, another verdict that was believed, or an error of more than a line
 */
export function faultsOfDamaged(sound: string, on: string, books: number, seed: number): string[] {
  const copy = `${sound}.damaged`;
  const put = (bytes: Buffer) => {
    for (const end of ["", "-wal", "-shm", "-journal"]) rmSync(copy + end, { force: true });
    writeFileSync(copy, bytes);
  };
  const bytes = readFileSync(sound);
  copyFileSync(sound, copy);
  const expected = JSON.stringify(look(copy, on).said?.judge.verdicts);
  const draw = random(seed);
  const faults: string[] = [];
  for (let book = 0; book < books; book += 1) {
    const damaged = Buffer.from(bytes);
    const place = Math.floor(draw() * bytes.length);
    const bit = Math.floor(draw() * 8);
    damaged[place] = (damaged[place] as number) ^ (1 << bit);
    put(damaged);
    const { said, ended } = look(copy, on);
    const where = `byte ${place}, bit ${bit}`;
    if (said === undefined) faults.push(`${where}: ended with ${ended}`);
    else {
      const { verdicts, err } = said.judge;
      const isBelieved = verdicts !== null && JSON.stringify(verdicts) !== expected;
      if (isBelieved) faults.push(`${where}: another verdict was believed`);
      if (/\n./.test(err) || /\n./.test(said.verify.err)) faults.push(`${where}: ${err}${said.verify.err}`);
    }
  }
  return faults;
}

/** A book with the demonstration in it, judged once. */
export async function demoBook(path: string): Promise<string> {
  const demo = join(import.meta.dirname, "..", "..", "datasets", "demo");
  const book = Book.open(path, { create: true });
  book.keepCarts("carts.json", readFileSync(join(demo, "carts.json"), "utf8"));
  book.keepRequirements("requirement.json", readFileSync(join(demo, "requirement.json"), "utf8"));
  for (const file of ["lab-tidy.csv", "lab-semicolon.csv", "lab-long.csv"]) {
    await book.takeIn(join(demo, file), { today: "2026-11-20" });
  }
  book.close();
  for await (const _judged of judgeBook(path, readFleetOutline(path), "2026-11-20"));
  return path;
}
