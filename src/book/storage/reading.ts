import { isUtf8 } from "node:buffer";
import type Database from "libsql";

/** A connection to a book. Its statements only write: what is read comes through the functions of this file. */
export interface Connection {
  prepare(sql: string): {
    run(...values: Sql[]): { readonly changes: number; readonly lastInsertRowid: number | bigint };
  };
  exec(sql: string): unknown;
  close(): unknown;
  readonly inTransaction: boolean;
}

/** A value of a row. */
export type Sql = string | number | Buffer | null;

/** A value of a book cannot be what was written, whatever was written. */
export class DamageError extends Error {
  override readonly name = "DamageError";
}

/** All rows of a query. */
export function rowsOf<T>(db: Connection, sql: string, ...values: Sql[]): T[] {
  return readerOf<T>(db, sql).all(...values);
}

/** The first row of a query; the query itself sees to it that there is one, or few. */
export function firstOf<T>(db: Connection, sql: string, ...values: Sql[]): T | undefined {
  return rowsOf<T>(db, sql, ...values)[0];
}

/** The only value of a query that counts something. */
export function numberOf(db: Connection, sql: string, ...values: Sql[]): number {
  const row = firstOf<Record<string, number>>(db, sql, ...values);
  return Object.values(row ?? {})[0] ?? 0;
}

/** The rows of a query one by one. */
export function* eachOf<T>(db: Connection, sql: string, ...values: Sql[]): Generator<T> {
  const query = queryOf(db, sql);
  for (const bytes of bytesOf(db, query.sql, ...values)) yield readRow<T>(query, bytes);
}

/**
 * All rows of a query that gives no more than some thousands: the engine puts them together, which takes a third less time
 * than handing them over one by one.
 */
export function rowsTogether<T>(db: Connection, sql: string, ...values: Sql[]): T[] {
  const { columns } = queryOf(db, sql);
  const row = `json_array(${columns.map(asJson).join(", ")})`;
  const [bytes] = [...bytesOf(db, `SELECT CAST(json_group_array(${row}) AS BLOB) FROM (${sql})`, ...values)];
  return (parsed(bytes as Buffer) as unknown[][]).map((cells) => {
    const read: Record<string, unknown> = {};
    for (let place = 0; place < columns.length; place += 1) {
      const column = columns[place] as Column;
      read[column.name] = cellOf(column, cells[place]);
    }
    return read as T;
  });
}

/** A query that is asked many times. */
export interface Reader<T> {
  all(...values: Sql[]): T[];
  first(...values: Sql[]): T | undefined;
}

/** Prepares a query that is asked many times. */
export function readerOf<T>(db: Connection, sql: string): Reader<T> {
  const query = queryOf(db, sql);
  const all = (...values: Sql[]) =>
    Array.from(bytesOf(db, query.sql, ...values), (bytes) => readRow<T>(query, bytes));
  return { all, first: (...values) => all(...values)[0] };
}

const prepare = (db: Connection, sql: string) => driverOf(db).prepare<Sql[]>(sql).raw();
type Statement = ReturnType<typeof prepare>;

/** Statements that were read to their end, by their query: preparing one takes as long as reading a row of it does. */
const IDLE = new WeakMap<Connection, Map<string, Statement[]>>();

/** What a query gives as its only column, as bytes. */
export function* bytesOf(db: Connection, sql: string, ...values: Sql[]): Generator<Buffer> {
  const ofBook = IDLE.get(db) ?? new Map<string, Statement[]>();
  IDLE.set(db, ofBook);
  const idle = ofBook.get(sql) ?? [];
  ofBook.set(sql, idle);
  const statement = idle.pop() ?? prepare(db, sql);
  for (const [bytes] of statement.iterate(...values) as Iterable<[ArrayBuffer]>) yield Buffer.from(bytes);
  // One that was left before its end is still being read, and cannot begin again.
  idle.push(statement);
}

/**
 * What can be read of a damaged book: rows as far as the pages hold, and how many of them hold what is no value.
 *
 * @returns isWhole is false where a page could not be read
 */
export function tryReadRows<T>(
  db: Connection,
  sql: string,
): { rows: T[]; damaged: number; isWhole: boolean } {
  const rows: T[] = [];
  let damaged = 0;
  try {
    const query = queryOf(db, sql);
    for (const bytes of bytesOf(db, query.sql)) {
      try {
        rows.push(readRow<T>(query, bytes));
      } catch {
        damaged += 1;
      }
    }
    return { rows, damaged, isWhole: true };
  } catch (error) {
    if (!(error as { code?: string }).code?.startsWith("SQLITE_")) throw error;
    return { rows, damaged, isWhole: false };
  }
}

function driverOf(db: Connection): InstanceType<typeof Database> {
  return db as InstanceType<typeof Database>;
}

/** A query whose rows come as JSON in one run of bytes, and the columns of the query as it was written. */
interface Query {
  readonly sql: string;
  readonly columns: readonly Column[];
}

interface Column {
  readonly name: string;
  /** As its table declares it; null for a computed value. */
  readonly type: string | null;
}

const QUERIES = new WeakMap<Connection, Map<string, Query>>();

/**
 * The driver ends the whole program on a text whose bytes are no text, and takes long for each value of a row. So the engine
 * puts a row together as JSON, and its bytes are looked at here.
 */
function queryOf(db: Connection, sql: string): Query {
  const known = QUERIES.get(db) ?? new Map<string, Query>();
  QUERIES.set(db, known);
  const before = known.get(sql);
  if (before !== undefined) return before;
  const columns = driverOf(db).prepare(sql).columns() as unknown as Column[];
  const pairs = columns.map((column) => `'${column.name}', ${asJson(column)}`).join(", ");
  const query = { sql: `SELECT CAST(json_object(${pairs}) AS BLOB) FROM (${sql})`, columns };
  known.set(sql, query);
  return query;
}

/** JSON of the engine has no bytes, and too few digits for a number with a fraction; 17 digits name every number. */
function asJson({ name, type }: Column): string {
  const value = `"${name}"`;
  if (type === "REAL") return `iif(${value} IS NULL, NULL, format('%!.17g', ${value}))`;
  return type === "BLOB" ? `iif(${value} IS NULL, NULL, hex(${value}))` : value;
}

function readRow<T>({ columns }: Query, bytes: Buffer): T {
  const row = parsed(bytes) as Record<string, unknown>;
  for (const column of columns) row[column.name] = cellOf(column, row[column.name]);
  return row as T;
}

function parsed(bytes: Buffer): unknown {
  if (!isUtf8(bytes)) throw new DamageError("a text holds bytes that are no text");
  return JSON.parse(bytes.toString("utf8"));
}

/** The value of a column as the engine wrote it. */
function cellOf({ name, type }: Column, value: unknown): unknown {
  if (value === null) return null;
  if (type === "REAL") return Number(value);
  if (type === "BLOB") return Buffer.from(value as string, "hex");
  if (type !== null && type !== "ANY" && typeof value !== (type === "TEXT" ? "string" : "number")) {
    throw new DamageError(`a value of column ${name} is of another kind than was written`);
  }
  return value;
}
