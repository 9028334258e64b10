import { BookError, type Connection, readerOf } from "../storage/database.js";
import { faultsOfTable } from "../storage/soundness.js";
import { type ChainEntry, entriesIn, piecesIn } from "./entry.js";
import { hashOfRows, misfitsIn } from "./misfits.js";
import { DIGITS_FOR_A_ROW, lineOfKey, startOfHash } from "./rows.js";
import { CHAINED_TABLES, type ChainedTable, chainedTable } from "./tables.js";
import { WrittenRows } from "./written.js";

/** What is compared with the chain only where it is read: samples by the sum in each row, the others by the functions below. */
const CHECKED_WHERE_READ: ReadonlySet<string> = new Set(["sample", "row_text", "other_row", "verdict"]);

/**
 * Compares what a book rests on with the chain, but for what is compared where it is read.
 *
 * @throws BookError naming the first entry that does not fit
 */
export function checkRestedOn(db: Connection): void {
  const entries = entriesByNumber(db);
  for (const table of CHAINED_TABLES) {
    if (!CHECKED_WHERE_READ.has(table.name)) checkTable(db, table, entries);
  }
}

/**
 * Compares the texts of the rows of a file, and which of them are no samples, with the chain.
 *
 * @throws BookError naming the first entry that does not fit
 */
export function checkRowsOfFile(db: Connection, fileId: number): void {
  checkTable(db, chainedTable("other_row"), entriesByNumber(db));
  const texts = new WrittenRows(db, chainedTable("row_text"));
  const condition = "of_table = 'row_text' AND first <= ? AND last >= ?";
  for (const piece of piecesIn(db, condition, fileId, fileId)) {
    if (hashOfRows(texts, piece).sha256 === piece.sha256) continue;
    throw new BookError(
      `the texts of the rows of a file are not as entry ${piece.entry} wrote them; ${WHAT_TO_DO}`,
    );
  }
}

/** Compares a verdict with the chain, by the start of the hash that its entry keeps of it. */
export function verdictChecker(db: Connection): (id: number) => void {
  // From the newest entry back: a book has one for some dozens of verdicts, and nearly always a late verdict is compared.
  const select = readerOf<{ start: string }>(
    db,
    `SELECT substr(each, (? - first) * ${DIGITS_FOR_A_ROW} + 1, ${DIGITS_FOR_A_ROW}) AS start
     FROM piece WHERE of_table = 'verdict' AND first <= ? AND last >= ? ORDER BY entry DESC LIMIT 1`,
  );
  const table = chainedTable("verdict");
  return (id) => {
    const line = lineOfKey(db, table, id);
    if (line !== undefined && select.first(id, id, id)?.start === startOfHash(line)) return;
    throw new BookError(`verdict ${id} is not as it was written; ${WHAT_TO_DO}`);
  };
}

/**
 * Finds the entry that wrote a verdict. All that the entry wrote has to be as it wrote it, by the whole hash; undefined where
 * it is not, or no entry wrote the verdict.
 */
export function verdictEntries(db: Connection): (id: number) => ChainEntry | undefined {
  const select = readerOf<{ entry: number }>(
    db,
    "SELECT entry FROM piece WHERE of_table = 'verdict' AND first <= ? AND last >= ? ORDER BY entry DESC LIMIT 1",
  );
  const rows = new WrittenRows(db, chainedTable("verdict"));
  const known = new Map<number, ChainEntry | undefined>();
  const entryOf = (number: number): ChainEntry | undefined => {
    const [piece] = piecesIn(db, "of_table = 'verdict' AND entry = ?", number);
    if (piece === undefined || hashOfRows(rows, piece).sha256 !== piece.sha256) return undefined;
    return entriesIn(db, `number = ${number}`)[0];
  };
  return (id) => {
    const number = select.first(id, id)?.entry;
    if (number === undefined) return undefined;
    if (!known.has(number)) known.set(number, entryOf(number));
    return known.get(number);
  };
}

function checkTable(db: Connection, table: ChainedTable, entries: ReadonlyMap<number, ChainEntry>): void {
  // What a query takes from an index may be damaged where the row is not.
  if (faultsOfTable(db, table.name).length > 0) {
    throw new BookError(`table ${table.name} of the book is damaged; ${WHAT_TO_DO}`);
  }
  for (const { message } of misfitsIn(db, table, piecesIn(db, "of_table = ?", table.name), entries)) {
    throw new BookError(`${message}; ${WHAT_TO_DO}`);
  }
}

function entriesByNumber(db: Connection): Map<number, ChainEntry> {
  return new Map(entriesIn(db, "TRUE").map((entry) => [entry.number, entry]));
}

/** What a person does with a book that is not as it was written. */
const WHAT_TO_DO = 'run "siltbook verify", keep the book as it is, and go on with the last backup';
