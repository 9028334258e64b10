/** The mark between whole number and fraction in a file. */
export type DecimalMark = "." | ",";

const POINT_FOR_SURE = /^[<>≤≥]?\s*\d*\.(\d{1,2}|\d{4,})$/;
const COMMA_FOR_SURE = /^[<>≤≥]?\s*\d*,(\d{1,2}|\d{4,})$/;
const EITHER = /^[<>≤≥]?\s*\d{1,3}[.,]\d{3}$/;

/**
 * Decides which decimal mark a file uses, from the cells that can be read in only one way.
 *
 * "1.5" shows a point, "1,5" a comma. "1.500" and "1,500" show nothing: each may be one and a half or fifteen hundred.
 *
 * @param cells - the texts of all number columns
 * @returns the mark; "unclear" when cells speak for both, or when only cells that show nothing have a mark
 */
export function decimalMarkOf(cells: Iterable<string>): DecimalMark | "unclear" {
  let point = false;
  let comma = false;
  let either = false;
  for (const cell of cells) {
    point ||= POINT_FOR_SURE.test(cell);
    comma ||= COMMA_FOR_SURE.test(cell);
    either ||= EITHER.test(cell);
  }
  if (point && comma) return "unclear";
  if (comma) return ",";
  return either && !point ? "unclear" : ".";
}
