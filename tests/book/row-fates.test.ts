import { expect, test } from "vitest";
import { Book, type FileReport } from "../../src/book/index.js";
import { bytesInMemory } from "../../src/intake/index.js";
import { CARTS } from "../support/one-circuit.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const HEADER = "sample,cart,circuit,drawn on,reported on,4 µm(c) per mL,water (mg/kg)";
const row = (sample: string, reported: string, water: string, cart = "C-1") =>
  `${sample},${cart},1,2026-03-04,${reported},900,${water}`;
const lab = (name: string, ...rows: string[]) =>
  bytesInMemory(name, new TextEncoder().encode([HEADER, ...rows].join("\n")));

async function bookWith(name: string, use: (book: Book) => Promise<void>) {
  const book = Book.open(`${folder}/${name}.siltbook`, { create: true });
  try {
    await use(book);
  } finally {
    book.close();
  }
}

const fatesIn = (book: Book, { sha256 }: Pick<FileReport, "sha256">) =>
  [...book.rows(sha256)].map(({ row, fate, why }) => [row, fate, ...(why === undefined ? [] : [why])]);

test("rows of each file have the fate they had in that file, whichever file amends which", async () => {
  await bookWith("amends", async (book) => {
    const take = (name: string, ...rows: string[]) =>
      book.takeIn(lab(name, ...rows), { today: "2026-12-31" });
    const first = await take("first.csv", row("S-1", "2026-03-06", "120"), row("S-2", "2026-03-06", "90"));
    const second = await take(
      "second.csv",
      row("S-3", "2026-03-08", "80"),
      row("S-2", "2026-03-06", "90"),
      row("S-1", "2026-03-08", "140"),
    );
    const third = await take("third.csv", row("S-1", "2026-03-07", "130"), row("S-4", "2026-03-07", "1O"));
    expect(fatesIn(book, first)).toEqual([
      [1, "not a sample", "header"],
      [2, "taken"],
      [3, "taken"],
    ]);
    expect(fatesIn(book, second)).toEqual([
      [1, "not a sample", "header"],
      [2, "taken"],
      [3, "known"],
      [4, "amended"],
    ]);
    expect(fatesIn(book, third)).toEqual([
      [1, "not a sample", "header"],
      [2, "amended"],
      [3, "quarantined"],
    ]);
    expect([...book.rows(third.sha256)].map(({ settled }) => settled)).toEqual([undefined, undefined, false]);
    await take("corrected.csv", row("S-4", "2026-03-07", "10"));
    expect([...book.rows(third.sha256)].at(-1)).toMatchObject({ fate: "quarantined", settled: true });
    expect([...book.rows(first.sha256)].map(({ sheet }) => sheet)).toEqual([undefined, undefined, undefined]);
  });
});

test("a row of a cart of another base is not a sample, and says why", async () => {
  await bookWith("bases", async (book) => {
    book.keepCarts("carts.json", JSON.stringify({ ...CARTS, otherCarts: ["D-7"] }));
    const rows = [row("S-1", "2026-03-06", "120", "D-7"), row("S-2", "2026-03-06", "90", "D-8")];
    const report = await book.takeIn(lab("march.csv", ...rows), { today: "2026-12-31" });
    expect(fatesIn(book, report)).toEqual([
      [1, "not a sample", "header"],
      [2, "not a sample", "a cart of another base"],
      [3, "quarantined"],
    ]);
  });
});
