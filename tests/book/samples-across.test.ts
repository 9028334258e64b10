import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { describePlaces } from "../../src/provenance/index.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const LINES = [
  "Report 17,,,",
  "Sample no.,S-1,S-2,S-3",
  "Cart,QB-01,QB-01,QB-02",
  "Circuit,fore,aft,fore",
  "Drawn on,2026-11-03,2026-11-03,2026-11-03",
  "4 µm(c) per mL,900,9OO,700",
  "Water (ppm),90,80,70",
];

function bookOf(lines: readonly string[]) {
  const folder = temporaryFolder();
  const [file, path] = [join(folder, "across.csv"), join(folder, "base.siltbook")];
  writeFileSync(file, `${lines.join("\n")}\n`);
  const report = async (name = file) => {
    const book = Book.open(path, { create: true });
    const { taken, known, amended, quarantined, notSamples, rows } = await book.takeIn(name, {
      today: "2026-11-20",
    });
    book.close();
    return [taken, known, amended, quarantined, notSamples, rows];
  };
  return { folder, file, path, report };
}

describe("a table with its samples across in a book", () => {
  test("its places are its columns and the lines outside of it, and the five numbers add up to them", async () => {
    const { report, path } = bookOf(LINES);
    // The line of the report, column A with the titles, and columns B to D.
    expect(await report()).toEqual([2, 0, 0, 1, 2, 5]);
    expect(await report()).toEqual([0, 2, 0, 1, 2, 5]);
    const book = Book.open(path);
    const [file] = book.files();
    const fates = [...book.rows(file?.sha256 ?? "")].map(({ row, fate, text }) => [
      describePlaces([row]),
      fate,
      text,
    ]);
    expect(fates).toEqual([
      ["row 1", "not a sample", "Report 17,,,"],
      [
        "column A from row 2",
        "not a sample",
        "Sample no.\tCart\tCircuit\tDrawn on\t4 µm(c) per mL\tWater (ppm)",
      ],
      ["column B from row 2", "taken", "S-1\tQB-01\tfore\t2026-11-03\t900\t90"],
      ["column C from row 2", "quarantined", "S-2\tQB-01\taft\t2026-11-03\t9OO\t80"],
      ["column D from row 2", "taken", "S-3\tQB-02\tfore\t2026-11-03\t700\t70"],
    ]);
    book.close();
  });

  test("a column comes back from the quarantine as a row, and settles its place", async () => {
    const { file, path, folder, report } = bookOf(LINES);
    const quarantine = join(folder, "quarantine");
    const first = await run("import", "--book", path, "--quarantine", quarantine, file);
    expect(first.out.replace(/\s+/g, " ")).toContain(
      'across.csv column C from row 2, row "4 µm(c) per mL": expected a number (a unit or a known note may follow), found "9OO"',
    );
    const back = join(quarantine, "across.csv.quarantine.csv");
    writeFileSync(back, readFileSync(back, "utf8").replace(",9OO,", ",800,"));
    const again = await run(
      "import",
      "--book",
      path,
      "--map",
      join(quarantine, "across.csv.quarantine.map.json"),
      back,
    );
    expect(again.code).toBe(0);
    const book = Book.open(path);
    expect([...book.quarantine()]).toEqual([]);
    expect(
      [...book.samples({ cart: "QB-01", circuit: "aft" })].map(({ sample, counts }) => [
        sample,
        counts?.counts[0]?.count,
      ]),
    ).toEqual([["S-2", 800]]);
    book.close();
    // The place is settled, also where the first file is read again.
    expect(await report()).toEqual([0, 3, 0, 0, 2, 5]);
  });

  test("the corrected file of the laboratory settles the column", async () => {
    const { file, path, report } = bookOf(LINES);
    await report();
    writeFileSync(file, `${LINES.join("\n").replace("9OO", "800")}\n`);
    expect(await report()).toEqual([1, 2, 0, 0, 2, 5]);
    const book = Book.open(path);
    expect([...book.quarantine()]).toEqual([]);
    book.close();
  });

  test("history and decisions name the column", async () => {
    const { path, file } = bookOf(LINES);
    await run("import", "--book", path, file);
    const history = await run("history", "--book", path, "--cart", "QB-02", "--circuit", "fore");
    expect(history.out).toMatch(/│ across\.csv +│\n.*│ column D +│\n.*│ from row 2 +│/);
    const waiting = await run("quarantine", "--book", path);
    const [, id = ""] = /^ {2}(\w{10}) {2}across\.csv column C from row 2:/m.exec(waiting.out) ?? [];
    const settled = await run(
      ...["quarantine", "--book", path, "--discard", id, "--by", "A. Person", "--reason", "broken bottle"],
    );
    expect(settled.out).toContain(`Kept for ${id}, across.csv column C from row 2.`);
    const book = Book.open(path);
    expect(book.lastChange().subject).toBe("discarded: across.csv column C from row 2");
    book.close();
  });
});
