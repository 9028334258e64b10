import type { Connection, Sql } from "./database.js";
import { RESULT_COLUMNS } from "./sample-row.js";

/** Rows for one statement: each call of the driver costs as much as several rows. */
const ROWS_TOGETHER = [64, 8, 1] as const;

/** Samples for the table. */
export interface RowsToInsert {
  readonly size: number;
  /** The columns that they fill. */
  readonly columns: readonly string[];
  /** Columns that have the same value in all of them. */
  readonly shared: readonly { readonly column: string; readonly value: Sql }[];
  /** Writes the values of some of them, sample by sample in the order of `columns`, from a place on. */
  readonly fill: (place: number, rows: number, into: Sql[], at: number) => void;
}

/** Puts samples into the book, many at a time. */
export class SampleInserter {
  readonly #statements = new Map<string, ReturnType<Connection["prepare"]>>();
  readonly #deleteAfter;

  constructor(private readonly db: Connection) {
    this.#deleteAfter = db.prepare("DELETE FROM sample WHERE id > ?");
  }

  /**
   * Inserts samples: all of them, or none when the book has one of them already or two are the same.
   *
   * @returns whether they are in the book now
   */
  insert(samples: RowsToInsert): boolean {
    const { columns, shared } = samples;
    let before: number | undefined;
    let done = 0;
    for (const rows of ROWS_TOGETHER) {
      for (; samples.size - done >= rows; done += rows) {
        const values: Sql[] = new Array(shared.length + rows * columns.length).fill(null);
        for (const [place, { value }] of shared.entries()) values[place] = value;
        samples.fill(done, rows, values, shared.length);
        const { changes, lastInsertRowid } = this.#statement(samples, rows).run(values);
        // Rows are numbered one after the other.
        if (changes > 0) before ??= Number(lastInsertRowid) - changes;
        if (changes === rows) continue;
        if (before !== undefined) this.#deleteAfter.run(before);
        return false;
      }
    }
    return true;
  }

  #statement({ columns, shared }: RowsToInsert, rows: number): ReturnType<Connection["prepare"]> {
    const names = [...shared.map(({ column }) => column), ...columns];
    const key = `${rows} ${shared.length} ${names.join(" ")}`;
    const known = this.#statements.get(key);
    if (known !== undefined) return known;
    // The shared values are numbered first, and named again in each row.
    const ofRow = (row: number) =>
      names.map((_, place) => `?${place < shared.length ? place + 1 : place + 1 + row * columns.length}`);
    const statement = this.db.prepare(
      `INSERT INTO sample (${names.join(", ")})
       VALUES ${Array.from({ length: rows }, (_, row) => `(${ofRow(row).join(", ")})`).join(", ")}
       ON CONFLICT DO NOTHING`,
    );
    this.#statements.set(key, statement);
    return statement;
  }
}

/** One sample for the table, with the values of {@link RESULT_COLUMNS}. */
export function oneRow(circuitId: number, sample: string, values: readonly Sql[]): RowsToInsert {
  const columns = ["circuit_id", "sample"];
  const filled: Sql[] = [circuitId, sample];
  // A value that is lacking need not be handed over.
  for (const [place, value] of values.entries()) {
    if (value === null) continue;
    columns.push(RESULT_COLUMNS[place] as string);
    filled.push(value);
  }
  return {
    size: 1,
    columns,
    shared: [],
    fill: (_place, _rows, into, at) =>
      filled.forEach((value, column) => {
        into[at + column] = value;
      }),
  };
}
