import { shown } from "./shown.js";

/** Places above this number are columns: no file has that many rows. */
const FIRST_COLUMN = 10_000_000_000;

/**
 * The number of a column as a place of its own, for a table whose samples stand across: one column is one sample, so a
 * column and not a row has one fate.
 *
 * @param column - from 0
 * @param firstRow - the row in which its table begins; a file may have several tables below each other
 */
export function placeOfColumn(column: number, firstRow: number): number {
  return (column + 1) * FIRST_COLUMN + firstRow;
}

/** Whether a place is a column of a table whose samples stand across. */
export function isColumn(place: number): boolean {
  return place >= FIRST_COLUMN;
}

/** A column as spreadsheets name it: A for 0. */
export function columnLetters(column: number): string {
  const before = Math.floor(column / 26);
  return `${before === 0 ? "" : columnLetters(before - 1)}${String.fromCharCode(65 + (column % 26))}`;
}

/**
 * Names places of a file as a person sees them.
 *
 * @param places - rows, or columns of a table whose samples stand across
 * @example
 * describePlaces([4, 9]); // => "row 4, 9"
 * describePlaces([placeOfColumn(3, 1)]); // => "column D"
 */
export function describePlaces(places: readonly number[]): string {
  const rows = places.filter((place) => !isColumn(place));
  const columns = places.filter(isColumn).map(describeColumn);
  return [...(rows.length > 0 ? [`row ${rows.join(", ")}`] : []), ...columns].join(", ");
}

/** Names a place as a person looks for it: the file, its sheet where it has several, and the rows. */
export function describeOrigin({
  file,
  sheet,
  rows,
}: {
  readonly file: string;
  readonly sheet?: string | undefined;
  readonly rows: readonly number[];
}): string {
  return `${file}${sheet === undefined ? "" : ` sheet "${shown(sheet)}"`} ${describePlaces(rows)}`;
}

function describeColumn(place: number): string {
  const [column, firstRow] = [Math.floor(place / FIRST_COLUMN) - 1, place % FIRST_COLUMN];
  return `column ${columnLetters(column)}${firstRow === 1 ? "" : ` from row ${firstRow}`}`;
}

const PLACES = /^row \d{1,10}(?:\+\d{1,10})*$|^column [A-Z]{1,3}(?: from row \d{1,10})?$/;

/** Reads what {@link describePlaces} says of one column, or of rows joined with "+"; undefined for any other text. */
export function readPlaces(text: string): number[] | undefined {
  if (!PLACES.test(text)) return undefined;
  const numbers = (text.match(/\d+/g) ?? []).map(Number);
  if (text.startsWith("row")) return numbers;
  const letters = /[A-Z]+/.exec(text)?.[0] ?? "";
  const column = [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
  return [placeOfColumn(column, numbers[0] ?? 1)];
}
