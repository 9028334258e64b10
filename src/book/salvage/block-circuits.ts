import { type Connection, rowsOf } from "../storage/database.js";
import { quarantineInserter } from "../taking-in/quarantine-rows.js";

/**
 * Keeps every circuit from being called fit until the files of the book are imported again: a newer result, or what made a
 * circuit stop, may be among what was lost. Each file gets a row in quarantine that names all carts; importing the file again
 * takes it away.
 *
 * @returns the names of the files
 */
export function blockCircuits(db: Connection): string[] {
  const carts = rowsOf<{ cart: string }>(db, "SELECT cart FROM cart ORDER BY cart").map(({ cart }) => cart);
  const text = `rows of the file may have been lost; carts: ${carts.join("; ")}`;
  const files = rowsOf<{ id: number; name: string }>(
    db,
    "SELECT id, name FROM file WHERE id NOT IN (SELECT file_id FROM standing_withdrawal) ORDER BY id",
  );
  const keep = quarantineInserter(db);
  for (const { id, name } of files) {
    const issue = {
      code: "row-not-split" as const,
      file: name,
      row: 1,
      column: "any",
      value: "rows that were lost",
      expected: "the file to be imported again, because the book was damaged",
    };
    keep(id, { row: 1, text, issues: [issue] });
  }
  return files.map(({ name }) => name);
}
