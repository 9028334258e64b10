import { isTableInDoubt, type NamedSample, samplesNamedIn } from "../../intake/index.js";
import { type Connection, rowsOf } from "../storage/database.js";
import type { KeptQuarantinedRow } from "../taking-in/open-rows.js";

interface NamedRow {
  readonly sample: string;
  readonly cart: string;
  readonly circuit: string;
  readonly drawn_on: string;
  readonly file: string;
  readonly sheet: string | null;
}

/** The samples of a book whose numbers are in rows that name no cart, and of each circuit the last in a table that a line puts in doubt. */
export function namedSamples(db: Connection, rows: readonly KeptQuarantinedRow[]): NamedSample[] {
  const find = (drawnOn: string, condition: string, among: readonly string[]) =>
    among.length === 0
      ? []
      : rowsOf<NamedRow>(
          db,
          `SELECT sample, cart, circuit, ${drawnOn} AS drawn_on, file.name AS file, sheet FROM sample
           JOIN circuit ON circuit.id = circuit_id JOIN cart ON cart.id = cart_id JOIN file ON file.id = file_id
           WHERE ${condition}`,
          JSON.stringify([...new Set(among)]),
        );
  return [
    ...find("drawn_on", "sample IN (SELECT value FROM json_each(?))", rows.flatMap(samplesNamedIn)),
    // By the hash, since a laboratory may give every file the same name.
    ...find(
      "max(drawn_on)",
      "file.sha256 IN (SELECT value FROM json_each(?)) GROUP BY circuit_id, file_id, sheet",
      rows.filter(isTableInDoubt).map(({ sha256 }) => sha256),
    ),
  ].map(({ sample, cart, circuit, drawn_on, file, sheet }) => ({
    ...{ sample, cart, circuit, drawnOn: drawn_on },
    origin: [{ file, ...(sheet !== null && { sheet }), rows: [] }],
  }));
}
