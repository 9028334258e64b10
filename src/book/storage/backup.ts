import { closeSync, existsSync, fsyncSync, openSync, renameSync, rmSync } from "node:fs";
import { attempt, BookError, type Connection } from "./database.js";

/**
 * Writes a copy of the whole book: under another name first, and under its own when all of it is on the disk, so that a
 * file of that name is always a whole backup.
 *
 * @param book - path of the book, for messages
 * @param path - where the copy goes
 * @throws BookError when the copy's file exists already or cannot be written, or the book cannot be read
 */
export function writeBackup(db: Connection, book: string, path: string): void {
  // The system ends a name at its first null, and would write to another place.
  if (path.includes("\0"))
    throw new BookError(`${JSON.stringify(path)}: is no name of a file; name another place`);
  if (existsSync(path)) throw new BookError(`${path}: exists already; a backup overwrites nothing`);
  const part = `${path}.${process.pid}.part`;
  try {
    rmSync(part, { force: true });
    db.prepare("VACUUM INTO ?").run(part);
    bringToDisk(part);
    renameSync(part, path);
  } catch (error) {
    remove(part);
    const { code = "", syscall } = error as { code?: string; syscall?: string };
    if (syscall !== undefined) {
      throw new BookError(`"${path}": cannot be written (${code}); name another place`, { cause: error });
    }
    attempt(/^SQLITE_(CORRUPT|NOTADB|BUSY|LOCKED)/.test(code) ? book : path, () => {
      throw error;
    });
  }
}

function remove(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // Where it could not be written there is nothing to remove.
  }
}

function bringToDisk(path: string): void {
  const handle = openSync(path, "r+");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
