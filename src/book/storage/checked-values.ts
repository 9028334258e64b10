import type Database from "libsql";
import { shown } from "../../provenance/index.js";
import type { Connection } from "./reading.js";

type Ask = (...values: unknown[]) => unknown;
type Statement = ReturnType<Connection["prepare"]> & Record<"run" | "iterate", Ask>;

/**
 * Looks at every value before the driver does, which ends the whole program on a true, a Date or any other object: a caller
 * without a compiler gets an error.
 */
export function withCheckedValues(db: InstanceType<typeof Database>): Connection {
  const prepare = db.prepare.bind(db);
  const prepareChecked = (sql: string) => {
    const statement = prepare(sql) as unknown as Statement;
    // What gives all rows at once iterates.
    for (const way of ["run", "iterate"] as const) {
      const ask: Ask = statement[way].bind(statement);
      const askChecked = (...values: readonly unknown[]) => {
        for (const value of values) mustBeKept(value);
        // A null or bytes by themselves are taken for the names of all values.
        return ask(values);
      };
      Object.assign(statement, { [way]: askChecked });
    }
    return statement;
  };
  return Object.assign(db, { prepare: prepareChecked });
}

/** @throws RangeError for what a book cannot hold */
function mustBeKept(value: unknown): void {
  if (!(KEPT.has(typeof value) || value === null || value instanceof Buffer)) {
    throw new RangeError(`a book keeps texts, numbers and bytes, not ${shown(String(value))}`);
  }
}

/** What a caller without a compiler leaves out is kept as nothing. */
const KEPT = new Set(["string", "number", "undefined"]);
