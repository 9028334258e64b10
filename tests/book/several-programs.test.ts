import { type ChildProcessWithoutNullStreams, spawn } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { random } from "../support/random.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const CHILD = join(import.meta.dirname, "..", "support", "import-child.mjs");

function importing(
  book: string,
  prefix: string,
  files: number,
  rows: number,
): ChildProcessWithoutNullStreams {
  return spawn(process.execPath, [CHILD, book, prefix, String(files), String(rows)]);
}

/** How many samples of each file the book holds. */
function samplesByFile(book: Book): Map<string, number> {
  const files = new Map<string, number>();
  for (const { origin } of book.samples()) {
    const file = origin[0]?.file ?? "";
    files.set(file, (files.get(file) ?? 0) + 1);
  }
  return files;
}

describe("a book that several programs use", () => {
  test("two imports at once into one book: both are in it whole, and the book is sound", async () => {
    const path = join(folder, "two.siltbook");
    Book.open(path, { create: true }).close();
    const children = [importing(path, "a", 12, 300), importing(path, "b", 12, 300)];
    const codes = await Promise.all(children.map(async (child) => (await once(child, "exit"))[0]));
    expect(codes).toEqual([0, 0]);
    const book = Book.open(path);
    expect(book.check()).toEqual([]);
    const files = samplesByFile(book);
    expect(files.size).toBe(24);
    expect([...files.values()].every((samples) => samples === 300)).toBe(true);
    book.close();
  });

  test("the same file twice at once is taken by one and known to the other", async () => {
    const path = join(folder, "same.siltbook");
    const children = [importing(path, "s", 1, 500), importing(path, "s", 1, 500)];
    const outputs = await Promise.all(
      children.map(async (child) => {
        let text = "";
        child.stdout.on("data", (data) => {
          text += data;
        });
        await once(child, "close");
        return text;
      }),
    );
    expect(outputs.sort()).toEqual(["started\ns-0.csv 0 500\n", "started\ns-0.csv 500 0\n"]);
  });

  test("15 imports killed at random moments: the book opens, is sound, and holds whole files only", async () => {
    const path = join(folder, "killed.siltbook");
    const next = random(50);
    const rows = 400;
    for (let round = 0; round < 15; round += 1) {
      // The child goes on importing file after file, so that nearly every kill falls into the middle of one.
      const child = importing(path, `r${round}`, 1000, rows);
      // Some are killed in their first file, others later, however busy the machine is.
      for (let line = 0; line <= round % 3; line += 1) await once(child.stdout, "data");
      await wait(next() * 150);
      child.kill("SIGKILL");
      await once(child, "exit");
      const book = Book.open(path);
      expect(book.check()).toEqual([]);
      expect([...samplesByFile(book).values()].filter((samples) => samples !== rows)).toEqual([]);
      expect(book.files().filter(({ taken }) => taken !== rows)).toEqual([]);
      book.close();
    }
    const book = Book.open(path);
    // Two rounds in three had ended an import before the kill, or the test would see nothing but empty books.
    expect(book.files().length).toBeGreaterThan(10);
    book.close();
  });

  test("a program that does not want to wait is told that another one is writing", async () => {
    const path = join(folder, "busy.siltbook");
    const child = importing(path, "w", 1, 60_000);
    await new Promise<void>((resolve) => {
      child.stdout.on("data", (said) => String(said).includes("writing") && resolve());
    });
    const book = Book.open(path, { waitMs: 0 });
    expect(() => book.keepCarts("carts.json", JSON.stringify(CARTS))).toThrow(
      /: another program( \(process \d+, \w+\))? is writing to the book; try again when it has finished/,
    );
    book.close();
    child.kill("SIGKILL");
    await once(child, "exit");
  });
});

const CARTS = {
  carts: [
    {
      cart: "C-1",
      circuits: [
        {
          circuit: "fore",
          serves: "main system",
          fluid: "MIL-PRF-83282",
          volume: "60 L",
          flow: "45 L/min",
          element: { position: "return", betas: [{ sizeUmC: 6, beta: 100 }] },
        },
      ],
    },
  ],
};
