import { badStatement, explains, readStatement } from "../../samples/index.js";
import type { NotSampleRow } from "../checks/issue.js";
import { saysMultiplied } from "../layout/columns.js";
import { holdsOf } from "../layout/meaning.js";
import type { TitledColumn } from "../layout/namer.js";
import { isWritten, type RawRow, textOf } from "../rows/row.js";
import { faultOfRow, type RowFault } from "./entry.js";
import { MAX_LINE_LENGTH, saysSomethingIsWrong } from "./text-lines.js";

/**
 * What is wrong with a line around a table that a person has to read: by it something is wrong with samples, or the titles above
 * it do not hold. It puts the whole table in doubt, unless it names some of its samples or carts.
 *
 * @param against - the row of a line that contradicts the titles
 */
export function faultAround(
  row: RawRow,
  why: NotSampleRow["why"] | undefined,
  against: number | undefined,
): RowFault | undefined {
  const isLine =
    why === "footer" ||
    why === "above the table" ||
    (row.broken === undefined && why === undefined && !hasThreeCells(row));
  if (!isLine) return undefined;
  const isAgainst = (why === "footer" && row.row === against) || saysDiluted(row);
  if (!isAgainst && !saysSomethingIsWrong(row)) return undefined;
  return faultOfRow(row, isAgainst ? AS_THE_TITLES : WHICH_FAILED, "table-in-doubt");
}

/**
 * What is wrong with a row of a sheet without results: a line by which something is wrong, or a bottle of a register with such
 * a remark.
 *
 * @param columns - of the sheet, where it holds a table: a register of bottles may have a column of remarks
 */
export function faultOutsideTables(row: RawRow, columns: readonly TitledColumn[] = []): RowFault | undefined {
  const isRemarked = columns.some(
    (column, index) =>
      holdsOf(column) === "remarks" && badStatement(column.title, textOf(row.cells[index])) !== undefined,
  );
  if (isRemarked && /\p{N}/u.test(textOf(row.cells.find(isWritten)))) return faultOfRow(row, WHICH_FAILED);
  return hasThreeCells(row) || !saysSomethingIsWrong(row)
    ? undefined
    : faultOfRow(row, WHICH_FAILED, "table-in-doubt");
}

/** Counts of a diluted bottle are too low until they are multiplied; "dilution applied" says that they were. */
function saysDiluted(row: RawRow): boolean {
  const text = row.text.slice(0, MAX_LINE_LENGTH);
  return (
    DILUTED.test(text) &&
    !NOT_DILUTED.test(text) &&
    !saysMultiplied(text.toLowerCase()) &&
    (NOT_YET.test(text) || !explains(text)) &&
    readStatement("", text) === "doubts"
  );
}

const DILUTED = /\bdil(?:ut|ui|ué)|verd(?:ü|u)nn|\bverdund/i;
const NOT_YET = /\b(?:must|should|shall|to) be (?:multiplied|corrected|applied)/i;
const NOT_DILUTED = /\bfactor\D{0,5}1(?![\d.,])|\b1 ?: ?1(?!\d)/i;

const WHICH_FAILED = "a row of results; this line says that samples failed, and a person has to say which";
const AS_THE_TITLES =
  "a line that agrees with the titles above it; a person has to say which of them holds for the results";

function hasThreeCells({ cells }: RawRow): boolean {
  let written = 0;
  for (let index = 0; index < cells.length && written < 3; index += 1)
    if (isWritten(cells[index])) written += 1;
  return written === 3;
}
