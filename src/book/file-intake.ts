import type { Fate, Finding, QuarantinedRow, SampleFate } from "../intake/index.js";
import type { Assumption } from "../provenance/index.js";
import type { Origin, Sample } from "../samples/index.js";
import { type Connection, rowsOf } from "./database.js";
import { CircuitFinder } from "./fleet.js";
import { type Merge, mergeSamples } from "./merge.js";
import { QuarantineKeeper } from "./quarantine.js";
import { RowTextKeeper, rowTextOf } from "./row-text.js";
import { SampleInserter } from "./sample-inserter.js";
import {
  holdsSame,
  RESULT_COLUMNS,
  type SampleRow,
  SELECT_SAMPLES,
  sampleOf,
  valuesOf,
} from "./sample-row.js";
import { UNCHECKED_NAMES } from "./strays.js";
import { UsualCounts } from "./usual-counts.js";

/** How many rows of a file ended in which way. */
export interface RowCounts {
  readonly taken: number;
  /** Rows whose results are in the book already, or that a person has settled from the quarantine. */
  readonly known: number;
  /** Rows that corrected or completed a sample of an earlier file. */
  readonly amended: number;
  readonly quarantined: number;
  /** Headers, blank rows, footers and the like. */
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
  /** What samples of earlier files said before this file amended them, for taking it back. */
  readonly #amendedHere = new Map<number, SampleRow>();
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
      if (fate.settles !== undefined) this.#quarantine.settle(fate.settles);
      this.#insertOther.run(this.fileId, fate.row.sheet ?? null, fate.row.row, fate.row.why);
    }
  }

  /** What became of the rows. The whole quarantine stands in the book. */
  finish(): { counts: RowCounts; quarantine: readonly QuarantinedRow[]; assumptions: Assumption[] } {
    return {
      counts: {
        taken: this.#taken,
        known: this.#known + this.#quarantine.settledAgain,
        amended: this.#amended,
        quarantined: this.#quarantine.count,
        notSamples: this.#notSamples,
      },
      quarantine: this.#quarantine.shown,
      assumptions: [...this.#assumptions.values()],
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
    const finding = this.#place(fate);
    if (finding !== undefined) this.#quarantine.setAside(fate.quarantine([finding]));
    else for (const place of fate.settles) this.#quarantine.settle(place);
  }

  /** Puts a sample in its place in the book, or says why it has none. */
  #place(fate: SampleFate): Finding | undefined {
    const { sample, accepted, rows } = fate;
    const stranger = this.#circuits.knowsCarts ? this.#unknownCircuit(sample) : undefined;
    if (stranger !== undefined) return stranger;
    const circuitId = this.#circuits.idOf(sample.cart, sample.circuit);
    const key = keyOf(circuitId, sample);
    if (this.#contradicted.has(key)) return contradicted(sample);
    const unusual = accepted.includes("factor-of-100") ? undefined : this.#usual.check(circuitId, sample);
    // A sample that is in the book already was looked at when it came.
    if (unusual !== undefined && this.#find(circuitId, sample.sample) === undefined) return unusual;

    const [origin] = sample.origin as [Origin];
    const values = valuesOf(sample, this.fileId, origin);
    const isNew = this.#samples.insert(circuitId, sample.sample, values);
    if (!isNew) return this.#meet(fate, circuitId, key);
    this.#taken += rows.length;
    this.#usual.add(circuitId, sample);
    this.#assume(fate.assumptions);
    return undefined;
  }

  #unknownCircuit(sample: Sample): Finding | undefined {
    return this.#circuits.isKnown(sample.cart, sample.circuit)
      ? undefined
      : this.#circuits.whyUnknown(sample);
  }

  #find(circuitId: number, sample: string): SampleRow | undefined {
    return this.#select.get(circuitId, sample) as SampleRow | undefined;
  }

  /** The book has a sample of this number: the same report, a correction, or a contradiction. */
  #meet(fate: SampleFate, circuitId: number, key: string): Finding | undefined {
    const { sample, rows, accepted } = fate;
    const row = this.#find(circuitId, sample.sample) as SampleRow;
    if (holdsSame(row, valuesOf(sample, this.fileId, sample.origin[0] as Origin))) {
      this.#known += rows.length;
      return undefined;
    }
    const earlier = sampleOf(row);
    const merge = mergeSamples(earlier, sample);
    if (merge.kind === "same" || (merge.kind !== "adds" && !this.isNew && this.#hasSpoken(row))) {
      this.#known += rows.length;
      return undefined;
    }
    const fromHere = row.id > this.#lastSampleBefore || this.#amendedHere.has(row.id);
    if (fromHere && merge.kind !== "adds") {
      this.#contradicted.add(key);
      this.#takeBack(fate, row);
      return contradicted(sample);
    }
    if (merge.kind === "refused") {
      return { code: "counts-break-a-rule", holds: "count", expected: merge.expected };
    }
    if (sample.drawnOn !== earlier.drawnOn && !accepted.includes("day-differs-from-book")) {
      const expected = `${earlier.drawnOn}, the day on which sample ${sample.sample} was drawn by the report in the book (${row.file})`;
      return { code: "day-differs-from-book", holds: "drawn", expected };
    }
    this.#assume(fate.assumptions);
    this.#amend(row, earlier, merge, fate, fromHere);
    return undefined;
  }

  #amend(
    row: SampleRow,
    earlier: Sample,
    { sample }: Extract<Merge, { sample: Sample }>,
    { rows, sample: { origin } }: SampleFate,
    fromHere: boolean,
  ): void {
    const [own] = origin as [Origin];
    const together = fromHere ? { ...own, rows: [...(JSON.parse(row.rows) as number[]), ...own.rows] } : own;
    const set = RESULT_COLUMNS.map((column) => `${column} = ?`).join(", ");
    this.db
      .prepare(`UPDATE sample SET ${set} WHERE id = ?`)
      .run(...valuesOf(sample, this.fileId, together), row.id);
    if (row.id > this.#lastSampleBefore) {
      this.#taken += rows.length;
      return;
    }
    this.#amended += rows.length;
    if (fromHere) {
      this.db
        .prepare("UPDATE amendment SET rows = ? WHERE sample_id = ? AND file_id = ?")
        .run(JSON.stringify(together.rows), row.id, this.fileId);
      return;
    }
    this.#amendedHere.set(row.id, row);
    this.db
      .prepare(
        "INSERT INTO amendment (sample_id, at, file_id, rows, earlier, earlier_file_id) VALUES (?, ?, ?, ?, ?, ?)",
      )
      .run(
        row.id,
        new Date().toISOString(),
        this.fileId,
        JSON.stringify(own.rows),
        JSON.stringify(earlier),
        row.file_id,
      );
  }

  /** Whether this very file, read in this way, has said something of a sample before: then it is an old report. */
  #hasSpoken(row: SampleRow): boolean {
    if (row.file_id === this.fileId) return true;
    const spoken = rowsOf<{ id: number }>(
      this.db,
      "SELECT id FROM amendment WHERE sample_id = ? AND (file_id = ? OR earlier_file_id = ?) LIMIT 1",
      row.id,
      this.fileId,
      this.fileId,
    );
    return spoken.length > 0;
  }

  /** One file reports a sample twice with different results. It is not known which are right, so neither is taken. */
  #takeBack(fate: SampleFate, row: SampleRow): void {
    this.#texts.flush();
    const rows = JSON.parse(row.rows) as number[];
    const before = this.#amendedHere.get(row.id);
    if (before === undefined) {
      this.db.prepare("DELETE FROM sample WHERE id = ?").run(row.id);
      this.#taken -= rows.length;
    } else {
      this.db.prepare("DELETE FROM amendment WHERE sample_id = ? AND file_id = ?").run(row.id, this.fileId);
      const set = RESULT_COLUMNS.map((column) => `${column} = ?`).join(", ");
      const values = RESULT_COLUMNS.map((column) => before[column]);
      this.db.prepare(`UPDATE sample SET ${set} WHERE id = ?`).run(...values, row.id);
      this.#amendedHere.delete(row.id);
      this.#amended -= rows.length;
    }
    const [like] = fate.quarantine([contradicted(fate.sample)]) as [QuarantinedRow];
    this.#quarantine.setAside(
      rows.map((number) => ({
        ...like,
        ...(row.sheet !== null && { sheet: row.sheet }),
        row: number,
        text: rowTextOf(this.db, this.fileId, row.sheet ?? "", number) ?? "",
        issues: like.issues.map((issue) => ({ ...issue, row: number })),
      })),
    );
  }
}

function keyOf(circuitId: number, { sample }: Sample): string {
  return `${circuitId}\n${sample}`;
}

function contradicted({ sample }: Sample): Finding {
  return {
    code: "conflicting-results",
    holds: "sample",
    expected: `the same results wherever sample ${sample} stands in the file`,
  };
}
