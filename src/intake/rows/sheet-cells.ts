import { hasFigure } from "../cells/numbers.js";
import { isNearlyEmpty } from "./nearly-empty.js";
import type { NumberFormat } from "./number-format.js";
import type { MergedAcross, MergedDown } from "./row.js";
import type { SheetPart } from "./workbook-parts.js";
import { attributesOf, plainText, type Tag, tagsOf } from "./xml-tags.js";

/** The last row and column of a sheet, as the format has them. */
const LAST_ROW = 1_048_576;
const LAST_COLUMN = 16_384;

/** Places between the first cell and the last one with something in it, of all sheets: the reader makes room for each. */
const MAX_PLACES = 10_000_000;

/** No workbook of a laboratory lists more; each is read again, also where several name the same part. */
const MAX_SHEETS = 1000;

/** What a sheet shows besides the values of its cells. */
export interface Shown {
  /** The text of cells that show something else, by "row,column" (row from 1, column from 0). */
  readonly texts: ReadonlyMap<string, string>;
  readonly mergedDown: readonly MergedDown[];
  readonly mergedAcross: readonly MergedAcross[];
}

/**
 * Finds the cells of a workbook that show something else than the workbook reader makes of them.
 *
 * A cell with an error, such as #N/A or #DIV/0!, and one with a formula that no program has computed yet, are blank to
 * that reader; blank means "not measured", and that is not what stands there. A cell that shows "0.31%" holds the number
 * 0.0031, one that shows "<0.5" may hold the number 0.5, and a number such as 1E-400 becomes 0.
 *
 * @param formats - what the styles of cells that show more than a number make of it, by the number of the style
 * @returns for each sheet by its name
 * @throws RangeError naming the sheet that is too large to be held in memory: a single cell in the far corner would make
 *   the reader fill the memory with blanks
 */
export function otherwiseShown(
  sheets: readonly SheetPart[],
  formats: ReadonlyMap<string, NumberFormat>,
): Map<string, Shown> {
  if (sheets.length > MAX_SHEETS) {
    throw new RangeError(`it lists ${sheets.length} sheets, and at most ${MAX_SHEETS} are read`);
  }
  const found = new Map<string, Shown>();
  let places = 0;
  for (const { name, xml } of sheets) {
    const { rows, columns, rowsWritten, written, shown, ...merged } = lookThrough(name, xml, formats);
    if (isNearlyEmpty(rowsWritten * columns, written)) {
      throw new RangeError(
        `sheet "${name}" has ${written} cells with something in them, spread over ${rowsWritten} rows and ${columns} columns; export the sheet as text`,
      );
    }
    places += rows * columns;
    if (places > MAX_PLACES) {
      throw new RangeError(
        `with sheet "${name}" (${rows} rows, ${columns} columns) it reaches over more than ${MAX_PLACES} cells; export the sheet as text`,
      );
    }
    found.set(name, { texts: shown, ...merged });
  }
  return found;
}

/** How far a sheet reaches, and the cells that show something else. */
function lookThrough(sheet: string, xml: string, formats: ReadonlyMap<string, NumberFormat>) {
  const shown = new Map<string, string>();
  const mergedDown: MergedDown[] = [];
  const mergedAcross: MergedAcross[] = [];
  let rows = 0;
  let columns = 0;
  let written = 0;
  let rowsWritten = 0;
  let lastWritten = 0;
  let cell: Cell | undefined;
  for (const tag of tagsOf(xml)) {
    if (tag.name === "f" && cell !== undefined) {
      const formula = tag.isEmpty ? "" : textBehind(xml, tag);
      // A text may be computed to nothing; a number that is not there was not computed.
      if (cell.type !== "str") shown.set(cell.place, `=${formula} (not computed)`);
    } else if (tag.name === "v" && cell !== undefined) {
      const value = tag.isEmpty ? "" : textBehind(xml, tag);
      if (value === "") continue;
      shown.delete(cell.place);
      if (cell.type === "e") shown.set(cell.place, value);
      else if (cell.type === "n") {
        const text = isKept(value) ? formats.get(cell.style)?.(Number(value)) : value;
        if (text !== undefined) shown.set(cell.place, text);
      }
    } else if (tag.name === "mergeCell") {
      const [from, to] = (attributesOf(tag).get("ref") ?? "").split(":").map(placeOf);
      if (from && to && to.row > from.row)
        mergedDown.push({ column: from.column, fromRow: from.row, toRow: to.row });
      else if (from && to) mergedAcross.push({ row: from.row, fromColumn: from.column, toColumn: to.column });
    } else if (tag.name === "row") {
      const row = attributesOf(tag).get("r");
      if (row !== undefined && !(Number(row) <= LAST_ROW)) throw noSuchPlace(sheet, `row "${row}"`);
      rows = row === undefined ? rows + 1 : Math.max(rows, Number(row));
    } else if (tag.name === "c") {
      const attributes = attributesOf(tag);
      const address = attributes.get("r") ?? "";
      const place = placeOf(address);
      if (place === undefined) throw noSuchPlace(sheet, `cell "${address}"`);
      rows = Math.max(rows, place.row);
      cell = tag.isEmpty
        ? undefined
        : {
            place: `${place.row},${place.column}`,
            type: attributes.get("t") ?? "n",
            style: attributes.get("s") ?? "0",
          };
      // A cell that has a format and nothing in it takes no room.
      if (tag.isEmpty) continue;
      columns = Math.max(columns, place.column + 1);
      written += 1;
      if (place.row !== lastWritten) rowsWritten += 1;
      lastWritten = place.row;
    }
  }
  return { rows, columns, rowsWritten, written, shown, mergedDown, mergedAcross };
}

/** A cell with something in it: "row,column", the kind of its value and the number of its style, as the format has them. */
interface Cell {
  readonly place: string;
  readonly type: string;
  readonly style: string;
}

/** Whether the reader's number is the one that is written; 1E-400 becomes 0 and 1E999 infinite. */
function isKept(value: string): boolean {
  const number = Number(value);
  return Number.isFinite(number) && (number !== 0 || !hasFigure(value));
}

function textBehind(xml: string, { end }: Tag): string {
  return plainText(xml.slice(end, xml.indexOf("<", end)));
}

function noSuchPlace(sheet: string, place: string): RangeError {
  return new RangeError(`sheet "${sheet}" has a ${place.slice(0, 40)}, which no sheet has`);
}

/** Row from 1 and column from 0 of a cell such as "B3"; undefined when a sheet has no such cell. */
function placeOf(address: string): { row: number; column: number } | undefined {
  const match = /^([A-Z]{1,3})([1-9]\d{0,6})$/.exec(address);
  if (match === null) return undefined;
  const [, letters = "", digits = ""] = match;
  let column = -1;
  for (const letter of letters) column = (column + 1) * 26 + letter.charCodeAt(0) - 65;
  const row = Number(digits);
  return row <= LAST_ROW && column < LAST_COLUMN ? { row, column } : undefined;
}
