import type { Connection, Sql } from "./database.js";
import { RESULT_COLUMNS } from "./sample-row.js";

/** Puts samples into the book. */
export class SampleInserter {
  readonly #statements = new Map<string, ReturnType<Connection["prepare"]>>();

  constructor(private readonly db: Connection) {}

  /**
   * Inserts one sample, unless the book has one of that number in the circuit.
   *
   * @param values - those of {@link RESULT_COLUMNS}
   * @returns whether it was inserted
   */
  insert(circuitId: number, sample: string, values: readonly Sql[]): boolean {
    const columns = ["circuit_id", "sample"];
    const given: Sql[] = [circuitId, sample];
    // Handing over a value costs time, and most columns of most samples are empty.
    for (const [place, value] of values.entries()) {
      if (value === null) continue;
      columns.push(RESULT_COLUMNS[place] as string);
      given.push(value);
    }
    return this.#statementFor(columns).run(given).changes === 1;
  }

  #statementFor(columns: readonly string[]): ReturnType<Connection["prepare"]> {
    const names = columns.join(", ");
    const known = this.#statements.get(names);
    if (known !== undefined) return known;
    const places = columns.map(() => "?").join(", ");
    const statement = this.db.prepare(
      `INSERT INTO sample (${names}) VALUES (${places}) ON CONFLICT DO NOTHING`,
    );
    this.#statements.set(names, statement);
    return statement;
  }
}
