import { COLUMNS } from "../storage/insert.js";

/** A table whose rows the chain covers. */
export interface ChainedTable {
  readonly name: string;
  /** What names a row; rows are hashed in its order. */
  readonly key: string;
  /**
   * Keys that grow: what an entry inserts is a range of them, found when the entry ends. Other tables are small, and each
   * of their inserted rows is noted.
   */
  readonly keysGrow: boolean;
  /** Rows that are never changed and have no key of their own, so that nothing is to be noted. */
  readonly isFixed?: true;
  /** The row as a JSON array, in SQL. */
  readonly line: string;
  /** Places in the row whose numbers have a fraction, given as text of 17 digits, which name every number. */
  readonly fractions?: readonly number[];
}

const grows = (name: string, columns: string): ChainedTable => ({
  name,
  key: "id",
  keysGrow: true,
  line: `json_array(id, ${columns})`,
});

const fraction = (column: string) => `iif(${column} IS NULL, NULL, format('%!.17g', ${column}))`;

/** The columns of which the last is one of bytes. */
const withBytes = (columns: string, last: string) =>
  columns.replace(new RegExp(`\\b${last}$`), `hex(${last})`);

// The columns of a published form are never changed: the hashes of all books of that form come from them.
/**
 * What the chain covers, in the order in which an entry lists it. The inputs of verdicts are not in it: each is named by its
 * own hash in the verdict.
 */
export const CHAINED_TABLES: readonly ChainedTable[] = [
  grows("column_map", COLUMNS.column_map),
  grows("file", COLUMNS.file),
  grows("reading", COLUMNS.reading),
  grows("cart", "cart, note"),
  grows("circuit", "cart_id, circuit, body, former"),
  { name: "other_cart", key: "cart", keysGrow: false, line: "json_array(cart)" },
  grows("requirements", COLUMNS.requirements),
  {
    name: "sample",
    key: "id",
    keysGrow: true,
    line: `json_array(circuit_id, sample, drawn_on, drawn_time, fluid, ${fraction("count_volume_ml")}, counts,
      ${fraction("water_ppm")}, water_limit, ${fraction("acid_mg_koh_per_g")}, acid_limit,
      ${fraction("viscosity_40_mm2_per_s")}, viscosity_40_limit, more, file_id, sheet, rows, row_check)`,
    fractions: [5, 7, 9, 11],
  },
  grows("amendment", COLUMNS.amendment),
  grows("quarantine", COLUMNS.quarantine),
  grows("quarantine_decision", COLUMNS.quarantine_decision),
  { name: "other_row", key: "rowid", keysGrow: true, line: `json_array(${COLUMNS.other_row})` },
  {
    name: "row_text",
    key: "file_id",
    keysGrow: true,
    isFixed: true,
    line: `json_array(${withBytes(COLUMNS.row_text, "body")})`,
  },
  grows("verdict", withBytes(COLUMNS.verdict, "result")),
  grows("override", COLUMNS.override),
  { name: "lifting", key: "override_id", keysGrow: false, line: `json_array(${COLUMNS.lifting})` },
  grows("withdrawal", COLUMNS.withdrawal),
  grows("withdrawn_report", COLUMNS.withdrawn_report),
  grows("brought_entry", COLUMNS.brought_entry),
];

/** One of these tables. */
export function chainedTable(name: string): ChainedTable {
  return CHAINED_TABLES.find((table) => table.name === name) as ChainedTable;
}

/** A row as the chain hashes it, from its {@link ChainedTable.line}. */
export function canonicalLine({ fractions }: ChainedTable, line: string): string {
  if (fractions === undefined) return line;
  const values = JSON.parse(line) as unknown[];
  for (const place of fractions) if (values[place] !== null) values[place] = Number(values[place]);
  return JSON.stringify(values);
}
