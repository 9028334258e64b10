import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { bytesInMemory } from "../../src/intake/index.js";
import { CARTS } from "../support/one-circuit.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";
const row = (sample: string, water: string, cart = "C-1", acid = "") =>
  `${sample},${cart},1,2026-03-04,900,${water},${acid}`;
const by = { person: "A. Person", reason: "bottle was broken" };

/** A book with some files of a laboratory, each a list of rows, and another base with cart D-7. */
async function withBook(files: Readonly<Record<string, readonly string[]>>, use: (book: Book) => unknown) {
  const book = Book.open(`${folder}/${Math.random()}.siltbook`, { create: true });
  try {
    book.keepCarts("carts.json", JSON.stringify({ ...CARTS, otherCarts: ["D-7"] }));
    for (const [name, rows] of Object.entries(files)) await take(book, name, ...rows);
    await use(book);
  } finally {
    book.close();
  }
}

const take = (book: Book, name: string, ...rows: readonly string[]) =>
  book.takeIn(bytesInMemory(name, new TextEncoder().encode([HEADER, ...rows].join("\n"))), {
    today: "2026-12-31",
  });
const waiting = (book: Book) => book.quarantine().map(({ row: at }) => at);
const idOf = (book: Book, at: number) =>
  [...book.quarantine(), ...book.settledRows()].find((one) => one.row === at)?.id ?? "";
const fileOf = (book: Book, name: string) => {
  const found = book.files().find((one) => one.file === name);
  return found as NonNullable<typeof found>;
};

const MARCH = [row("S-1", "90"), row("S-2", "1O"), row("S-3", "2O"), row("S-4", "3O"), row("S-5", "4O")];
const ROWS = { "march.csv": [...MARCH, row("S-6", "50", "D-7"), ",,,,,90,"] };

describe("rows that wait, and rows that wait no longer", () => {
  test("say whose they are, as far as that was read", async () => {
    await withBook(ROWS, (book) => {
      expect(waiting(book)).toEqual([3, 4, 5, 6, 8]);
      const [first, last] = [book.quarantine()[0], book.quarantine().at(-1)];
      const { id, issues, importedAt, sha256, ...says } = first as NonNullable<typeof first>;
      expect(says).toEqual({
        ...{ file: "march.csv", row: 3, text: row("S-2", "1O") },
        ...{ cart: "C-1", circuit: "1", drawnOn: "2026-03-04", sample: "S-2" },
      });
      expect([id, importedAt, sha256, issues.map(({ code }) => code)]).toEqual([
        ...[expect.stringMatching(/^[0-9a-f]{10}$/), expect.stringMatching(/^\d{4}-.*Z$/)],
        ...[expect.stringMatching(/^[0-9a-f]{64}$/), ["cell-not-read"]],
      ]);
      expect(
        ["cart", "circuit", "drawnOn", "sample", "sheet"].filter((name) => name in (last ?? {})),
      ).toEqual([]);
      expect(new Set(book.quarantine().map((one) => one.id)).size).toBe(5);
    });
  });

  test("a decision without a person, a reason or a row that waits is refused, and nothing is kept", async () => {
    await withBook(ROWS, (book) => {
      const refused: [string[], Parameters<Book["decideRows"]>[1], RegExp][] = [
        [[idOf(book, 3)], { decision: "settled", ...by, person: " " }, /needs the name of the person$/],
        [[idOf(book, 3)], { decision: "settled", ...by, reason: "" }, /needs a reason$/],
        [
          [idOf(book, 3), "x"],
          { decision: "settled", ...by },
          /^the book has no row "x" in quarantine; its rows/,
        ],
        [["x"], { decision: "reopened", ...by }, /^the book has no row "x" that was settled;/],
        [[idOf(book, 3)], { decision: "reopened", ...by }, /that was settled;/],
      ];
      for (const [ids, decision, message] of refused) {
        expect(() => book.decideRows(ids, decision)).toThrow(message);
        expect(waiting(book)).toEqual([3, 4, 5, 6, 8]);
      }
    });
  });

  test("a file that is read again counts what was decided as known, and a cart of another base as no sample", async () => {
    await withBook(ROWS, async (book) => {
      book.decideRows([idOf(book, 3), idOf(book, 4)], { decision: "settled", ...by });
      book.decideRows([idOf(book, 4)], { decision: "reopened", ...by });
      const report = await take(book, "march.csv", ...ROWS["march.csv"]);
      expect(report).toMatchObject({
        taken: 0,
        known: 2,
        amended: 0,
        quarantined: 4,
        notSamples: 2,
        rows: 8,
      });
      expect(report.quarantine.map(({ row: at }) => at)).toEqual([4, 5, 6, 8]);
      expect(report.assumptions.map(({ code }) => code)).toEqual(["rows-of-other-carts"]);
    });
  });

  test("are settled or discarded by a person, replaced by a file, of another base, reopened or withdrawn", async () => {
    await withBook(ROWS, async (book) => {
      const settled = () =>
        book
          .settledRows()
          .map(({ row: at, replacedBy, ofOtherBase, decided, settledAt }) => [
            ...[at, replacedBy ?? decided?.decision ?? ofOtherBase, decided?.person, decided?.reason],
            settledAt?.length,
          ]);
      const decided = book.decideRows([idOf(book, 3), idOf(book, 8)], { decision: "settled", ...by });
      expect(decided.map(({ row: at }) => at)).toEqual([3, 8]);
      expect(book.lastChange()).toMatchObject({
        ...{ kind: "quarantine", by: "A. Person", subject: "settled: march.csv row 3, march.csv row 8" },
      });
      book.decideRows([idOf(book, 4)], { decision: "discarded", ...by });
      expect(waiting(book)).toEqual([5, 6]);
      await take(book, "april.csv", row("S-4", "30"));
      expect(waiting(book)).toEqual([6]);
      expect(settled()).toEqual([
        [3, "settled", "A. Person", "bottle was broken", 24],
        [4, "discarded", "A. Person", "bottle was broken", 24],
        [5, "april.csv", undefined, undefined, 24],
        [7, true, undefined, undefined, undefined],
        [8, "settled", "A. Person", "bottle was broken", 24],
      ]);
      expect(book.settledRows()[0]?.settledAt).toBe(book.settledRows()[0]?.decided?.at);

      book.decideRows([idOf(book, 3), idOf(book, 5)], { decision: "reopened", ...by });
      expect(waiting(book)).toEqual([3, 5, 6]);
      book.decideRows([idOf(book, 3)], { decision: "settled", ...by, reason: "seen again" });
      expect(waiting(book)).toEqual([5, 6]);

      book.withdraw(fileOf(book, "march.csv"), { person: "B. Person", reason: "wrong base" });
      expect(waiting(book)).toEqual([]);
      expect(settled()).toEqual([
        [3, "settled", "A. Person", "seen again", 24],
        [4, "discarded", "A. Person", "bottle was broken", 24],
        [5, "withdrawn", "B. Person", "wrong base", 24],
        [6, "withdrawn", "B. Person", "wrong base", 24],
        [7, true, undefined, undefined, undefined],
        [8, "settled", "A. Person", "bottle was broken", 24],
      ]);
    });
  });
});

describe("withdrawing a file", () => {
  const files = {
    "first.csv": [row("S-1", "90"), row("S-2", "80"), row("S-3", "70")],
    "second.csv": [row("S-1", "", "C-1", "0.1"), row("S-2", "80"), row("S-4", "6O")],
    "third.csv": [row("S-4", "60"), row("S-5", "50")],
  };
  const samples = (book: Book) =>
    [...book.samples({})].map(({ sample, waterPpm, acidMgKohPerG }) => [
      ...[sample, waterPpm?.value, acidMgKohPerG?.value],
    ]);

  test("needs a person and a reason", async () => {
    await withBook(files, (book) => {
      const first = fileOf(book, "first.csv");
      expect(() => book.withdraw(first, { ...by, person: "" })).toThrow(
        /^withdrawing a file needs the name of the/,
      );
      expect(() => book.withdraw(first, { ...by, reason: " " })).toThrow(
        /^withdrawing a file needs a reason$/,
      );
      expect(samples(book)).toHaveLength(5);
    });
  });

  test("takes out what it alone reported, and leaves what another file said", async () => {
    await withBook(files, (book) => {
      const { sha256 } = fileOf(book, "first.csv");
      expect(book.withdraw(fileOf(book, "first.csv"), by)).toEqual({
        ...{ file: "first.csv", sha256, withdrawn: 2, restored: 1, reopened: 0, importAgain: ["second.csv"] },
      });
      expect(samples(book)).toEqual([
        ["S-1", undefined, 0.1],
        ["S-4", 60, undefined],
        ["S-5", 50, undefined],
      ]);
      expect(book.lastChange()).toMatchObject({
        ...{ kind: "withdrawal", by: "A. Person" },
        subject: `first.csv, SHA-256 ${sha256}: 2 samples withdrawn, 1 as before; bottle was broken`,
      });
      expect(() => book.withdraw({ file: "first.csv", sha256 }, by)).toThrow(
        /^first\.csv is withdrawn already$/,
      );
    });
  });

  test("lets rows wait again that it had settled", async () => {
    await withBook(files, (book) => {
      expect(waiting(book)).toEqual([]);
      expect(book.withdraw(fileOf(book, "third.csv"), by)).toMatchObject({
        ...{ withdrawn: 2, restored: 0, reopened: 1, importAgain: ["second.csv"] },
      });
      expect(waiting(book)).toEqual([4]);
      expect(samples(book).map(([sample]) => sample)).toEqual(["S-1", "S-2", "S-3"]);
    });
  });
});
