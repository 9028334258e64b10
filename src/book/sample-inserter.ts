import type { Connection, Sql } from "./database.js";
import { RESULT_COLUMNS } from "./sample-row.js";

/** Rows for one statement: each call of the driver costs as much as several rows. */
const ROWS_TOGETHER = [64, 8, 1] as const;

const COLUMNS = ["circuit_id", "sample", ...RESULT_COLUMNS];

/** A sample for the table: the id of its circuit, its number, and the values of {@link RESULT_COLUMNS}. */
export type InsertedRow = readonly Sql[];

/** Puts samples into the book, many at a time. */
export class SampleInserter {
  readonly #statements = new Map<string, ReturnType<Connection["prepare"]>>();
  readonly #lastId;
  readonly #deleteAfter;

  constructor(private readonly db: Connection) {
    this.#lastId = db.prepare("SELECT ifnull(max(id), 0) AS id FROM sample");
    this.#deleteAfter = db.prepare("DELETE FROM sample WHERE id > ?");
  }

  /**
   * Inserts samples: all of them, or none when the book has one of them already or two are the same.
   *
   * @returns whether they are in the book now
   */
  insert(samples: readonly InsertedRow[]): boolean {
    // A value that all of them lack need not be handed over.
    const columns = COLUMNS.map((_, column) => column).filter((column) =>
      samples.some((row) => row[column] !== null),
    );
    const before = samples.length === 1 ? 0 : (this.#lastId.get() as { id: number }).id;
    let done = 0;
    for (const rows of ROWS_TOGETHER) {
      for (; samples.length - done >= rows; done += rows) {
        const values: Sql[] = [];
        for (let index = done; index < done + rows; index += 1) {
          const row = samples[index] as InsertedRow;
          for (const column of columns) values.push(row[column] as Sql);
        }
        const { changes } = this.#statement(columns, rows).run(values);
        if (changes === rows) continue;
        if (samples.length > 1) this.#deleteAfter.run(before);
        return false;
      }
    }
    return true;
  }

  #statement(columns: readonly number[], rows: number): ReturnType<Connection["prepare"]> {
    const key = `${rows} ${columns.join(" ")}`;
    const known = this.#statements.get(key);
    if (known !== undefined) return known;
    const row = `(${columns.map(() => "?").join(", ")})`;
    const statement = this.db.prepare(
      `INSERT INTO sample (${columns.map((column) => COLUMNS[column]).join(", ")})
       VALUES ${Array.from({ length: rows }, () => row).join(", ")} ON CONFLICT DO NOTHING`,
    );
    this.#statements.set(key, statement);
    return statement;
  }
}
