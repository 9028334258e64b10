import type { Assumption } from "../../provenance/index.js";
import type { NotSampleRow } from "../checks/issue.js";

/** What may stand between two cells. */
export const SEPARATORS = [",", ";", "\t", "|"] as const;

/** See {@link SEPARATORS}. */
export type Separator = (typeof SEPARATORS)[number];

/** What is in one cell. Workbooks and JSON know numbers; delimited text knows only text. */
export type RawCell = string | number;

/** One row as a reader delivers it, before anybody asks what it means. */
export interface RawRow {
  /** Row as a person counts it: the first row of the file or sheet is row 1. */
  readonly row: number;
  readonly cells: readonly RawCell[];
  /** The row as it is in the file; cells of a workbook are joined with tabs. */
  readonly text: string;
  /** Whether blanks alone part its cells, so that a blank cell is not seen and the next one takes its place. */
  readonly inOrder?: true;
  /** Why the row is known to be no sample, before its cells are looked at. */
  readonly outside?: NotSampleRow["why"];
  /** Why the row could not be split into cells. */
  readonly broken?: string;
  /** Titles that the row gives more than once, where the format can; their cells are blank, because which is meant is not known. */
  readonly twice?: readonly TitleTwice[];
}

/** A title that a row gives again. */
export interface TitleTwice {
  readonly title: string;
  /** What stands there the last time. */
  readonly last: RawCell;
  /** The line in which it stands again. */
  readonly line?: number;
}

/** Cells of one column that a sheet shows as one. */
export interface MergedDown {
  readonly column: number;
  readonly fromRow: number;
  readonly toRow: number;
}

/** Cells of one row that a sheet shows as one. */
export interface MergedAcross {
  readonly row: number;
  readonly fromColumn: number;
  readonly toColumn: number;
}

/** A table of rows that can be gone through more than once. */
export interface RowSource {
  readonly file: string;
  /** The sheet of a workbook. */
  readonly sheet?: string;
  /** Whether the workbook does not show the sheet to a person. */
  readonly isHidden?: boolean;
  /** Cells of a sheet that are merged with cells below them. */
  readonly mergedDown?: readonly MergedDown[];
  /** Cells of a sheet that are merged with cells to their right. */
  readonly mergedAcross?: readonly MergedAcross[];
  /** The first cell of a workbook whose number was read as the cell shows it. */
  readonly shownNumber?: { readonly holds: number; readonly shows: string };
  /** What the reading of its bytes rests on. */
  readonly assumptions?: readonly Assumption[];
  readonly format: "delimited text" | "workbook" | "JSON" | "JSON Lines";
  /** Names of the cells, where the format itself gives them; otherwise a row of the table does. */
  readonly titles?: readonly string[];
  /** What is with each of these titles: its unit, the title of its group, and its row. */
  readonly withTitles?: readonly { readonly unit: string; readonly group: string; readonly row: number }[];
  /** Whether its rows are the columns of a table whose samples stand across; their numbers are those of columns. */
  readonly isAcross?: true;
  /** What stands around the list of rows, as lines of a name and its value, where the format itself gives titles. */
  readonly around?: readonly RawRow[];
  /** What was decided about the file in order to read it. */
  readonly readAs: string;
  readonly rows: () => Iterable<RawRow>;
}

/** A cell as text, without blanks around it. */
export function textOf(cell: RawCell | undefined): string {
  if (cell === undefined) return "";
  return typeof cell === "string" ? cell.trim() : String(cell);
}

/** Whether a cell holds anything. */
export function isWritten(cell: RawCell | undefined): boolean {
  return cell !== undefined && cell !== "";
}

/** Whether nothing is written in any cell. */
export function isBlankRow({ cells }: RawRow): boolean {
  return cells.every((cell) => typeof cell === "string" && cell.trim() === "");
}

const FORMULA_OF_TEXT = /^="([^"]*)"$/;
const APOSTROPHE_OF_TEXT = /^'(?=[\p{L}\p{N}<>≤≥.])[^']*$/u;

/** A cell without what makes a spreadsheet take it for text: ="00123" and '00123 are 00123. */
export function withoutTextMark(cell: RawCell): RawCell {
  if (typeof cell === "number") return cell;
  const text = cell.trim();
  const formula = FORMULA_OF_TEXT.exec(text);
  if (formula !== null) return formula[1] ?? "";
  return APOSTROPHE_OF_TEXT.test(text) ? text.slice(1) : cell;
}
