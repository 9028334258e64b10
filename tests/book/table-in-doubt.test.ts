// A line that puts a table in doubt holds the circuits of samples that the book had from another file already.
import { expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { bytesInMemory, unreadResults } from "../../src/intake/index.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const HEADER = "sample,cart,circuit,drawn on,water (mg/kg)";
const S1 = "S-1,C-1,1,2026-03-04,120";
const LINE = "All samples failed";

test.each<[string, readonly (readonly string[])[], readonly string[]]>([
  [
    "none where no line doubts them",
    [
      [HEADER, S1],
      [HEADER, S1],
    ],
    [],
  ],
  [
    "a sample that comes again below the line",
    [
      [HEADER, S1],
      [LINE, HEADER, S1],
    ],
    ["C-1 1"],
  ],
  [
    "and above it",
    [
      [HEADER, S1],
      [HEADER, S1, LINE],
    ],
    ["C-1 1"],
  ],
  ["one that is new there", [[LINE, HEADER, S1]], ["C-1 1"]],
  [
    "both of a new and a known one",
    [
      [HEADER, S1],
      [LINE, HEADER, S1, "S-2,C-2,1,2026-03-04,90"],
    ],
    ["C-1 1", "C-2 1"],
  ],
  [
    "no other cart that has a sample of that number",
    [
      [HEADER, S1, "S-1,C-2,1,2026-03-04,90"],
      [LINE, HEADER, S1],
    ],
    ["C-1 1"],
  ],
  [
    "not those of another file",
    [
      [HEADER, S1, "S-3,C-3,1,2026-03-04,90"],
      [LINE, HEADER, S1],
    ],
    ["C-1 1"],
  ],
])("%s", async (name, files, held) => {
  const book = Book.open(`${folder}/${name.replaceAll(" ", "-")}.siltbook`, { create: true });
  try {
    for (const [place, lines] of files.entries())
      await book.takeIn(bytesInMemory(`${place}.csv`, new TextEncoder().encode(lines.join("\n"))), {
        today: "2026-12-31",
      });
    const rows = book.quarantine();
    const found = unreadResults(rows, book.namedSamples(rows));
    expect(found.map(({ cart, circuit }) => `${cart} ${circuit}`).sort()).toEqual(held);
    expect(found.every(({ ofTable }) => ofTable === true)).toBe(true);
  } finally {
    book.close();
  }
});
