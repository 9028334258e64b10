import { type Assumption, frozen } from "../../provenance/index.js";
import type { IssueCode, NotSampleRow } from "../checks/issue.js";
import type { ColumnMap } from "../layout/column-map.js";
import type { Measurand, Naming } from "../layout/meaning.js";
import { type RawCell, type RawRow, SEPARATORS, textOf } from "../rows/row.js";

/** A cell with the place it is in. */
export interface PlacedCell {
  readonly cell: RawCell;
  readonly row: number;
  readonly column: string;
}

/** One reported result with the place it is in. */
export interface ReportedResult extends PlacedCell {
  readonly measurand: Measurand;
  /** The cell that says which volume a count stands for. */
  readonly countsPer?: PlacedCell;
  /** The result as its row gave it, where the run or the dilution was added. */
  readonly asGiven?: ReportedResult;
  /** The run that a stated class is of. */
  readonly run?: number;
  /** What a count of a diluted bottle has to be multiplied by. */
  readonly times?: number;
}

/** A text that a person wrote next to the results: remarks of the laboratory, or a column that is not used. */
export interface PlacedText extends PlacedCell {
  readonly holds: "remarks" | "text";
}

/** A result that could not be taken. */
export interface RefusedResult {
  readonly result: ReportedResult;
  /** The cell in which the fault lies, where it is not that of the result. */
  readonly at?: PlacedCell;
  readonly code: IssueCode;
  readonly expected: string;
}

/** Said where one measurand is reported again with the same result. */
export const TAKEN_ONCE: Assumption = frozen({
  code: "taken-once",
  message: "results that a file gives twice for a sample, and the same both times, were taken once",
});

/** What is expected where one measurand is reported again with another result. */
export const ONCE = "each measurand once in a sample";

/** Something wrong with a row that shows before its cells are read. */
export interface RowFault {
  readonly code: IssueCode;
  readonly row: number;
  readonly column: string;
  readonly value: string;
  readonly expected: string;
}

/** What one row of a table, or one block, says: who the sample is and what was found. */
export interface Entry {
  readonly rows: readonly RawRow[];
  readonly naming: Partial<Record<Naming, PlacedCell>>;
  readonly results: readonly ReportedResult[];
  readonly faults: readonly RowFault[];
  readonly texts: readonly PlacedText[];
  /** Checks that a person has looked at and accepted for this row, or that it is to be discarded. */
  readonly accepted: string;
  /** Where the row stood in the file that it was set aside from, when it comes back from a quarantine file. */
  readonly place: string;
}

/** A row of a table that is no sample. */
export type Skipped = Pick<NotSampleRow, "why"> & { readonly row: RawRow };

/** An entry, or a row that is not one. */
export type EntryOrSkipped = { readonly entry: Entry } | { readonly skipped: Skipped };

/** The row of a cell that is in no row, because a column map says it of all of them. */
export const OF_THE_MAP = 0;

/** What a column map says of every sample of the file. */
export function fixedNaming(map: ColumnMap | undefined): Entry["naming"] {
  const fixed: Entry["naming"] = {};
  for (const [kind, cell] of Object.entries(map?.fixed ?? {})) {
    if (cell !== undefined) fixed[kind as Naming] = { cell, row: OF_THE_MAP, column: `(fixed ${kind})` };
  }
  return fixed;
}

/** Which of two values is meant is not known, so the whole row is set aside; the rest of it says whose it is. */
export function twiceFaults({ row, twice = [] }: RawRow): RowFault[] {
  return twice.map(({ title, last, line }) => ({
    code: "name-given-twice",
    row,
    column: title,
    value: textOf(last),
    expected: `each name once in a row, and this one stands there again${line === undefined ? "" : ` in line ${line}`}`,
  }));
}

/**
 * Why a row cannot be read by its columns, if it cannot.
 *
 * @param width - cells of the header
 * @param least - cells that a row must have
 */
export function rowFault(row: RawRow, width: number, least = width): RowFault | undefined {
  if (row.broken !== undefined) return faultOfRow(row, row.broken, "row-not-split");
  // No shorter cell holds a row.
  const shortest = Math.max(3, width - 1);
  if (
    row.cells.some((cell) => typeof cell === "string" && cell.length >= shortest && holdsRows(cell, width))
  ) {
    const expected = "a quotation mark that is closed in its own row; whole rows are in one cell";
    return faultOfRow(row, expected, "row-not-split");
  }
  const last = row.cells.length > width ? row.cells.findLastIndex((cell) => textOf(cell) !== "") + 1 : 0;
  if (row.cells.length >= least && last <= width) return undefined;
  const value = `${Math.max(last, row.cells.length)} cells`;
  return { ...faultOfRow(row, `${width} cells, as in the header`), value };
}

/** Something wrong with a row as a whole. */
export function faultOfRow(
  { row, text }: RawRow,
  expected: string,
  code: IssueCode = "row-of-wrong-length",
): RowFault {
  return { code, row, column: "(row)", value: text, expected };
}

/** A row of which no cell is read: of its sample only what a column map says of every row is known. */
export function unreadEntry(row: RawRow, naming: Entry["naming"], fault: RowFault | undefined): Entry {
  const faults = fault === undefined ? [] : [fault];
  return { rows: [row], naming, results: [], texts: [], faults, accepted: "", place: "" };
}

/**
 * Whether a cell of several lines has swallowed rows, because a quotation mark was left open: a line of it has about as many
 * separators as a row, and figures in half of what stands between them. A long remark has words there.
 */
function holdsRows(cell: string, width: number): boolean {
  if (!/[\r\n]/.test(cell)) return false;
  const [, ...further] = cell.split(/[\r\n]+/);
  return further.some((line) =>
    SEPARATORS.some((separator) => {
      const pieces = line.split(separator);
      const figures = pieces.filter((piece) => /\d/.test(piece)).length;
      return pieces.length >= Math.max(3, width - 1) && figures >= pieces.length / 2;
    }),
  );
}
