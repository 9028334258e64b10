import { type NamedSample, type QuarantinedRow, samplesNamedIn } from "../../intake/index.js";
import { type Connection, rowsOf } from "../storage/database.js";

/** The samples of a book whose numbers are in rows that name no cart. */
export function namedSamples(db: Connection, rows: readonly QuarantinedRow[]): NamedSample[] {
  const names = [...new Set(rows.flatMap(samplesNamedIn))];
  if (names.length === 0) return [];
  return rowsOf<{ sample: string; cart: string; circuit: string }>(
    db,
    `SELECT sample, cart, circuit FROM sample JOIN circuit ON circuit.id = circuit_id JOIN cart ON cart.id = cart_id
     WHERE sample IN (SELECT value FROM json_each(?))`,
    JSON.stringify(names),
  );
}
