import { isDeepStrictEqual } from "node:util";
import { describeOrigin } from "../../provenance/index.js";
import type { Origin, Sample } from "../../samples/index.js";
import type { Finding } from "../checks/checks.js";
import { CHECKS, type CheckCode } from "../checks/issue.js";
import { mergeReports } from "./merge-reports.js";
import {
  describeStatement,
  givesAgain,
  holdsOf,
  isOfOneReport,
  type Statements,
  statementsOf,
} from "./statements.js";

/** One report of a sample, as a file gave it. */
export interface Report {
  readonly sample: Sample;
}

/**
 * What a further report of a sample means.
 *
 * - same: it says nothing that does not stand already.
 * - old: it says what a report said that has been corrected since.
 * - adds: it says something of which nothing was said, or the same under another day of the report.
 * - corrects: it is of a later day than the reports it contradicts, or a person has accepted what it says.
 * - precedes: it contradicts a report of a later day, and was itself corrected before it came in.
 * - contradicts: it says something else, and nothing tells which is right.
 */
export type ReportMeaning<R extends Report> =
  | { readonly kind: "same" }
  | { readonly kind: "old" }
  | {
      readonly kind: "adds" | "corrects" | "precedes";
      /** All reports in the order in which they replace each other, the new one among them. */
      readonly reports: readonly R[];
    }
  | {
      readonly kind: "contradicts";
      readonly findings: readonly Finding[];
      /** The reports that it contradicts. */
      readonly contradicted: readonly R[];
    };

/**
 * Says what a further report of a sample means, held against those that are known.
 *
 * Only the days of the reports order them, never the order in which they came in. The last report that speaks of a
 * measurand is the one that stands. A drawing day is never corrected without a person, because one number may stand on
 * two bottles.
 *
 * @param reports - the known reports, in the order in which they replace each other; at least one
 * @param next - the further report, of the same cart, circuit and sample number
 * @param accepted - checks that a person has looked into and accepted for the further report
 */
export function meaningOfReport<R extends Report>(
  reports: readonly R[],
  next: R,
  accepted: readonly CheckCode[] = [],
): ReportMeaning<R> {
  const said = statementsOf(next.sample);
  const versions = versionsOf(reports).map(statementsOf);
  if (saysNoMore(said, versions.at(-1) as Statements)) return { kind: "same" };
  const all = reports.map(({ sample }) => statementsOf(sample));
  if ([...versions, ...all].some((known) => saysNoMore(said, known))) return { kind: "old" };

  const differences = differencesOf(all, said).filter(
    ({ key, by }) => !isOfOneReport(key) || givesAgain((reports[by] as R).sample, next.sample),
  );
  const decided = differences.map((difference) => ({
    ...difference,
    outcome: decide(difference.key, reports[difference.by] as R, next, accepted),
  }));
  const won = decided.filter(({ outcome }) => outcome === "replaces").map(({ by }) => by);
  const lost = decided.filter(({ outcome }) => outcome === "replaced").map(({ by }) => by);
  const place = placeOf(reports, next, won, lost);
  // What a person accepted may come after reports of later days; then no one place serves all that the report says.
  const hasPlace = won.every((index) => index < place);
  const open = decided.filter(({ outcome }) => outcome === "open" || (!hasPlace && outcome === "replaced"));
  if (open.length > 0) {
    return {
      kind: "contradicts",
      findings: findingsOf(open, reports, next.sample),
      contradicted: reports.filter((_, index) => open.some(({ by }) => by === index)),
    };
  }
  const ordered = [...reports.slice(0, place), next, ...reports.slice(place)];
  const broken = whyNotTogether(ordered);
  if (broken !== undefined) {
    const finding: Finding = { code: "counts-break-a-rule", holds: "count", expected: broken };
    return { kind: "contradicts", findings: [finding], contradicted: reports };
  }
  // The same results under another day of the report correct nothing.
  const outcomes = decided.filter(({ key }) => key !== "reportedOn").map(({ outcome }) => outcome);
  const kind = outcomes.includes("replaced")
    ? "precedes"
    : outcomes.includes("replaces")
      ? "corrects"
      : "adds";
  return { kind, reports: ordered };
}

/**
 * The sample as it stood after each report, first to last.
 *
 * @param reports - in the order in which they replace each other; counts that do not go together are left out
 */
export function versionsOf(reports: readonly Report[]): Sample[] {
  const versions: Sample[] = [];
  for (const { sample } of reports) {
    const before = versions.at(-1);
    const merge = before && mergeReports(before, sample);
    versions.push(merge?.kind === "merged" ? merge.sample : sample);
  }
  return versions;
}

function whyNotTogether(reports: readonly Report[]): string | undefined {
  let standing: Sample | undefined;
  for (const { sample } of reports) {
    const merge = standing && mergeReports(standing, sample);
    if (merge?.kind === "refused") return merge.expected;
    standing = merge?.sample ?? sample;
  }
  return undefined;
}

function saysNoMore(said: Statements, known: Statements): boolean {
  return [...said].every(([key, value]) => isDeepStrictEqual(known.get(key), value));
}

interface Difference {
  readonly key: string;
  readonly was: unknown;
  /** Index of the report whose word stands. */
  readonly by: number;
}

/** Where a report says something else than what stands. */
function differencesOf(all: readonly Statements[], said: Statements): Difference[] {
  return [...said].flatMap(([key, value]) => {
    const by = all.findLastIndex((known) => known.has(key));
    const was = all[by]?.get(key);
    return by === -1 || isDeepStrictEqual(was, value) ? [] : [{ key, was, by }];
  });
}

function decide(
  key: string,
  { sample: standing }: Report,
  { sample: next }: Report,
  accepted: readonly CheckCode[],
): "replaces" | "replaced" | "open" {
  const isDay = key === "drawnOn";
  const isAccepted = accepted.includes(isDay ? "day-differs-from-book" : "differs-from-book");
  if (isDay && !isAccepted) return "open";
  if (isAccepted && !isDay) return "replaces";
  const [before, after] = [standing.reportedOn, next.reportedOn];
  if (before === undefined || after === undefined || before === after)
    return isAccepted ? "replaces" : "open";
  return after > before ? "replaces" : "replaced";
}

/** Behind all that it replaces, before all that replace it, and by its day where neither says. */
function placeOf(
  reports: readonly Report[],
  { sample: { reportedOn } }: Report,
  won: readonly number[],
  lost: readonly number[],
): number {
  const later = reports.findIndex(
    ({ sample }) =>
      reportedOn !== undefined && sample.reportedOn !== undefined && sample.reportedOn > reportedOn,
  );
  const byDay = later === -1 ? reports.length : later;
  return Math.min(Math.max(byDay, ...won.map((index) => index + 1)), ...lost);
}

/** One finding for each kind of column, naming what the report that stands says there. */
function findingsOf(open: readonly Difference[], reports: readonly Report[], next: Sample): Finding[] {
  const first = open.filter(
    ({ key }, index) => open.findIndex((other) => holdsOf(other.key) === holdsOf(key)) === index,
  );
  return first.map(({ key, was, by }): Finding => {
    const holds = holdsOf(key);
    const where = describeOrigin((reports[by] as Report).sample.origin[0] as Origin);
    if (key === "drawnOn") {
      const expected = `${was}, the day on which sample ${next.sample} was drawn by ${where} (${CHECKS["day-differs-from-book"]})`;
      return { code: "day-differs-from-book", holds, expected };
    }
    const expected = `${describeStatement(was)}, as in ${where} (${CHECKS["differs-from-book"]})`;
    return { code: "differs-from-book", holds, expected };
  });
}
