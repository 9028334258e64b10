import { join } from "node:path";
import { expect, test } from "vitest";
import { demoBook, faultsOfDamaged } from "../../support/damaged-books.js";
import { temporaryFolder } from "../../support/temporary-folder.js";

// More of them are in tests/faults/damaged-books.test.ts.
test("8 books with one flipped bit: none ends the process, no other verdict is believed", async () => {
  const book = await demoBook(join(temporaryFolder(), "demo.siltbook"));
  expect(faultsOfDamaged(book, "2026-11-22", 8, 20261130)).toEqual([]);
});
