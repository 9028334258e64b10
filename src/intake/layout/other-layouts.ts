import { type RawRow, textOf } from "../rows/row.js";
import type { ColumnMap } from "./column-map.js";
import { findLayout, HEAD_ROWS, hasDay, isOfSamples, type Layout } from "./layout.js";

/** So many samples of a table are said. */
const MAX_SAID = 3;

/**
 * Says of a table whose samples stand side by side, labels down the first column, that it is one.
 *
 * It would be read as one sample in rows of labels, and its other columns as units and limits.
 *
 * @param found - how it would be read
 * @returns undefined where the rows of a table are its samples
 */
export function samplesAcross(
  head: readonly RawRow[],
  found: Layout | undefined,
  map: ColumnMap | undefined,
): string | undefined {
  if (map?.shape !== undefined || (found !== undefined && found.shape !== "block")) return undefined;
  const turned = turnedOver(head);
  const layout = findLayout({}, turned, map);
  if (layout?.shape !== "wide" || !isOfSamples(layout)) return undefined;
  const last = layout.headerRows.at(-1)?.row ?? 0;
  const day = layout.columns.findIndex(
    ({ recognition }) => recognition.kind === "known" && recognition.meaning.holds === "drawn",
  );
  const samples = turned.filter(({ row, cells }) => row > last && hasDay(cells[day]));
  if (samples.length < 2) return undefined;
  const said = samples
    .slice(0, MAX_SAID)
    .map(({ cells }) => textOf(cells.find((cell) => textOf(cell) !== "")));
  return `a row for each sample; the samples stand side by side ("${said.join('", "')}"), so turn rows into columns in a spreadsheet program and import that`;
}

/** The columns of a table as rows. */
function turnedOver(rows: readonly RawRow[]): RawRow[] {
  const width = Math.max(0, ...rows.map(({ cells }) => cells.length));
  return Array.from({ length: Math.min(width, HEAD_ROWS) }, (_, column) => {
    const cells = rows.map((row) => row.cells[column] ?? "");
    return { row: column + 1, cells, text: cells.map(textOf).join("\t") };
  });
}

/** Says of a print whose columns are parted by blanks alone that it is one: a blank cell would shift those after it. */
export function partedByBlanks(head: readonly RawRow[], map: ColumnMap | undefined): string | undefined {
  const rows = head.map(
    (row): RawRow => ({ ...row, cells: row.text.slice(0, MAX_LINE).trim().split(/\s\s+/) }),
  );
  if (findLayout({}, rows, map) === undefined) return undefined;
  return "comma, semicolon, tab or pipe between cells; this is a print whose cells are parted by blanks alone, where an empty cell cannot be seen: export the results as delimited text or a workbook";
}

const MAX_LINE = 1000;
