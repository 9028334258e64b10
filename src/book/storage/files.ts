import { BookError, type Connection, numberOf, rowsOf } from "./database.js";
import { given } from "./given.js";

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
  /** When it was taken back, as ISO 8601; absent where it counts. */
  readonly withdrawnAt?: string;
}

/** The files that the book has read, oldest first. */
export function filesIn(db: Connection): KnownFile[] {
  return rowsOf<Omit<KnownFile, "withdrawnAt"> & { withdrawnAt: string | null }>(
    db,
    `SELECT file.name AS file, sha256, reading.at, rows, taken, known, amended, quarantined,
       not_samples AS notSamples, standing_withdrawal.at AS withdrawnAt
     FROM file JOIN reading ON reading.id = (SELECT max(id) FROM reading WHERE file_id = file.id)
       LEFT JOIN standing_withdrawal ON standing_withdrawal.file_id = file.id
     ORDER BY file.id`,
  ).map(given);
}

/** The file of a SHA-256 as it was read first; 0 when the book has not read it. */
export function firstFileIn(db: Connection, sha256: string): number {
  return numberOf(db, "SELECT id FROM file WHERE sha256 = ? ORDER BY id LIMIT 1", sha256);
}

/** The file of a SHA-256 as it was read last. */
export function newestFileIn(db: Connection, sha256: string, book: string): number {
  const [file] = rowsOf<{ id: number }>(db, "SELECT id FROM file WHERE sha256 = ? ORDER BY id DESC", sha256);
  if (file === undefined) throw new BookError(`${book}: the book has read no file with SHA-256 ${sha256}`);
  return file.id;
}

/** With fewer digits two files of a large book could be meant. */
const MIN_DIGITS = 6;

/**
 * The file of a book that a person means: by its name, or by the first digits of its SHA-256.
 *
 * @throws BookError when no file or several files are meant
 */
export function fileNamed(files: readonly KnownFile[], name: string): KnownFile {
  const found = files.filter(
    ({ file, sha256 }) => file === name || (name.length >= MIN_DIGITS && sha256.startsWith(name)),
  );
  const [only, ...more] = new Map(found.map((file) => [file.sha256, file])).values();
  if (only !== undefined && more.length === 0) return only;
  const list = (only === undefined ? files : found).map(
    ({ file, sha256 }) => `${file} (${sha256.slice(0, 12)})`,
  );
  throw new BookError(
    only === undefined
      ? `the book has read no file "${name}"; it has ${list.join(", ") || "none"}`
      : `several files are named "${name}"; name one by its SHA-256: ${list.join(", ")}`,
  );
}
