import fc from "fast-check";
import { expect, test } from "vitest";
import { Book, type FileReport } from "../../src/book/index.js";
import { bytesInMemory } from "../../src/intake/index.js";

const HEADER = "Sample,Cart,Circuit,Date drawn,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg)";
/** Behind the header: columns that the book keeps elsewhere, or not in a column of its own. */
const MORE =
  ",Fluid,Time drawn,Date received,ISO 4406,Acid number (mg KOH/g),Sample temperature (°C),Fe (ppm),Cu (ppm),Appearance";

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
const more = fc.record({
  fluid: fc.constantFrom("MIL-PRF-83282", "MIL-PRF-83282", "MIL-PRF-5606", ""),
  time: fc.constantFrom("", "", "07:30"),
  received: fc.constantFrom("", "2026-03-16"),
  iso: fc.constantFrom("", "", "18/16/13"),
  acid: fc.constantFrom("0.3", "<0.1", ""),
  temperature: fc.constantFrom("", "41"),
  iron: fc.constantFrom("", "", "3"),
  copper: fc.constantFrom("", "<1", "2"),
  appearance: fc.constantFrom("", "clear", "cloudy; sediment", "fine"),
});
const file = fc
  .tuple(
    fc.array(fc.tuple(row, more), { minLength: 1, maxLength: 220, size: "max" }),
    // Which of the further columns hold anything: whole columns of a file are often blank.
    fc.record({
      fluid: fc.boolean(),
      time: fc.boolean(),
      received: fc.boolean(),
      iso: fc.boolean(),
      metals: fc.boolean(),
    }),
  )
  .map(([rows, has]) => {
    const lines = rows.map(
      ([plain, { fluid, time, received, iso, acid, temperature, iron, copper, appearance }]) =>
        [
          plain,
          has.fluid ? fluid : "MIL-PRF-83282",
          has.time ? time : "",
          has.received ? received : "",
          has.iso ? iso : "",
          acid,
          temperature,
          has.metals ? iron : "",
          has.metals ? copper : "",
          has.iso ? appearance : "",
        ].join(","),
    );
    return `${HEADER}${MORE}\n${lines.join("\n")}\n`;
  });

/** The text in UTF-16, which is never read in blocks. */
function utf16(text: string): Uint8Array {
  return Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, "utf16le")]);
}

/** A report without what tells one way of writing the file from another. */
function withoutFile({
  sha256: _sha,
  readAs: _readAs,
  assumptions: _assumptions,
  ...report
}: FileReport): object {
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

/** Takes files into a book in blocks, and into another one row by row; both have to tell the same. */
async function takeBothWays(files: readonly string[], knowsCarts: boolean): Promise<FileReport[]> {
  const [blocks, rows] = [Book.open(":memory:", { create: true }), Book.open(":memory:", { create: true })];
  if (knowsCarts) for (const book of [blocks, rows]) book.keepCarts("carts.json", CARTS);
  const reports: FileReport[] = [];
  for (const [index, text] of files.entries()) {
    const name = `file-${index}.csv`;
    const one = await blocks.takeIn(bytesInMemory(name, Buffer.from(text)), { today: "2026-12-31" });
    const other = await rows.takeIn(bytesInMemory(name, utf16(text)), { today: "2026-12-31" });
    expect(withoutFile(one)).toEqual(withoutFile(other));
    // A block says what any of its rows rests on, also one that turns out to contradict another.
    const said = one.assumptions.map(({ message }) => message);
    expect(said).toEqual(expect.arrayContaining(other.assumptions.map(({ message }) => message)));
    reports.push(one);
  }
  expect(contentOf(blocks)).toEqual(contentOf(rows));
  blocks.close();
  rows.close();
  return reports;
}

test("a book is the same whether the rows of its files came in blocks or one by one", async () => {
  const seen = { taken: 0, known: 0, amended: 0, quarantined: 0 };
  await fc.assert(
    fc.asyncProperty(
      fc.array(file, { minLength: 1, maxLength: 3 }),
      fc.boolean(),
      async (files, knowsCarts) => {
        for (const report of await takeBothWays(files, knowsCarts))
          for (const kind of Object.keys(seen) as (keyof typeof seen)[]) seen[kind] += report[kind];
      },
    ),
    { numRuns: 120 },
  );
  for (const rows of Object.values(seen)) expect(rows).toBeGreaterThan(10);
}, 60_000);

test("in a file of several blocks, samples that the book has already are found among new ones", async () => {
  const lines = Array.from({ length: 9_100 }, (_, index) => {
    const counts = [1500, 300, 40].map((base) => base + (index % 40));
    return `S-${index},QX-${1 + (index % 2)},fore,2026-03-14,${counts.join(",")},120`;
  });
  const fileOf = (rows: readonly string[]) => `${HEADER}\n${rows.join("\n")}\n`;
  // The book has the first rows, one in the second block, and one in the third with other results.
  const before = [...lines.slice(0, 100), lines[6000] as string, `${lines[9000]}5`];
  const [, all] = await takeBothWays([fileOf(before), fileOf(lines)], true);
  expect(all).toMatchObject({ taken: 8_998, known: 101, amended: 1, quarantined: 0 });
  // A file that contradicts itself in its third block.
  const [torn] = await takeBothWays([fileOf([...lines, `${lines[9000]}5`])], false);
  expect(torn).toMatchObject({ taken: 9_099, quarantined: 2 });
}, 60_000);
