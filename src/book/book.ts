import type { CircuitDecision, LiftingEntry, VerdictRecord } from "../fitness/index.js";
import { type ByteSource, bytesOnDisk, type QuarantinedRow } from "../intake/index.js";
import type { FleetChange } from "../samples/index.js";
import { beginChainOfBook } from "./chain/begin.js";
import { type ChainEntry, entriesIn, headOf, inEntry } from "./chain/entry.js";
import { type BookVerification, entryWithHash, verifyBook } from "./chain/verify.js";
import { BookContents } from "./contents.js";
import { type EvidenceOfVerdict, evidenceOfVerdict } from "./evidence/evidence-of-verdict.js";
import { type BringInOptions, type BroughtBook, bringIn } from "./joining/bring-in.js";
import { type BroughtEntry, broughtEntry } from "./joining/news.js";
import {
  type EnteredBy,
  keepOverride,
  keepUnjudged,
  liftDecision,
  type Override,
} from "./judging/decisions.js";
import type { KeepCartsOptions } from "./judging/fleet.js";
import * as fleet from "./judging/fleet.js";
import { type PackedRecord, packRecords } from "./judging/pack-record.js";
import type { KeptVerdict, Recomputed } from "./judging/verdicts.js";
import * as verdicts from "./judging/verdicts.js";
import { writeBackup } from "./storage/backup.js";
import { CheckedFile } from "./storage/checked-file.js";
import { connect, disconnect, type OpenOptions } from "./storage/database.js";
import type { KnownFile } from "./storage/files.js";
import { faultsIn } from "./storage/soundness.js";
import type { KeptQuarantinedRow, ROW_DECISIONS, RowDecision } from "./taking-in/open-rows.js";
import * as openRows from "./taking-in/open-rows.js";
import type { WithdrawalEntry } from "./taking-in/standing-withdrawals.js";
import { setStraysAside } from "./taking-in/strays.js";
import { type FileReport, type TakeInOptions, takeIn } from "./taking-in/take-in.js";
import { type WithdrawnFile, withdrawFile } from "./taking-in/withdraw.js";

/**
 * A sample book: one database file with samples, where each came from, carts, circuits, events and requirements.
 *
 * Several programs may have it open; one writes at a time and the others wait. A program that is killed leaves whole files
 * only.
 */
export class Book extends BookContents {
  readonly #file: CheckedFile;

  private constructor(path: string, file: CheckedFile) {
    super(path, file);
    this.#file = file;
  }

  /**
   * Opens a book.
   *
   * @param path - the book's file; no folder next to it is needed
   * @throws BookError when there is no book and none is to be made, or when the file is no book, damaged, or newer
   */
  static open(path: string, options: OpenOptions = {}): Book {
    const db = connect(path, options, beginChainOfBook);
    return new Book(path, new CheckedFile(path, db, options.isChecked ?? false));
  }

  /** Closes the book; afterwards everything is in its one file. */
  close(): void {
    disconnect(this.#file.db);
  }

  /**
   * Brings one laboratory file into the book: all of it or nothing.
   *
   * Bringing in a file twice changes nothing. A corrected report of a sample becomes an amendment, with the earlier values
   * kept.
   *
   * @param source - a path, or bytes with a name
   * @throws IntakeError when the file cannot be read, names no samples, or needs a column map
   * @throws BookError when the book cannot be written; nothing of the file is in it then
   */
  async takeIn(source: string | ByteSource, options: TakeInOptions = {}): Promise<FileReport> {
    this.#file.checked(() => {});
    try {
      return await takeIn(this.#file.db, typeof source === "string" ? bytesOnDisk(source) : source, options);
    } catch (error) {
      return this.#file.checked(() => {
        throw error;
      });
    }
  }

  /**
   * Brings all that another book holds into this one, with where it came from: all of it or nothing. What this book knows of
   * it already is left out, so a book that has grown since can be brought in again.
   *
   * A result that contradicts this book waits in quarantine, as does a row that waits in either book, and a decision that stops
   * a circuit there stops it here. The requirement stays that of this book.
   *
   * @param path - the other book
   * @throws IntakeError when the other book cannot be read, does not fit its chain, or says what cannot be put together with
   *   this one
   * @throws BookError when this book cannot be written; nothing of the other is in it then
   */
  bringIn(path: string, options: BringInOptions = {}): BroughtBook {
    return this.#file.checked((db) => bringIn(db, path, options));
  }

  /**
   * Keeps the carts of a carts file (JSON text). Samples that came in before the book knew its carts are compared with them.
   *
   * @returns what the file changes, and the rows of samples that name no circuit of the book's carts: they are now in
   *   quarantine
   * @throws IntakeError when the file is not a carts file, or when a person could take one of its carts for another of the
   *   book
   */
  keepCarts(
    file: string,
    text: string,
    options: KeepCartsOptions = {},
  ): { readonly changes: FleetChange[]; readonly setAside: QuarantinedRow[] } {
    return this.#file.checked((db) =>
      inEntry(db, { kind: "carts", by: options.by, subject: () => file }, () => ({
        changes: fleet.keepCarts(db, file, text, options),
        setAside: setStraysAside(db),
      })),
    );
  }

  /** Keeps a requirements file (JSON text), which is judged by from now on, and says what it changes. */
  keepRequirements(file: string, text: string, { by }: { readonly by?: string } = {}): FleetChange[] {
    return this.#file.checked((db) => fleet.keepRequirements(db, file, text, now(), by));
  }

  /**
   * Keeps what a person decided about quarantined rows. Verdicts on the circuits that a row may concern say the decision.
   *
   * @param ids - of the rows; see {@link Book.quarantine}
   * @throws BookError when a row is not there, or person or reason are blank; nothing is kept then
   */
  decideRows(
    ids: readonly string[],
    decision: Omit<RowDecision, "at"> & { readonly decision: (typeof ROW_DECISIONS)[number] },
  ): KeptQuarantinedRow[] {
    return this.#file.checked((db) => openRows.decideRows(db, ids, { ...decision, at: now() }));
  }

  /** Keeps verdicts with everything they rest on; one on the same inputs is kept once. */
  keepVerdicts(records: readonly VerdictRecord[]): KeptVerdict[] {
    return this.#file.checked((db) => verdicts.keepVerdicts(db, records, now()));
  }

  /** Makes records ready for {@link Book.keepPacked}, which is what takes most of the time of keeping them. @internal */
  packVerdicts(records: readonly VerdictRecord[]): PackedRecord[] {
    return this.#file.checked((db) => packRecords(records, (hashes) => verdicts.inputsIn(db, hashes)));
  }

  /**
   * Keeps verdicts as {@link Book.keepVerdicts} does.
   *
   * @param judgedFrom - number of {@link Book.lastChange} before they were judged from this book
   * @internal
   */
  keepPacked(records: readonly PackedRecord[], judgedFrom?: number): KeptVerdict[] {
    return this.#file.checked((db) => verdicts.keepPacked(db, records, now(), judgedFrom));
  }

  /** Keeps what a person decided against a verdict, with the reason. The verdict itself never changes. */
  override(verdictId: number, override: Omit<Override, "at">, entered: EnteredBy = {}): CircuitDecision {
    return this.#file.checked((db) => keepOverride(db, verdictId, { at: now(), ...override }, entered));
  }

  /** Keeps what a person decided about a circuit that has no verdict: it can only be stopped. */
  overrideUnjudged(
    cart: string,
    circuit: string,
    override: Omit<Override, "at">,
    entered: EnteredBy = {},
  ): CircuitDecision {
    return this.#file.checked((db) =>
      keepUnjudged(db, { cart, circuit }, { at: now(), ...override }, entered),
    );
  }

  /** Lifts what a person decided about a circuit; it stays in the book with who lifted it and why. */
  lift(cart: string, circuit: string, lifting: LiftingEntry, entered: EnteredBy = {}): CircuitDecision {
    return this.#file.checked((db) =>
      liftDecision(db, { cart, circuit }, { at: now(), ...lifting }, entered),
    );
  }

  /** Judges again from the record of a verdict and says whether the answer is the same to the last byte. */
  recompute(verdictId: number): Recomputed {
    return this.#file.checked((db) => verdicts.recomputeVerdict(db, verdictId));
  }

  /**
   * Takes back what a file brought in: its samples count no longer, and what other files report of them counts again. It is
   * kept with who took it back and why, and verdicts that it may concern say so. Importing the file again brings it back.
   *
   * @param file - one of {@link Book.files}
   * @throws BookError when person or reason are blank, or the file was taken back already
   */
  withdraw(file: Pick<KnownFile, "file" | "sha256">, entry: WithdrawalEntry): WithdrawnFile {
    const at = new Date().toISOString();
    return this.#file.checked((db) => withdrawFile(db, file, { ...entry, at }));
  }

  /**
   * Writes a copy of the whole book, also while other programs use it.
   *
   * @throws BookError when the copy's file exists already or cannot be written
   */
  backup(path: string): void {
    writeBackup(this.#file.db, this.path, path);
  }

  /**
   * Checks the book's file from end to end.
   *
   * @returns what is wrong; nothing for a sound book
   */
  check(): string[] {
    return this.#file.attempt((db) => faultsIn(db));
  }

  /** The last entry of the chain: it stands for everything that is in the book. */
  head(): ChainEntry {
    return this.#file.attempt((db) => headOf(db) as ChainEntry);
  }

  /** The last entry that verdicts rest on: of any kind but verdicts, which are there for themselves. @internal */
  lastChange(): ChainEntry {
    return this.#file.attempt(
      (db) => entriesIn(db, "kind <> 'verdicts' ORDER BY number DESC LIMIT 1")[0] as ChainEntry,
    );
  }

  /** All entries of the chain, the first one first. @internal */
  entries(): ChainEntry[] {
    return this.#file.attempt((db) => entriesIn(db, "TRUE ORDER BY number"));
  }

  /**
   * Checks everything in the book against its chain, computes every verdict again, and checks the file itself.
   *
   * @returns what does not fit, the first entry first
   */
  verify(): BookVerification {
    return this.#file.attempt((db) => verifyBook(db));
  }

  /**
   * The entry of the chain whose hash begins with some digits: what a printed head refers to.
   *
   * @returns undefined when the book does not contain it
   */
  entryWithHash(digits: string): ChainEntry | undefined {
    return this.#file.attempt((db) => entryWithHash(db, digits));
  }

  /** The same in a book that was brought into this one. @internal */
  broughtEntry(digits: string): BroughtEntry | undefined {
    return this.#file.attempt((db) => broughtEntry(db, digits));
  }

  /**
   * What one verdict rests on, with the entries of the chain that cover it. @internal
   *
   * @throws BookError when there is no such verdict, or what it rests on was damaged
   */
  evidence(verdictId: number): EvidenceOfVerdict {
    return this.#file.checked((db) => evidenceOfVerdict(db, verdictId));
  }
}

/** As ISO 8601. */
function now(): string {
  return new Date().toISOString();
}
