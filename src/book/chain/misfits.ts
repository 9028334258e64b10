import { type Connection, eachOf } from "../storage/database.js";
import { checkOfRow, type SampleRow, SELECT_SAMPLES } from "../storage/sample-row.js";
import type { ChainEntry } from "./entry.js";
import { describeEntry, type Misfit } from "./links.js";
import { DIGITS_FOR_A_ROW, type KeyedLine, type Piece, RowHasher, type RowKey, startOfHash } from "./rows.js";
import type { ChainedTable } from "./tables.js";
import { describeRow, describeTable } from "./words.js";
import { WrittenRows } from "./written.js";

/** A piece with the entry that it is of. */
export type PieceOfEntry = Piece & { readonly entry: number };

/** Rows of a table that are not as the entries left them, or that none of them wrote. */
export function* misfitsIn(
  db: Connection,
  table: ChainedTable,
  pieces: readonly PieceOfEntry[],
  entries: ReadonlyMap<number, ChainEntry>,
): Generator<Misfit> {
  const rows = new WrittenRows(db, table);
  for (const piece of pieces) {
    const now = hashOfRows(rows, piece);
    if (now.sha256 === piece.sha256) continue;
    const written = entries.get(piece.entry);
    const where = written === undefined ? `entry ${piece.entry}` : describeEntry(written);
    for (const what of changedRows(db, rows, piece, now.rows)) {
      yield { entry: piece.entry, message: `${where}: ${what}` };
    }
  }
  const last = Math.max(0, ...entries.keys());
  for (const { line } of rows.fromOutside(pieces)) {
    yield { entry: last, message: `${describeRow(db, table.name, line)}: no entry put it into the book` };
  }
}

/** The rows that an entry wrote, as they are now, hashed as they were then. */
export function hashOfRows(rows: WrittenRows, piece: PieceOfEntry): Pick<Piece, "rows" | "sha256"> {
  const hasher = new RowHasher(rows.table.name);
  for (const { line } of rows.of(piece.entry, piece)) hasher.add(line);
  return hasher.end();
}

const CHANGED = "was changed after it was written";

/** What is not as an entry left it, in words. */
function changedRows(db: Connection, rows: WrittenRows, piece: PieceOfEntry, present: number): string[] {
  const { table } = rows;
  const named = piece.each === "" ? changedSamples(db, table, piece) : changedLines(db, rows, piece);
  if (named.length > 0) return named;
  const all = describeTable(table.name);
  if (present < piece.rows) return [`${piece.rows - present} of its ${piece.rows} ${all} are gone`];
  if (present > piece.rows) return [`${present - piece.rows} ${all} were put in after it was written`];
  return [`its ${all} were changed after it was written`];
}

/** Rows whose hashes were kept one by one. */
function changedLines(db: Connection, rows: WrittenRows, piece: PieceOfEntry): string[] {
  const { name } = rows.table;
  const kept: string[] = piece.each.match(new RegExp(`.{${DIGITS_FOR_A_ROW}}`, "g")) ?? [];
  const isKept = new Set(kept);
  const found = [...rows.of(piece.entry, piece)].filter((row): row is KeyedLine => row.line !== undefined);
  const extra = found.filter(({ line }) => !isKept.has(startOfHash(line)));
  const isWord = found.length > kept.length ? "was put in after it was written" : CHANGED;
  const changed = extra.map(({ line }) => `${describeRow(db, name, line)}: its record ${isWord}`);
  if (found.length >= kept.length) {
    return changed.length > 0 ? changed : ["the order of its records was changed after it was written"];
  }
  return [...changed, ...goneKeys(piece, found).map((key) => `${describeTable(name)} ${key}: it is gone`)];
}

/** The range itself may be damaged, and without an end, so that only the first are looked for. */
const MAX_GONE = 100;

function goneKeys({ first, last, others }: Piece, found: readonly KeyedLine[]): RowKey[] {
  const there = new Set(found.map(({ key }) => key));
  const gone = others.filter((key) => !there.has(key));
  for (let key = first; key <= last && gone.length < MAX_GONE; key += 1) if (!there.has(key)) gone.push(key);
  return gone;
}

/** Samples whose values are not those that their check was made from. */
function changedSamples(db: Connection, { name, key }: ChainedTable, { first, last }: Piece): string[] {
  if (name !== "sample") return [];
  const changed: string[] = [];
  const rows = eachOf<SampleRow>(db, `${SELECT_SAMPLES} WHERE sample.${key} BETWEEN ? AND ?`, first, last);
  for (const row of rows) {
    if (row.row_check === checkOfRow(row)) continue;
    const { sample, cart, circuit, file } = row;
    changed.push(`sample ${sample} of cart ${cart}, circuit ${circuit}, from ${file}: its record ${CHANGED}`);
  }
  return changed;
}
