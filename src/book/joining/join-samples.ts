import { isDeepStrictEqual } from "node:util";
import { CHECKS, type CheckCode, type Finding, type IntakeIssue } from "../../intake/index.js";
import { CircuitFinder } from "../judging/fleet.js";
import { type Connection, eachOf, readerOf, rowsOf } from "../storage/database.js";
import { type SampleRow, SELECT_SAMPLES } from "../storage/sample-row.js";
import { decideReport, type KeptReport } from "../taking-in/decide-report.js";
import { quarantineInserter, rowsOfReport } from "../taking-in/quarantine-rows.js";
import { insertReports, reportsOf, writeReports } from "../taking-in/reports-of-sample.js";
import { isWithdrawn } from "../taking-in/standing-withdrawals.js";
import type { JoinedFile } from "./join-files.js";
import type { News } from "./news.js";

/** What became of the samples of the other book. */
export interface JoinedSamples {
  /** Samples that our book did not have. */
  readonly taken: number;
  /** Samples of which ours had the same, or more. */
  readonly known: number;
  /** Samples that were completed or corrected. */
  readonly amended: number;
  /** Samples of which a report contradicts ours: its rows are in quarantine. */
  readonly setAside: number;
}

/** A report of the other book with the file it came from. */
interface JoinedReport extends KeptReport {
  readonly from: JoinedFile;
}

/**
 * Puts the samples of the other book into ours, each with all its reports. A sample that both have is decided about report
 * by report, as reports of files are.
 *
 * @param isWanted - whether a sample of the other book is looked at
 */
export function joinSamples(
  ours: Connection,
  theirs: Connection,
  files: ReadonlyMap<number, JoinedFile>,
  isWanted: (sampleId: number) => boolean,
): JoinedSamples {
  const circuits = new CircuitFinder(ours);
  const select = readerOf<SampleRow>(ours, `${SELECT_SAMPLES} WHERE circuit_id = ? AND sample.sample = ?`);
  const importedAt = new Map(
    rowsOf<{ id: number; at: string }>(
      theirs,
      "SELECT file_id AS id, min(at) AS at FROM reading GROUP BY file_id",
    ).map(({ id, at }) => [id, at]),
  );
  const joined = { taken: 0, known: 0, amended: 0, setAside: 0 };
  const isTakenBack = new Map([...files.values()].map(({ ours: id }) => [id, isWithdrawn(ours, id)]));
  for (const row of eachOf<SampleRow>(theirs, `${SELECT_SAMPLES} ORDER BY sample.id`)) {
    if (!isWanted(row.id)) continue;
    const reports = reportsOf(theirs, row)
      .map((report): JoinedReport => {
        const from = files.get(report.fileId) as JoinedFile;
        const at = report.at ?? importedAt.get(report.fileId);
        return { sample: report.sample, fileId: from.ours, from, ...(at !== undefined && { at }) };
      })
      .filter(({ fileId }) => !isTakenBack.get(fileId));
    if (reports.length === 0) continue;
    const circuitId = circuits.idOf(row.cart, row.circuit);
    const before = select.first(circuitId, row.sample);
    if (circuits.isKnown(row.cart, row.circuit)) for (const report of reports) clearNames(ours, report);
    joined[joinSample(ours, circuitId, before, reports)] += 1;
  }
  return joined;
}

function joinSample(
  ours: Connection,
  circuitId: number,
  before: SampleRow | undefined,
  reports: readonly JoinedReport[],
): keyof JoinedSamples {
  if (before === undefined) {
    insertReports(ours, circuitId, reports);
    for (const [place, report] of reports.entries()) count(report, place === 0 ? "taken" : "amended");
    return "taken";
  }
  let known: readonly KeptReport[] = reportsOf(ours, before);
  const further = reports.filter((report) => !known.some((one) => isSameReport(one, report)));
  if (further.length === 0) return "known";
  // Where the other book has all that ours has, it has decided already how the reports follow each other.
  if (known.every((one) => reports.some((report) => isSameReport(one, report)))) {
    writeReports(ours, before.id, reports);
    for (const report of further) count(report, "amended");
    return "amended";
  }
  let outcome: keyof JoinedSamples = "known";
  for (const report of further) {
    const accepted = (report.sample.acceptedChecks ?? []).filter((code): code is CheckCode => code in CHECKS);
    const decision = decideReport({ reports: known, byThisFile: "nothing" }, report, accepted);
    if (decision.kind === "set-aside") {
      setAside(ours, report, decision.findings);
      count(report, "setAside");
      outcome = "setAside";
    } else if (decision.kind === "take" && decision.reports !== undefined) {
      writeReports(ours, before.id, decision.reports);
      known = decision.reports;
      count(report, "amended");
      if (outcome === "known") outcome = "amended";
    }
  }
  return outcome;
}

function count({ from, sample }: JoinedReport, how: keyof JoinedFile["counts"]): void {
  from.counts[how] += sample.origin[0]?.rows.length ?? 0;
}

function isSameReport(one: KeptReport, other: KeptReport): boolean {
  return one.fileId === other.fileId && isDeepStrictEqual(one.sample, other.sample);
}

/** Rows of a report that contradicts what the book has wait for a person, unless they are in quarantine already. */
function setAside(ours: Connection, report: JoinedReport, findings: readonly Finding[]): void {
  const keep = quarantineInserter(ours);
  const find = readerOf(ours, "SELECT id FROM quarantine WHERE file_id = ? AND sheet IS ? AND row = ?");
  for (const row of rowsOfReport(ours, report, findings)) {
    const isThere = find.first(report.fileId, row.sheet ?? null, row.row) !== undefined;
    if (!isThere) keep(report.fileId, row);
  }
}

/** A row that waited only because our book did not know its circuit waits no longer: the other book has read it. */
function clearNames(ours: Connection, { sample, fileId, from }: JoinedReport): void {
  if (from.isNew) return;
  const [origin] = sample.origin;
  for (const row of origin?.rows ?? []) {
    for (const { id, issues } of rowsOf<{ id: number; issues: string }>(
      ours,
      "SELECT id, issues FROM quarantine WHERE file_id = ? AND sheet IS ? AND row = ?",
      ...[fileId, origin?.sheet ?? null, row],
    )) {
      if (isOnlyOfNames(issues)) ours.prepare("DELETE FROM quarantine WHERE id = ?").run(id);
    }
  }
}

/** Whether a row is in quarantine for no other reason than that its circuit was not known. */
export function isOnlyOfNames(issues: string): boolean {
  return (JSON.parse(issues) as IntakeIssue[]).every(({ code }) => code === "circuit-not-known");
}

/** The samples of the other book that are new or have another report than when our book knew it. */
export function freshSamples(theirs: Connection, news: News): (sampleId: number) => boolean {
  const amended = new Set(
    rowsOf<{ id: number; sample_id: number }>(theirs, "SELECT id, sample_id FROM amendment").flatMap(
      ({ id, sample_id }) => (news.has("amendment", id) ? sample_id : []),
    ),
  );
  return (sampleId) => amended.has(sampleId) || news.has("sample", sampleId);
}
