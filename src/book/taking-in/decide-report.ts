import {
  type CheckCode,
  type Finding,
  meaningOfReport,
  type Report,
  type TakenReport,
  versionsOf,
} from "../../intake/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";
import type { Origin, Sample } from "../../samples/index.js";

/** A report of a sample with the file that brought it. */
export interface KeptReport extends Report {
  readonly fileId: number;
  /** When it was brought in, where it corrected or completed an earlier report; ISO 8601. */
  readonly at?: string;
}

/** A sample that the book has. */
export interface KnownSample {
  /** In the order in which they replace each other. */
  readonly reports: readonly KeptReport[];
  /** What the rows of the file have done so far: they made the sample, they amended it, or they have not named it. */
  readonly byThisFile: "made" | "amended" | "nothing";
}

/** What is to be done about a report of a sample. */
export type ReportDecision =
  | {
      readonly kind: "take";
      readonly meaning: TakenReport["meaning"];
      /** What the book has to hold of the sample afterwards; absent where that does not change. */
      readonly reports?: readonly KeptReport[];
      /** How the rows of the report count. */
      readonly rows: "taken" | "known" | "amended";
      readonly assumptions: readonly Assumption[];
    }
  | { readonly kind: "set-aside"; readonly findings: readonly Finding[] }
  /** The file contradicts itself. It is not known which of its reports is right, so none of them stays. */
  | {
      readonly kind: "take-back";
      readonly finding: Finding;
      readonly own: readonly KeptReport[];
      /** What stays; empty where the file made the sample. */
      readonly others: readonly KeptReport[];
      /** How the rows of the own reports were counted. */
      readonly rows: "taken" | "amended";
    };

/**
 * Decides what is to be done about a further report of a sample that the book has.
 *
 * @param known - the sample as the book has it
 * @param next - the report, with the file it is in
 * @param accepted - checks that a person has looked into and accepted for it
 */
export function decideReport(
  { reports, byThisFile }: KnownSample,
  next: KeptReport,
  accepted: readonly CheckCode[],
): ReportDecision {
  const meaning = meaningOfReport(reports, next, accepted);
  if (meaning.kind === "same" || meaning.kind === "old") return known(meaning.kind);
  const rows = byThisFile === "made" ? "taken" : "amended";
  if (meaning.kind !== "contradicts") {
    const assumptions = meaning.kind === "precedes" ? [LATER_REPORT_STANDS] : [];
    return {
      kind: "take",
      meaning: meaning.kind,
      reports: joinOwn(meaning.reports, next),
      rows,
      assumptions,
    };
  }
  const isOwn = ({ fileId }: KeptReport) => fileId === next.fileId;
  if (byThisFile === "nothing" || !meaning.contradicted.some(isOwn))
    return { kind: "set-aside", findings: meaning.findings };
  return {
    kind: "take-back",
    finding: contradicts(next.sample, meaning.findings),
    own: reports.filter(isOwn),
    others: reports.filter((report) => !isOwn(report)),
    rows,
  };
}

/** A report that says nothing more than the book has. */
export function known(meaning: "same" | "old"): ReportDecision {
  return { kind: "take", meaning, rows: "known", assumptions: [] };
}

/** What is wrong with a report of a sample that its file reports in contradicting ways. */
export function contradicts({ sample }: Sample, [first]: readonly Finding[] = []): Finding {
  const why = first === undefined ? "" : `: ${first.expected}`;
  const expected = `the same results wherever sample ${sample} is in the file${why}`;
  return { code: "conflicting-results", holds: "sample", expected };
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

const LATER_REPORT_STANDS: Assumption = frozen({
  code: "later-report-stands",
  message:
    "the book had a report of a later day for some samples; that one stands, and the earlier one is kept in the history",
});
