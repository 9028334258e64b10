import type { CircuitDecision, JudgedBy, NamedCart, UnreadResult } from "../fitness/index.js";
import type { NamedSample } from "../intake/index.js";
import { checkNumbers } from "../numeric/index.js";
import type { Cart, DatedReport, RequirementsFile, Sample } from "../samples/index.js";
import { decisionsIn } from "./judging/decisions.js";
import * as fleet from "./judging/fleet.js";
import { type HeldOn, heldOn } from "./judging/held-on.js";
import { type CorrectedSample, datedReportsIn, samplesKnownBy } from "./judging/known-by.js";
import { namedSamples } from "./judging/named-samples.js";
import type { PackedRecord } from "./judging/pack-record.js";
import { type RowsQuery, rowsThatMayConcern } from "./judging/rows-of-circuit.js";
import { type SamplesWritten, samplesWritten } from "./judging/samples-written.js";
import { unchangedVerdicts } from "./judging/unchanged-verdicts.js";
import type { ComparedVerdict, KeptVerdict, VerdictQuery } from "./judging/verdicts.js";
import * as verdicts from "./judging/verdicts.js";
import type { CheckedFile } from "./storage/checked-file.js";
import { attemptEach, numberOf } from "./storage/database.js";
import { samplesAsCsv, samplesAsJsonLines } from "./storage/export.js";
import { filesIn, firstFileIn, type KnownFile, newestFileIn } from "./storage/files.js";
import { rowTextOf } from "./storage/row-text.js";
import { historyIn, type SampleHistory, type SampleQuery, samplesIn } from "./storage/samples.js";
import type { KeptQuarantinedRow, SettledRow } from "./taking-in/open-rows.js";
import * as openRows from "./taking-in/open-rows.js";
import { fatesOfRows, type RowFate } from "./taking-in/row-fates.js";
import { type Withdrawal, withdrawalsIn } from "./taking-in/standing-withdrawals.js";
import { samplesOfNoCircuit } from "./taking-in/strays.js";

/** What a sample book answers of what it holds. Nothing is written by it. */
export abstract class BookContents {
  readonly #file: CheckedFile;

  /** @internal */
  constructor(
    readonly path: string,
    file: CheckedFile,
  ) {
    this.#file = file;
  }

  /** The newest sample of each circuit that is not among some carts, where it may be of one that is: as what could not be read. */
  samplesOfNoCircuit(carts: readonly NamedCart[]): UnreadResult[] {
    return this.#file.checked((db) => samplesOfNoCircuit(db, carts));
  }

  /** The samples whose numbers are in rows that name no cart, and those of tables that a row puts in doubt. */
  namedSamples(rows: readonly KeptQuarantinedRow[]): NamedSample[] {
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
    return knownBy === undefined
      ? attemptEach(this.path, samplesIn(this.#file.db, query))
      : samplesOf(this.correctedSamples({ ...query, knownBy }));
  }

  /** The samples that were known on a day, each with how often it had been corrected by then. @internal */
  correctedSamples(query: SampleQuery & { readonly knownBy: string }): Generator<CorrectedSample> {
    this.#file.checked(() => {});
    return attemptEach(this.path, samplesKnownBy(this.#file.db, query.knownBy, query));
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

  /** When the samples of each cart were written last; undefined where the chain does not say it. @internal */
  samplesWritten(): SamplesWritten | undefined {
    return this.#file.checked((db) => samplesWritten(db));
  }

  /** Finds verdicts that judging again would only repeat. @internal */
  unchangedVerdicts(judgedBy: JudgedBy, on: string): ReturnType<typeof unchangedVerdicts> {
    return this.#file.checked((db) => unchangedVerdicts(db, judgedBy, on));
  }

  /** The number of a verdict in the book; undefined where the book does not have it. @internal */
  verdictNumber(record: PackedRecord): number | undefined {
    return this.#file.checked((db) => verdicts.numbersOf(db)(record));
  }

  /** Those of some inputs of verdicts, by their hashes, that the book does not have. @internal */
  inputsNotKept(hashes: Iterable<string>): string[] {
    return this.#file.checked((db) => {
      const wanted = [...hashes];
      const kept = verdicts.inputsIn(db, wanted);
      return wanted.filter((sha256) => !kept.has(sha256));
    });
  }

  /** Everything that people decided about circuits, oldest first, with what was lifted. */
  decisions(): CircuitDecision[] {
    return this.#file.checked((db) => decisionsIn(db));
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
    checkNumbers("finite", { row });
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

  /** How many rows wait for a person. */
  get openRowCount(): number {
    return this.#file.checked((db) => numberOf(db, "SELECT count(*) FROM open_row"));
  }

  /** How many samples the book holds. */
  get sampleCount(): number {
    return this.#file.attempt((db) => numberOf(db, "SELECT count(*) FROM sample"));
  }
}

function* samplesOf(corrected: Iterable<CorrectedSample>): Generator<Sample> {
  for (const { sample } of corrected) yield sample;
}
