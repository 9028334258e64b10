import { type Connection, rowsOf } from "../storage/database.js";
import { checkOfRow, type SampleRow, SELECT_SAMPLES } from "../storage/sample-row.js";
import { beginChain } from "./entry.js";

const ROWS_TOGETHER = 1000;

/** Begins the chain of a book that has none, within the transaction that brings its tables up to date. */
export function beginChainOfBook(db: Connection): void {
  const set = db.prepare("UPDATE sample SET row_check = ? WHERE id = ?");
  const some = () =>
    rowsOf<SampleRow>(db, `${SELECT_SAMPLES} WHERE row_check IS NULL LIMIT ${ROWS_TOGETHER}`);
  for (let rows = some(); rows.length > 0; rows = some()) {
    for (const row of rows) set.run(checkOfRow(row), row.id);
  }
  beginChain(db);
}
