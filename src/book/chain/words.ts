import { describePlaces } from "../../provenance/index.js";
import { type Connection, firstOf } from "../storage/database.js";

/** What the rows of each table are, one and several. */
const WORDS: Readonly<Record<string, readonly [string, string]>> = {
  brought_entry: ["entry of another book", "entries of other books"],
  amendment: ["an earlier report of a sample", "earlier reports of samples"],
  cart: ["cart", "carts"],
  circuit: ["circuit", "circuits"],
  column_map: ["column map", "column maps"],
  entry: ["entry of the chain", "entries of the chain"],
  file: ["file", "files"],
  judged_input: ["what a verdict rests on", "what verdicts rest on"],
  lifting: ["the lifting of decision", "liftings of decisions"],
  other_cart: ["cart of another base", "carts of other bases"],
  other_row: ["row that is no sample", "rows that are no samples"],
  override: ["decision", "decisions"],
  piece: ["what an entry wrote", "what entries wrote"],
  quarantine: ["row in quarantine", "rows in quarantine"],
  quarantine_decision: ["decision about a row in quarantine", "decisions about rows in quarantine"],
  reading: ["what became of the rows of a file", "what became of the rows of files"],
  replaced: ["a row before it was changed", "rows before they were changed"],
  requirements: ["requirement", "requirements"],
  row_text: ["text of rows of a file", "texts of rows of a file"],
  sample: ["sample", "samples"],
  verdict: ["verdict", "verdicts"],
  withdrawal: ["the withdrawal of a file", "withdrawals of files"],
  withdrawn_report: ["what a withdrawn file had reported", "what withdrawn files had reported"],
};

/** The rows of a table, in words. */
export function describeTable(table: string): string {
  return WORDS[table]?.[1] ?? table;
}

type Values = readonly unknown[];

/** One row in words, from its line. */
export function describeRow(db: Connection, table: string, line: string): string {
  let values: Values;
  try {
    values = JSON.parse(line) as Values;
  } catch {
    return `a row of ${describeTable(table)}`;
  }
  const [one] = WORDS[table] ?? [table];
  switch (table) {
    case "verdict":
      return `verdict ${values[0]} of cart ${values[3]}, circuit ${values[4]}, judged for ${values[2]}`;
    case "override":
      return `decision ${values[0]} about cart ${values[1]}, circuit ${values[2]}`;
    case "lifting":
      return `the lifting of decision ${values[0]}`;
    case "sample":
      return `sample ${values[1]} of ${circuitOf(db, values[0])}, drawn on ${values[2]}`;
    case "circuit":
      return `circuit ${values[2]} of cart ${nameOf(db, "cart", "cart", values[1])}`;
    case "cart":
      return `cart ${values[1]}`;
    case "requirements":
      return `requirement "${values[2]}", revision ${values[3]}`;
    case "file":
      return `file ${values[3]}`;
    case "quarantine":
      return `${describePlaces([Number(values[3])])} of ${nameOf(db, "file", "name", values[1])}, in quarantine`;
    case "quarantine_decision":
      return `the decision about ${describePlaces([Number(values[3])])} in quarantine`;
    default:
      return one;
  }
}

function circuitOf(db: Connection, id: unknown): string {
  const row = firstOf<{ cart: string; circuit: string }>(
    db,
    "SELECT cart, circuit FROM circuit JOIN cart ON cart.id = cart_id WHERE circuit.id = ?",
    Number(id),
  );
  return row === undefined ? "a circuit that is gone" : `cart ${row.cart}, circuit ${row.circuit}`;
}

function nameOf(db: Connection, table: string, column: string, id: unknown): string {
  const row = firstOf<{ name: string }>(
    db,
    `SELECT ${column} AS name FROM ${table} WHERE id = ?`,
    Number(id),
  );
  return row?.name ?? "one that is gone";
}
