import type { CircuitDecision } from "../../fitness/index.js";
import { versionsOf } from "../../intake/index.js";
import { type DatedReport, type Sample, wasKnownBy } from "../../samples/index.js";
import { type Connection, rowsOf } from "../storage/database.js";
import { type SampleRow, SELECT_SAMPLES } from "../storage/sample-row.js";
import { IN_ORDER, type SampleQuery, where } from "../storage/samples.js";
import type { KeptQuarantinedRow, SettledRow } from "../taking-in/open-rows.js";
import { reportsOf } from "../taking-in/reports-of-sample.js";

/** All reports of each sample, with the day on which each came into the book. */
export function* datedReportsIn(db: Connection, query: SampleQuery): Generator<readonly DatedReport[]> {
  const { sql, values } = where(query);
  const importDays = new Map(
    rowsOf<{ id: number; at: string }>(
      db,
      "SELECT file_id AS id, min(at) AS at FROM reading GROUP BY file_id",
    ).map(({ id, at }) => [id, dayOf(at)]),
  );
  const rows = rowsOf<SampleRow>(db, SELECT_SAMPLES + sql + IN_ORDER, ...values);
  for (const row of rows) {
    yield reportsOf(db, row).map(({ sample, fileId, at }) => {
      const importedOn = at === undefined ? importDays.get(fileId) : dayOf(at);
      return { sample, ...(importedOn !== undefined && { importedOn }) };
    });
  }
}

/** A sample, and how many times it had been corrected. */
export interface CorrectedSample {
  readonly sample: Sample;
  readonly amendments: number;
}

/** The samples of the book as their reports had them on a day, by cart and circuit, oldest first. */
export function* samplesKnownBy(db: Connection, day: string, query: SampleQuery): Generator<CorrectedSample> {
  for (const reports of datedReportsIn(db, query)) {
    const versions = versionsOf(reports.filter((report) => wasKnownBy(day, report)));
    const sample = versions.at(-1);
    if (sample !== undefined) yield { sample, amendments: versions.length - 1 };
  }
}

/** What people had decided about circuits on a day; what was lifted later stood then. */
export function decisionsAsOf(day: string, decisions: readonly CircuitDecision[]): CircuitDecision[] {
  return decisions.flatMap(({ lifted, ...decision }) =>
    dayOf(decision.at) > day
      ? []
      : [{ ...decision, ...(lifted !== undefined && dayOf(lifted.at) <= day && { lifted }) }],
  );
}

/**
 * The quarantine as it was on a day. A row counts once its bottle was drawn, because nobody knows when it was reported; what
 * was settled later waited then, if the row was in the book.
 */
export function quarantineAsOf(
  day: string,
  open: readonly KeptQuarantinedRow[],
  settled: readonly SettledRow[],
): { readonly open: readonly KeptQuarantinedRow[]; readonly settled: readonly SettledRow[] } {
  const wasThere = ({ drawnOn = day }: KeptQuarantinedRow) => drawnOn <= day;
  const waited = ({ importedAt, settledAt }: SettledRow) =>
    dayOf(importedAt) <= day && settledAt !== undefined && dayOf(settledAt) > day;
  const before = settled.filter(wasThere);
  return {
    open: [...open.filter(wasThere), ...before.filter(waited)],
    settled: before.filter((row) => !waited(row)),
  };
}

/** The day of an ISO 8601 moment. */
export function dayOf(moment: string): string {
  return moment.slice(0, 10);
}
