import { inflateRawSync } from "node:zlib";
import type { IntakeIssue, NotSampleRow } from "../../intake/index.js";
import { type Connection, eachOf, rowsOf } from "../storage/database.js";
import { type SampleRow, SELECT_SAMPLES } from "../storage/sample-row.js";
import { reportsOf } from "./reports-of-sample.js";
import { isWithdrawn } from "./standing-withdrawals.js";

/** What became of one row of a file, with its text as it stood there. */
export interface RowFate {
  readonly sheet?: string;
  readonly row: number;
  readonly text: string;
  readonly fate: "taken" | "known" | "amended" | "quarantined" | "withdrawn" | "not a sample";
  /** Why the row is in quarantine. */
  readonly issues?: readonly IntakeIssue[];
  /** Whether a quarantined row has come back corrected, or was discarded. */
  readonly settled?: boolean;
  /** The earlier file in which the same row waits, of a quarantined row. */
  readonly waitsIn?: string;
  /** Why the row is no sample. */
  readonly why?: NotSampleRow["why"] | "a cart of another base";
}

type Reported = Pick<RowFate, "fate" | "issues" | "settled" | "waitsIn" | "why">;

/**
 * What became of every row of a file, in the order of sheets and rows.
 *
 * @param fileId - a file of the book
 */
export function* fatesOfRows(db: Connection, fileId: number): Generator<RowFate> {
  const reported = reportedRows(db, fileId);
  // A row that left no other trace said what the book knew already.
  const otherwise: Reported = { fate: isWithdrawn(db, fileId) ? "withdrawn" : "known" };
  const pieces = eachOf<{ sheet: string; first_row: number; body: Buffer }>(
    db,
    "SELECT sheet, first_row, body FROM row_text WHERE file_id = ? ORDER BY sheet, first_row",
    fileId,
  );
  for (const { sheet, first_row, body } of pieces) {
    const texts = JSON.parse(inflateRawSync(body).toString("utf8")) as string[];
    for (const [index, text] of texts.entries()) {
      const row = first_row + index;
      const fate = reported.get(`${sheet}\n${row}`) ?? otherwise;
      yield { ...(sheet !== "" && { sheet }), row, text, ...fate };
    }
  }
}

function reportedRows(db: Connection, fileId: number): Map<string, Reported> {
  const reported = new Map<string, Reported>();
  const tell = (sheet: string | null | undefined, rows: readonly number[], fate: Reported) => {
    for (const row of rows) reported.set(`${sheet ?? ""}\n${row}`, fate);
  };
  for (const { sheet, rows } of rowsOf<{ sheet: string | null; rows: string }>(
    db,
    "SELECT sheet, rows FROM sample WHERE file_id = ?",
    fileId,
  )) {
    tell(sheet, JSON.parse(rows) as number[], { fate: "taken" });
  }
  const amended = rowsOf<SampleRow>(
    db,
    `${SELECT_SAMPLES} WHERE sample.id IN (SELECT sample_id FROM amendment WHERE file_id = ? OR earlier_file_id = ?)`,
    fileId,
    fileId,
  );
  for (const row of amended) {
    const reports = reportsOf(db, row);
    // Files are numbered as they came in; whatever came after the first has amended the sample, or was amended already.
    const first = Math.min(...reports.map((report) => report.fileId));
    for (const { sample } of reports.filter((report) => report.fileId === fileId)) {
      const [origin] = sample.origin;
      tell(origin?.sheet, origin?.rows ?? [], { fate: fileId === first ? "taken" : "amended" });
    }
  }
  for (const { sheet, row, issues, waits, waits_in, is_other } of rowsOf<{
    sheet: string | null;
    row: number;
    issues: string;
    waits: number;
    waits_in: string | null;
    is_other: number;
  }>(
    db,
    `SELECT sheet, row, issues, id IN (SELECT id FROM open_row) AS waits,
       (SELECT file FROM open_row WHERE open_row.file_id = quarantine.settled_by AND quarantine.settled_by < quarantine.file_id
          AND open_row.sample IS quarantine.sample LIMIT 1) AS waits_in,
       ifnull(cart, '') IN (SELECT cart FROM other_cart) AS is_other FROM quarantine WHERE file_id = ?`,
    fileId,
  )) {
    if (is_other) {
      tell(sheet, [row], { fate: "not a sample", why: "a cart of another base" });
      continue;
    }
    const fate: Reported = {
      fate: "quarantined",
      issues: JSON.parse(issues) as IntakeIssue[],
      settled: waits === 0 && waits_in === null,
      ...(waits_in !== null && { waitsIn: waits_in }),
    };
    tell(sheet, [row], fate);
  }
  for (const { sheet, row, why } of rowsOf<{ sheet: string | null; row: number; why: NotSampleRow["why"] }>(
    db,
    "SELECT sheet, row, why FROM other_row WHERE file_id = ?",
    fileId,
  )) {
    tell(sheet, [row], { fate: "not a sample", why });
  }
  return reported;
}
