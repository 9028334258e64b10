import { isDeepStrictEqual } from "node:util";
import { grouped } from "../../numeric/index.js";
import { type Assumption, describeOrigin } from "../../provenance/index.js";
import { type Cart, ofOtherBases, resultsOf, type Sample } from "../../samples/index.js";
import { CHECKS, type CheckCode, type IntakeIssue, type QuarantinedRow } from "../checks/issue.js";
import { meaningOfReport, type Report, versionsOf } from "../reports/reports.js";
import { describeStatement, nameOfStatement, statementsOf } from "../reports/statements.js";
import type { LabFile } from "./lab-file.js";

/** The samples of several files together. */
export interface Collection {
  readonly samples: readonly Sample[];
  readonly quarantine: readonly QuarantinedRow[];
  /** Samples that stood in more than one place with the same results, and were taken once. */
  readonly repeated: number;
  /** Which of several reports of a sample stands. */
  readonly assumptions: readonly Assumption[];
}

/**
 * Puts the samples of several files together.
 *
 * A sample is known by cart, circuit and number. The same results again are taken once, with both origins; what one report
 * leaves out is taken from another; the report of a later day corrects the earlier one. Any other difference under one
 * number puts all of its reports into quarantine, because it is not known which are right. A sample of a circuit that is
 * not in the carts file is quarantined.
 *
 * @param files - files as read
 * @param carts - the known carts
 * @param otherCarts - carts of other bases: their rows are left out, and the result says so
 */
export function collectSamples(
  files: readonly Pick<LabFile, "samples" | "quarantine">[],
  carts: readonly Cart[],
  otherCarts: readonly string[] = [],
): Collection {
  const others = new Set<string | undefined>(otherCarts);
  const isOurs = ({ cart }: { readonly cart?: string }) => !others.has(cart);
  const read = files.flatMap((file) => file.samples);
  const setAsideThere = files.flatMap((file) => file.quarantine);
  const byNumber = grouped(read.filter(isOurs), ({ cart, circuit, sample }) =>
    JSON.stringify([cart, circuit, sample]),
  );
  const known = new Set(
    carts.flatMap(({ cart, circuits }) => circuits.map(({ circuit }) => `${cart} / ${circuit}`)),
  );
  const expectedCircuit = `a circuit of the carts file (${describeKnown([...known])})`;
  const samples: Sample[] = [];
  const quarantine: QuarantinedRow[] = setAsideThere.filter(isOurs);
  const rowsOfOthers = [
    ...read.filter((sample) => !isOurs(sample)).flatMap(({ origin }) => origin.flatMap(({ rows }) => rows)),
    ...setAsideThere.filter((row) => !isOurs(row)),
  ];
  const assumptions: Assumption[] = ofOtherBases(rowsOfOthers.length);
  let repeated = 0;
  for (const same of byNumber.values()) {
    const [first] = same;
    if (!known.has(`${first.cart} / ${first.circuit}`)) {
      quarantine.push(
        ...same.flatMap((sample) => setAside(sample, "circuit-not-known", "circuit", expectedCircuit)),
      );
      continue;
    }
    const together = reportsTogether(same);
    if ("contradicts" in together) {
      const expected = `the same results wherever sample ${first.sample} stands, or a report day for each report; ${together.contradicts}. Of two bottles one needs another number; of two reports, write differs-from-book into a column "quarantine accepted" of the one that stands`;
      quarantine.push(
        ...same.flatMap((sample) => setAside(sample, "conflicting-results", "sample", expected)),
      );
      continue;
    }
    samples.push({ ...together.standing, origin: same.flatMap((sample) => sample.origin) });
    repeated += together.repeated;
    if (together.corrected) assumptions.push(laterReportStands(together.standing));
  }
  return { samples, quarantine, repeated, assumptions };
}

/** As many differences of two reports are said. */
const MAX_DIFFERENCES = 3;

/** Where two reports of a sample stand, and what differs between them. */
function describeDifference(one: Sample, other: Sample): string {
  const [a, b] = [statementsOf(one), statementsOf(other)];
  const differing = [...a].filter(([key, value]) => b.has(key) && !isDeepStrictEqual(b.get(key), value));
  const said = differing
    .slice(0, MAX_DIFFERENCES)
    .map(
      ([key, value]) =>
        `${nameOfStatement(key)} ${describeStatement(value)} and ${describeStatement(b.get(key))}`,
    );
  const more = differing.length - said.length;
  return `${placesOf(one)} and ${placesOf(other)} differ in ${said.join(", ")}${more > 0 ? `, and ${more} more` : ""}`;
}

function placesOf({ origin }: Sample): string {
  return origin.map(describeOrigin).join("; ");
}

/** One sample from all of its reports; what differs when they contradict each other and no report day decides. */
function reportsTogether(
  samples: readonly Sample[],
): { standing: Sample; repeated: number; corrected: boolean } | { contradicts: string } {
  // Reports without a day come first, so that the order of the files does not matter.
  const [first, ...others] = samples
    .map((sample): Report => ({ sample }))
    .sort(
      (a, b) =>
        compareText(a.sample.reportedOn ?? "", b.sample.reportedOn ?? "") ||
        Number(isAccepted(a.sample)) - Number(isAccepted(b.sample)),
    );
  let reports = [first as Report];
  let repeated = 0;
  let corrected = false;
  for (const next of others) {
    const accepted = (next.sample.acceptedChecks ?? []).filter((code): code is CheckCode => code in CHECKS);
    const meaning = meaningOfReport(reports, next, accepted);
    if (meaning.kind === "contradicts") {
      const [other] = meaning.contradicted;
      return {
        contradicts: other === undefined ? "they differ" : describeDifference(other.sample, next.sample),
      };
    }
    if ("reports" in meaning) reports = [...meaning.reports];
    else repeated += 1;
    corrected ||= meaning.kind === "corrects";
  }
  return { standing: versionsOf(reports).at(-1) as Sample, repeated, corrected };
}

/** What a person has looked into stands, in whatever order the rows come. */
function isAccepted({ acceptedChecks = [] }: Sample): boolean {
  return acceptedChecks.includes("differs-from-book");
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function laterReportStands({ sample, cart, circuit, reportedOn }: Sample): Assumption {
  return {
    code: "later-report-stands",
    message: `of several reports of sample ${sample} of cart ${cart}, circuit ${circuit}, the one of ${reportedOn} stands and corrects the earlier ones`,
  };
}

/** A large fleet is not listed with every row. */
const MAX_LISTED = 30;

function describeKnown(names: readonly string[]): string {
  const more = names.length - MAX_LISTED;
  return names.slice(0, MAX_LISTED).join(", ") + (more > 0 ? `, and ${more} more` : "");
}

function setAside(
  sample: Sample,
  code: IntakeIssue["code"],
  column: "sample" | "circuit",
  expected: string,
): QuarantinedRow[] {
  const value = column === "sample" ? sample.sample : `${sample.cart} / ${sample.circuit}`;
  return sample.origin.flatMap(({ file, sheet, rows }) =>
    rows.map((row) => ({
      file,
      ...(sheet !== undefined && { sheet }),
      row,
      text: JSON.stringify(resultsOf(sample)),
      issues: [{ code, file, ...(sheet !== undefined && { sheet }), row, column, value, expected }],
      cart: sample.cart,
      circuit: sample.circuit,
      drawnOn: sample.drawnOn,
    })),
  );
}
