import type { Sample } from "../../samples/index.js";
import { type Connection, numberOf, rowsOf } from "../storage/database.js";
import { given } from "../storage/given.js";

/** Who takes a file back, and why. */
export interface WithdrawalEntry {
  readonly person: string;
  readonly reason: string;
}

/** A file that was taken back, and has not been imported again. */
export interface Withdrawal extends WithdrawalEntry {
  readonly file: string;
  readonly sha256: string;
  /** As ISO 8601. */
  readonly at: string;
  /** When the file came in first, as ISO 8601. */
  readonly importedAt: string;
  /** The samples as the file reported them; they do not count. */
  readonly reports: readonly WithdrawnReport[];
}

/** What a file that was taken back had reported of a sample. */
export interface WithdrawnReport {
  readonly sample: Sample;
  /** A file that names the sample too, and has not been imported again since. */
  readonly awaited?: string;
}

/** Whether a file was taken back, and has not been imported again. */
export function isWithdrawn(db: Connection, fileId: number): boolean {
  return numberOf(db, "SELECT count(*) FROM standing_withdrawal WHERE file_id = ?", fileId) > 0;
}

/** Whether a file names samples of one that was taken back, and has not been imported again since. */
export function isAwaited(db: Connection, fileId: number): boolean {
  return numberOf(db, "SELECT count(*) FROM awaited_file WHERE file_id = ?", fileId) > 0;
}

/** The files that were taken back and have not been imported again, oldest withdrawal first. */
export function withdrawalsIn(db: Connection): Withdrawal[] {
  const rows = rowsOf<Omit<Withdrawal, "reports"> & { id: number }>(
    db,
    `SELECT standing_withdrawal.id, name AS file, sha256, at, person, reason,
       (SELECT min(at) FROM reading WHERE reading.file_id = file.id) AS importedAt
     FROM standing_withdrawal JOIN file ON file.id = file_id ORDER BY standing_withdrawal.id`,
  );
  return rows.map(({ id, ...withdrawal }) => ({
    ...withdrawal,
    reports: rowsOf<{ report: string; awaited: string | null }>(
      db,
      `SELECT report, (SELECT min(name) FROM awaited_file WHERE report_id = withdrawn_report.id) AS awaited
       FROM withdrawn_report WHERE withdrawal_id = ? ORDER BY id`,
      id,
    ).map(({ report, awaited }) => given({ sample: JSON.parse(report) as Sample, awaited })),
  }));
}
