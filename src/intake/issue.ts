/** What is wrong with one cell or one row. */
export interface IntakeIssue {
  readonly code:
    | "cell-not-read"
    | "cell-missing"
    | "row-of-wrong-length"
    | "counts-break-a-rule"
    | "measurand-not-known"
    | "repeated-measurand"
    | "conflicting-results"
    | "circuit-not-known";
  readonly file: string;
  /** Row as a person counts it: the first line of the file is row 1. */
  readonly row: number;
  /** Name of the column as the file writes it. */
  readonly column: string;
  /** The text as it stands in the file. */
  readonly value: string;
  readonly expected: string;
}

/** A row that was read but could not be taken, with its text as it stands in the file. */
export interface QuarantinedRow {
  readonly file: string;
  readonly row: number;
  readonly text: string;
  readonly issues: readonly IntakeIssue[];
  /** What is known of whose result it is, so that a verdict can look out for it. */
  readonly cart?: string;
  readonly circuit?: string;
  readonly drawnOn?: string;
}

/** A file that cannot be read at all. */
export class IntakeError extends Error {
  override readonly name = "IntakeError";
}

/**
 * Says an issue in one line.
 *
 * @example
 * sayIssue({ code: "cell-not-read", file: "march.csv", row: 41, column: "4um(c)", value: "N/A?", expected: "a number" }); // => "march.csv row 41, column \"4um(c)\": expected a number, found \"N/A?\""
 */
export function sayIssue(issue: IntakeIssue): string {
  return `${issue.file} row ${issue.row}, column "${issue.column}": expected ${issue.expected}, found "${issue.value}"`;
}
