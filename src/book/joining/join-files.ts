import { IntakeError } from "../../intake/index.js";
import { piecesIn } from "../chain/entry.js";
import { type Connection, eachOf, firstOf, numberOf, readerOf, rowsOf } from "../storage/database.js";
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
  /** Whether our book has it since now. */
  readonly isNew: boolean;
  /** Whether our book had no file of these bytes, read in whatever way. */
  readonly isNewContent: boolean;
  /** Whether all that our book knows of it came from this other book. */
  readonly isFollowed: boolean;
  /** How its rows came out in our book. */
  readonly counts: { taken: number; amended: number; setAside: number };
}

interface FileRow {
  readonly id: number;
  readonly sha256: string;
  readonly name: string;
  readonly bytes: number;
  readonly read_as: string;
  readonly assumptions: string;
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
    `SELECT file.id, file.sha256, file.name, bytes, read_as, assumptions, column_map.sha256 AS map_sha256,
       column_map.name AS map_name, column_map.body AS map_body
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
  if (row.map_sha256 !== null) {
    ours
      .prepare("INSERT INTO column_map (sha256, name, body) VALUES (?, ?, ?) ON CONFLICT DO NOTHING")
      .run(row.map_sha256, row.map_name, row.map_body);
  }
  const { lastInsertRowid } = ours
    .prepare(
      `INSERT INTO file (sha256, column_map_id, name, bytes, read_as, assumptions)
       VALUES (?, (SELECT id FROM column_map WHERE sha256 = ?), ?, ?, ?, ?)`,
    )
    .run(row.sha256, row.map_sha256, row.name, row.bytes, row.read_as, row.assumptions);
  const id = Number(lastInsertRowid);
  const keepText = ours.prepare("INSERT INTO row_text (file_id, sheet, first_row, body) VALUES (?, ?, ?, ?)");
  const texts = eachOf<{ sheet: string; first_row: number; body: Buffer }>(
    theirs,
    "SELECT sheet, first_row, body FROM row_text WHERE file_id = ? ORDER BY sheet, first_row",
    row.id,
  );
  for (const { sheet, first_row, body } of texts) keepText.run(id, sheet, first_row, body);
  const keepOther = ours.prepare("INSERT INTO other_row (file_id, sheet, row, why) VALUES (?, ?, ?, ?)");
  const others = eachOf<{ sheet: string | null; row: number; why: string }>(
    theirs,
    "SELECT sheet, row, why FROM other_row WHERE file_id = ? ORDER BY rowid",
    row.id,
  );
  for (const { sheet, row: place, why } of others) keepOther.run(id, sheet, place, why);
  return id;
}

/** Tells of a file of our book whether it was only ever read by the other book, and came from there. */
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

/** @throws IntakeError where a book waits for a file that has to be imported again: what that file says is in no book yet */
export function refuseAwaited(db: Connection, book: string, name: string): void {
  const row = firstOf<{ name: string }>(db, "SELECT name FROM awaited_file LIMIT 1");
  if (row === undefined) return;
  throw new IntakeError(
    `${name}: ${book} waits for ${row.name} to be imported again, after another file was withdrawn; import it there first`,
  );
}

/**
 * Takes files back that the other book has taken back since ours knew it, where ours knows them from there only.
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
  const standing = rowsOf<{ id: number; file_id: number; at: string; person: string; reason: string }>(
    theirs,
    "SELECT id, file_id, at, person, reason FROM standing_withdrawal ORDER BY id",
  );
  const read = rowsOf<{ id: number; file_id: number }>(theirs, "SELECT id, file_id FROM reading");
  const readSince = new Set(read.filter(({ id }) => news.has("reading", id)).map((row) => row.file_id));
  const withdrawn = new Map(standing.map((row) => [row.file_id, row]));
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

/** Keeps of each new file that it was read, when, and how its rows came out here; and that it was taken back. */
export function keepReadings(
  ours: Connection,
  theirs: Connection,
  files: ReadonlyMap<number, JoinedFile>,
  news: News,
): void {
  const insert = ours.prepare(
    `INSERT INTO reading (file_id, at, rows, taken, known, amended, quarantined, not_samples)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  );
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
    const notSamples = numberOf(ours, "SELECT count(*) FROM other_row WHERE file_id = ?", own);
    const found = taken + amended + quarantined + notSamples;
    // A row that left no trace said what the book knew from another file.
    const all = Math.max(rows, found);
    insert.run(own, at, all, taken, all - found, amended, quarantined, notSamples);
  }
}

/** Takes the files back that came in as withdrawn ones. */
export function keepWithdrawals(
  ours: Connection,
  theirs: Connection,
  files: ReadonlyMap<number, JoinedFile>,
): void {
  const keep = ours.prepare(
    `INSERT INTO withdrawal (file_id, last_reading, at, person, reason)
     VALUES (?, (SELECT max(id) FROM reading), ?, ?, ?)`,
  );
  // Nothing waits for another file: such a book is not brought in.
  const keepReport = ours.prepare(
    "INSERT INTO withdrawn_report (withdrawal_id, report, also_in) VALUES (?, ?, '[]')",
  );
  const reports = readerOf<{ report: string }>(
    theirs,
    "SELECT report FROM withdrawn_report WHERE withdrawal_id = ? ORDER BY id",
  );
  for (const row of rowsOf<{ id: number; file_id: number; at: string; person: string; reason: string }>(
    theirs,
    "SELECT id, file_id, at, person, reason FROM standing_withdrawal ORDER BY id",
  )) {
    const file = files.get(row.file_id);
    if (!file?.isNew) continue;
    const { lastInsertRowid } = keep.run(file.ours, row.at, row.person, row.reason);
    for (const { report } of reports.all(row.id)) keepReport.run(Number(lastInsertRowid), report);
  }
}
