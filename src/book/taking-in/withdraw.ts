import { isText } from "../../fitness/index.js";
import { inEntry } from "../chain/entry.js";
import { BookError, type Connection, numberOf, readerOf, rowsOf } from "../storage/database.js";
import { inserterInto } from "../storage/insert.js";
import { type SampleRow, SELECT_SAMPLES } from "../storage/sample-row.js";
import { dropEmptyCircuits } from "./empty-circuits.js";
import { numbersFinder } from "./numbers-in-text.js";
import { MARKED_DISCARD } from "./quarantine.js";
import { removeSample, reportsOf, writeReports } from "./reports-of-sample.js";
import { fatesOfRows } from "./row-fates.js";
import type { WithdrawalEntry } from "./standing-withdrawals.js";

/** What taking a file back has done. */
export interface WithdrawnFile {
  readonly file: string;
  readonly sha256: string;
  /** How many samples are gone, and how many are as other files report them. */
  readonly withdrawn: number;
  readonly restored: number;
  /** How many rows of other files wait again, because this file had settled them. */
  readonly reopened: number;
  /** Files that name the same samples; what they report of them comes in when they are imported again. */
  readonly importAgain: readonly string[];
}

/**
 * Takes back what a file brought into the book. Nothing is deleted: what it reported is kept with who took it back and why,
 * and what other files report of the same samples counts again.
 *
 * @throws BookError when person or reason are blank, or the file was taken back already
 */
export function withdrawFile(
  db: Connection,
  file: { readonly file: string; readonly sha256: string },
  entry: WithdrawalEntry & { readonly at: string },
): WithdrawnFile {
  const { person, reason } = entry;
  if (!isText(person)) throw new BookError("withdrawing a file needs the name of the person");
  if (!isText(reason)) throw new BookError("withdrawing a file needs a reason");
  const subject = ({ withdrawn, restored }: WithdrawnFile) =>
    `${file.file}, SHA-256 ${file.sha256}: ${withdrawn} samples withdrawn, ${restored} as before; ${reason}`;
  return inEntry(db, { kind: "withdrawal", by: person, subject }, () => withdrawWithin(db, file, entry));
}

/** The same within a step that the caller opens. */
export function withdrawWithin(
  db: Connection,
  file: { readonly file: string; readonly sha256: string },
  { person, reason, at }: WithdrawalEntry & { readonly at: string },
): WithdrawnFile {
  const ids = rowsOf<{ id: number }>(
    db,
    `SELECT id FROM file WHERE sha256 = ? AND id NOT IN (SELECT file_id FROM standing_withdrawal) ORDER BY id`,
    file.sha256,
  );
  if (ids.length === 0) throw new BookError(`${file.file} is withdrawn already`);
  const last_reading = numberOf(db, "SELECT max(id) FROM reading");
  const insert = inserterInto(db, "withdrawal");
  const keep = inserterInto(db, "withdrawn_report");
  const waiting = () =>
    numberOf(
      db,
      "SELECT count(*) FROM open_row WHERE file_id NOT IN (SELECT id FROM file WHERE sha256 = ?)",
      file.sha256,
    );
  const before = waiting();
  const done = { withdrawn: 0, restored: 0 };
  const again = new Set<string>();
  for (const { id } of ids) {
    const withdrawal_id = insert({ file_id: id, last_reading, at, person, reason }).id;
    const samples = takeOutReports(db, id);
    const alsoIn = filesThatName(db, new Set(samples.map(({ sample }) => sample)), file.sha256);
    for (const { sample, own, isLeft } of samples) {
      const files = alsoIn.get(sample) ?? [];
      for (const { name } of files) again.add(name);
      const also_in = JSON.stringify(files.map((other) => other.id));
      for (const report of own) keep({ withdrawal_id, report: JSON.stringify(report), also_in });
      done[isLeft ? "restored" : "withdrawn"] += 1;
    }
    reopenRows(db, id, { file: file.file, person, reason, at });
  }
  dropEmptyCircuits(db);
  return {
    file: file.file,
    sha256: file.sha256,
    ...done,
    reopened: waiting() - before,
    importAgain: [...again],
  };
}

/** @returns the samples that the file reported, what it reported, and whether another file reports them */
function takeOutReports(db: Connection, fileId: number) {
  const ids = rowsOf<{ id: number }>(
    db,
    `SELECT id FROM sample WHERE file_id = ?
     UNION SELECT sample_id FROM amendment WHERE file_id = ? OR earlier_file_id = ? ORDER BY id`,
    ...[fileId, fileId, fileId],
  );
  const select = readerOf<SampleRow>(db, `${SELECT_SAMPLES} WHERE sample.id = ?`);
  return ids.map(({ id }) => {
    const row = select.first(id) as SampleRow;
    const reports = reportsOf(db, row);
    const left = reports.filter((report) => report.fileId !== fileId);
    if (left.length > 0) writeReports(db, id, left);
    else removeSample(db, id);
    const own = reports.flatMap(({ sample, fileId: of }) => (of === fileId ? [sample] : []));
    return { sample: row.sample, own, isLeft: left.length > 0 };
  });
}

/** Rows of other files that this file had replaced or discarded wait again. */
function reopenRows(
  db: Connection,
  fileId: number,
  { file, person, reason, at }: WithdrawalEntry & { readonly file: string; readonly at: string },
): void {
  db.prepare("UPDATE quarantine SET settled_by = NULL WHERE settled_by = ?").run(fileId);
  const by = `${file} `;
  db.prepare(
    `INSERT INTO quarantine_decision (file_sha256, sheet, row, decision, person, reason, at)
       SELECT file_sha256, sheet, row, 'reopened', ?, ?, ? FROM quarantine_decision AS made
       WHERE reason = ? AND substr(person, 1, ?) = ? AND id = (SELECT max(id) FROM quarantine_decision AS later
         WHERE later.file_sha256 = made.file_sha256 AND later.sheet = made.sheet AND later.row = made.row)`,
  ).run(person, `${file} was withdrawn: ${reason}`, at, MARKED_DISCARD, by.length, by);
}

/** By sample, the files with rows that name it and left no trace of their own, or wait: this file had said the same, or otherwise. */
function filesThatName(db: Connection, names: ReadonlySet<string>, sha256: string): Map<string, NamedFile[]> {
  const others = rowsOf<NamedFile>(
    db,
    `SELECT DISTINCT file.id, name FROM file JOIN reading ON file_id = file.id
     WHERE sha256 <> ? AND (known > 0 OR quarantined > 0)
       AND file.id NOT IN (SELECT file_id FROM standing_withdrawal) ORDER BY file.id`,
    sha256,
  );
  const numbersIn = numbersFinder(names);
  const found = new Map<string, NamedFile[]>();
  for (const file of others) {
    for (const { fate, text } of fatesOfRows(db, file.id)) {
      if (fate !== "known" && fate !== "quarantined") continue;
      for (const name of numbersIn(text)) {
        const files = found.get(name) ?? [];
        if (!files.includes(file)) found.set(name, [...files, file]);
      }
    }
  }
  return found;
}

interface NamedFile {
  readonly id: number;
  readonly name: string;
}
