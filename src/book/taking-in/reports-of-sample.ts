import { versionsOf } from "../../intake/index.js";
import type { Origin, Sample } from "../../samples/index.js";
import { type Connection, rowsOf } from "../storage/database.js";
import { inserterInto } from "../storage/insert.js";
import { RESULT_COLUMNS, type SampleRow, sampleOf, valuesOf } from "../storage/sample-row.js";
import type { KeptReport } from "./decide-report.js";

/**
 * All reports of a sample of the book, in the order in which they replace each other.
 *
 * Of an amendment from before reports were kept, the whole sample as it stood after it is taken for the report.
 */
export function reportsOf(db: Connection, row: SampleRow): KeptReport[] {
  const amendments = rowsOf<{
    at: string;
    file_id: number;
    earlier: string;
    earlier_file_id: number;
    report: string | null;
  }>(
    db,
    "SELECT at, file_id, earlier, earlier_file_id, report FROM amendment WHERE sample_id = ? ORDER BY id",
    row.id,
  );
  const [first] = amendments;
  if (first === undefined) return [{ sample: sampleOf(row), fileId: row.file_id }];
  return [
    { sample: JSON.parse(first.earlier) as Sample, fileId: first.earlier_file_id },
    ...amendments.map(({ at, file_id, report }, index) => {
      const after = amendments[index + 1]?.earlier;
      const sample =
        (report ?? after) === undefined ? sampleOf(row) : (JSON.parse((report ?? after) as string) as Sample);
      return { sample, fileId: file_id, at };
    }),
  ];
}

/** Puts a sample of a circuit into the book, as its reports give it together. */
export function insertReports(db: Connection, circuitId: number, reports: readonly KeptReport[]): void {
  const last = reports.at(-1) as KeptReport;
  const sample = versionsOf(reports).at(-1) as Sample;
  const { lastInsertRowid } = db
    .prepare(
      `INSERT INTO sample (circuit_id, sample, ${RESULT_COLUMNS.join(", ")})
       VALUES (?, ?, ${RESULT_COLUMNS.map(() => "?").join(", ")})`,
    )
    .run(circuitId, sample.sample, ...valuesOf(sample, last.fileId, last.sample.origin[0] as Origin));
  if (reports.length > 1) writeReports(db, Number(lastInsertRowid), reports);
}

/** Takes a sample out of the book that no report is left of. */
export function removeSample(db: Connection, sampleId: number): void {
  db.prepare("DELETE FROM amendment WHERE sample_id = ?").run(sampleId);
  db.prepare("DELETE FROM sample WHERE id = ?").run(sampleId);
}

/** Writes the sample that reports give together, and each state before the last as what was amended. */
export function writeReports(db: Connection, sampleId: number, reports: readonly KeptReport[]): void {
  const versions = versionsOf(reports);
  const last = reports.at(-1) as KeptReport;
  const [origin] = last.sample.origin as [Origin];
  const set = RESULT_COLUMNS.map((column) => `${column} = ?`).join(", ");
  db.prepare(`UPDATE sample SET ${set} WHERE id = ?`).run(
    ...valuesOf(versions.at(-1) as Sample, last.fileId, origin),
    sampleId,
  );
  db.prepare("DELETE FROM amendment WHERE sample_id = ?").run(sampleId);
  const keep = inserterInto(db, "amendment");
  for (const [index, { sample, fileId, at }] of reports.entries()) {
    const before = reports[index - 1];
    if (before === undefined) continue;
    keep({
      ...{ sample_id: sampleId, at: at ?? new Date().toISOString(), file_id: fileId },
      ...{ rows: JSON.stringify(sample.origin[0]?.rows), report: JSON.stringify(sample) },
      ...{ earlier: JSON.stringify(versions[index - 1]), earlier_file_id: before.fileId },
    });
  }
}
