import { existsSync, rmSync } from "node:fs";
import { basename } from "node:path";
import { beginChainOfBook } from "../chain/begin.js";
import { beginChain } from "../chain/entry.js";
import { CHAINED_TABLES } from "../chain/tables.js";
import { verifyBook } from "../chain/verify.js";
import { describeTable } from "../chain/words.js";
import {
  attempt,
  BookError,
  type Connection,
  connect,
  connectToDamaged,
  disconnect,
  inTransaction,
  numberOf,
  rowsOf,
  type Sql,
  tryReadRows,
} from "../storage/database.js";
import { blockCircuits } from "./block-circuits.js";
import { type CopiedTable, readableRows } from "./readable-rows.js";
import { soundRowsOf } from "./sound-rows.js";

/** What of a damaged book could not be brought into the new one. */
export interface LostRows {
  /** What its rows are, in words. */
  readonly what: string;
  /** How many were found, at least: of a part of the file that cannot be read nobody knows how many it held. */
  readonly rows: number;
}

/** What was brought from a damaged book into a new one. */
export interface Salvaged {
  /** How many rows are in the new book. */
  readonly rows: number;
  /** Nothing where the new book holds all. */
  readonly lost: readonly LostRows[];
  /** Whether the chain of the damaged book goes on in the new one, so that the heads of printed pages are in it. */
  readonly chainGoesOn: boolean;
  /** Files to import again; no circuit is called fit until then. */
  readonly importAgain: readonly string[];
}

/** The chain comes last, since it only fits when all the rest is there; a verdict after the inputs that it names. */
const TABLES: readonly string[] = [
  ...CHAINED_TABLES.flatMap(({ name }) => (name === "verdict" ? ["judged_input", name] : [name])),
  "entry",
  "piece",
  "replaced",
];
const NUMBERS: Readonly<Record<string, string | undefined>> = {
  ...Object.fromEntries(TABLES.map((table) => [table, "id"])),
  lifting: "override_id",
  other_row: "rowid",
  entry: "number",
  other_cart: undefined,
  row_text: undefined,
  judged_input: undefined,
  piece: undefined,
  replaced: undefined,
};

/** No verdict becomes milder when rows of these are lost. */
const HARMLESS: ReadonlySet<string> = new Set([
  "column_map",
  "reading",
  "other_row",
  "row_text",
  "judged_input",
  "verdict",
  "brought_entry",
  "entry",
  "piece",
  "replaced",
]);

/**
 * Brings what can be read of a damaged book, and is as it was written, into a new book.
 *
 * @param path - the damaged book; it is left as it is
 * @param to - the new book
 * @throws BookError when the new book is there already, or nothing can be read
 */
export function salvageBook(path: string, to: string): Salvaged {
  if (existsSync(to)) throw new BookError(`${to}: exists already; salvaging overwrites nothing`);
  const damaged = connectToDamaged(path);
  try {
    if (columnsOf(damaged, "sample").length === 0) {
      throw new BookError(`${path}: is not a sample book, or nothing of it can be read`);
    }
    const db = connect(to, { create: true }, beginChainOfBook);
    let isDone = false;
    try {
      const salvaged = attempt(to, () => inTransaction(db, () => bringOver(damaged, db, path)));
      isDone = true;
      return salvaged;
    } finally {
      disconnect(db);
      if (!isDone) rmSync(to, { force: true });
    }
  } finally {
    damaged.close();
  }
}

function columnsOf(db: Connection, table: string): string[] {
  const { rows } = tryReadRows<{ name: string }>(db, `SELECT name FROM pragma_table_info('${table}')`);
  return rows.map(({ name }) => name);
}

function bringOver(damaged: Connection, db: Connection, path: string): Salvaged {
  db.exec("DELETE FROM piece; DELETE FROM entry");
  const isSound = soundRowsOf(damaged);
  const lost = new Map<string, number>();
  let all = 0;
  for (const name of TABLES) {
    const before = columnsOf(damaged, name);
    const columns = columnsOf(db, name).filter((column) => before.includes(column));
    if (columns.length === 0) continue;
    const table = { name, columns, number: NUMBERS[name] };
    const { rows, unreadable } = readableRows(damaged, table);
    const sound = rows.filter((row) => isSound(name, row));
    const kept = sound.filter(inserter(db, table)).length;
    all += kept;
    if (unreadable + rows.length > kept) lost.set(name, unreadable + rows.length - kept);
  }
  return { rows: all, ...settle(db, lost, path) };
}

/** Inserts a row, unless it points to one that is lost. */
function inserter(db: Connection, { name, columns, number }: CopiedTable) {
  const isNamed = number === undefined || columns.includes(number);
  const all = isNamed ? columns : [...columns, number];
  const insert = db.prepare(
    `INSERT INTO "${name}" (${all.map((column) => `"${column}"`).join(", ")}) VALUES (${all.map(() => "?").join(", ")})`,
  );
  return (row: Readonly<Record<string, Sql>>): boolean => {
    try {
      insert.run(
        ...columns.map((column) => row[column] ?? null),
        ...(isNamed ? [] : [row.row_number ?? null]),
      );
      return true;
    } catch (error) {
      if (!(error as { code?: string }).code?.startsWith("SQLITE_CONSTRAINT")) throw error;
      return false;
    }
  };
}

function settle(db: Connection, lost: ReadonlyMap<string, number>, path: string): Omit<Salvaged, "rows"> {
  if (lost.size === 0 && verifyBook(db).fits) return { lost: [], chainGoesOn: true, importAgain: [] };
  const entries = rowsOf(db, "SELECT number FROM entry").length;
  db.exec("DELETE FROM replaced; DELETE FROM piece; DELETE FROM entry");
  // An earlier requirement would be judged by where the last one is lost.
  if (lost.has("requirements")) db.exec("DELETE FROM requirements");
  db.exec(`INSERT INTO reading (file_id, at, rows, taken, known, amended, quarantined, not_samples)
    SELECT id, strftime('%Y-%m-%dT%H:%M:%fZ'), 0, 0, 0, 0, 0, 0 FROM file WHERE id NOT IN (SELECT file_id FROM reading)`);
  // By the readings it is known which files are withdrawn, and which others have to be read again for that.
  const hasWithdrawals = numberOf(db, "SELECT count(*) FROM withdrawal") > 0;
  const isHarmless = [...lost.keys()].every(
    (table) => HARMLESS.has(table) && !(table === "reading" && hasWithdrawals),
  );
  const importAgain = isHarmless ? [] : blockCircuits(db);
  const list = [...lost].map(([table, rows]) => ({ what: describeTable(table), rows }));
  const said = list.map(({ what, rows }) => `${rows} of ${what}`).join(", ") || "nothing but the chain";
  beginChain(
    db,
    `what could be read of ${basename(path)}, whose chain had ${entries} entries; lost: ${said}`,
  );
  return { lost: list, chainGoesOn: false, importAgain };
}
