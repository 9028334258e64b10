import type { Connection, Sql } from "./reading.js";

/**
 * The columns of the tables that rows are written into by name, but for the number that the engine gives a row. The chain hashes
 * the values of most of them in this order, so what a published form has is never changed.
 */
export const COLUMNS = {
  column_map: "sha256, name, body",
  file: "sha256, column_map_id, name, bytes, read_as, assumptions",
  reading: "file_id, at, rows, taken, known, amended, quarantined, not_samples",
  requirements: "sha256, document, revision, kept_at, body",
  amendment: "sample_id, at, file_id, rows, earlier, earlier_file_id, report",
  quarantine: "file_id, sheet, row, text, issues, cart, circuit, drawn_on, settled_by, sample, reported",
  quarantine_decision: "file_sha256, sheet, row, decision, person, reason, at",
  other_row: "file_id, sheet, row, why",
  row_text: "file_id, sheet, first_row, body",
  judged_input: "sha256, body",
  verdict:
    "at, judged_on, cart, circuit, verdict, document, revision, version, inputs, inputs_sha256, result_sha256, result",
  override: "cart, circuit, verdict_id, at, person, second, decision, reason, until",
  lifting: "override_id, at, person, reason",
  withdrawal: "file_id, last_reading, at, person, reason",
  withdrawn_report: "withdrawal_id, report, also_in",
  brought_entry: "book, number, at, kind, by, subject, body_sha256, previous, hash",
} as const;

/** A table that rows are written into by name. */
export type TableName = keyof typeof COLUMNS;

type NamesIn<Text extends string> = Text extends `${infer Name}, ${infer Rest}` ? Name | NamesIn<Rest> : Text;

/** A row of a table by the names of its columns. */
export type RowOf<T extends TableName> = Readonly<Record<NamesIn<(typeof COLUMNS)[T]>, Sql>>;

/**
 * Prepares the insertion of rows that have their values by name.
 *
 * @param unlessThere - with it a row that is there already is left as it is
 * @returns inserts a row; further values of it are left out
 */
export function inserterInto<T extends TableName>(
  db: Connection,
  table: T,
  unlessThere: "" | "ON CONFLICT DO NOTHING" = "",
) {
  const columns = COLUMNS[table].split(", ");
  const places = columns.map(() => "?").join(", ");
  const insert = db.prepare(`INSERT INTO ${table} (${COLUMNS[table]}) VALUES (${places}) ${unlessThere}`);
  return (row: RowOf<T>): { readonly changes: number; readonly id: number } => {
    const values = row as Readonly<Record<string, Sql>>;
    const { changes, lastInsertRowid } = insert.run(...columns.map((column) => values[column] as Sql));
    return { changes, id: Number(lastInsertRowid) };
  };
}
