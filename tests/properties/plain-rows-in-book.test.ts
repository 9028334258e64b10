import fc from "fast-check";
import { expect, test } from "vitest";
import { Book, type FileReport } from "../../src/book/index.js";
import { bytesInMemory } from "../../src/intake/index.js";

const HEADER = "Sample,Cart,Circuit,Date drawn,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg)";

const row = fc
  .tuple(
    fc.integer({ min: 1, max: 400 }),
    fc.constantFrom("QX-1", "QX-1", "QX-1", "QX-2", "QX-2", "QX-3"),
    fc.oneof(
      { weight: 40, arbitrary: fc.constant("") },
      {
        weight: 1,
        arbitrary: fc.constantFrom("drier", "dirtier", "hundredfold", "later", "broken", "no counts"),
      },
    ),
  )
  .map(([number, cart, change]) => {
    const factor = change === "hundredfold" ? 100 : change === "dirtier" ? 2 : 1;
    const day = change === "later" ? "2026-03-15" : "2026-03-14";
    const count = (base: number) => (change === "no counts" ? "" : String((base + (number % 40)) * factor));
    const water = change === "drier" ? "90" : change === "broken" ? "wet" : "120";
    return `S-${number},${cart},fore,${day},${count(1500)},${count(300)},${count(40)},${water}`;
  });
const file = fc
  .array(row, { minLength: 1, maxLength: 220, size: "max" })
  .map((rows) => `${HEADER}\n${rows.join("\n")}\n`);

/** The text in UTF-16, which is never read in blocks. */
function utf16(text: string): Uint8Array {
  return Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, "utf16le")]);
}

function withoutFile({ sha256: _sha, readAs: _readAs, ...report }: FileReport): object {
  return report;
}

/** Everything a book holds that does not depend on how the characters of a file are written. */
function contentOf(book: Book): object {
  return {
    samples: [...book.samples()],
    amended: book
      .circuits()
      .map(({ cart, circuit }) =>
        book
          .history(cart, circuit)
          .map((entry) => JSON.stringify(entry).replaceAll(/"(at|sha256)":"[^"]*"/g, "")),
      ),
    quarantine: JSON.parse(JSON.stringify(book.quarantine()).replaceAll(/"sha256":"[^"]*"/g, '"sha256":""')),
    checks: book.check(),
  };
}

const CARTS = JSON.stringify({
  carts: ["QX-1", "QX-2"].map((cart) => ({
    cart,
    circuits: [
      {
        circuit: "fore",
        serves: "any",
        fluid: "MIL-PRF-83282",
        volume: "60 L",
        flow: "40 L/min",
        element: { position: "pressure filter", betas: [{ sizeUmC: 4, beta: 40 }] },
      },
    ],
  })),
});

test("a book is the same whether the rows of its files came in blocks or one by one", async () => {
  const seen = { taken: 0, known: 0, amended: 0, quarantined: 0 };
  await fc.assert(
    fc.asyncProperty(
      fc.array(file, { minLength: 1, maxLength: 3 }),
      fc.boolean(),
      async (files, knowsCarts) => {
        const [blocks, rows] = [
          Book.open(":memory:", { create: true }),
          Book.open(":memory:", { create: true }),
        ];
        if (knowsCarts) for (const book of [blocks, rows]) book.keepCarts("carts.json", CARTS);
        for (const [index, text] of files.entries()) {
          const name = `file-${index}.csv`;
          const one = await blocks.takeIn(bytesInMemory(name, Buffer.from(text)), { today: "2026-12-31" });
          const other = await rows.takeIn(bytesInMemory(name, utf16(text)), { today: "2026-12-31" });
          expect(withoutFile(one)).toEqual(withoutFile(other));
          for (const kind of Object.keys(seen) as (keyof typeof seen)[]) seen[kind] += one[kind];
        }
        expect(contentOf(blocks)).toEqual(contentOf(rows));
        blocks.close();
        rows.close();
      },
    ),
    { numRuns: 120 },
  );
  for (const rows of Object.values(seen)) expect(rows).toBeGreaterThan(10);
}, 60_000);
