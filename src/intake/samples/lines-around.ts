import { readColour } from "../../fluids/index.js";
import {
  badStatement,
  explains,
  readStatement,
  type SamplePoint,
  UNSUITED_POINTS,
} from "../../samples/index.js";
import type { NotSampleRow } from "../checks/issue.js";
import { saysMultiplied } from "../layout/columns.js";
import { holdsOf } from "../layout/meaning.js";
import { namer, type TitledColumn } from "../layout/namer.js";
import { isOfFilling, namesInLine } from "../layout/names-around.js";
import { isWritten, type RawRow, textOf } from "../rows/row.js";
import { readDescription } from "../words/described.js";
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
  const isUnfit = why !== "above the table" && saysFilledUnfit(row);
  if (!isAgainst && !isUnfit && !saysSomethingIsWrong(row)) return undefined;
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

/** "Sampling point: drain": above a table it is taken for each of its samples, below it only what makes them unfit counts. */
function saysFilledUnfit(row: RawRow): boolean {
  return namesInLine(row, namer(undefined)).some(({ kind, cell }) => {
    if (!isOfFilling(kind)) return false;
    if (kind === "colour") return readColour(textOf(cell)).seen.includes("dark");
    const { findings } = readDescription(kind, textOf(cell));
    return findings.some(
      (finding) =>
        (finding.is === "sample-point" && UNSUITED.includes(finding.value)) ||
        (finding.is === "flowing" && finding.value === "no"),
    );
  });
}
const UNSUITED: readonly SamplePoint[] = [...UNSUITED_POINTS, "supply-container"];

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
