import type { Connection, Sql } from "./reading.js";

/** A row by the names of some columns. */
export type RowOf<C extends string> = Readonly<Record<C, Sql>>;

/**
 * Prepares the insertion of rows that have their values by name, so that the columns are listed once.
 *
 * @param unlessThere - with it a row that is there already is left as it is
 * @returns inserts a row; further values of it are left out
 */
export function inserterInto<C extends string>(
  db: Connection,
  table: string,
  columns: readonly C[],
  unlessThere: "" | "ON CONFLICT DO NOTHING" = "",
) {
  const places = columns.map(() => "?").join(", ");
  const insert = db.prepare(`INSERT INTO ${table} (${columns.join(", ")}) VALUES (${places}) ${unlessThere}`);
  return (row: RowOf<C>): { readonly changes: number; readonly id: number } => {
    const { changes, lastInsertRowid } = insert.run(...columns.map((column) => row[column]));
    return { changes, id: Number(lastInsertRowid) };
  };
}
