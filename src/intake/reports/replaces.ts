import { isDeepStrictEqual } from "node:util";
import type { Sample } from "../../samples/index.js";
import type { IssueCode, QuarantinedRow } from "../checks/issue.js";
import type { Report, ReportMeaning } from "./reports.js";
import { holdsOf, statementsOf } from "./statements.js";

/** A report that was taken in full, without an issue. */
export interface TakenReport {
  readonly sample: Sample;
  /** The rows it is in, unchanged. */
  readonly texts: readonly string[];
  /** What it meant: the first of its sample, or a further one. */
  readonly meaning: "first" | Exclude<ReportMeaning<Report>["kind"], "contradicts">;
}

/** Issues that say of a readable row that it contradicts another: only a report that changes what stands settles them. */
const CONTRADICTIONS: readonly IssueCode[] = [
  "differs-from-book",
  "day-differs-from-book",
  "conflicting-results",
  "counts-break-a-rule",
];

const NAMES: readonly IssueCode[] = ["circuit-not-known"];

/** Issues of a row that could not be split into its cells, so that nothing of it was read. */
export const NOT_SPLIT: readonly IssueCode[] = ["row-not-split", "row-of-wrong-length", "table-in-doubt"];

const DAYS: readonly IssueCode[] = [
  "drawn-after-received",
  "received-after-reported",
  "day-differs-from-book",
  "drawn-long-before-received",
  "date-in-the-future",
];

/** What each issue puts in doubt, by what the columns hold. */
const DOUBTS: Partial<Record<IssueCode, readonly string[]>> = {
  "class-differs-from-counts": ["count", "class", "counted"],
  "factor-of-100": ["count", "counted", "class"],
  "counts-break-a-rule": ["count", "class"],
  "counts-all-zero": ["count", "counted", "class"],
  "counts-all-equal": ["count", "counted", "class"],
  "counts-break-off": ["count", "counted", "class"],
  "class-cannot-be": ["class"],
  "water-zero": ["water"],
  "acid-zero": ["acid"],
  "property-zero": ["viscosity40", "density15"],
  "water-per-cent-as-ppm": ["water"],
  "water-ppm-as-per-cent": ["water"],
};

/**
 * Whether a report of a later file replaces a quarantined row, so that nobody has to settle the row by hand.
 *
 * The sample number, and of cart, circuit and day all that the row tells for sure, must be the same; where the row does not
 * tell its cart or circuit for sure, its text must be the same but for the cells in question. The report must hold every
 * result that the row reports, and the same ones, but for those that are in doubt or that it corrects by a later day.
 *
 * Of a row that could not be split into cells, the text must be the same but for separators, quotation marks and decimal
 * marks, or the beginning of it with sample, cart and circuit in full: such a row was cut short.
 */
export function replacesRow(row: Omit<QuarantinedRow, "file" | "row">, taken: TakenReport): boolean {
  const { sample, meaning } = taken;
  const { reported } = row;
  const codes = row.issues.map(({ code }) => code);
  const has = (some: readonly IssueCode[]) => codes.some((code) => some.includes(code));
  if (has(NOT_SPLIT)) return taken.texts.some((text) => isWholeOf(row.text, text, sample));
  if (reported === undefined || row.sample !== sample.sample) return false;
  if (meaning === "old" || meaning === "precedes") return false;
  if (has(CONTRADICTIONS) && meaning !== "first" && meaning !== "corrects") return false;

  const isNamed = row.cart !== undefined && row.circuit !== undefined && !has(NAMES);
  const fits = isNamed
    ? row.cart === sample.cart && row.circuit === sample.circuit
    : taken.texts.some((text) => isSameButFor(row, text));
  if (!fits) return false;
  if (row.drawnOn !== undefined && !has(DAYS) && row.drawnOn !== sample.drawnOn) return false;

  const before = reported.reportedOn;
  const isLater = typeof before === "string" && sample.reportedOn !== undefined && sample.reportedOn > before;
  if (typeof before === "string" && sample.reportedOn !== undefined && sample.reportedOn < before)
    return false;
  const inDoubt = new Set(codes.flatMap((code) => DOUBTS[code] ?? []));
  const replacesAll = isLater || has(CONTRADICTIONS);
  const said = statementsOf(sample);
  return Object.entries(reported).every(([key, value]) => {
    if (DAY_FIELDS.includes(key)) return true;
    if (!said.has(key)) return false;
    return (
      value === null ||
      replacesAll ||
      inDoubt.has(holdsOf(key)) ||
      isDeepStrictEqual(plain(said.get(key)), value)
    );
  });
}

const DAY_FIELDS: readonly string[] = ["drawnOn", "receivedOn", "reportedOn"];

/** As it is after it was kept as JSON. */
function plain(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value));
}

/** Whether a row that could be split says what a broken one says, or goes on where that was cut short. */
function isWholeOf(broken: string, text: string, { sample, cart, circuit }: Sample): boolean {
  const [before, now] = [broken, text].map((row) => wordsOf(row).join(" ")) as [string, string];
  if (before === now) return true;
  // The last word may be cut.
  const whole = ` ${wordsOf(broken).slice(0, -1).join(" ")} `;
  const names = [sample, cart, circuit].map((name) => ` ${wordsOf(name).join(" ")} `);
  return now.startsWith(before) && names.every((name) => whole.includes(name));
}

/** The words and numbers of a row, whatever stands between and around its cells; decimal marks take a number apart. */
function wordsOf(text: string): string[] {
  return text.split(/[\s,;|".]+/).filter((word) => word !== "");
}

/** Whether two rows have the same cells but for those that are in question. */
function isSameButFor({ text, issues }: Pick<QuarantinedRow, "text" | "issues">, other: string): boolean {
  const [cells, others] = [cellsOf(text), cellsOf(other)];
  const wrong = new Set(issues.map(({ value }) => value.trim()));
  return (
    cells.length === others.length &&
    cells.every((cell, index) => cell === others[index] || wrong.has(cell.replace(/^"(.*)"$/, "$1")))
  );
}

function cellsOf(row: string): string[] {
  return row.split(/[,;\t|]/).map((cell) => cell.trim());
}
