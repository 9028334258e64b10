// Books of three bases, brought together in any order, give the same samples, the same waiting rows and the same verdicts; and
// no circuit is fit there that is not fit in the book of its own base.
import { mkdtempSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { circuitNamed, HEADER, requirementsWith } from "../support/book/main-system.js";
import { runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();
// Not alike: what bears a name like that of a cart holds it, until the name is that of a cart of another base.
const CARTS = ["NORTH-11", "SOUTH-27", "WEST-39"];
const RUNS = Number(process.env.BOOK_RUNS ?? 2);

/** Own files of each base, and one file of the laboratory that some bases have read: it has rows of all carts. */
const worlds = fc.record({
  rows: fc.array(
    fc.record({
      cart: fc.integer({ min: 0, max: 2 }),
      file: fc.constantFrom("own", "common"),
      day: fc.integer({ min: 1, max: 11 }),
      count: fc.constantFrom<number | string>(900, 900, 1000, 20_000, "many"),
      name: fc.constantFrom("right", "right", "right", "unknown", "none"),
    }),
    { minLength: 3, maxLength: 14 },
  ),
  readers: fc.subarray([0, 1, 2], { minLength: 1 }),
  listsOthers: fc.boolean(),
  held: fc.option(fc.integer({ min: 0, max: 2 }), { nil: undefined }),
  discards: fc.option(fc.integer({ min: 0, max: 2 }), { nil: undefined }),
  orders: fc.tuple(
    fc.shuffledSubarray([0, 1, 2], { minLength: 3 }),
    fc.shuffledSubarray([0, 1, 2], { minLength: 3 }),
  ),
});

type World = typeof worlds extends fc.Arbitrary<infer T> ? T : never;

function using<T>(path: string, act: (book: Book) => T): T {
  const book = Book.open(path, { create: true });
  try {
    return act(book);
  } finally {
    book.close();
  }
}

const textOf = (world: World, isIn: (row: World["rows"][number]) => boolean) =>
  [
    HEADER,
    ...world.rows.flatMap((row, place) => {
      const cart = { right: CARTS[row.cart], unknown: "Q-9", none: "" }[row.name];
      const day = String(row.day).padStart(2, "0");
      return isIn(row)
        ? [`${place},${cart},fore,2026-03-${day},MIL-PRF-83282,${row.count},300,30,100,0.1`]
        : [];
    }),
  ].join("\n");

async function baseOf(folder: string, world: World, base: number): Promise<string> {
  const path = join(folder, `${base}.siltbook`);
  const book = Book.open(path, { create: true });
  const cart = { cart: CARTS[base], circuits: [circuitNamed("fore")] };
  const others = world.listsOthers ? { otherCarts: CARTS.filter((name) => name !== CARTS[base]) } : {};
  book.keepRequirements("r.json", JSON.stringify(requirementsWith()));
  book.keepCarts("c.json", JSON.stringify({ carts: [cart], ...others }), { today: "2026-03-01" });
  const files = [["own", textOf(world, (row) => row.file === "own" && row.cart === base)]];
  if (world.readers.includes(base)) files.push(["common", textOf(world, (row) => row.file === "common")]);
  for (const [name, text] of files as [string, string][]) {
    const file = join(folder, `${name}-${base}.csv`);
    writeFileSync(file, text);
    await book.takeIn(file, { today: "2026-03-12" });
  }
  const decided = { person: "A. Person", reason: "a reason" };
  if (world.held === base)
    book.overrideUnjudged(CARTS[base] as string, "fore", { ...decided, decision: "do-not-connect" });
  const rows = world.discards === base ? book.quarantine().map(({ id }) => id) : [];
  book.decideRows(rows, { ...decided, decision: "discarded" });
  book.close();
  return path;
}

async function verdictsOf(path: string): Promise<Record<string, string>> {
  const { json } = await runJson("fleet", "--book", path, "--on", "2026-03-12");
  return Object.fromEntries(
    json.circuits.map((one: Record<string, string>) => [
      one.cart,
      `${one.verdict}${one.held ? ", held" : ""}`,
    ]),
  );
}

async function officeOf(folder: string, name: string, books: readonly string[], order: readonly number[]) {
  const path = join(folder, `${name}.siltbook`);
  const rest = using(path, (book) => {
    book.keepRequirements("r.json", JSON.stringify(requirementsWith()));
    for (const place of order) book.bringIn(books[place] as string, { today: "2026-03-12" });
    return {
      samples: [...book.samples()].map(({ sample, cart, counts }) => [cart, sample, counts?.counts]),
      waiting: book
        .quarantine()
        .map(({ sha256, row }) => `${sha256} ${row}`)
        .sort(),
      fits: book.verify().fits,
    };
  });
  return { ...rest, verdicts: await verdictsOf(path) };
}

test("in any order the same, and nothing is fit that is not fit at its base", async () => {
  await fc.assert(
    fc.asyncProperty(worlds, async (world) => {
      const folder = mkdtempSync(join(root, "w-"));
      const books = [
        await baseOf(folder, world, 0),
        await baseOf(folder, world, 1),
        await baseOf(folder, world, 2),
      ];
      const one = await officeOf(folder, "one", books, world.orders[0]);
      const other = await officeOf(folder, "other", books, world.orders[1]);
      expect(one.fits).toBe(true);
      expect(one).toEqual(other);
      for (const [place, book] of books.entries()) {
        const cart = CARTS[place] as string;
        if (one.verdicts[cart] === "fit") expect((await verdictsOf(book))[cart]).toBe("fit");
      }
    }),
    { numRuns: RUNS },
  );
});
