import { isTableInDoubt, type NamedSample, samplesNamedIn } from "../../intake/index.js";
import type { Origin } from "../../samples/index.js";
import { type Connection, rowsOf } from "../storage/database.js";
import { numbersFinder } from "../taking-in/numbers-in-text.js";
import type { KeptQuarantinedRow } from "../taking-in/open-rows.js";
import { fatesOfRows } from "../taking-in/row-fates.js";

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
  const known = knownInDoubt(db, rows.filter(isTableInDoubt));
  const ofKnown = find(
    "drawn_on",
    "sample IN (SELECT value FROM json_each(?))",
    known.map(({ sample }) => sample),
  );
  const named = [
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
  // Of samples of one number, those whose cart the row names, where it names one.
  const again = known.flatMap(({ sample, text, origin }): NamedSample[] => {
    const alike = ofKnown.filter((one) => one.sample === sample);
    const ofRow = alike.filter(({ cart }) => text.includes(cart));
    return (ofRow.length > 0 ? ofRow : alike).map(({ cart, circuit, drawn_on }) => ({
      ...{ sample, cart, circuit, drawnOn: drawn_on },
      origin: [origin],
    }));
  });
  return [...named, ...again];
}

/** Samples of tables in doubt that the book had from another file already: their rows left no trace but their fate. */
function knownInDoubt(
  db: Connection,
  rows: readonly KeptQuarantinedRow[],
): { readonly sample: string; readonly text: string; readonly origin: Origin }[] {
  const files = rowsOf<{ id: number; name: string }>(
    db,
    "SELECT id, name FROM file WHERE sha256 IN (SELECT value FROM json_each(?))",
    JSON.stringify(rows.map(({ sha256 }) => sha256)),
  );
  const known = files.flatMap(({ id, name: file }) =>
    [...fatesOfRows(db, id)]
      .filter(({ fate }) => fate === "known")
      .map(({ text, sheet }) => ({
        text,
        origin: { file, ...(sheet !== undefined && { sheet }), rows: [] },
      })),
  );
  if (known.length === 0) return [];
  const all = rowsOf<{ sample: string }>(db, "SELECT DISTINCT sample FROM sample");
  const numbersIn = numbersFinder(all.map(({ sample }) => sample));
  return known.flatMap((row) => [...numbersIn(row.text)].map((sample) => ({ sample, ...row })));
}
