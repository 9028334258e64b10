import { plainTitle } from "../layout/columns.js";
import type { RawCell, RawRow, RowSource } from "./row.js";

/**
 * Characters that make a spreadsheet run a cell as a formula when they stand first: the four signs, plain and wide, and
 * the blanks that some spreadsheets take away before they look.
 */
const RUNS_AS_FORMULA = /^[' \u00a0]*[=+\-@\uff1d\uff0b\uff0d\uff20\t\r\n]/;
/** A dash for "not measured", and numbers: they are what they look like. */
const HARMLESS = /^(-|[+-][\d.,]+(?:[eE][+-]?\d+)?)$/;
/** What separates cells where a comma is the decimal mark; a file with commas is opened there too. */
const OTHER_SEPARATOR = ";";

/** By this a spreadsheet knows that a text is UTF-8. */
export const BYTE_ORDER_MARK = "\ufeff";

/** The title of the column that an export has when apostrophes were put before formulas. */
export const GUARD_TITLE = "apostrophe before formulas";
const GUARDED_TITLES = [GUARD_TITLE, "quarantine place"];

/**
 * Puts an apostrophe before a text that a spreadsheet would run as a formula. {@link withoutGuards} takes it away again.
 *
 * @example
 * guarded("=1+1"); // => "'=1+1"
 */
export function guarded(text: string): string {
  return eachPart(text, (part) => (isFormula(part) ? `'${part}` : part));
}

function unguarded(cell: RawCell): RawCell {
  if (typeof cell === "number" || !cell.includes("'")) return cell;
  return eachPart(cell, (part) => (part.startsWith("'") && isFormula(part.slice(1)) ? part.slice(1) : part));
}

function eachPart(text: string, change: (part: string) => string): string {
  return text.split(OTHER_SEPARATOR).map(change).join(OTHER_SEPARATOR);
}

function isFormula(part: string): boolean {
  return RUNS_AS_FORMULA.test(part) && !HARMLESS.test(part);
}

/**
 * A table as it was before siltbook put apostrophes into it. Only files that siltbook wrote are changed; they say so with
 * a title of their own.
 *
 * @param head - the first rows
 */
export function withoutGuards(source: RowSource, head: readonly RawRow[]): RowSource {
  const isOwn = head.some(({ cells }) =>
    cells.some((cell) => typeof cell === "string" && GUARDED_TITLES.includes(plainTitle(cell))),
  );
  if (source.titles !== undefined || !isOwn) return source;
  return { ...source, rows: () => rowsWithoutGuards(source) };
}

function* rowsWithoutGuards(source: RowSource): Generator<RawRow> {
  // The text stays as it is in the file.
  for (const row of source.rows()) yield { ...row, cells: row.cells.map(unguarded) };
}
