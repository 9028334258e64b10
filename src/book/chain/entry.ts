import { createHash } from "node:crypto";
import { canonicalJson } from "../../fitness/index.js";
import { type Connection, DamageError, inTransaction, rowsOf, type Sql } from "../storage/database.js";
import { lineOfKey, linesInRange, type Piece, RowHasher, type RowKey } from "./rows.js";
import { beginNoting, changesSince, everything, type TableChange } from "./touched.js";

/** What a step in the book was. */
export type EntryKind =
  | "begin"
  | "reading"
  | "carts"
  | "requirement"
  | "quarantine"
  | "verdicts"
  | "override"
  | "lifting"
  | "withdrawal"
  | "book";

/** One link of the chain. */
export interface ChainEntry {
  readonly number: number;
  /** When it was written, as ISO 8601. */
  readonly at: string;
  readonly kind: EntryKind;
  /** Who did it; null where that was not stated. */
  readonly by: string | null;
  /** What it is about, in words. */
  readonly subject: string;
  /** SHA-256 of {@link Piece} after piece, in canonical form. */
  readonly bodySha256: string;
  /** Hash of the entry before; 64 zeros for the first. */
  readonly previous: string;
  readonly hash: string;
}

/** What a step says of itself. */
export interface Step<T> {
  readonly kind: EntryKind;
  readonly by?: string | undefined;
  /** What it was about, when it is done. */
  readonly subject: (result: T) => string;
}

/** The link before the first. */
export const NO_ENTRY = "0".repeat(64);

/** The samples that a step inserts, hashed on the way where the step says them one by one. */
interface OpenEntry {
  samples: RowHasher | undefined;
}

const OPEN = new WeakMap<Connection, OpenEntry>();

/**
 * Runs a step in one transaction, as {@link inTransaction} does, and adds the entry of it to the chain. A step that leaves
 * the book as it was adds none.
 */
export function inEntry<T>(db: Connection, step: Step<T>, act: () => T): T {
  return inTransaction(db, () => asEntry(db, step, act));
}

/** The same within a transaction that the caller opens, for a step of several entries. */
export function asEntry<T>(db: Connection, step: Step<T>, act: () => T): T {
  const marks = beginNoting(db);
  const open: OpenEntry = { samples: undefined };
  OPEN.set(db, open);
  try {
    const result = act();
    append(db, step, result, changesSince(db, marks), open.samples);
    return result;
  } finally {
    OPEN.delete(db);
  }
}

/**
 * Begins the chain of a book: one entry covers everything that is in it. Within a transaction that the caller opens.
 *
 * @param origin - where what is in the book came from, where not from an older version of itself
 */
export function beginChain(db: Connection, origin?: string): void {
  const marks = beginNoting(db);
  const changes = everything(db);
  const isEmpty = [...marks.values()].every((mark) => mark === 0);
  const about =
    origin ?? (isEmpty ? "an empty book" : "everything that was in the book when its chain began");
  append(db, { kind: "begin", subject: () => about }, undefined, changes, undefined, true);
}

function append<T>(
  db: Connection,
  { kind, by, subject }: Step<T>,
  result: T,
  changes: readonly TableChange[],
  samples: RowHasher | undefined,
  isFirst = false,
): void {
  if (changes.length === 0 && !isFirst) return;
  const last = headOf(db);
  const number = (last?.number ?? 0) + 1;
  const pieces = changes.map((change) => pieceOf(db, change, samples));
  const header = {
    number,
    at: new Date().toISOString(),
    kind,
    by: by ?? null,
    subject: subject(result),
    bodySha256: hashOfPieces(pieces),
    previous: last?.hash ?? NO_ENTRY,
  };
  db.prepare(
    `INSERT INTO entry (number, at, kind, by, subject, body_sha256, previous, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  ).run(...(Object.values(header) as Sql[]), hashOfHeader(header));
  keepPieces(db, number, pieces);
  const keep = db.prepare("INSERT INTO replaced (of_table, key, entry, former) VALUES (?, ?, ?, ?)");
  for (const { table, replaced } of changes) {
    for (const { key, former } of replaced) keep.run(table.name, key, number, former);
  }
}

function pieceOf(db: Connection, change: TableChange, samples: RowHasher | undefined): Piece {
  const { table, first, last, others, changedItsOwn } = change;
  const isHashed = table.name === "sample" && samples !== undefined && others.length === 0 && !changedItsOwn;
  const hasher = isHashed ? samples : new RowHasher(table.name);
  if (!isHashed) {
    for (const key of others) hasher.add(lineOfKey(db, table, key));
    if (last >= first) for (const { line } of linesInRange(db, table, first, last)) hasher.add(line);
  }
  return { table: table.name, first, last, others, ...hasher.end() };
}

function keepPieces(db: Connection, entry: number, pieces: readonly Piece[]): void {
  const keep = db.prepare(
    "INSERT INTO piece (of_table, entry, first, last, others, rows, sha256, each) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
  );
  for (const { table, first, last, others, rows, sha256, each } of pieces) {
    keep.run(table, entry, first, last, JSON.stringify(others), rows, sha256, each);
  }
}

/** The pieces of an entry, or of all entries, in order. */
export function piecesIn(db: Connection, condition: string, ...values: Sql[]): (Piece & { entry: number })[] {
  return rowsOf<Omit<Piece, "others" | "table"> & { entry: number; others: string; of_table: string }>(
    db,
    `SELECT of_table, entry, first, last, others, rows, sha256, each FROM piece WHERE ${condition} ORDER BY entry, of_table`,
    ...values,
  ).map(({ of_table, others, ...piece }) => ({
    ...piece,
    table: of_table,
    others: keysIn(others),
  }));
}

function keysIn(text: string): RowKey[] {
  const keys: unknown = JSON.parse(text);
  if (!Array.isArray(keys)) throw new DamageError("the list of what an entry wrote is no list");
  return keys;
}

/** The last entry of the chain. */
export function headOf(db: Connection): ChainEntry | undefined {
  return entriesIn(db, "1 ORDER BY number DESC LIMIT 1")[0];
}

export function entriesIn(db: Connection, condition: string): ChainEntry[] {
  return rowsOf<Omit<ChainEntry, "bodySha256"> & { body_sha256: string }>(
    db,
    `SELECT number, at, kind, by, subject, body_sha256, previous, hash FROM entry WHERE ${condition}`,
  ).map(({ body_sha256, ...entry }) => ({ ...entry, bodySha256: body_sha256 }));
}

/** The hash of an entry: of everything else that it says, in canonical form. */
export function hashOfHeader({ number, at, kind, by, subject, bodySha256, previous }: Header): string {
  return sha256Of(canonicalJson({ number, at, kind, by, subject, bodySha256, previous }));
}

type Header = Omit<ChainEntry, "hash">;

/** The hash of what an entry wrote. */
export function hashOfPieces(pieces: readonly Piece[]): string {
  const inOrder = [...pieces].sort((a, b) => (a.table < b.table ? -1 : 1));
  return sha256Of(
    canonicalJson(
      inOrder.map(({ table, first, last, others, rows, sha256, each }) => ({
        table,
        first,
        last,
        others,
        rows,
        sha256,
        each,
      })),
    ),
  );
}

function sha256Of(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}

/** Notes a sample that the open step inserts, so that it need not be read again. The samples come in the order of their ids. */
export function noteSample(db: Connection, circuitId: number, sample: string, values: readonly Sql[]): void {
  const open = OPEN.get(db);
  if (open === undefined) return;
  open.samples ??= new RowHasher("sample");
  // The same text as of one array of them all, which would be copied for every sample.
  open.samples.add(`[${circuitId},${JSON.stringify(sample)},${JSON.stringify(values).slice(1)}`);
}
