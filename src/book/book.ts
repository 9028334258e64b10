import type {
  CircuitDecision,
  LiftingEntry,
  NamedCart,
  UnreadResult,
  VerdictRecord,
} from "../fitness/index.js";
import { type ByteSource, bytesOnDisk, type NamedSample, type QuarantinedRow } from "../intake/index.js";
import type { Cart, DatedReport, FleetChange, RequirementsFile, Sample } from "../samples/index.js";
import { beginChainOfBook } from "./chain/begin.js";
import { type ChainEntry, entriesIn, headOf, inEntry } from "./chain/entry.js";
import { type BookVerification, entryWithHash, verifyBook } from "./chain/verify.js";
import { type EvidenceOfVerdict, evidenceOfVerdict } from "./evidence/evidence-of-verdict.js";
import {
  decisionsIn,
  type EnteredBy,
  keepOverride,
  keepUnjudged,
  liftDecision,
  type Override,
} from "./judging/decisions.js";
import type { KeepCartsOptions } from "./judging/fleet.js";
import * as fleet from "./judging/fleet.js";
import { type HeldOn, heldOn } from "./judging/held-on.js";
import { datedReportsIn, samplesKnownBy } from "./judging/known-by.js";
import { namedSamples } from "./judging/named-samples.js";
import { type PackedRecord, packRecords } from "./judging/pack-record.js";
import { type RowsQuery, rowsThatMayConcern } from "./judging/rows-of-circuit.js";
import type { ComparedVerdict, KeptVerdict, Recomputed, VerdictQuery } from "./judging/verdicts.js";
import * as verdicts from "./judging/verdicts.js";
import { writeBackup } from "./storage/backup.js";
import { CheckedFile } from "./storage/checked-file.js";
import { attemptEach, connect, disconnect, numberOf, type OpenOptions } from "./storage/database.js";
import { samplesAsCsv, samplesAsJsonLines } from "./storage/export.js";
import { filesIn, firstFileIn, type KnownFile, newestFileIn } from "./storage/files.js";
import { rowTextOf } from "./storage/row-text.js";
import { historyIn, type SampleHistory, type SampleQuery, samplesIn } from "./storage/samples.js";
import { faultsIn } from "./storage/soundness.js";
import type { KeptQuarantinedRow, ROW_DECISIONS, RowDecision, SettledRow } from "./taking-in/open-rows.js";
import * as openRows from "./taking-in/open-rows.js";
import { fatesOfRows, type RowFate } from "./taking-in/row-fates.js";
import { type Withdrawal, type WithdrawalEntry, withdrawalsIn } from "./taking-in/standing-withdrawals.js";
import { samplesOfNoCircuit, setStraysAside } from "./taking-in/strays.js";
import { type FileReport, type TakeInOptions, takeIn } from "./taking-in/take-in.js";
import { type WithdrawnFile, withdrawFile } from "./taking-in/withdraw.js";

/**
 * A sample book: one database file with samples, where each came from, carts, circuits, events and requirements.
 *
 * Several programs may have it open; one writes at a time and the others wait. A program that is killed leaves whole files
 * only.
 */
export class Book {
  readonly #file: CheckedFile;

  private constructor(
    readonly path: string,
    file: CheckedFile,
  ) {
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

  /** The newest sample of each circuit that is not among some carts, where it may be of one that is: as what could not be read. */
  samplesOfNoCircuit(carts: readonly NamedCart[]): UnreadResult[] {
    return this.#file.checked((db) => samplesOfNoCircuit(db, carts));
  }

  /** The samples whose numbers are in rows that name no cart. */
  namedSamples(rows: readonly QuarantinedRow[]): NamedSample[] {
    return this.#file.checked((db) => namedSamples(db, rows));
  }

  /** The carts and circuits that a carts file has described. */
  carts(): Cart[] {
    return this.#file.checked((db) => fleet.cartsIn(db));
  }

  /** Names of the carts of other bases, as the last carts file that had a list of them lists them. */
  otherCarts(): string[] {
    return this.#file.checked((db) => fleet.otherCartsIn(db));
  }

  /** Every circuit that has samples or that a carts file has described, by name. */
  circuits(): { readonly cart: string; readonly circuit: string }[] {
    return this.#file.checked((db) => fleet.circuitsIn(db));
  }

  /** Keeps a requirements file (JSON text), which is judged by from now on, and says what it changes. */
  keepRequirements(file: string, text: string, { by }: { readonly by?: string } = {}): FleetChange[] {
    return this.#file.checked((db) => fleet.keepRequirements(db, file, text, now(), by));
  }

  /** The requirements kept last. */
  requirements(): RequirementsFile | undefined {
    return this.#file.checked((db) => fleet.requirementsIn(db));
  }

  /**
   * The carts and requirements that the book held when a day ended.
   *
   * @internal
   */
  heldOn(day: string): HeldOn {
    return this.#file.checked((db) => heldOn(db, day));
  }

  /** Samples one by one, by cart and circuit, oldest first. */
  samples(query: SampleQuery = {}): Generator<Sample> {
    const { knownBy } = query;
    this.#file.checked(() => {});
    return attemptEach(
      this.path,
      knownBy === undefined ? samplesIn(this.#file.db, query) : samplesKnownBy(this.#file.db, knownBy, query),
    );
  }

  /** All reports of the samples, each with the day on which it came into the book. @internal */
  datedReports(query: SampleQuery = {}): DatedReport[] {
    return this.#file.checked((db) => [...datedReportsIn(db, query)].flat());
  }

  /** The samples of one circuit, oldest first, with their files and amendments. */
  history(cart: string, circuit: string): SampleHistory[] {
    return this.#file.checked((db) => historyIn(db, cart, circuit));
  }

  /** The rows that wait for a person: all, or those that may concern a cart or a circuit. */
  quarantine(query: RowsQuery = {}): readonly KeptQuarantinedRow[] {
    return this.#file.checked((db) => rowsThatMayConcern(db, openRows.quarantineIn(db), query));
  }

  /** The rows that wait no longer: replaced by a later file, decided about by a person, or of a cart of another base. */
  settledRows(query: RowsQuery = {}): readonly SettledRow[] {
    return this.#file.checked((db) => rowsThatMayConcern(db, openRows.settledRowsIn(db), query));
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
    return this.#file.checked((db) => packRecords(records, verdicts.inputsOf(db)));
  }

  /** Keeps verdicts as {@link Book.keepVerdicts} does. @internal */
  keepPacked(records: readonly PackedRecord[]): KeptVerdict[] {
    return this.#file.checked((db) => verdicts.keepPacked(db, records, now()));
  }

  /** Verdicts by the day they were judged for, oldest first. */
  verdicts(query: VerdictQuery = {}): KeptVerdict[] {
    return this.#file.checked((db) => verdicts.verdictsIn(db, query));
  }

  /**
   * The verdict that the same circuit had in the report before, by the same requirement; undefined when there was none.
   *
   * @param since - a day: the last verdict that was judged for it or an earlier day
   */
  verdictBefore(verdict: ComparedVerdict, since?: string): KeptVerdict | undefined {
    return this.#file.checked((db) => verdicts.verdictBefore(db, verdict, since));
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

  /** Everything that people decided about circuits, oldest first, with what was lifted. */
  decisions(): CircuitDecision[] {
    return this.#file.checked((db) => decisionsIn(db));
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

  /** The files that were taken back and have not been imported again, oldest withdrawal first. */
  withdrawals(): Withdrawal[] {
    return this.#file.checked((db) => withdrawalsIn(db));
  }

  /** The files that the book has read, oldest first. */
  files(): KnownFile[] {
    return this.#file.checked((db) => filesIn(db));
  }

  /**
   * The text of a row as it stood in its file.
   *
   * @param sha256 - of the file
   * @param row - as a person counts it
   * @param sheet - of a workbook
   * @returns undefined when the book has read no such row
   */
  rowText(sha256: string, row: number, sheet = ""): string | undefined {
    return this.#file.checked((db) => {
      const file = firstFileIn(db, sha256);
      this.#file.checkRowsOf(file);
      return rowTextOf(db, file, sheet, row);
    });
  }

  /**
   * What became of every row of a file, each with its text.
   *
   * @param sha256 - of the file
   * @throws BookError when the book has not read such a file
   */
  rows(sha256: string): Generator<RowFate> {
    const id = this.#file.checked((db) => newestFileIn(db, sha256, this.path));
    this.#file.checked(() => this.#file.checkRowsOf(id));
    return attemptEach(this.path, fatesOfRows(this.#file.db, id));
  }

  /** Samples as delimited text that intake reads back; see {@link samplesAsCsv}. */
  csv(query: SampleQuery = {}): Generator<string> {
    return samplesAsCsv(() => this.samples(query));
  }

  /** Samples as JSON Lines. */
  jsonLines(query: SampleQuery = {}): Generator<string> {
    return samplesAsJsonLines(this.samples(query));
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

  /**
   * What one verdict rests on, with the entries of the chain that cover it. @internal
   *
   * @throws BookError when there is no such verdict, or what it rests on was damaged
   */
  evidence(verdictId: number): EvidenceOfVerdict {
    return this.#file.checked((db) => evidenceOfVerdict(db, verdictId));
  }

  /** How many rows wait for a person. */
  get openRowCount(): number {
    return this.#file.checked((db) => numberOf(db, "SELECT count(*) FROM open_row"));
  }

  /** How many samples the book holds. */
  get sampleCount(): number {
    return this.#file.attempt((db) => numberOf(db, "SELECT count(*) FROM sample"));
  }
}

/** As ISO 8601. */
function now(): string {
  return new Date().toISOString();
}
