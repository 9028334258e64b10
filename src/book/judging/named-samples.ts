import { isTableInDoubt, type NamedSample, type QuarantinedRow, samplesNamedIn } from "../../intake/index.js";
import { type Connection, rowsOf } from "../storage/database.js";

/** The samples of a book whose numbers are in rows that name no cart, and those of tables that a line puts in doubt. */
export function namedSamples(db: Connection, rows: readonly QuarantinedRow[]): NamedSample[] {
  const names = [...new Set(rows.flatMap(samplesNamedIn))];
  const files = [...new Set(rows.filter(isTableInDoubt).map(({ file }) => file))];
  if (names.length === 0 && files.length === 0) return [];
  return rowsOf<{
    sample: string;
    cart: string;
    circuit: string;
    drawn_on: string;
    file: string;
    sheet: string | null;
  }>(
    db,
    `SELECT sample, cart, circuit, drawn_on, file.name AS file, sheet FROM sample
     JOIN circuit ON circuit.id = circuit_id JOIN cart ON cart.id = cart_id JOIN file ON file.id = file_id
     WHERE sample IN (SELECT value FROM json_each(?)) OR file.name IN (SELECT value FROM json_each(?))`,
    JSON.stringify(names),
    JSON.stringify(files),
  ).map(({ sample, cart, circuit, drawn_on, file, sheet }) => ({
    ...{ sample, cart, circuit, drawnOn: drawn_on },
    origin: [{ file, ...(sheet !== null && { sheet }), rows: [] }],
  }));
}
