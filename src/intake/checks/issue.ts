import { checkNumbers } from "../../numeric/index.js";
import { describeOrigin, frozen, isColumn, shown } from "../../provenance/index.js";
import type { QuarantinePlace } from "../quarantine/quarantine-place.js";

export { shown, visible } from "../../provenance/index.js";

/** What is wrong with one cell or one row. The checks of {@link CHECKS} have codes of their own. */
export type IssueCode =
  | "cell-not-read"
  | "cell-ambiguous"
  | "cell-missing"
  | "row-not-split"
  | "row-of-wrong-length"
  | "table-in-doubt"
  | "counts-break-a-rule"
  | "measurand-not-known"
  | "repeated-measurand"
  | "name-given-twice"
  | "conflicting-results"
  | "circuit-not-known"
  | CheckCode;

/** Checks of whether results that can be read can also be true, and why each is made. */
export const CHECKS = frozen({
  "class-differs-from-counts":
    "the laboratory's class is not the class of its own counts: one of them belongs to another sample, scale or volume",
  "class-cannot-be":
    "no class of this standard is written so: a slip of the pen, or the class of another standard",
  "factor-of-100":
    "the counts are about a hundred times, or a hundredth of, what this circuit has shown, or further off: per mL and per 100 mL are easily mistaken",
  "counts-all-zero":
    "no bottle of fluid is so clean: the counter saw none of it, or nothing was counted and zeros were written",
  "counts-all-equal":
    "particles of the smaller sizes are always more: one number was copied, or the sizes were not counted",
  "counts-break-off":
    "where hundreds are counted above one size, some are above the next: that channel counted nothing, or a blank became 0",
  "water-per-cent-as-ppm": "so little water is not found in hydraulic fluid: per cent was read as ppm",
  "water-zero": "fluid that has met air holds water: less than a method finds is a limit, such as < 50",
  "acid-zero": "every method finds some acid: less than it finds is a limit, such as < 0.05",
  "property-zero":
    "every fluid has some viscosity and density: a blank became 0, or the cell is of another column",
  "water-ppm-as-per-cent": "so much water is not dissolved in hydraulic fluid: ppm was read as per cent",
  "drawn-after-received": "a bottle cannot arrive before it was drawn",
  "received-after-reported": "a report cannot be written before the bottle arrived",
  "day-differs-from-book": "one number for two bottles, or a corrected day: a person has to say which it is",
  "differs-from-book":
    'only a report of a later day corrects an earlier one; to take it all the same, a person writes differs-from-book under "quarantine accepted"',
  "drawn-long-before-received":
    "a bottle is with the laboratory within days or weeks: the month or the year is mistaken, or the bottle was kept back",
  "date-in-the-future": "the day has not come yet: day and month, or the year, are mistaken",
} as const);

/** See {@link CHECKS}. */
export type CheckCode = keyof typeof CHECKS;

/** What is wrong with one cell or one row, and where it stands. */
export interface IntakeIssue {
  readonly code: IssueCode;
  readonly file: string;
  /** The sheet of a workbook. */
  readonly sheet?: string;
  /**
   * Row as a person counts it: the first line of the file is row 1. Where samples stand across, a column is their place,
   * and its number is that of {@link placeOfColumn}.
   */
  readonly row: number;
  /** Title of the cell as the file writes it: that of its column, or of its row where samples stand across. */
  readonly column: string;
  /** The text as it is in the file. */
  readonly value: string;
  readonly expected: string;
}

/** A row that was read but could not be taken, with its text as it is in the file. */
export interface QuarantinedRow {
  readonly file: string;
  readonly sheet?: string;
  readonly row: number;
  readonly text: string;
  readonly issues: readonly IntakeIssue[];
  /** What is known of whose result it is, so that a verdict can look out for it. */
  readonly cart?: string;
  readonly circuit?: string;
  readonly drawnOn?: string;
  /** The number of the sample. */
  readonly sample?: string;
  /** What the row reports, by measurand; null for a result that cannot be read. For finding what replaces the row. */
  readonly reported?: Readonly<Record<string, unknown>>;
  /** Where it stood before, of a row that was written out to be corrected and has come back. @internal */
  readonly cameFrom?: QuarantinePlace;
}

/** A row that is no result and was never meant to be one. */
export interface NotSampleRow {
  readonly file: string;
  readonly sheet?: string;
  readonly row: number;
  readonly text: string;
  readonly why:
    | "above the table"
    | "header"
    | "blank"
    | "footer"
    | "label not known"
    | "sheet without samples"
    | "discarded by a person";
}

/** A file that cannot be read at all. */
export class IntakeError extends Error {
  override readonly name = "IntakeError";
  /** Whether answers in a column map would let the file be read. */
  readonly needsColumnMap: boolean;

  constructor(message: string, options: ErrorOptions & { readonly needsColumnMap?: boolean } = {}) {
    super(message, options);
    this.needsColumnMap = options.needsColumnMap ?? false;
  }
}

/**
 * Says an issue in one line.
 *
 * @example
 * describeIssue({ code: "cell-not-read", file: "march.csv", row: 41, column: "4um(c)", value: "N/A?", expected: "a number" }); // => "march.csv row 41, column \"4um(c)\": expected a number, found \"N/A?\""
 */
export function describeIssue(issue: IntakeIssue): string {
  const { row, column, expected, value } = issue;
  checkNumbers("finite", { row });
  const title = isColumn(row) ? "row" : "column";
  return `${describeOrigin({ ...issue, rows: [row] })}, ${title} "${shown(column)}": expected ${expected}, found "${shown(value)}"`;
}
