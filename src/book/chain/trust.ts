import { BookError, type Connection } from "../storage/database.js";
import { faultsOfTable } from "../storage/soundness.js";
import { entriesIn, piecesIn } from "./entry.js";
import { misfitsIn } from "./misfits.js";
import { CHAINED_TABLES } from "./tables.js";

/** What verdicts rest on but for the samples, whose rows are checked one by one as they are read. */
const RESTED_ON: ReadonlySet<string> = new Set([
  "file",
  "cart",
  "circuit",
  "other_cart",
  "requirements",
  "amendment",
  "quarantine",
  "quarantine_decision",
  "override",
  "lifting",
]);

/**
 * Compares what verdicts rest on, but for samples, with the chain.
 *
 * @throws BookError naming the first entry that does not fit
 */
export function checkRestedOn(db: Connection): void {
  const entries = new Map(entriesIn(db, "TRUE").map((entry) => [entry.number, entry]));
  for (const table of CHAINED_TABLES) {
    if (!RESTED_ON.has(table.name)) continue;
    // What a query takes from an index may be damaged where the row is not.
    if (faultsOfTable(db, table.name).length > 0) {
      throw new BookError(`table ${table.name} of the book is damaged; keep it as it is, ${VERIFY}`);
    }
    for (const { message } of misfitsIn(db, table, piecesIn(db, "of_table = ?", table.name), entries)) {
      throw new BookError(`${message}; ${WHAT_TO_DO}`);
    }
  }
}

const VERIFY = 'run "siltbook verify", and go on with the last backup';
/** What a person does with a book that is not as it was written. */
const WHAT_TO_DO = 'run "siltbook verify", keep the book as it is, and go on with the last backup';
