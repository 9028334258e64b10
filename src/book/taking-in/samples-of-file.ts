import type { SampleFate } from "../../intake/index.js";
import { frozen } from "../../provenance/index.js";
import type { Origin, Sample } from "../../samples/index.js";
import { noteSample } from "../chain/entry.js";
import { type Connection, numberOf, readerOf, type Sql } from "../storage/database.js";
import {
  holdsSame,
  RESULT_COLUMNS,
  type SampleRow,
  SELECT_SAMPLES,
  valuesOf,
} from "../storage/sample-row.js";
import {
  decideReport,
  type KeptReport,
  type KnownSample,
  known,
  type ReportDecision,
} from "./decide-report.js";
import { removeSample, reportsOf, writeReports } from "./reports-of-sample.js";

type Statement = ReturnType<Connection["prepare"]>;

const FIRST: ReportDecision = frozen({ kind: "take", meaning: "first", rows: "taken", assumptions: [] });

/** Puts the samples of one file into the book, and knows what the file has done to each so far. */
export class SamplesOfFile {
  readonly #select;
  readonly #lastBefore: number;
  readonly #amended = new Set<number>();
  readonly #contradicted = new Set<string>();
  /** Statements that insert a sample, by the columns that they fill. */
  readonly #inserts = new Map<number, Statement>();

  constructor(
    private readonly db: Connection,
    private readonly fileId: number,
  ) {
    this.#select = readerOf<SampleRow>(db, `${SELECT_SAMPLES} WHERE circuit_id = ? AND sample.sample = ?`);
    this.#lastBefore = numberOf(db, "SELECT ifnull(max(id), 0) FROM sample");
  }

  has(circuitId: number, { sample }: Sample): boolean {
    return this.#select.first(circuitId, sample) !== undefined;
  }

  /** Whether the file reports a sample in contradicting ways, so that nothing of it is taken. */
  isContradicted(circuitId: number, { sample }: Sample): boolean {
    return this.#contradicted.size > 0 && this.#contradicted.has(`${circuitId}\n${sample}`);
  }

  /**
   * Puts a sample into the book, unless the circuit has one of that number.
   *
   * @returns what was decided about the report, and has been carried out as far as the samples go
   */
  put(circuitId: number, { sample, accepted }: SampleFate): ReportDecision {
    const values = valuesOf(sample, this.fileId, sample.origin[0] as Origin);
    if (this.#insert(circuitId, sample.sample, values)) return FIRST;
    const row = this.#select.first(circuitId, sample.sample) as SampleRow;
    // Most samples that come twice come the same way twice; only the others have to be compared in earnest.
    if (holdsSame(row, values)) return known("same");
    const next: KeptReport = { sample, fileId: this.fileId, at: new Date().toISOString() };
    const before = { reports: reportsOf(this.db, row), byThisFile: this.#doneTo(row) };
    const decision = decideReport(before, next, accepted);
    this.#carryOut(decision, row.id, `${circuitId}\n${sample.sample}`);
    return decision;
  }

  #carryOut(decision: ReportDecision, id: number, key: string): void {
    if (decision.kind === "take" && decision.reports !== undefined) {
      writeReports(this.db, id, decision.reports);
      this.#amended.add(id);
    } else if (decision.kind === "take-back") {
      this.#contradicted.add(key);
      if (decision.others.length > 0) writeReports(this.db, id, decision.others);
      else removeSample(this.db, id);
    }
  }

  #doneTo({ id }: SampleRow): KnownSample["byThisFile"] {
    if (id > this.#lastBefore) return "made";
    return this.#amended.has(id) ? "amended" : "nothing";
  }

  /** @returns whether it was inserted */
  #insert(circuitId: number, sample: string, values: readonly Sql[]): boolean {
    const given: Sql[] = [circuitId, sample];
    // Handing over a value costs time, and most columns of most samples are empty.
    let filled = 0;
    for (let place = 0; place < values.length; place += 1) {
      const value = values[place] as Sql;
      if (value === null) continue;
      filled |= 1 << place;
      given.push(value);
    }
    let insert = this.#inserts.get(filled);
    if (insert === undefined) {
      const columns = RESULT_COLUMNS.filter((_, place) => filled & (1 << place));
      insert = this.db.prepare(
        `INSERT INTO sample (circuit_id, sample, ${columns.join(", ")})
         VALUES (${given.map(() => "?").join(", ")}) ON CONFLICT DO NOTHING`,
      );
      this.#inserts.set(filled, insert);
    }
    if (insert.run(...given).changes !== 1) return false;
    noteSample(this.db, circuitId, sample, values);
    return true;
  }
}
