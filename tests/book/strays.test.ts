import { expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import type { NamedCart } from "../../src/fitness/index.js";
import { bytesInMemory } from "../../src/intake/index.js";
import { CARTS } from "../support/one-circuit.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";
const MARCH = [
  "S-1,C-1,1,2026-03-04,900,90,",
  "S-2,C-9,1,2026-03-04,900,90,",
  "S-3,D-7,1,2026-03-04,900,90,",
  "S-4,C-1,2,2026-03-04,900,90,",
  "S-5,C-9,1,2026-03-02,900,90,",
];

/** A book that took its files before it knew carts; S-2 is in both. */
async function withBook(use: (book: Book) => Promise<void> | void) {
  const book = Book.open(`${folder}/${Math.random()}.siltbook`, { create: true });
  const take = (name: string, ...rows: string[]) =>
    book.takeIn(bytesInMemory(name, new TextEncoder().encode([HEADER, ...rows].join("\n"))), {
      today: "2026-12-31",
    });
  try {
    const { assumptions } = await take("march.csv", ...MARCH);
    expect(assumptions.map(({ code }) => code)).toEqual(["names-not-checked"]);
    await take("april.csv", "S-2,C-9,1,2026-03-04,,,0.1");
    await use(book);
  } finally {
    book.close();
  }
}

const carts = (cart: string, ...circuits: string[]): NamedCart[] => [
  { cart, circuits: circuits.map((circuit) => ({ circuit })) } as NamedCart,
];
const SET_ASIDE = [
  ["march.csv", 3, "S-2,C-9,1,2026-03-04,900,90,", "C-9", "1", "cart", "C-9"],
  ["april.csv", 2, "S-2,C-9,1,2026-03-04,,,0.1", "C-9", "1", "cart", "C-9"],
  ["march.csv", 5, "S-4,C-1,2,2026-03-04,900,90,", "C-1", "2", "circuit", "2"],
  ["march.csv", 6, "S-5,C-9,1,2026-03-02,900,90,", "C-9", "1", "cart", "C-9"],
];

test("samples of no circuit are set aside when the carts come, with every report, and wait unless of another base", async () => {
  await withBook((book) => {
    const { setAside } = book.keepCarts("carts.json", JSON.stringify({ ...CARTS, otherCarts: ["D-7"] }));
    const inBrief = ({ file, row, text, cart, circuit, issues }: (typeof setAside)[number]) => [
      ...[file, row, text, cart, circuit, issues[0]?.column, issues[0]?.value],
    ];
    expect(setAside.map(inBrief)).toEqual(SET_ASIDE);
    expect(setAside.map(({ issues }) => issues.map(({ code }) => code))).toEqual(
      SET_ASIDE.map(() => ["circuit-not-known"]),
    );
    expect(book.quarantine().map(inBrief)).toEqual(
      [...SET_ASIDE].sort(([a], [b]) => (a === b ? 0 : a === "march.csv" ? -1 : 1)),
    );
    expect(book.quarantine().map(({ sample }) => sample)).toEqual(["S-2", "S-4", "S-5", "S-2"]);
    expect(book.settledRows().map(({ row, ofOtherBase }) => [row, ofOtherBase])).toEqual([[4, true]]);
    expect([...book.samples({})].map(({ sample }) => sample)).toEqual(["S-1"]);
    expect(book.circuits()).toEqual([{ cart: "C-1", circuit: "1" }]);
    expect(book.keepCarts("carts.json", JSON.stringify(CARTS)).setAside).toEqual([]);
  });
});

test("before that the newest sample of each circuit that is not among the carts may be of one that is", async () => {
  await withBook((book) => {
    const found = book.samplesOfNoCircuit(carts("C-1", "1"));
    expect(found).toEqual([
      { cart: "C-9", circuit: "1", drawnOn: "2026-03-04", sample: "S-2", where: "april.csv row 2" },
      { cart: "D-7", circuit: "1", drawnOn: "2026-03-04", sample: "S-3", where: "march.csv row 4" },
      { cart: "C-1", circuit: "2", drawnOn: "2026-03-04", sample: "S-4", where: "march.csv row 5" },
    ]);
  });
});

test("a circuit that the book knew is of itself alone, unless its names could be taken for those of another", async () => {
  await withBook((book) => {
    book.keepCarts("carts.json", JSON.stringify({ ...CARTS, otherCarts: ["D-7"] }));
    expect(book.samplesOfNoCircuit(carts("X-5", "1"))).toEqual([]);
    expect(book.samplesOfNoCircuit(carts("C-1", "1"))).toEqual([]);
    expect(book.samplesOfNoCircuit(carts("c 1", "1")).map(({ sample }) => sample)).toEqual(["S-1"]);
    expect(book.samplesOfNoCircuit([...carts("X-5", "1"), ...carts("c 1", "7")])).toEqual([]);
  });
});
