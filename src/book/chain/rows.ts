import { createHash, type Hash } from "node:crypto";
import { bytesOf, type Connection, type Sql } from "../storage/database.js";
import { type ChainedTable, canonicalLine } from "./tables.js";

/** The name of a row: a number in most tables. */
export type RowKey = number | string;

/** What an entry wrote into one table. */
export interface Piece {
  readonly table: string;
  /** The range of keys of the rows that it inserted. */
  readonly first: number;
  readonly last: number;
  /** Keys of the other rows that it wrote or deleted. */
  readonly others: readonly RowKey[];
  /** How many rows it left in the table, of all these. */
  readonly rows: number;
  /** SHA-256 of these rows, each as a JSON array in canonical form and ended by a line feed: first the others, then the range. */
  readonly sha256: string;
  /** The first digits of the SHA-256 of each row, to find the one that was changed; "" for tables of many rows. */
  readonly each: string;
}

/** Digits in {@link Piece.each} for one row. */
export const DIGITS_FOR_A_ROW = 8;

const MANY_ROWS: ReadonlySet<string> = new Set(["sample", "row_text", "other_row"]);

/** Hashes rows as they come. */
export class RowHasher {
  readonly #hash: Hash = createHash("sha256");
  readonly #namesEach: boolean;
  #waiting = "";
  #each = "";
  #rows = 0;

  constructor(table: string) {
    this.#namesEach = !MANY_ROWS.has(table);
  }

  /** @param line - the row in canonical form; undefined for a row that is gone */
  add(line: string | undefined): void {
    const text = `${line ?? "gone"}\n`;
    this.#waiting += text;
    if (this.#waiting.length > HASHED_TOGETHER) this.#flush();
    if (line === undefined) return;
    this.#rows += 1;
    if (this.#namesEach) this.#each += startOfHash(line);
  }

  #flush(): void {
    this.#hash.update(this.#waiting);
    this.#waiting = "";
  }

  end(): Pick<Piece, "rows" | "sha256" | "each"> {
    this.#flush();
    return { rows: this.#rows, sha256: this.#hash.digest("hex"), each: this.#each };
  }
}

const HASHED_TOGETHER = 1 << 16;

/** What {@link Piece.each} says of one row. */
export function startOfHash(line: string): string {
  return createHash("sha256").update(line).digest("hex").slice(0, DIGITS_FOR_A_ROW);
}

/** A row of a table with its key. */
export interface KeyedLine {
  readonly key: RowKey;
  readonly line: string;
}

/** The rows of a range of keys as they are now, by key. */
export function linesInRange(
  db: Connection,
  table: ChainedTable,
  first: number,
  last: number,
): Generator<KeyedLine> {
  return linesWhere(db, table, `${table.key} BETWEEN ? AND ?`, first, last);
}

/** The row of a key as it is now; undefined when it is gone. */
export function lineOfKey(db: Connection, table: ChainedTable, key: RowKey): string | undefined {
  return [...linesWhere(db, table, `${table.key} = ?`, key)][0]?.line;
}

/** Rows of a table as they are now, by key. */
export function* linesWhere(
  db: Connection,
  table: ChainedTable,
  condition: string,
  ...values: Sql[]
): Generator<KeyedLine> {
  const { name, key, line } = table;
  const rows = bytesOf(
    db,
    `SELECT CAST(json_quote(${key}) || char(9) || ${line} AS BLOB) FROM "${name}" WHERE ${condition} ORDER BY ${orderOf(table)}`,
    ...values,
  );
  for (const bytes of rows) {
    // Bytes that are no text become other characters than were written, so that the row does not fit.
    const text = bytes.toString("utf8");
    const end = text.indexOf("\t");
    yield { key: JSON.parse(text.slice(0, end)) as RowKey, line: canonicalLine(table, text.slice(end + 1)) };
  }
}

function orderOf({ key, isFixed }: ChainedTable): string {
  return isFixed ? `${key}, sheet, first_row` : key;
}
