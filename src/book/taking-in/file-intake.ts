import {
  type Fate,
  type Finding,
  meaningOfReport,
  type QuarantinedRow,
  type SampleFate,
  statementsOf,
  type TakenReport,
  versionsOf,
} from "../../intake/index.js";
import { type Assumption, describePlaces } from "../../provenance/index.js";
import { type Origin, ofOtherBases, type Sample } from "../../samples/index.js";
import { CircuitFinder } from "../judging/fleet.js";
import type { Connection } from "../storage/database.js";
import { RowTextKeeper, rowTextOf } from "../storage/row-text.js";
import { SampleInserter } from "../storage/sample-inserter.js";
import { holdsSame, type SampleRow, SELECT_SAMPLES, valuesOf } from "../storage/sample-row.js";
import { QuarantineKeeper } from "./quarantine.js";
import { type KeptReport, reportsOf, writeReports } from "./reports-of-sample.js";
import { UNCHECKED_NAMES } from "./strays.js";
import { UsualCounts } from "./usual-counts.js";

/** How many rows of a file ended in which way. */
export interface RowCounts {
  readonly taken: number;
  /** Rows whose results are in the book already, or that a person has settled from the quarantine. */
  readonly known: number;
  /** Rows that corrected or completed a sample of an earlier file, or that a later report of it had corrected already. */
  readonly amended: number;
  readonly quarantined: number;
  /** Headers, blank rows, footers and the like, and rows of carts of other bases. */
  readonly notSamples: number;
}

const NAMES_NOT_CHECKED: Assumption = {
  code: UNCHECKED_NAMES,
  message: "the book knows no carts yet, so the names of carts and circuits were taken as they stand",
};

/** Brings the rows of one file into the book, within a transaction that somebody else opens and ends. */
export class FileIntake {
  readonly #circuits: CircuitFinder;
  readonly #usual: UsualCounts;
  readonly #texts: RowTextKeeper;
  readonly #quarantine: QuarantineKeeper;
  readonly #samples: SampleInserter;
  readonly #insertOther;
  readonly #select;
  readonly #lastSampleBefore: number;
  /** Samples that this file reports in contradicting ways: none of them is taken. */
  readonly #contradicted = new Set<string>();
  /** Samples of earlier files that this file has amended. */
  readonly #amendedHere = new Set<number>();
  readonly #assumptions = new Map<string, Assumption>();
  #taken = 0;
  #known = 0;
  #amended = 0;
  #notSamples = 0;

  constructor(
    private readonly db: Connection,
    private readonly fileId: number,
    /** Whether the book has not seen this file, read in this way, before. */
    private readonly isNew: boolean,
  ) {
    this.#circuits = new CircuitFinder(db);
    this.#usual = new UsualCounts(db);
    this.#texts = new RowTextKeeper(db, fileId);
    this.#quarantine = new QuarantineKeeper(db, fileId);
    this.#samples = new SampleInserter(db);
    this.#insertOther = db.prepare("INSERT INTO other_row (file_id, sheet, row, why) VALUES (?, ?, ?, ?)");
    this.#select = db.prepare(`${SELECT_SAMPLES} WHERE circuit_id = ? AND sample.sample = ?`);
    const last = db.prepare("SELECT ifnull(max(id), 0) AS id FROM sample").get() as { id: number };
    this.#lastSampleBefore = last.id;
    db.prepare("DELETE FROM other_row WHERE file_id = ?").run(fileId);
  }

  readAll(fates: Iterable<Fate>): void {
    if (!this.#circuits.knowsCarts) this.#assume([NAMES_NOT_CHECKED]);
    for (const fate of fates) {
      if (this.isNew) this.#keepTexts(fate);
      this.#takeFate(fate);
    }
    this.#texts.flush();
  }

  #takeFate(fate: Fate): void {
    if (fate.kind === "sample") this.#takeSample(fate.fate);
    else if (fate.kind === "quarantined") this.#quarantine.setAside([fate.row]);
    else {
      this.#notSamples += 1;
      if (fate.discards !== undefined) {
        this.#quarantine.discard(fate.discards, `${fate.row.file} ${describePlaces([fate.row.row])}`);
      }
      this.#insertOther.run(this.fileId, fate.row.sheet ?? null, fate.row.row, fate.row.why);
    }
  }

  /** What became of the rows. The whole quarantine is in the book. */
  finish(): { counts: RowCounts; quarantine: readonly QuarantinedRow[]; assumptions: Assumption[] } {
    return {
      counts: {
        taken: this.#taken,
        known: this.#known + this.#quarantine.settledAgain,
        amended: this.#amended,
        quarantined: this.#quarantine.count,
        notSamples: this.#notSamples + this.#quarantine.ofOtherCarts,
      },
      quarantine: this.#quarantine.shown,
      assumptions: [...this.#assumptions.values(), ...ofOtherBases(this.#quarantine.ofOtherCarts)],
    };
  }

  #keepTexts(fate: Fate): void {
    if (fate.kind !== "sample") this.#texts.keep(fate.row.sheet ?? "", fate.row.row, fate.row.text);
    else {
      const sheet = fate.fate.sample.origin[0]?.sheet ?? "";
      for (const { text, row } of fate.fate.rows) this.#texts.keep(sheet, row, text);
    }
  }

  #assume(assumptions: readonly Assumption[]): void {
    for (const entry of assumptions) this.#assumptions.set(entry.message, entry);
  }

  #takeSample(fate: SampleFate): void {
    const placed = this.#place(fate);
    if (typeof placed !== "string") {
      this.#quarantine.setAside(fate.quarantine(placed));
      return;
    }
    for (const place of fate.settles) this.#quarantine.settle(place);
    const texts = fate.rows.map(({ text }) => text);
    this.#quarantine.settleReplaced({ sample: fate.sample, texts, meaning: placed });
  }

  /** Puts a sample in its place in the book and says what it meant there, or why it has none. */
  #place(fate: SampleFate): TakenReport["meaning"] | readonly Finding[] {
    const { sample, accepted, rows } = fate;
    const stranger = this.#circuits.knowsCarts ? this.#unknownCircuit(sample) : undefined;
    if (stranger !== undefined) return [stranger];
    const circuitId = this.#circuits.idOf(sample.cart, sample.circuit);
    const key = keyOf(circuitId, sample);
    if (this.#contradicted.has(key)) return [contradicted(sample)];
    const unusual = accepted.includes("factor-of-100") ? undefined : this.#usual.check(circuitId, sample);
    // A sample that is in the book already was looked at when it came.
    if (unusual !== undefined && this.#find(circuitId, sample.sample) === undefined) return [unusual];

    const [origin] = sample.origin as [Origin];
    const values = valuesOf(sample, this.fileId, origin);
    const isNew = this.#samples.insert(circuitId, sample.sample, values);
    if (!isNew) return this.#meet(fate, circuitId, key);
    this.#taken += rows.length;
    this.#usual.add(circuitId, sample);
    this.#assume(fate.assumptions);
    return "first";
  }

  #unknownCircuit(sample: Sample): Finding | undefined {
    return this.#circuits.isKnown(sample.cart, sample.circuit)
      ? undefined
      : this.#circuits.whyUnknown(sample);
  }

  #find(circuitId: number, sample: string): SampleRow | undefined {
    return this.#select.get(circuitId, sample) as SampleRow | undefined;
  }

  /** The book has a sample of this number: what its further report means is the same for a book and for files. */
  #meet(fate: SampleFate, circuitId: number, key: string): TakenReport["meaning"] | readonly Finding[] {
    const { sample, rows, accepted } = fate;
    const row = this.#find(circuitId, sample.sample) as SampleRow;
    if (holdsSame(row, valuesOf(sample, this.fileId, sample.origin[0] as Origin))) {
      this.#known += rows.length;
      return "same";
    }
    const next: KeptReport = { sample, fileId: this.fileId, at: new Date().toISOString() };
    const meaning = meaningOfReport(reportsOf(this.db, row), next, accepted);
    if (meaning.kind === "same" || meaning.kind === "old") {
      this.#known += rows.length;
      return meaning.kind;
    }
    if (meaning.kind === "contradicts") {
      const isOfThisFile = this.#spokeHere(row) && meaning.contradicted.some(this.#isOwn);
      if (!isOfThisFile) return meaning.findings;
      this.#contradicted.add(key);
      const finding = contradicted(sample, meaning.findings);
      this.#takeBack(fate, row, finding);
      return [finding];
    }
    if (meaning.kind === "precedes") this.#assume([LATER_REPORT_STANDS]);
    this.#assume(fate.assumptions);
    writeReports(this.db, row.id, joinOwn(meaning.reports, next));
    if (row.id > this.#lastSampleBefore) this.#taken += rows.length;
    else {
      this.#amended += rows.length;
      this.#amendedHere.add(row.id);
    }
    return meaning.kind;
  }

  readonly #isOwn = ({ fileId }: KeptReport) => fileId === this.fileId;

  /** Whether rows of this file that were read before have made or amended a sample. */
  #spokeHere({ id }: SampleRow): boolean {
    return id > this.#lastSampleBefore || this.#amendedHere.has(id);
  }

  /** One file reports a sample twice with different results. It is not known which are right, so neither is taken. */
  #takeBack(fate: SampleFate, row: SampleRow, finding: Finding): void {
    this.#texts.flush();
    const reports = reportsOf(this.db, row);
    const others = reports.filter((report) => !this.#isOwn(report));
    const own = reports.filter(this.#isOwn).map(({ sample }) => sample);
    const places = own.flatMap(({ origin }) => origin);
    const count = places.reduce((sum, { rows }) => sum + rows.length, 0);
    if (row.id > this.#lastSampleBefore) {
      this.db.prepare("DELETE FROM amendment WHERE sample_id = ?").run(row.id);
      this.db.prepare("DELETE FROM sample WHERE id = ?").run(row.id);
      this.#taken -= count;
    } else {
      writeReports(this.db, row.id, others);
      this.#amendedHere.delete(row.id);
      this.#amended -= count;
    }
    const [like] = fate.quarantine([finding]) as [QuarantinedRow];
    for (const sample of own) {
      const reported = Object.fromEntries(statementsOf(sample));
      this.#quarantine.setAside(
        sample.origin.flatMap(({ sheet, rows }) =>
          rows.map((number) => ({
            ...like,
            reported,
            ...(sheet !== undefined && { sheet }),
            row: number,
            text: rowTextOf(this.db, this.fileId, sheet ?? "", number) ?? "",
            issues: like.issues.map((issue) => ({ ...issue, row: number })),
          })),
        ),
      );
    }
  }
}

/** Rows of one file that complete each other are one report, unless they are of different days. */
function joinOwn(reports: readonly KeptReport[], next: KeptReport): readonly KeptReport[] {
  const place = reports.indexOf(next);
  const before = reports[place - 1];
  if (before?.fileId !== next.fileId || before.sample.reportedOn !== next.sample.reportedOn) return reports;
  const [own, further] = [before.sample.origin[0], next.sample.origin[0]] as [Origin, Origin];
  if (own.sheet !== further.sheet) return reports;
  const [, together] = versionsOf([before, next]) as [Sample, Sample];
  const sample = { ...together, origin: [{ ...own, rows: [...own.rows, ...further.rows] }] };
  return [...reports.slice(0, place - 1), { ...before, sample }, ...reports.slice(place + 1)];
}

const LATER_REPORT_STANDS: Assumption = {
  code: "later-report-stands",
  message:
    "the book had a report of a later day for some samples; that one stands, and the earlier one is kept in the history",
};

function keyOf(circuitId: number, { sample }: Sample): string {
  return `${circuitId}\n${sample}`;
}

function contradicted({ sample }: Sample, [first]: readonly Finding[] = []): Finding {
  return {
    code: "conflicting-results",
    holds: "sample",
    expected: `the same results wherever sample ${sample} is in the file${first === undefined ? "" : `: ${first.expected}`}`,
  };
}
