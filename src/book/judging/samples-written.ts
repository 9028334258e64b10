import { grouped } from "../../numeric/index.js";
import { entriesIn, piecesIn } from "../chain/entry.js";
import { brokenLinks } from "../chain/links.js";
import type { PieceOfEntry } from "../chain/misfits.js";
import type { RowKey } from "../chain/rows.js";
import { type Connection, readerOf, rowsOf } from "../storage/database.js";
import { judgedFrom } from "./verdicts.js";

/** The last entry that wrote, changed or deleted a sample of a cart, or an amendment of one; 0 for a cart without any. */
export type SamplesWritten = (cart: string) => number;

/** A row that no entry wrote is newer than all of them. */
const NO_ENTRY_WROTE = Number.POSITIVE_INFINITY;

/**
 * When the samples of each cart were written last, by the entries of the chain.
 *
 * @returns undefined where the entries do not follow each other, so that they say nothing
 */
export function samplesWritten(db: Connection): SamplesWritten | undefined {
  const byEntry = grouped(piecesIn(db, "TRUE"), ({ entry }) => entry);
  const entries = entriesIn(db, "TRUE ORDER BY number");
  if (brokenLinks(entries, (entry) => byEntry.get(entry) ?? []).length > 0) return undefined;
  const pieces = entries.flatMap(({ number }) => byEntry.get(number) ?? []);
  const written = new Map<number, number>();
  const write = (circuit: number, entry: number) =>
    written.set(circuit, Math.max(entry, written.get(circuit) ?? 0));
  for (const [table, newest] of Object.entries(NEWEST)) {
    const own = pieces.filter((piece) => piece.table === table);
    // A new row has a higher key than all that are there: of each circuit the highest was inserted last.
    const rows = rowsOf<{ circuit: number; id: number }>(db, newest);
    for (const [circuit, entry] of insertedBy(rows, own)) write(circuit, entry);
  }
  // No verdict that can be repeated was judged from less.
  const since = entries.map(judgedFrom).find((from) => from !== undefined) ?? NO_ENTRY_WROTE;
  const circuitsOf = circuitFinder(db);
  let ofAll = 0;
  for (const { table, entry, others } of pieces) {
    if (entry < since || !(table in NEWEST)) continue;
    for (const key of others) {
      const circuits = circuitsOf(table as ChangedTable, key, entry);
      if (circuits === undefined) ofAll = Math.max(ofAll, entry);
      else for (const circuit of circuits) write(circuit, entry);
    }
  }
  const byCart = new Map<string, number>();
  const named = rowsOf<{ id: number; cart: string }>(
    db,
    "SELECT circuit.id, cart FROM circuit JOIN cart ON cart.id = cart_id",
  );
  for (const { id, cart } of named) byCart.set(cart, Math.max(written.get(id) ?? 0, byCart.get(cart) ?? 0));
  return (cart) => Math.max(ofAll, byCart.get(cart) ?? 0);
}

/** The row of each circuit that was inserted last, of the tables that samples are read from. */
const NEWEST = {
  sample: "SELECT circuit_id AS circuit, max(id) AS id FROM sample GROUP BY circuit_id",
  amendment: `SELECT circuit_id AS circuit, max(amendment.id) AS id FROM amendment JOIN sample ON sample.id = sample_id
    GROUP BY circuit_id`,
} as const;

type ChangedTable = keyof typeof NEWEST;

/** The entry that inserted a row of each circuit. */
function insertedBy(
  rows: readonly { readonly circuit: number; readonly id: number }[],
  pieces: readonly PieceOfEntry[],
): Map<number, number> {
  const inOrder = [...rows].sort((a, b) => a.id - b.id);
  const entries = new Map(rows.map(({ circuit }) => [circuit, NO_ENTRY_WROTE]));
  // A later entry may have used the key of a row that was deleted again.
  for (const { first, last, entry } of pieces) {
    for (let place = placeOf(inOrder, first); place < inOrder.length; place += 1) {
      const { id, circuit } = inOrder[place] as (typeof inOrder)[number];
      if (id > last) break;
      entries.set(circuit, entry);
    }
  }
  return entries;
}

/** The place of the first row whose key is not below a limit. */
function placeOf(rows: readonly { readonly id: number }[], limit: number): number {
  let [low, high] = [0, rows.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rows[middle]?.id ?? 0) < limit) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Finds the circuits that a changed row is and was of; undefined where nothing tells what it was. */
function circuitFinder(
  db: Connection,
): (table: ChangedTable, key: RowKey, entry: number) => ReadonlySet<number> | undefined {
  const former = readerOf<{ entry: number; former: string | null }>(
    db,
    "SELECT entry, former FROM replaced WHERE of_table = ? AND key = ?",
  );
  const present = {
    sample: readerOf<{ is: number }>(db, 'SELECT circuit_id AS "is" FROM sample WHERE id = ?'),
    amendment: readerOf<{ is: number }>(db, 'SELECT sample_id AS "is" FROM amendment WHERE id = ?'),
  };
  /** Place of the circuit, or of the sample, in the former row. */
  const places = { sample: 0, amendment: 1 };
  const valuesOf = (table: ChangedTable, key: RowKey) => {
    const before = former.all(table, key);
    const values = before.flatMap((row) =>
      row.former === null ? [] : Number((JSON.parse(row.former) as unknown[])[places[table]]),
    );
    return { before, values: [...values, ...present[table].all(key).map(({ is }) => is)] };
  };
  return (table, key, entry) => {
    const { before, values } = valuesOf(table, key);
    if (!before.some((row) => row.entry === entry)) return undefined;
    const circuits =
      table === "sample" ? values : values.flatMap((sample) => valuesOf("sample", sample).values);
    return circuits.length === 0 ? undefined : new Set(circuits);
  };
}
