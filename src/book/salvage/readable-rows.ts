import { type Connection, type Sql, tryReadRows } from "../storage/database.js";

/** A table as it is copied: its columns, and what its rows are in order of. */
export interface CopiedTable {
  readonly name: string;
  readonly columns: readonly string[];
  /** The number of a row; undefined for a table that has none. */
  readonly number: string | undefined;
}

type Row = Readonly<Record<string, Sql>>;

/** The rows of a damaged table that can be read, and how many places were met that cannot. */
export interface ReadableRows {
  readonly rows: readonly Row[];
  readonly unreadable: number;
}

/** Between two rows that can be read, at most this many numbers are tried one by one. */
const MAX_TRIED = 200_000;

/**
 * Reads all of a damaged table that can be read: from its beginning and from its end as far as the pages hold, and between
 * them number by number.
 */
export function readableRows(db: Connection, { name, columns, number }: CopiedTable): ReadableRows {
  const listed = columns.map((column) => `"${column}"`).join(", ");
  const from =
    number === undefined ? `${listed} FROM "${name}"` : `${listed}, "${number}" AS row_number FROM "${name}"`;
  const ahead = tryReadRows<Row>(db, `SELECT ${from}`);
  if (ahead.isWhole) return { rows: ahead.rows, unreadable: ahead.damaged };
  if (number === undefined) return { rows: ahead.rows, unreadable: ahead.damaged + 1 };
  const back = tryReadRows<Row>(db, `SELECT ${from} ORDER BY "${number}" DESC`);
  const first = Number(ahead.rows.at(-1)?.row_number ?? 0) + 1;
  const last = Number(back.rows.at(-1)?.row_number ?? first + MAX_TRIED) - 1;
  let unreadable = 0;
  const between: Row[] = [];
  for (let tried = first; tried <= Math.min(last, first + MAX_TRIED); tried += 1) {
    const one = tryReadRows<Row>(db, `SELECT ${from} WHERE "${number}" = ${tried}`);
    between.push(...one.rows);
    unreadable += one.damaged + (one.isWhole ? 0 : 1);
  }
  const known = new Set(ahead.rows.map((row) => row.row_number));
  const rest = back.rows.filter((row) => !known.has(row.row_number as Sql)).reverse();
  return { rows: [...ahead.rows, ...between, ...rest], unreadable };
}
