import { stringify } from "csv-stringify/sync";
import { BYTE_ORDER_MARK, GUARD_TITLE, guarded } from "../../intake/index.js";
import type { Sample } from "../../samples/index.js";
import { cellsOf, FIXED_TITLES, type PlacedTitle } from "./export-columns.js";

const ROWS_TOGETHER = 1000;

/**
 * Writes samples as delimited text with commas, a row for each sample, that intake reads back. It begins with a byte-order mark.
 *
 * Counts are in a column for each size and volume, as they were reported, and so are those of each run and of the blank.
 * Texts that were not used have no column, and several texts of the laboratory under one title become one; the export as JSON
 * Lines has all. A cell that a spreadsheet would run as a formula gets an apostrophe before it; a column of its own says so,
 * and by it intake takes the apostrophes away again.
 *
 * @param samples - called twice: once for the columns and once for the rows, so that memory does not grow
 */
export function* samplesAsCsv(samples: () => Iterable<Sample>): Generator<string> {
  const titles = titlesFor(samples());
  const write = (rows: (string | number | undefined)[][]) =>
    stringify(rows.map((cells) => cells.map((cell) => (typeof cell === "string" ? guarded(cell) : cell))));
  yield BYTE_ORDER_MARK + write([titles]);
  let rows: (string | number | undefined)[][] = [];
  for (const sample of samples()) {
    const cells = new Map<string, string | number>([[GUARD_TITLE, "yes"]]);
    for (const { title, cell } of cellsOf(sample)) cells.set(title, cell);
    rows.push(titles.map((title) => cells.get(title)));
    if (rows.length < ROWS_TOGETHER) continue;
    yield write(rows);
    rows = [];
  }
  if (rows.length > 0) yield write(rows);
}

/** The titles that samples need, in order. */
function titlesFor(samples: Iterable<Sample>): string[] {
  const placed = new Map<string, PlacedTitle>(FIXED_TITLES.map((one) => [one.title, one]));
  let isGuarded = false;
  for (const sample of samples) {
    for (const { cell, ...one } of cellsOf(sample)) {
      if (!placed.has(one.title)) placed.set(one.title, one);
      isGuarded ||= typeof cell === "string" && guarded(cell) !== cell;
    }
  }
  const titles = [...placed.values()].sort(byPlace).map(({ title }) => title);
  return isGuarded ? [...titles, GUARD_TITLE] : titles;
}

/** Titles of one place stay in the order in which they came. */
function byPlace({ place: a }: PlacedTitle, { place: b }: PlacedTitle): number {
  const at = a.findIndex((value, index) => value !== b[index]);
  return at === -1 ? 0 : (a[at] as number) - (b[at] as number);
}

/** Writes samples as JSON Lines: one sample of the module samples in each line, with everything it holds. */
export function* samplesAsJsonLines(samples: Iterable<Sample>): Generator<string> {
  for (const sample of samples) yield `${JSON.stringify(sample)}\n`;
}
