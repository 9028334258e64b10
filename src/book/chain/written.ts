import { type Connection, rowsOf } from "../storage/database.js";
import { type KeyedLine, lineOfKey, linesInRange, linesWhere, type Piece, type RowKey } from "./rows.js";
import type { ChainedTable } from "./tables.js";

/** A row before an entry wrote it; null where there was none. */
interface Former {
  readonly entry: number;
  readonly former: string | null;
}

/** The rows of one table as each entry left them. */
export class WrittenRows {
  /** What entries replaced, by key in order, the earliest first. */
  readonly #replaced = new Map<RowKey, Former[]>();
  readonly #keys: readonly RowKey[];

  constructor(
    private readonly db: Connection,
    readonly table: ChainedTable,
  ) {
    const rows = rowsOf<Former & { key: RowKey }>(
      db,
      "SELECT key, entry, former FROM replaced WHERE of_table = ? ORDER BY key, entry",
      table.name,
    );
    for (const { key, ...was } of rows) {
      const known = this.#replaced.get(key);
      if (known === undefined) this.#replaced.set(key, [was]);
      else known.push(was);
    }
    this.#keys = [...this.#replaced.keys()];
  }

  /** The rows that an entry wrote, as it left them; a line is undefined where it deleted the row. */
  *of(entry: number, { first, last, others }: Piece): Generator<{ key: RowKey; line: string | undefined }> {
    for (const key of others) {
      const next = this.#nextAfter(key, entry);
      const line = next === undefined ? lineOfKey(this.db, this.table, key) : (next.former ?? undefined);
      yield { key, line };
    }
    if (last < first) return;
    const present = linesInRange(this.db, this.table, first, last);
    const later = this.#keysWithin(first, last).filter((key) => this.#nextAfter(key, entry) !== undefined);
    if (later.length === 0) yield* present;
    else yield* this.#merged(entry, later, present);
  }

  #nextAfter(key: RowKey, entry: number): Former | undefined {
    return this.#replaced.get(key)?.find((was) => was.entry > entry);
  }

  #keysWithin(first: number, last: number): readonly RowKey[] {
    const place = (limit: number) => {
      let [low, high] = [0, this.#keys.length];
      while (low < high) {
        const middle = (low + high) >> 1;
        if ((this.#keys[middle] as number) < limit) low = middle + 1;
        else high = middle;
      }
      return low;
    };
    return this.#keys.slice(place(first), place(last + 1));
  }

  /** The rows of a range as an entry left them, some of which are not there now or are not as they were. */
  *#merged(entry: number, later: readonly RowKey[], present: Iterable<KeyedLine>): Generator<KeyedLine> {
    const changed = new Set(later);
    let next = 0;
    function* formerUntil(rows: WrittenRows, key: RowKey): Generator<KeyedLine> {
      for (; next < later.length && (later[next] as RowKey) <= key; next += 1) {
        const line = rows.#nextAfter(later[next] as RowKey, entry)?.former;
        if (typeof line === "string") yield { key: later[next] as RowKey, line };
      }
    }
    for (const row of present) {
      yield* formerUntil(this, row.key);
      if (!changed.has(row.key)) yield row;
    }
    yield* formerUntil(this, Number.POSITIVE_INFINITY);
  }

  /**
   * The rows of the table as an entry and those before it left them, by key.
   *
   * @param pieces - all of this table
   */
  leftBy(entry: number, pieces: readonly (Piece & { readonly entry: number })[]): string[] {
    const later = pieces.filter((piece) => piece.entry > entry);
    const rows = new Map<RowKey, string | null>();
    for (const { key, line } of linesWhere(this.db, this.table, "TRUE")) rows.set(key, line);
    for (const key of this.#keys) {
      const next = this.#nextAfter(key, entry);
      if (next !== undefined) rows.set(key, next.former);
    }
    for (const key of rows.keys()) {
      const next = this.#nextAfter(key, entry)?.entry ?? Number.POSITIVE_INFINITY;
      const isIn = ({ first, last }: Piece) => typeof key === "number" && key >= first && key <= last;
      const isNew = later.some((piece) => piece.entry <= next && isIn(piece));
      if (isNew) rows.delete(key);
    }
    return [...rows].sort(([a], [b]) => (a < b ? -1 : 1)).flatMap(([, line]) => line ?? []);
  }

  /**
   * Rows that are in the table and that no entry put there.
   *
   * @param pieces - all of this table
   */
  *fromOutside(pieces: readonly (Piece & { readonly entry: number })[]): Generator<KeyedLine> {
    const ranges = pieces.filter(({ first, last }) => last >= first).sort((a, b) => a.first - b.first);
    const singly = new Map<RowKey, number>();
    for (const { others, entry } of pieces) for (const key of others) singly.set(key, entry);
    let start = 0;
    const isInRange = (key: RowKey, since: number): boolean => {
      if (typeof key === "string") return false;
      while (start < ranges.length && (ranges[start] as Piece).last < key) start += 1;
      for (let place = start; place < ranges.length; place += 1) {
        const { first, last, entry } = ranges[place] as (typeof ranges)[number];
        if (first > key) return false;
        if (key <= last && entry >= since) return true;
      }
      return false;
    };
    for (const row of linesWhere(this.db, this.table, "TRUE")) {
      const since = this.#replaced.get(row.key)?.at(-1)?.entry ?? 0;
      if ((singly.get(row.key) ?? -1) < since && !isInRange(row.key, since)) yield row;
    }
  }
}
