import { expect, test } from "vitest";
import { faultsOfDamaged, smallBook } from "../../support/damaged-books.js";
import { temporaryFolder } from "../../support/temporary-folder.js";

// More of them are in tests/faults/damaged-books.test.ts.
test("8 books with one flipped bit: no command ends the process, shows a stack or gives another answer", async () => {
  const book = await smallBook(temporaryFolder());
  expect(faultsOfDamaged(book, "2026-11-22", 8, 20261130)).toEqual([]);
});
