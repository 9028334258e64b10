import { BookError, type Connection, numberOf, rowsOf } from "./database.js";

/** A file that the book has read, and what became of its rows when it last brought something in. */
export interface KnownFile {
  readonly file: string;
  readonly sha256: string;
  readonly at: string;
  readonly rows: number;
  readonly taken: number;
  readonly known: number;
  readonly amended: number;
  readonly quarantined: number;
  readonly notSamples: number;
}

/** The files that the book has read, oldest first. */
export function filesIn(db: Connection): KnownFile[] {
  return rowsOf<KnownFile>(
    db,
    `SELECT file.name AS file, sha256, at, rows, taken, known, amended, quarantined, not_samples AS notSamples
     FROM file JOIN reading ON reading.id = (SELECT max(id) FROM reading WHERE file_id = file.id)
     ORDER BY file.id`,
  );
}

/** The file of a SHA-256 as it was read first; 0 where there is none. */
export function firstFileIn(db: Connection, sha256: string): number {
  return numberOf(db, "SELECT id FROM file WHERE sha256 = ? ORDER BY id LIMIT 1", sha256);
}

/** The file of a SHA-256 as it was read last. */
export function newestFileIn(db: Connection, sha256: string, book: string): number {
  const [file] = rowsOf<{ id: number }>(db, "SELECT id FROM file WHERE sha256 = ? ORDER BY id DESC", sha256);
  if (file === undefined) throw new BookError(`${book}: the book has read no file with SHA-256 ${sha256}`);
  return file.id;
}
