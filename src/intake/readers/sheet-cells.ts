import type { SheetPart } from "./workbook-parts.js";
import { attributesOf, plainText, tagsOf } from "./xml-tags.js";

/** The last row and column of a sheet, as the format has them. */
const LAST_ROW = 1_048_576;
const LAST_COLUMN = 16_384;

/** Places between the first cell and the last one with something in it, of all sheets: the reader makes room for each. */
const MOST_PLACES = 10_000_000;

/** No workbook of a laboratory lists more; each is read anew, also where many name the same part. */
const MOST_SHEETS = 1000;

/**
 * Finds the cells of a workbook that hold an error, such as #N/A or #DIV/0!.
 *
 * The workbook reader leaves such cells blank; blank means "not measured", and that is not what stands there.
 *
 * @returns for each sheet that has any, by its name, the error's text by "row,column" (row from 1, column from 0)
 * @throws RangeError naming the sheet that is too large to be held in memory: a single cell in the far corner would make
 *   the reader fill the memory with blanks
 */
export function errorCellsOf(sheets: readonly SheetPart[]): Map<string, ReadonlyMap<string, string>> {
  if (sheets.length > MOST_SHEETS) {
    throw new RangeError(`it lists ${sheets.length} sheets, and at most ${MOST_SHEETS} are read`);
  }
  const found = new Map<string, ReadonlyMap<string, string>>();
  let places = 0;
  for (const { name, xml } of sheets) {
    const { rows, columns, errors } = lookThrough(name, xml);
    places += rows * columns;
    if (places > MOST_PLACES) {
      throw new RangeError(
        `with sheet "${name}" (${rows} rows, ${columns} columns) it reaches over more than ${MOST_PLACES} cells; export the sheet as text`,
      );
    }
    if (errors.size > 0) found.set(name, errors);
  }
  return found;
}

/** How far a sheet reaches, and its errors. */
function lookThrough(sheet: string, xml: string) {
  const errors = new Map<string, string>();
  let rows = 0;
  let columns = 0;
  let error: string | undefined;
  for (const tag of tagsOf(xml)) {
    if (tag.name === "v" && error !== undefined) {
      errors.set(error, plainText(xml.slice(tag.end, xml.indexOf("<", tag.end))));
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
      error = attributes.get("t") === "e" ? `${place.row},${place.column}` : undefined;
      // A cell that has a format and nothing in it takes no room.
      if (!tag.isEmpty) columns = Math.max(columns, place.column + 1);
    }
  }
  return { rows, columns, errors };
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
