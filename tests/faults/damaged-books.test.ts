import { expect, test } from "vitest";
import { faultsOfDamaged, smallBook } from "../support/damaged-books.js";
import { temporaryFolder } from "../support/temporary-folder.js";

/** As many as CI has time for; `DAMAGED_BOOKS=300 npx vitest run --project slow tests/faults/damaged-books.test.ts` takes ten minutes. */
const BOOKS = Number(process.env.DAMAGED_BOOKS ?? 24);

test("books with one flipped bit: no command ends the process, shows a stack or gives another answer", async () => {
  const book = await smallBook(temporaryFolder());
  expect(faultsOfDamaged(book, "2026-11-22", BOOKS, 7)).toEqual([]);
});
