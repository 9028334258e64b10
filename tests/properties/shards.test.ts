// A fleet that is judged in shards and merged is the fleet that is judged at once: to the last byte of every form of the
// answer, with the same verdicts in the book.
import { copyFileSync, mkdtempSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { circuitNamed, HEADER, requirementsWith } from "../support/book/main-system.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();

/** Names that begin alike, that are no ASCII, and one with a separator of lines. */
const NAMES = ["C-1", "C-12", "C-2", "Cart 3", "Ü-4", "QB\u20287", "7", "C-11", "TX-1/2", "\u{1F6E9}8"];

const results = fc.record({
  cart: fc.integer({ min: 0, max: NAMES.length - 1 }),
  circuit: fc.constantFrom("fore", "aft"),
  day: fc.integer({ min: 1, max: 28 }),
  /** As the laboratory wrote it: of a cart, of one that is like several, of none, or a result that is no number. */
  wrong: fc.constantFrom("", "", "", "c 1", "C-99", "none", "damp"),
  count: fc.constantFrom(900, 1300, 2500, 20_000),
  water: fc.integer({ min: 80, max: 300 }),
});

const fleets = fc.record({
  carts: fc.uniqueArray(fc.integer({ min: 0, max: NAMES.length - 1 }), {
    minLength: 1,
    maxLength: NAMES.length,
  }),
  results: fc.array(results, { minLength: 1, maxLength: 25 }),
  worn: fc.boolean(),
  held: fc.boolean(),
  early: fc.boolean(),
  /** Whether the same day was judged before. */
  again: fc.boolean(),
  of: fc.integer({ min: 1, max: 4 }),
  form: fc.constantFrom("--json", "--explain", undefined),
});

type Fleet = typeof fleets extends fc.Arbitrary<infer T> ? T : never;

const rowOf = ({ cart, circuit, day, wrong, count, water }: Fleet["results"][number], place: number) => {
  const name = wrong === "none" ? "" : ["", "damp"].includes(wrong) ? NAMES[cart] : wrong;
  const drawn = `2026-02-${String(day).padStart(2, "0")}`;
  return `S-${place},${name},${circuit},${drawn},MIL-PRF-83282,${count},320,40,${wrong === "damp" ? "damp" : water},0.1`;
};

/** Makes a book with some history, and says what makes shards and what judges at once. */
async function bookOf(fleet: Fleet): Promise<string> {
  const own = mkdtempSync(join(folder, "fleet-"));
  const at = (name: string) => join(own, name);
  const carts = fleet.carts.map((index) => ({
    cart: NAMES[index],
    circuits: ["fore", "aft"].map((circuit) =>
      circuitNamed(circuit, fleet.worn ? { state: { on: "2026-02-20", elementUsed: 0.9 } } : {}),
    ),
  }));
  writeFileSync(at("carts.json"), JSON.stringify({ carts }));
  writeFileSync(at("requirement.json"), JSON.stringify(requirementsWith()));
  const rows = fleet.results.map(rowOf);
  const half = Math.ceil(rows.length / 2);
  writeFileSync(at("first.csv"), [HEADER, ...rows.slice(0, half)].join("\n"));
  writeFileSync(at("second.csv"), [HEADER, ...rows.slice(half)].join("\n"));
  const book = ["--book", at("a.siltbook")];
  const files = ["--carts", at("carts.json"), "--requirement", at("requirement.json")];
  expect((await run("import", ...book, ...files, at("first.csv"))).err).toBe("");
  if (fleet.early) await run("fleet", ...book, "--on", "2026-02-20");
  await run("import", ...book, at("second.csv"));
  if (fleet.again) await run("fleet", ...book, "--on", "2026-02-28");
  if (fleet.held) {
    const [first] = fleet.carts;
    await run(
      ...["override", ...book, "--cart", NAMES[first as number] as string, "--circuit", "fore"],
      ...["--person", "A. Person", "--decision", "do-not-connect", "--reason", "bottle was found open"],
    );
  }
  return own;
}

/** The verdicts of a book, however they came in: which circuit, on which inputs, with which answer. */
function verdictsOf(path: string): string[] {
  const book = Book.open(path);
  try {
    return book
      .verdicts()
      .map(({ cart, circuit, on, inputs, resultSha256 }) =>
        JSON.stringify([cart, circuit, on, inputs, resultSha256]),
      )
      .sort();
  } finally {
    book.close();
  }
}

test("shards that are merged say what the whole fleet says, byte for byte, and keep the same verdicts", async () => {
  const exits = new Set<number>();
  await fc.assert(
    fc.asyncProperty(fleets, async (fleet) => {
      const own = await bookOf(fleet);
      const [whole, parted] = [join(own, "whole.siltbook"), join(own, "parted.siltbook")];
      copyFileSync(join(own, "a.siltbook"), whole);
      copyFileSync(join(own, "a.siltbook"), parted);
      const on = ["--on", "2026-02-28"];
      const shards: string[] = [];
      for (let number = 1; number <= fleet.of; number += 1) {
        const out = join(own, `${number}.jsonl`);
        const shard = ["--shard", `${number}/${fleet.of}`, "--out", out];
        expect(await run("fleet", "--book", parted, ...on, ...shard)).toMatchObject({ code: 0, err: "" });
        shards.unshift(out);
      }
      const form = fleet.form === undefined ? [] : [fleet.form];
      const expected = await run("fleet", "--book", whole, ...on, ...form);
      expect(await run("merge", "--book", parted, ...shards, ...form)).toEqual(expected);
      exits.add(expected.code);
      expect(verdictsOf(parted)).toEqual(verdictsOf(whole));
    }),
    { numRuns: 12, seed: 23, endOnFailure: true },
  );
  // A fleet without a cart to judge would agree with anything.
  expect([...exits]).toContain(1);
});
