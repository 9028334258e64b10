import { createHash } from "node:crypto";
import { isText } from "../../fitness/index.js";
import type { QuarantinedRow } from "../../intake/index.js";
import { describeOrigin, frozen } from "../../provenance/index.js";
import { inEntry } from "../chain/entry.js";
import { BookError, type Connection, rowsOf } from "../storage/database.js";
import { given } from "../storage/given.js";
import { inserterInto } from "../storage/insert.js";

/** A row in quarantine, with the file it is in. */
export interface KeptQuarantinedRow extends QuarantinedRow {
  /** Short name of the row, the same as long as the book lasts. */
  readonly id: string;
  readonly sha256: string;
  /** When its file came in first, as ISO 8601. */
  readonly importedAt: string;
}

/** What a person may decide about a quarantined row. */
export const ROW_DECISIONS = frozen(["settled", "discarded", "reopened"] as const);

/** A decision about a quarantined row, or about the whole file that it is in. Nothing is deleted; the last one counts. */
export interface RowDecision {
  readonly decision: (typeof ROW_DECISIONS)[number] | "withdrawn";
  readonly person: string;
  readonly reason: string;
  /** As ISO 8601. */
  readonly at: string;
}

/** A row that waits no longer, or for nobody, and why. */
export interface SettledRow extends KeptQuarantinedRow {
  /** The file whose row took its place, or in which the same row came first; absent where a person decided. */
  readonly replacedBy?: string;
  /** The row is of a cart that the carts file lists as one of another base. */
  readonly ofOtherBase?: true;
  readonly decided?: RowDecision;
  /** When it ceased to wait, as ISO 8601; absent for rows of another base. */
  readonly settledAt?: string;
}

type RawRow = Pick<KeptQuarantinedRow, "file" | "sha256" | "importedAt" | "row" | "text"> &
  Readonly<Record<"sheet" | "cart" | "circuit" | "drawnOn" | "sample", string | null>> & {
    readonly issues: string;
  };

const columnsOf = (view: string) =>
  `file, sha256, ${view}.sheet, ${view}.row, text, issues, cart, circuit, drawn_on AS drawnOn, sample,
   (SELECT min(at) FROM reading WHERE reading.file_id = ${view}.file_id) AS importedAt`;

/** The rows that wait for a person, file by file. */
export function quarantineIn(db: Connection): KeptQuarantinedRow[] {
  return rowsOf<RawRow>(db, `SELECT ${columnsOf("open_row")} FROM open_row ORDER BY file_id, sheet, row`).map(
    keptRow,
  );
}

/** The rows that wait no longer: replaced by a later file, decided about by a person, or of a cart of another base. */
export function settledRowsIn(db: Connection): SettledRow[] {
  const rows = rowsOf<
    RawRow & { replacedBy: string | null; replacedAt: string | null; isOther: number } & (
        | RowDecision
        | Record<keyof RowDecision, null>
      ) & { withdrawnBy: string; withdrawnBecause: string; withdrawnAt: string | null }
  >(
    db,
    `SELECT ${columnsOf("quarantined_row")}, made.decision, made.person, made.reason, made.at,
       taken_back.person AS withdrawnBy, taken_back.reason AS withdrawnBecause, taken_back.at AS withdrawnAt,
       (SELECT name FROM file WHERE id = settled_by) AS replacedBy,
       (SELECT min(at) FROM reading WHERE reading.file_id = settled_by) AS replacedAt,
       ifnull(cart, '') IN (SELECT cart FROM other_cart) AS isOther
     FROM quarantined_row LEFT JOIN quarantine_decision AS made ON made.id = decision_id
       LEFT JOIN standing_withdrawal AS taken_back ON taken_back.file_id = quarantined_row.file_id
     WHERE quarantined_row.id NOT IN (SELECT id FROM open_row) ORDER BY quarantined_row.file_id, quarantined_row.sheet, quarantined_row.row`,
  );
  return rows.map((row): SettledRow => {
    const { replacedBy, replacedAt, withdrawnAt, withdrawnBy, withdrawnBecause } = row;
    if (row.decision !== null && row.decision !== "reopened") {
      const { decision, person, reason, at } = row;
      return { ...keptRow(row), decided: { decision, person, reason, at }, settledAt: at };
    }
    if (withdrawnAt !== null && replacedBy === null && !row.isOther) {
      const by = { person: withdrawnBy, reason: withdrawnBecause };
      const decided = { decision: "withdrawn" as const, ...by, at: withdrawnAt };
      return { ...keptRow(row), decided, settledAt: withdrawnAt };
    }
    const isOther = replacedBy === null && row.isOther;
    const settled = given({ replacedBy, settledAt: replacedAt });
    return { ...keptRow(row), ...settled, ...(isOther && { ofOtherBase: true as const }) };
  });
}

function keptRow(kept: RawRow): KeptQuarantinedRow {
  const { file, sha256, importedAt, sheet, row, text, cart, circuit, drawnOn, sample } = kept;
  const issues = JSON.parse(kept.issues) as QuarantinedRow["issues"];
  const id = idOf(sha256, sheet, row);
  return given({ id, file, sha256, importedAt, sheet, row, text, issues, cart, circuit, drawnOn, sample });
}

const ID_DIGITS = 10;

/** From where the row stands, so that reading its file again does not change the name. */
function idOf(sha256: string, sheet: string | null, row: number): string {
  return createHash("sha256")
    .update(`${sha256}\n${sheet ?? ""}\n${row}`)
    .digest("hex")
    .slice(0, ID_DIGITS);
}

/**
 * Keeps what a person decided about quarantined rows.
 *
 * @param ids - of rows that wait; for "reopened", of rows that wait no longer
 * @throws BookError when a row is not there, or person or reason are blank; nothing is kept then
 */
export function decideRows(
  db: Connection,
  ids: readonly string[],
  decided: RowDecision & { readonly decision: (typeof ROW_DECISIONS)[number] },
): KeptQuarantinedRow[] {
  const { decision, person, reason, at } = decided;
  if (!isText(person)) throw new BookError("a decision about a quarantined row needs the name of the person");
  if (!isText(reason)) throw new BookError("a decision about a quarantined row needs a reason");
  const subject = (found: readonly KeptQuarantinedRow[]) =>
    `${decision}: ${found.map((one) => describeOrigin({ ...one, rows: [one.row] })).join(", ")}`;
  return inEntry(db, { kind: "quarantine", by: person, subject }, () => {
    const rows = decision === "reopened" ? settledRowsIn(db) : quarantineIn(db);
    const found = ids.map((id) => {
      const row = rows.find((entry) => entry.id === id);
      if (row !== undefined) return row;
      throw new BookError(
        `the book has no row "${id}" ${decision === "reopened" ? "that was settled" : "in quarantine"}; its rows are named in the list`,
      );
    });
    const keep = inserterInto(db, "quarantine_decision");
    const reopen = db.prepare(
      "UPDATE quarantine SET settled_by = NULL WHERE row = ? AND sheet IS ? AND file_id IN (SELECT id FROM file WHERE sha256 = ?)",
    );
    for (const { sha256, sheet, row } of found) {
      keep({ file_sha256: sha256, sheet: sheet ?? "", row, decision, person, reason, at });
      if (decision === "reopened") reopen.run(row, sheet ?? null, sha256);
    }
    return found;
  });
}
