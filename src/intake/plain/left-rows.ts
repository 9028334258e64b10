import { rowOfLine } from "../readers/delimited.js";
import { decode } from "../readers/encoding.js";
import type { RawRow, Separator } from "../readers/row.js";
import type { RawBlock } from "./raw-blocks.js";
import type { ScannedRows } from "./scan.js";

/**
 * The rows of a block that are left to the ordinary reader, in the order of the file.
 *
 * @param which - rows with one of these marks are left, besides those that could not be split
 */
export function leftRows(
  { bytes, split, others }: RawBlock,
  { marks }: ScannedRows,
  which: number,
  separator: Separator,
): RawRow[] {
  const rows = [...others];
  for (let index = 0; index < marks.length; index += 1) {
    if (((marks[index] as number) & which) === 0) continue;
    const line = decode(bytes, split.startOf(index), split.end[index] as number);
    rows.push(rowOf(split.row[index] as number, line, separator));
  }
  return rows.sort((a, b) => a.row - b.row);
}

/** A line that holds one row, as the ordinary reader knows it. */
export function rowOf(row: number, line: string, separator: Separator): RawRow {
  return { row, ...(rowOfLine(line, separator) ?? { cells: [line], text: line }) };
}
