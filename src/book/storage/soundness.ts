import { isUtf8 } from "node:buffer";
import { bytesOf, type Connection, rowsOf } from "./database.js";

/**
 * What is wrong in a book: its pages, what points to nothing, and texts whose bytes are no text.
 *
 * The engine does not look at the bytes of a text, so they are looked at here.
 *
 * @returns nothing for a sound book
 */
export function faultsIn(db: Connection): string[] {
  return [...unreadableIn(db), ...rowsAstray(db)];
}

/** What is wrong with the pages of one table and of its indexes. */
export function faultsOfTable(db: Connection, table: string): string[] {
  return rowsOf<{ integrity_check: string }>(
    db,
    "SELECT integrity_check FROM pragma_integrity_check(?)",
    table,
  )
    .map((row) => row.integrity_check)
    .filter((message) => message !== "ok");
}

/** Rows that point to nothing. */
export function rowsAstray(db: Connection): string[] {
  return rowsOf<{ table: string; rowid: number }>(
    db,
    'SELECT "table", rowid FROM pragma_foreign_key_check',
  ).map(({ table, rowid }) => `row ${rowid} of ${table} points to nothing`);
}

/** What cannot be read: broken pages, and texts whose bytes are no text. */
export function unreadableIn(db: Connection): string[] {
  const broken = rowsOf<{ integrity_check: string }>(db, "SELECT integrity_check FROM pragma_integrity_check")
    .map((row) => row.integrity_check)
    .filter((message) => message !== "ok");
  try {
    return [...broken, ...damagedTexts(db)];
  } catch (error) {
    // Where pages are broken, the tables may be such that nobody can go through them.
    if (broken.length === 0) throw error;
    return broken;
  }
}

function damagedTexts(db: Connection): string[] {
  const tables = rowsOf<{ name: string }>(
    db,
    "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'",
  );
  return tables.flatMap(({ name }) => damagedTextsOf(db, name));
}

function damagedTextsOf(db: Connection, table: string): string[] {
  const columns = rowsOf<{ name: string }>(db, "SELECT name FROM pragma_table_info(?)", table).map(
    ({ name }) => `"${name}"`,
  );
  // One value for a row instead of one for each text: a large book has millions of rows. A line feed is no part of another character.
  const rows = bytesOf(
    db,
    `SELECT CAST(${columns.map(textIn).join(" || char(10) || ")} AS BLOB) FROM "${table}"`,
  );
  let place = 0;
  let damaged = 0;
  let first = 0;
  for (const bytes of rows) {
    place += 1;
    if (isUtf8(bytes)) continue;
    damaged += 1;
    first ||= place;
  }
  if (damaged === 0) return [];
  return [`${damaged} of the rows of ${table} hold bytes that are no text; the first is row ${first}`];
}

function textIn(column: string): string {
  return `iif(typeof(${column}) = 'text', ${column}, '')`;
}
