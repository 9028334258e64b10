import { type ChainEntry, entriesIn, piecesIn } from "../chain/entry.js";
import type { RowKey } from "../chain/rows.js";
import { chainedTable } from "../chain/tables.js";
import { WrittenRows } from "../chain/written.js";
import { type Connection, firstOf, numberOf, rowsOf } from "../storage/database.js";
import { inserterInto } from "../storage/insert.js";

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

interface Keys {
  /** In order, none touching the next. */
  readonly ranges: { first: number; last: number }[];
  readonly others: Set<RowKey>;
}

/** The rows of another book that our book does not know in their present form. */
export class News {
  readonly #keys = new Map<string, Keys>();

  constructor(theirs: Connection, { all, isKnown }: KnownEntries) {
    const fresh = new Set(all.filter((entry) => !isKnown(entry)).map(({ number }) => number));
    for (const { entry, table, first, last, others } of piecesIn(theirs, "TRUE")) {
      if (!fresh.has(entry)) continue;
      const keys = this.#keys.get(table) ?? { ranges: [], others: new Set() };
      this.#keys.set(table, keys);
      for (const key of others) keys.others.add(key);
      if (last >= first) keys.ranges.push({ first, last });
    }
    for (const { ranges } of this.#keys.values()) ranges.splice(0, ranges.length, ...joined(ranges));
  }

  has(table: string, key: RowKey): boolean {
    const keys = this.#keys.get(table);
    if (keys === undefined) return false;
    if (keys.others.has(key)) return true;
    return typeof key === "number" && keys.ranges.some(({ first, last }) => key >= first && key <= last);
  }
}

/** The same keys in as few ranges as can be: entries of years are one range where all of them are new. */
function joined(ranges: readonly { readonly first: number; readonly last: number }[]) {
  const found: { first: number; last: number }[] = [];
  for (const { first, last } of [...ranges].sort((a, b) => a.first - b.first)) {
    const before = found.at(-1);
    if (before !== undefined && first <= before.last + 1) before.last = Math.max(before.last, last);
    else found.push({ first, last });
  }
  return found;
}

/** Circuits by cart, each with what a carts file said of it as text; null where none describes it. */
export type CircuitTexts = ReadonlyMap<string, ReadonlyMap<string, string | null>>;

/** The carts of another book as the entries left them that our book knows. */
export function knownCarts(theirs: Connection, { all, isKnown }: KnownEntries): CircuitTexts {
  const cartRows = rowsByEntry<[id: number, cart: string]>(theirs, "cart");
  const circuitRows = rowsByEntry<[id: number, cart: number, circuit: string, body: string | null]>(
    theirs,
    "circuit",
  );
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
  const byCart = new Map([...names.values()].map((name) => [name, new Map<string, string | null>()]));
  for (const { cart, circuit, body } of circuits.values()) byCart.get(cart)?.set(circuit, body);
  return byCart;
}

/** The places that were in the quarantine of another book when our book knew it, whatever became of them. */
export function knownPlaces(theirs: Connection, { all, isKnown }: KnownEntries): ReadonlySet<string> {
  const hashes = new Map(
    rowsOf<{ id: number; sha256: string }>(theirs, "SELECT id, sha256 FROM file").map(({ id, sha256 }) => [
      id,
      sha256,
    ]),
  );
  const rows = rowsByEntry<[id: number, file: number, sheet: string | null, row: number]>(
    theirs,
    "quarantine",
  );
  return new Set(
    all
      .filter(isKnown)
      .flatMap(({ number }) => rows(number))
      .flatMap(({ values }) =>
        values === undefined ? [] : placeOf(hashes.get(values[1]) ?? "", values[2], values[3]),
      ),
  );
}

/** The name of a place of a file. */
export function placeOf(sha256: string, sheet: string | null, row: number): string {
  return JSON.stringify([sha256, sheet ?? "", row]);
}

/** What each entry wrote into a table, as it left the rows; values are undefined where it deleted one. */
function rowsByEntry<T extends readonly unknown[]>(db: Connection, table: string) {
  const rows = new WrittenRows(db, chainedTable(table));
  const pieces = new Map(piecesIn(db, "of_table = ?", table).map((piece) => [piece.entry, piece]));
  return (entry: number): { key: RowKey; values: T | undefined }[] => {
    const piece = pieces.get(entry);
    return piece === undefined
      ? []
      : [...rows.of(entry, piece)].map(({ key, line }) => ({
          key,
          values: line === undefined ? undefined : (JSON.parse(line) as T),
        }));
  };
}

/** Keeps the entries of another book, and those that it had brought in itself, as what is known of it from now on. */
export function keepEntries(
  ours: Connection,
  theirs: Connection,
  name: string,
  all: readonly ChainEntry[],
): number {
  const own = all.map(({ bodySha256, ...entry }) => ({ book: name, ...entry, body_sha256: bodySha256 }));
  const brought = rowsOf<(typeof own)[number]>(theirs, "SELECT * FROM brought_entry ORDER BY id");
  const keep = inserterInto(ours, "brought_entry", "ON CONFLICT DO NOTHING");
  const isOurs = (hash: string) => numberOf(ours, "SELECT count(*) FROM entry WHERE hash = ?", hash) > 0;
  let kept = 0;
  // The other book itself comes last: the last entry that a step keeps names the book that it was of.
  for (const entry of [...brought, ...own]) if (!isOurs(entry.hash)) kept += keep(entry).changes;
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
    "SELECT * FROM brought_entry WHERE substr(hash, 1, ?) = ?",
    ...[digits.length, digits],
  );
  if (row === undefined) return undefined;
  const { id, book, body_sha256, ...entry } = row;
  const [piece] = piecesIn(db, "of_table = 'brought_entry' AND first <= ? AND last >= ?", id, id);
  return { book, entry: { ...entry, bodySha256: body_sha256 }, broughtBy: piece?.entry ?? 0 };
}
