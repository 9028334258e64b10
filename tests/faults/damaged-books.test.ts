import { join } from "node:path";
import { expect, test } from "vitest";
import { demoBook, faultsOfDamaged } from "../support/damaged-books.js";
import { temporaryFolder } from "../support/temporary-folder.js";

/** As many as CI has time for; `DAMAGED_BOOKS=300 npx vitest run --project slow tests/faults/damaged-books.test.ts` takes six minutes. */
const BOOKS = Number(process.env.DAMAGED_BOOKS ?? 60);

test("books with one flipped bit: none ends the process, no other verdict is believed", async () => {
  const book = await demoBook(join(temporaryFolder(), "demo.siltbook"));
  expect(faultsOfDamaged(book, "2026-11-22", BOOKS, 7)).toEqual([]);
});
