import { closeSync, openSync, readSync } from "node:fs";

/** With these bytes a file of the database begins. */
const SIGNATURE = "SQLite format 3\0";

/** Whether a file begins as a book does; whether it is one shows when it is opened. False for what cannot be read. */
export function mayBeBook(path: string): boolean {
  let handle: number;
  try {
    handle = openSync(path, "r");
  } catch {
    return false;
  }
  try {
    const start = Buffer.alloc(SIGNATURE.length);
    return readSync(handle, start) === start.length && start.toString("latin1") === SIGNATURE;
  } catch {
    return false;
  } finally {
    closeSync(handle);
  }
}
