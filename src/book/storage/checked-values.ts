import type Database from "libsql";
import { shown } from "../../provenance/index.js";

type Statement = Record<"run" | "all" | "iterate", (...values: unknown[]) => unknown>;

/**
 * Looks at every value before the driver does, which ends the whole program on a true, a Date or any other object: a caller
 * without a compiler gets an error.
 */
export function withCheckedValues<D extends InstanceType<typeof Database>>(db: D): D {
  const prepare = db.prepare.bind(db);
  const prepareChecked = (sql: string) => {
    const statement = prepare(sql) as unknown as Statement;
    for (const way of ["run", "all", "iterate"] as const) {
      const ask = statement[way].bind(statement);
      statement[way] = (...values) => {
        for (const value of values) mustBeKept(value);
        // A null by itself is taken for the names of all values.
        return values.length === 1 && values[0] === null ? ask(values) : ask(...values);
      };
    }
    return statement;
  };
  return Object.assign(db, { prepare: prepareChecked });
}

/** @throws RangeError for what a book cannot hold */
function mustBeKept(value: unknown): void {
  if (Array.isArray(value)) {
    for (const part of value) mustBeKept(part);
  } else if (!(KEPT.has(typeof value) || value === null || value instanceof Buffer)) {
    throw new RangeError(`a book keeps texts, numbers and bytes, not ${shown(String(value))}`);
  }
}

const KEPT = new Set(["string", "number", "bigint", "undefined"]);
