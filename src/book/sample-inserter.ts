import type { Connection, Sql } from "./database.js";
import { RESULT_COLUMNS } from "./sample-row.js";

/** Rows for one statement: each call of the driver costs as much as several rows. */
const ROWS_TOGETHER = [64, 8, 1] as const;

/** A sample for the table. */
export interface InsertedRow {
  readonly circuitId: number;
  /** The number of the sample. */
  readonly sample: string;
  /** The values of {@link RESULT_COLUMNS}. */
  readonly values: readonly Sql[];
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
  insert(samples: readonly InsertedRow[]): boolean {
    // A value that all of them lack need not be handed over.
    const columns = RESULT_COLUMNS.map((_, column) => column).filter((column) =>
      samples.some(({ values }) => values[column] !== null),
    );
    let before: number | undefined;
    let done = 0;
    for (const rows of ROWS_TOGETHER) {
      for (; samples.length - done >= rows; done += rows) {
        const values: Sql[] = [];
        for (let index = done; index < done + rows; index += 1) {
          const row = samples[index] as InsertedRow;
          values.push(row.circuitId, row.sample);
          for (const column of columns) values.push(row.values[column] as Sql);
        }
        const { changes, lastInsertRowid } = this.#statement(columns, rows).run(values);
        // Rows are numbered one after the other.
        if (changes > 0) before ??= Number(lastInsertRowid) - changes;
        if (changes === rows) continue;
        if (before !== undefined) this.#deleteAfter.run(before);
        return false;
      }
    }
    return true;
  }

  #statement(columns: readonly number[], rows: number): ReturnType<Connection["prepare"]> {
    const key = `${rows} ${columns.join(" ")}`;
    const known = this.#statements.get(key);
    if (known !== undefined) return known;
    const names = ["circuit_id", "sample", ...columns.map((column) => RESULT_COLUMNS[column])];
    const row = `(${names.map(() => "?").join(", ")})`;
    const statement = this.db.prepare(
      `INSERT INTO sample (${names.join(", ")})
       VALUES ${Array.from({ length: rows }, () => row).join(", ")} ON CONFLICT DO NOTHING`,
    );
    this.#statements.set(key, statement);
    return statement;
  }
}
