import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { Book, type FileReport } from "../../src/book/index.js";
import {
  bytesInMemory,
  describeIssue,
  type Fate,
  IntakeError,
  type OpenedLabFile,
  openLabFile,
} from "../../src/intake/index.js";
import { type LabFileVariant, plainSamples, twelveFiles } from "../support/forty-samples.js";
import { runs } from "../support/runs.js";

const files = (await twelveFiles(plainSamples(6))).filter(({ file }) => !file.endsWith(".xlsx"));
const workbooks = (await twelveFiles(plainSamples(3))).filter(({ file }) => file.endsWith(".xlsx"));

/** One way in which a file gets damaged on its way. */
type Damage =
  | { readonly kind: "cut"; readonly at: number }
  | { readonly kind: "byte"; readonly at: number; readonly byte: number }
  | { readonly kind: "drop"; readonly at: number; readonly length: number }
  | { readonly kind: "repeat"; readonly at: number; readonly length: number }
  | { readonly kind: "insert"; readonly at: number; readonly text: string };

/** Anywhere with the same chance: a generator's liking for small numbers would damage nothing but headers. */
const place = fc.noBias(fc.nat(999_999)).map((millionths) => millionths / 1_000_000);
const damage: fc.Arbitrary<Damage> = fc.oneof(
  fc.record({ kind: fc.constant("cut" as const), at: place }),
  fc.record({ kind: fc.constant("byte" as const), at: place, byte: fc.nat(255) }),
  fc.record({ kind: fc.constant("drop" as const), at: place, length: fc.integer({ min: 1, max: 60 }) }),
  fc.record({ kind: fc.constant("repeat" as const), at: place, length: fc.integer({ min: 1, max: 200 }) }),
  fc.record({
    kind: fc.constant("insert" as const),
    at: place,
    text: fc.oneof(
      fc.string({ maxLength: 8 }),
      fc.constantFrom(
        '"',
        "\n",
        "\r",
        "\r\n",
        ";",
        ",",
        "\t",
        "|",
        "\0",
        "\ufeff",
        "1,500",
        "-1",
        "NaN",
        "1e999",
        "{",
        "[",
        "\n\n",
      ),
    ),
  }),
);

function damaged(bytes: Uint8Array, damages: readonly Damage[]): Uint8Array {
  return damages.reduce((before, entry) => {
    const at = Math.floor(entry.at * before.length);
    const [head, tail] = [before.subarray(0, at), before.subarray(at)];
    switch (entry.kind) {
      case "cut":
        return head;
      case "byte":
        return Buffer.concat([head, Buffer.from([entry.byte]), tail.subarray(1)]);
      case "drop":
        return Buffer.concat([head, tail.subarray(entry.length)]);
      case "repeat":
        return Buffer.concat([head, tail.subarray(0, entry.length), tail]);
      default:
        return Buffer.concat([head, Buffer.from(entry.text), tail]);
    }
  }, bytes);
}

/** The rows that became something, each named by sheet and number. */
function rowsOf(fate: Fate): string[] {
  if (fate.kind !== "sample") return [`${fate.row.sheet ?? ""}:${fate.row.row}`];
  return fate.fate.sample.origin.flatMap(({ sheet = "", rows }) => rows.map((row) => `${sheet}:${row}`));
}

/** Every row that the readers deliver, whatever it means. */
function allRows({ tables }: OpenedLabFile): string[] {
  return tables.flatMap(({ source }) => [...source.rows()].map(({ row }) => `${source.sheet ?? ""}:${row}`));
}

const seen = { refused: 0, taken: 0, quarantined: 0, notSamples: 0 };

async function readDamaged(
  { file, bytes: sound }: LabFileVariant,
  damages: readonly Damage[],
): Promise<void> {
  const bytes = damaged(sound, damages);
  let opened: OpenedLabFile;
  try {
    opened = await openLabFile(bytesInMemory(file, bytes), { today: "2026-12-31" });
  } catch (error) {
    if (!(error instanceof IntakeError)) throw error;
    expect(error.message).toContain(file);
    seen.refused += 1;
    return;
  }
  const fates = [...opened.fates()];
  const inTables = fates.filter(
    (fate) => fate.kind !== "not-a-sample" || fate.row.why !== "sheet without samples",
  );
  expect(inTables.flatMap(rowsOf).sort()).toEqual(allRows(opened).sort());
  for (const fate of fates) {
    if (fate.kind === "sample") seen.taken += 1;
    else if (fate.kind === "not-a-sample") seen.notSamples += 1;
    else {
      seen.quarantined += 1;
      expect(fate.row.issues.length).toBeGreaterThan(0);
      for (const issue of fate.row.issues) expect(describeIssue(issue)).toContain(`row ${fate.row.row}`);
    }
  }
}

describe("over randomly damaged files nothing throws but the documented errors, and the accounting adds up", () => {
  test("damaged text and JSON files: every row is exactly one of sample, quarantined and no sample", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.nat(files.length - 1),
        fc.array(damage, { minLength: 1, maxLength: 4 }),
        async (index, damages) => readDamaged(files[index] as LabFileVariant, damages),
      ),
      { numRuns: runs(800), seed: 4 },
    );
    // The damage must leave something to account for, or the property says nothing.
    expect(seen.taken).toBeGreaterThan(1500);
    expect(seen.quarantined).toBeGreaterThan(1500);
    expect(seen.notSamples).toBeGreaterThan(800);
    expect(seen.refused).toBeGreaterThan(80);
  });

  test("damaged workbooks: a broken archive is refused by name, anything else is accounted for", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.nat(workbooks.length - 1),
        fc.array(damage, { minLength: 1, maxLength: 2 }),
        async (index, damages) => readDamaged(workbooks[index] as LabFileVariant, damages),
      ),
      { numRuns: runs(200), seed: 4 },
    );
  });

  describe("through the book", () => {
    let book: Book;
    beforeAll(() => {
      book = Book.open(":memory:", { create: true });
    });
    afterAll(() => book.close());

    test("damaged files: rows = taken + known + amended + quarantined + not samples", async () => {
      const kinds = { taken: 0, known: 0, amended: 0, quarantined: 0, notSamples: 0 };
      await fc.assert(
        fc.asyncProperty(
          fc.nat(files.length - 1),
          fc.array(damage, { minLength: 1, maxLength: 3 }),
          async (index, damages) => {
            const { file, bytes } = files[index] as LabFileVariant;
            const source = bytesInMemory(file, damaged(bytes, damages));
            let report: FileReport;
            try {
              report = await book.takeIn(source, { today: "2026-12-31" });
            } catch (error) {
              if (!(error instanceof IntakeError)) throw error;
              return;
            }
            const opened = await openLabFile(source);
            const { taken, known, amended, quarantined, notSamples } = report;
            expect(taken + known + amended + quarantined + notSamples).toBe(report.rows);
            expect(report.rows).toBe([...opened.fates()].flatMap(rowsOf).length);
            for (const kind of Object.keys(kinds) as (keyof typeof kinds)[]) kinds[kind] += report[kind];
          },
        ),
        { numRuns: runs(250), seed: 4 },
      );
      expect(book.check()).toEqual([]);
      for (const rows of Object.values(kinds)) expect(rows).toBeGreaterThan(20);
    });
  });
});
