import { IntakeError } from "../../intake/index.js";
import { piecesIn } from "../chain/entry.js";
import { type Connection, eachOf, firstOf, numberOf, readerOf, rowsOf } from "../storage/database.js";
import { COLUMNS, inserterInto, type RowOf } from "../storage/insert.js";
import { isAwaited, isWithdrawn } from "../taking-in/standing-withdrawals.js";
import { type WithdrawnFile, withdrawWithin } from "../taking-in/withdraw.js";
import type { News } from "./news.js";

/** A file of the other book, and what it is in ours. */
export interface JoinedFile {
  /** Its number in the other book, and in ours. */
  readonly theirs: number;
  readonly ours: number;
  readonly file: string;
  readonly sha256: string;
  /** Whether it came into our book just now. */
  readonly isNew: boolean;
  /** Whether our book had no file of these bytes, read in whatever way. */
  readonly isNewContent: boolean;
  /** Whether all that our book knows of it came from this other book. */
  readonly isFollowed: boolean;
  /** How its rows came out in our book. */
  readonly counts: { taken: number; amended: number; setAside: number };
}

interface FileRow extends RowOf<"file"> {
  readonly id: number;
  readonly sha256: string;
  readonly name: string;
  readonly map_sha256: string | null;
  readonly map_name: string | null;
  readonly map_body: string | null;
}

/**
 * Finds the files of the other book in ours, and puts those that ours does not have into it with the texts of their rows.
 *
 * @param keep - makes an entry of one file: a pack of evidence shows the whole entry that its file is in
 */
export function joinFiles(
  ours: Connection,
  theirs: Connection,
  keep: (what: string, insert: () => number) => number,
): Map<number, JoinedFile> {
  const isFollowed = followedFiles(ours, theirs);
  const before = new Set(
    rowsOf<{ sha256: string }>(ours, "SELECT sha256 FROM file").map(({ sha256 }) => sha256),
  );
  const find = readerOf<{ id: number }>(
    ours,
    `SELECT file.id FROM file LEFT JOIN column_map ON column_map.id = column_map_id
     WHERE file.sha256 = ? AND column_map.sha256 IS ?`,
  );
  const rows = rowsOf<FileRow>(
    theirs,
    `SELECT file.*, column_map.sha256 AS map_sha256, column_map.name AS map_name, column_map.body AS map_body
     FROM file LEFT JOIN column_map ON column_map.id = column_map_id ORDER BY file.id`,
  );
  const files = rows.map((row): JoinedFile => {
    const known = find.first(row.sha256, row.map_sha256);
    return {
      theirs: row.id,
      ours: known?.id ?? keep(`${row.name}, SHA-256 ${row.sha256}`, () => insertFile(ours, theirs, row)),
      file: row.name,
      sha256: row.sha256,
      isNew: known === undefined,
      isNewContent: !before.has(row.sha256),
      isFollowed: known === undefined || isFollowed(known.id),
      counts: { taken: 0, amended: 0, setAside: 0 },
    };
  });
  return new Map(files.map((file) => [file.theirs, file]));
}

function insertFile(ours: Connection, theirs: Connection, row: FileRow): number {
  const { map_sha256, map_name, map_body } = row;
  if (map_sha256 !== null) {
    const map = { sha256: map_sha256, name: map_name, body: map_body };
    inserterInto(ours, "column_map", "ON CONFLICT DO NOTHING")(map);
  }
  const findMap = "SELECT id FROM column_map WHERE sha256 = ?";
  const column_map_id = firstOf<{ id: number }>(ours, findMap, map_sha256)?.id ?? null;
  const file_id = inserterInto(ours, "file")({ ...row, column_map_id }).id;
  const copyRows = (table: "row_text" | "other_row", order: string) => {
    const keep = inserterInto(ours, table);
    const select = `SELECT ${COLUMNS[table]} FROM ${table} WHERE file_id = ? ORDER BY ${order}`;
    for (const one of eachOf<RowOf<typeof table>>(theirs, select, row.id)) keep({ ...one, file_id });
  };
  copyRows("row_text", "sheet, first_row");
  copyRows("other_row", "rowid");
  return file_id;
}

/** Whether only the other book has ever read a file of ours, so that all that ours knows of it came from there. */
function followedFiles(ours: Connection, theirs: Connection): (fileId: number) => boolean {
  const readings = piecesIn(ours, "of_table = 'reading'");
  const ofBook = new Set(rowsOf<{ hash: string }>(theirs, "SELECT hash FROM entry").map(({ hash }) => hash));
  const isOfBook = new Map(
    piecesIn(ours, "of_table = 'brought_entry'").map(({ entry, last }) => [
      entry,
      ofBook.has(
        firstOf<{ hash: string }>(ours, "SELECT hash FROM brought_entry WHERE id = ?", last)?.hash ?? "",
      ),
    ]),
  );
  const all = readerOf<{ id: number }>(ours, "SELECT id FROM reading WHERE file_id = ?");
  return (fileId) =>
    all.all(fileId).every(({ id }) => {
      const written = readings.find(({ first, last }) => id >= first && id <= last);
      return written !== undefined && isOfBook.get(written.entry) === true;
    });
}

/** @throws IntakeError where a book waits for a file to be imported again, because no book has what that file says */
export function refuseAwaited(db: Connection, book: string, name: string): void {
  const row = firstOf<{ name: string }>(db, "SELECT name FROM awaited_file LIMIT 1");
  if (row === undefined) return;
  throw new IntakeError(
    `${name}: ${book} waits for ${row.name} to be imported again, after another file was withdrawn; import it there first`,
  );
}

/**
 * Withdraws files that the other book has withdrawn since ours knew it, where ours knows them from there only.
 *
 * @throws IntakeError naming a file that counts in one book and was withdrawn in the other: a person has to settle that first
 */
export function joinWithdrawals(
  ours: Connection,
  theirs: Connection,
  files: ReadonlyMap<number, JoinedFile>,
  { name, news }: { readonly name: string; readonly news: News },
): WithdrawnFile[] {
  const done: WithdrawnFile[] = [];
  const read = rowsOf<{ id: number; file_id: number }>(theirs, "SELECT id, file_id FROM reading");
  const readSince = new Set(read.filter(({ id }) => news.has("reading", id)).map((row) => row.file_id));
  const withdrawn = new Map(standingIn(theirs).map((row) => [row.file_id, row]));
  for (const { theirs: id, ours: own, isNew, isFollowed, file, sha256 } of files.values()) {
    const row = withdrawn.get(id);
    if (isNew || isWithdrawn(ours, own) === (row !== undefined)) continue;
    const which = `${file} (SHA-256 ${sha256.slice(0, 12)})`;
    if (row === undefined && readSince.has(id)) {
      throw new IntakeError(
        `${name}: ${which} counts there, and was withdrawn in this book; withdraw it there too, or import it here again`,
      );
    }
    if (row === undefined || !news.has("withdrawal", row.id)) continue;
    if (!isFollowed) {
      throw new IntakeError(
        `${name}: ${which} was withdrawn there by ${row.person} on ${row.at.slice(0, 10)} (${row.reason}), and counts in this ` +
          "book, which has read it itself; withdraw it here too, or import it there again",
      );
    }
    done.push(withdrawWithin(ours, { file, sha256 }, row));
  }
  return done;
}

/** Keeps of each new file when it was read, and how its rows came out here. */
export function keepReadings(
  ours: Connection,
  theirs: Connection,
  files: ReadonlyMap<number, JoinedFile>,
  news: News,
): void {
  const insert = inserterInto(ours, "reading");
  const readings = readerOf<{ id: number }>(theirs, "SELECT id FROM reading WHERE file_id = ?");
  const isReadSince = (fileId: number) => readings.all(fileId).some(({ id }) => news.has("reading", id));
  for (const { theirs: id, ours: own, isNew, counts } of files.values()) {
    const { taken, amended, setAside } = counts;
    if (!isNew && taken + amended + setAside === 0) continue;
    // A file is waited for until it is read again, here or since then in the other book.
    if (isAwaited(ours, own) && !isReadSince(id)) continue;
    const { at, rows } = firstOf<{ at: string; rows: number }>(
      theirs,
      "SELECT min(at) AS at, max(rows) AS rows FROM reading WHERE file_id = ?",
      id,
    ) as { at: string; rows: number };
    const quarantined = numberOf(ours, "SELECT count(*) FROM quarantine WHERE file_id = ?", own);
    const not_samples = numberOf(ours, "SELECT count(*) FROM other_row WHERE file_id = ?", own);
    const found = taken + amended + quarantined + not_samples;
    // A row that left no trace said what the book knew from another file.
    const known = Math.max(0, rows - found);
    insert({ file_id: own, at, rows: found + known, taken, known, amended, quarantined, not_samples });
  }
}

/** Keeps the withdrawals of files that were withdrawn already when they came in. */
export function keepWithdrawals(
  ours: Connection,
  theirs: Connection,
  files: ReadonlyMap<number, JoinedFile>,
): void {
  const keep = inserterInto(ours, "withdrawal");
  const keepReport = inserterInto(ours, "withdrawn_report");
  const reports = readerOf<{ report: string }>(
    theirs,
    "SELECT report FROM withdrawn_report WHERE withdrawal_id = ? ORDER BY id",
  );
  const last_reading = numberOf(ours, "SELECT max(id) FROM reading");
  for (const row of standingIn(theirs)) {
    const file = files.get(row.file_id);
    if (!file?.isNew) continue;
    const withdrawal_id = keep({ ...row, file_id: file.ours, last_reading }).id;
    // Nothing waits for another file: such a book is not brought in.
    for (const { report } of reports.all(row.id)) keepReport({ withdrawal_id, report, also_in: "[]" });
  }
}

interface StandingWithdrawal {
  readonly id: number;
  readonly file_id: number;
  readonly at: string;
  readonly person: string;
  readonly reason: string;
}

function standingIn(db: Connection): StandingWithdrawal[] {
  return rowsOf(db, "SELECT id, file_id, at, person, reason FROM standing_withdrawal ORDER BY id");
}
