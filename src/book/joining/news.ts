import { type ChainEntry, entriesIn, piecesIn } from "../chain/entry.js";
import type { Piece, RowKey } from "../chain/rows.js";
import { chainedTable } from "../chain/tables.js";
import { WrittenRows } from "../chain/written.js";
import { type Connection, firstOf, numberOf, rowsOf } from "../storage/database.js";

/** The entries of another book by whether our book knows them already. */
export interface KnownEntries {
  readonly all: readonly ChainEntry[];
  readonly isKnown: (entry: ChainEntry) => boolean;
}

/**
 * Finds what our book knows of another one: entries that both have because one is a copy of the other, those that were
 * brought in earlier, and those with which the other book brought in what ours knows.
 */
export function knownEntries(ours: Connection, theirs: Connection): KnownEntries {
  const all = entriesIn(theirs, "TRUE ORDER BY number");
  const hashes = new Set(
    rowsOf<{ hash: string }>(ours, "SELECT hash FROM entry UNION SELECT hash FROM brought_entry").map(
      ({ hash }) => hash,
    ),
  );
  const known = new Set(all.filter(({ hash }) => hashes.has(hash)).map(({ number }) => number));
  const broughtBy = new Map(
    piecesIn(theirs, "of_table = 'brought_entry'").map((piece) => [piece.entry, piece]),
  );
  // A book is brought in by several entries, the last of which names the entries of that book.
  let isOfKnown = false;
  for (const { number, kind } of all.toReversed()) {
    const piece = broughtBy.get(number);
    if (kind !== "book") isOfKnown = false;
    else if (piece !== undefined) {
      const { first, last } = piece;
      isOfKnown = rowsOf<{ hash: string }>(
        theirs,
        "SELECT hash FROM brought_entry WHERE id BETWEEN ? AND ?",
        ...[first, last],
      ).every(({ hash }) => hashes.has(hash));
    }
    if (isOfKnown) known.add(number);
  }
  return { all, isKnown: ({ number }) => known.has(number) };
}

/** The rows of another book that our book does not know in their present form. */
export class News {
  readonly #pieces = new Map<string, { first: number; last: number; others: ReadonlySet<RowKey> }[]>();

  constructor(theirs: Connection, { all, isKnown }: KnownEntries) {
    const fresh = new Set(all.filter((entry) => !isKnown(entry)).map(({ number }) => number));
    for (const { entry, table, first, last, others } of piecesIn(theirs, "TRUE")) {
      if (!fresh.has(entry)) continue;
      const own = this.#pieces.get(table) ?? [];
      this.#pieces.set(table, [...own, { first, last, others: new Set(others) }]);
    }
  }

  has(table: string, key: RowKey): boolean {
    const pieces = this.#pieces.get(table) ?? [];
    return pieces.some(
      ({ first, last, others }) => others.has(key) || ((key as number) >= first && (key as number) <= last),
    );
  }
}

/** Circuits by cart, each with what a carts file said of it as text; null where none describes it. */
export type CircuitTexts = ReadonlyMap<string, ReadonlyMap<string, string | null>>;

/** The carts of another book as the entries left them that our book knows. */
export function knownCarts(theirs: Connection, { all, isKnown }: KnownEntries): CircuitTexts {
  const read = <T extends readonly unknown[]>(name: string) => {
    const rows = new WrittenRows(theirs, chainedTable(name));
    const pieces = new Map(piecesIn(theirs, "of_table = ?", name).map((piece) => [piece.entry, piece]));
    return (entry: number): { key: RowKey; values: T | undefined }[] =>
      linesOf(rows, entry, pieces.get(entry)).map(({ key, line }) => ({
        key,
        values: line === undefined ? undefined : (JSON.parse(line) as T),
      }));
  };
  const cartRows = read<[id: number, cart: string]>("cart");
  const circuitRows = read<[id: number, cart: number, circuit: string, body: string | null]>("circuit");
  const names = new Map<RowKey, string>();
  const circuits = new Map<RowKey, { cart: string; circuit: string; body: string | null }>();
  for (const { number } of all.filter(isKnown)) {
    for (const { key, values } of cartRows(number)) {
      if (values === undefined) names.delete(key);
      else names.set(key, values[1]);
    }
    for (const { key, values } of circuitRows(number)) {
      const cart = names.get(values?.[1] ?? 0);
      if (values === undefined || cart === undefined) circuits.delete(key);
      else circuits.set(key, { cart, circuit: values[2], body: values[3] });
    }
  }
  const byCart = new Map<string, Map<string, string | null>>(
    [...names.values()].map((name) => [name, new Map()]),
  );
  for (const { cart, circuit, body } of circuits.values()) byCart.get(cart)?.set(circuit, body);
  return byCart;
}

function linesOf(rows: WrittenRows, entry: number, piece: Piece | undefined) {
  return piece === undefined ? [] : [...rows.of(entry, piece)];
}

/** Keeps the entries of another book, and those that it had brought in itself, as what is known of it from now on. */
export function keepEntries(
  ours: Connection,
  theirs: Connection,
  name: string,
  all: readonly ChainEntry[],
): number {
  const own = all.map(({ bodySha256, ...entry }) => ({ book: name, ...entry, body_sha256: bodySha256 }));
  const brought = rowsOf<(typeof own)[number]>(
    theirs,
    "SELECT book, number, at, kind, by, subject, body_sha256, previous, hash FROM brought_entry ORDER BY id",
  );
  const keep = ours.prepare(
    `INSERT INTO brought_entry (book, number, at, kind, by, subject, body_sha256, previous, hash)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
  );
  const isOurs = (hash: string) => numberOf(ours, "SELECT count(*) FROM entry WHERE hash = ?", hash) > 0;
  let kept = 0;
  // The other book itself comes last: the last entry that a step keeps names the book that it was of.
  for (const { book, number, at, kind, by, subject, body_sha256, previous, hash } of [...brought, ...own]) {
    if (isOurs(hash)) continue;
    kept += keep.run(book, number, at, kind, by, subject, body_sha256, previous, hash).changes;
  }
  return kept;
}

/** An entry of another book that was brought in. */
export interface BroughtEntry {
  readonly book: string;
  readonly entry: ChainEntry;
  /** Number of the entry of our book that brought it in. */
  readonly broughtBy: number;
}

/** The entry of another book whose hash begins with some digits; undefined where no book that has it was brought in. */
export function broughtEntry(db: Connection, digits: string): BroughtEntry | undefined {
  const row = firstOf<Omit<ChainEntry, "bodySha256"> & { id: number; book: string; body_sha256: string }>(
    db,
    `SELECT id, book, number, at, kind, by, subject, body_sha256, previous, hash FROM brought_entry
     WHERE substr(hash, 1, ?) = ?`,
    ...[digits.length, digits],
  );
  if (row === undefined) return undefined;
  const { id, book, body_sha256, ...entry } = row;
  const [piece] = piecesIn(db, "of_table = 'brought_entry' AND first <= ? AND last >= ?", id, id);
  return { book, entry: { ...entry, bodySha256: body_sha256 }, broughtBy: piece?.entry ?? 0 };
}
