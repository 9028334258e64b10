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

/** Where the last number of a table cannot be read, rows are looked for up to this many numbers on. */
const MAX_NUMBERS = 200_000;
/** How often the database is asked; a page that cannot be read makes twice as many as it holds rows fail. */
const MAX_ASKED = 5000;

/**
 * Reads all of a damaged table that can be read: from its beginning and from its end as far as the pages hold, and between
 * them in parts, each of which is halved until it can be read or is one number.
 */
export function readableRows(db: Connection, { name, columns, number }: CopiedTable): ReadableRows {
  const listed = columns.map((column) => `"${column}"`).join(", ");
  const select =
    number === undefined
      ? `SELECT ${listed} FROM "${name}"`
      : `SELECT ${listed}, "${number}" AS row_number FROM "${name}"`;
  const ahead = tryReadRows<Row>(db, select);
  if (ahead.isWhole) return { rows: ahead.rows, unreadable: ahead.damaged };
  if (number === undefined) return { rows: ahead.rows, unreadable: ahead.damaged + 1 };
  const back = tryReadRows<Row>(db, `${select} ORDER BY "${number}" DESC`);
  const first = Number(ahead.rows.at(-1)?.row_number ?? 0) + 1;
  const last = Number(back.rows.at(-1)?.row_number ?? first + MAX_NUMBERS) - 1;
  let unreadable = 0;
  let asked = 0;
  const between: Row[] = [];
  const readPart = (from: number, to: number): void => {
    if (from > to) return;
    if (asked === MAX_ASKED) {
      unreadable += 1;
      return;
    }
    asked += 1;
    const part = tryReadRows<Row>(db, `${select} WHERE "${number}" BETWEEN ${from} AND ${to}`);
    if (part.isWhole || from === to) {
      between.push(...part.rows);
      unreadable += part.damaged + (part.isWhole ? 0 : 1);
      return;
    }
    const middle = Math.floor((from + to) / 2);
    readPart(from, middle);
    readPart(middle + 1, to);
  };
  readPart(first, last);
  const known = new Set(ahead.rows.map((row) => row.row_number));
  const rest = back.rows.filter((row) => !known.has(row.row_number as Sql)).reverse();
  return { rows: [...ahead.rows, ...between, ...rest], unreadable };
}
