import { type Finding, type QuarantinedRow, statementsOf } from "../../intake/index.js";
import type { Origin } from "../../samples/index.js";
import type { Connection } from "../storage/database.js";
import { inserterInto } from "../storage/insert.js";
import { rowTextOf } from "../storage/row-text.js";
import type { KeptReport } from "./decide-report.js";

/** Prepares the keeping of rows of a file in quarantine. */
export function quarantineInserter(db: Connection) {
  const insert = inserterInto(db, "quarantine");
  return (file_id: number, entry: Omit<QuarantinedRow, "file">, settled_by: number | null = null): void => {
    const { sheet = null, row, text, cart = null, circuit = null, drawnOn = null, sample = null } = entry;
    const issues = JSON.stringify(entry.issues);
    const reported = entry.reported === undefined ? null : JSON.stringify(entry.reported);
    const names = { cart, circuit, drawn_on: drawnOn, sample };
    insert({ file_id, sheet, row, text, issues, ...names, settled_by, reported });
  };
}

/** The rows of a report of the book as they are set aside, with their texts as they stood in its file. */
export function rowsOfReport(
  db: Connection,
  { sample, fileId }: KeptReport,
  findings: readonly Finding[],
): QuarantinedRow[] {
  const { cart, circuit, drawnOn, origin } = sample;
  const reported = Object.fromEntries(statementsOf(sample));
  const { file, sheet, rows } = origin[0] as Origin;
  return rows.map((row) => {
    const place = { file, ...(sheet !== undefined && { sheet }), row };
    const text = rowTextOf(db, fileId, sheet ?? "", row) ?? "";
    const issues = findings.map(({ code, holds, expected }) => {
      const value = holds === "cart" ? cart : holds === "circuit" ? circuit : text;
      return { ...place, code, column: holds, value, expected };
    });
    return { ...place, text, issues, cart, circuit, drawnOn, sample: sample.sample, reported };
  });
}
