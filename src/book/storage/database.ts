import { existsSync, type Stats, statSync } from "node:fs";
import { resolve } from "node:path";
import Database from "libsql";
import { withCheckedValues } from "./checked-values.js";
import { describeHolder } from "./lock-holder.js";
import { BOOK_APPLICATION_ID, CHAIN_VERSION, MIGRATIONS } from "./migrations.js";
import { type Connection, DamageError, numberOf } from "./reading.js";

export {
  bytesOf,
  type Connection,
  DamageError,
  eachOf,
  firstOf,
  numberOf,
  type Reader,
  readerOf,
  rowsOf,
  rowsTogether,
  type Sql,
  tryReadRows,
} from "./reading.js";

/** A book that cannot be opened, read or written; the message says what to do. */
export class BookError extends Error {
  override readonly name = "BookError";
}

/** How long a program waits for another one that is writing, in milliseconds, where nothing else is said. */
const WAIT_MS = 10_000;
/** The variable of the environment that says it in seconds, for places where large imports are usual. */
const WAIT_SECONDS = "SILTBOOK_WAIT";

/** How a book is opened. */
export interface OpenOptions {
  /** Create the book if it does not exist; otherwise a missing book is an error. */
  readonly create?: boolean;
  /** How long to wait for another program that is writing, in milliseconds; SILTBOOK_WAIT in seconds, or 10 s, when absent. */
  readonly waitMs?: number;
  /**
   * The program has compared the book with its chain already.
   *
   * @internal
   */
  readonly isChecked?: boolean;
}

/**
 * Opens the database of a book and brings its tables up to date.
 *
 * @param beginChain - begins the chain of a book that has none, when its tables are ready for it
 * @throws BookError when there is no book, the file is no book, is damaged, or was made by a newer siltbook
 */
export function connect(
  path: string,
  { create = false, waitMs = usualWaitMs() }: OpenOptions,
  beginChain: (db: Connection) => void,
): Connection {
  if (ADDRESS.test(path)) {
    throw new BookError(`${path}: is an address; a book is a file, so name one`);
  }
  if (!create && !existsSync(path)) throw new BookError(`${path}: there is no such book`);
  // An empty file is what is left of a book that was cut off at its beginning, or of one that was never begun.
  if (!create && statOf(path)?.size === 0) {
    throw new BookError(`${path}: is empty; name another file, or go on with the last backup`);
  }
  // The engine takes a file of one byte for an empty one, and would write over it.
  if (statOf(path)?.size === 1) throw new BookError(`${path}: is not a sample book; name another file`);
  const db = openDatabase(path, waitMs);
  try {
    attempt(path, () => {
      db.exec(`PRAGMA busy_timeout = ${Math.round(waitMs)}`);
      refuseOthers(path, db);
      // Readers go on reading while another program writes, and a killed writer leaves nothing half done.
      db.exec("PRAGMA journal_mode = WAL");
      db.exec("PRAGMA synchronous = FULL");
      db.exec("PRAGMA foreign_keys = ON");
      db.exec("PRAGMA cache_size = -32000");
      migrate(db, beginChain);
    });
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

function usualWaitMs(): number {
  const seconds = Number(process.env[WAIT_SECONDS] ?? Number.NaN);
  return seconds >= 0 && seconds <= MAX_WAIT_SECONDS ? seconds * 1000 : WAIT_MS;
}

const MAX_WAIT_SECONDS = 24 * 60 * 60;

/** "http://…", "libsql://…" or "file:…"; a drive has one letter only. */
const ADDRESS = /^[a-z][a-z\d+.-]+:/i;
/** A book that is gone when it is closed. */
const IN_MEMORY = ":memory:";

/**
 * Opens what is left of a damaged book, to be read only.
 *
 * @throws BookError when there is no such file, or its tables cannot be found
 */
export function connectToDamaged(path: string): Connection {
  if (ADDRESS.test(path)) throw new BookError(`${path}: is an address; a book is a file, so name one`);
  if (!existsSync(path)) throw new BookError(`${path}: there is no such book`);
  return openDatabase(path, usualWaitMs());
}

function statOf(path: string): Stats | undefined {
  try {
    return statSync(path);
  } catch {
    return undefined;
  }
}

function openDatabase(path: string, waitMs: number): Connection {
  try {
    // The driver connects to what it takes for an address, and no whole path is one.
    return withCheckedValues(
      new Database(path === IN_MEMORY ? path : resolve(path), { timeout: waitMs } as Database.Options),
    );
  } catch (error) {
    // The driver gives no code here, only a sentence with the engine's number in it.
    const why = statOf(path)?.isDirectory() ? "is a folder; name a file" : CANNOT_BE_OPENED;
    throw new BookError(`${path}: ${why}`, { cause: error });
  }
}

/**
 * Closes a connection. The last one to close brings everything into the one file of the book and removes the files next to
 * it; while others have the book open, they keep them.
 */
export function disconnect(db: Connection): void {
  try {
    db.exec("PRAGMA busy_timeout = 0");
    db.exec("PRAGMA journal_mode = DELETE");
  } catch (error) {
    if (!(error as { code?: string }).code?.startsWith("SQLITE_")) throw error;
    // Another program has the book open, or it cannot be written now. Nothing is lost: the next to open it goes on.
  } finally {
    db.close();
  }
}

const USER_VERSION = "SELECT user_version FROM pragma_user_version";

/** Refuses what is no book, or a book that this siltbook does not know, before a byte of it is changed. */
function refuseOthers(path: string, db: Connection): void {
  const id = numberOf(db, "SELECT application_id FROM pragma_application_id");
  const tables = numberOf(db, "SELECT count(*) FROM sqlite_schema");
  if (id !== BOOK_APPLICATION_ID && tables > 0) {
    throw new BookError(`${path}: is a database, but not a sample book; name another file`);
  }
  const version = numberOf(db, USER_VERSION);
  if (version > MIGRATIONS.length) {
    throw new BookError(
      `${path}: was written by a newer siltbook (tables of version ${version}, this one knows ${MIGRATIONS.length}); update siltbook`,
    );
  }
}

/** Brings the tables of an older book up to date, all steps or none. */
function migrate(db: Connection, beginChain: (db: Connection) => void): void {
  if (numberOf(db, USER_VERSION) === MIGRATIONS.length) return;
  inTransaction(db, () => {
    // Another program may have done it while this one waited for the lock.
    const now = numberOf(db, USER_VERSION);
    for (const step of MIGRATIONS.slice(now)) db.exec(step);
    if (now < CHAIN_VERSION) beginChain(db);
    db.exec(`PRAGMA application_id = ${BOOK_APPLICATION_ID}; PRAGMA user_version = ${MIGRATIONS.length}`);
  });
}

/**
 * Runs something in one transaction: all of it is in the book afterwards, or nothing.
 *
 * The lock for writing is taken at the start, so that two programs never hold half of each other's work.
 */
export function inTransaction<T>(db: Connection, act: () => T): T {
  db.exec("BEGIN IMMEDIATE");
  try {
    const result = act();
    db.exec("COMMIT");
    return result;
  } catch (error) {
    if (db.inTransaction) db.exec("ROLLBACK");
    throw error;
  }
}

/**
 * Runs something on the database and says what a person can do when it fails.
 *
 * @throws BookError for a failure of the database; anything else is passed on
 */
export function attempt<T>(path: string, act: () => T): T {
  try {
    return act();
  } catch (error) {
    throw asBookError(path, error);
  }
}

/** As {@link attempt}, for what is read one by one. */
export function* attemptEach<T>(path: string, each: Iterable<T>): Generator<T> {
  try {
    yield* each;
  } catch (error) {
    throw asBookError(path, error);
  }
}

function asBookError(path: string, error: unknown): unknown {
  const { code = "", message } = error as { code?: string; message?: string };
  // The driver does not give every error of the engine the code of its kind.
  if (code.startsWith("SQLITE_") || (error as Error).constructor.name === "SqliteError") {
    return new BookError(`${path}: ${describeDatabaseError(path, code, message ?? "")}`, { cause: error });
  }
  if (error instanceof SyntaxError || error instanceof DamageError || code.startsWith("Z_")) {
    // The database is sound, but a piece of it is not what was written into it.
    return new BookError(`${path}: ${DAMAGED} (${message})`, { cause: error });
  }
  return error;
}

/** Whether something could not be done because another program is writing. */
export function isBusy(error: unknown): boolean {
  const { code = "" } = ((error as Error).cause ?? {}) as { code?: string };
  return error instanceof BookError && /^SQLITE_(BUSY|LOCKED)/.test(code);
}

const CANNOT_BE_OPENED = "cannot be opened; does the folder exist, and may it be written?";

const DAMAGED =
  'is damaged; keep it as it is, and go on with the last backup, into which the files since then can be imported again; "siltbook verify" names the damage';

function describeDatabaseError(path: string, code: string, message: string): string {
  if (code.startsWith("SQLITE_BUSY") || code.startsWith("SQLITE_LOCKED")) {
    return `another program${describeHolder(path)} is writing to the book; try again when it has finished`;
  }
  if (code.startsWith("SQLITE_NOTADB")) return "is not a sample book; name another file";
  if (code.startsWith("SQLITE_CORRUPT") || /malformed/.test(message)) return DAMAGED;
  if (code.startsWith("SQLITE_FULL")) {
    return "the disk is full; nothing of this step was kept, all before it is in the book. Make room and do it again";
  }
  if (code.startsWith("SQLITE_IOERR")) {
    return `the disk cannot be written or read (${code}): it may be full, gone, or failing; nothing of this step was kept, all before it is in the book. Make room or mend it, and do it again`;
  }
  if (code.startsWith("SQLITE_READONLY")) {
    return "cannot be written: the file or its folder is read-only; give it back its permission, or copy the book to a place that can be written";
  }
  if (code.startsWith("SQLITE_CANTOPEN")) return CANNOT_BE_OPENED;
  // The queries are always the same, so a book that cannot answer one is damaged or was changed.
  if (code === "SQLITE_ERROR") return `${DAMAGED} (${message})`;
  return `the database says ${message} (${code}); try again, and if it says so again go on with the last backup`;
}
