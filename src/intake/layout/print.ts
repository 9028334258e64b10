import { IntakeError } from "../checks/issue.js";
import { cellsByColumns, columnsOf, type Edge, type OffColumns } from "../rows/fixed-width.js";
import { type RawRow, type RowSource, textOf } from "../rows/row.js";
import type { ColumnMap } from "./column-map.js";
import { findLayout, HEAD_ROWS, hasDay, type Layout } from "./layout.js";
import { holdsOf, NEEDED_NAMING } from "./meaning.js";
import { type Namer, namer } from "./namer.js";
import { partsOf } from "./parts.js";
import { stripCells } from "./strip.js";

/** A print, read as rows of cells. */
export interface Print {
  /** How much of it was understood; see {@link Layout}. */
  readonly score: number;
  readonly says: string;
  readonly rows: () => Iterable<RawRow>;
}

/** A longer print comes from a program that can write delimited text. */
const MAX_LINES = 20_000;
const MAX_LINE = 1000;
/** Of the lines of samples so large a share may not keep to the columns; with more it is not known where these are. */
const MAX_SHARE_OFF = 1 / 4;
const MAX_UNIT_LINES = 2;
const BLANKS = /\s\s+/;
/** Words with one blank between them. */
const PIECES = /\S+(?:\s\S+)*/g;
const OFF_COLUMNS = "a line that keeps to the columns of the print";

/**
 * Reads a print whose cells are parted by blanks alone: a table with columns under its titles, a table whose samples stand
 * across, or the strip of a counter with a label and its value in each line.
 *
 * An empty cell of a table is seen by its place alone, so a line of a sample that does not keep to the columns is set aside.
 *
 * @param lines - of the file, each in one cell
 * @returns undefined where nothing of it is understood
 * @throws IntakeError where the lines do not agree on the columns, naming one
 */
export function readPrint(
  file: string,
  lines: () => Iterable<RawRow>,
  map: ColumnMap | undefined,
): Print | undefined {
  const print: RawRow[] = [];
  for (const line of lines()) {
    print.push({ ...line, text: line.text.replace("\f", "") });
    if (line.text.length > MAX_LINE || line.text.includes("\t")) return undefined;
    if (print.length > MAX_LINES) break;
  }
  const rows = print.map((line) => ({ ...line, cells: line.text.trim().split(BLANKS) }));
  const layout = findLayout({}, rows.slice(0, HEAD_ROWS), map);
  if (layout !== undefined && print.length > MAX_LINES) {
    throw new IntakeError(
      `${file}: expected a print of at most ${MAX_LINES} lines; export the results as delimited text`,
    );
  }
  if (layout !== undefined && layout.shape !== "block") return readTable(file, print, rows, layout, map);
  return readAcross(file, print, rows, map) ?? readStrip(print, map);
}

/** A table, cut at each line of other titles: what is below them is in other columns. */
function readTable(
  file: string,
  print: readonly RawRow[],
  rows: readonly RawRow[],
  layout: Layout,
  map: ColumnMap | undefined,
): Print {
  const name = namer(map);
  const first = layout.headerRows.findLast((row) => !layout.unitRows.includes(row)) as RawRow;
  const headers = [first];
  for (const row of rows.slice(first.row))
    if (isHeader(row, name) && row.text !== headers.at(-1)?.text) headers.push(row);
  // A line right above the titles may be one of groups.
  const starts = headers.map(({ row }) => (isRule(print[row - 2]?.text ?? "") ? row : row - 1));
  const cut = headers.flatMap((header, index) => {
    const from = index === 0 ? 1 : (starts[index] as number);
    return cutByColumns(
      file,
      print.slice(from - 1, (starts[index + 1] ?? print.length + 1) - 1),
      header,
      name,
    );
  });
  return { score: layout.score, says: "a print with columns of blanks", rows: () => cut };
}

function isHeader({ cells }: RawRow, name: Namer): boolean {
  const kinds = cells.map((cell) => holdsOf(name(textOf(cell))));
  return NEEDED_NAMING.filter((kind) => kinds.includes(kind)).length > 2;
}

/**
 * The lines of one table with their cells. So few lines of samples that do not keep to the columns are set aside that
 * there is no doubt where the columns are.
 *
 * @param header - the row of titles, its cells parted at two blanks
 */
function cutByColumns(file: string, print: readonly RawRow[], header: RawRow, name: Namer): RawRow[] {
  const titles = print.find(({ row }) => row === header.row) as RawRow;
  const isSample = sampleLines(titles, header.cells.map(textOf), name);
  let samples = print.filter((line) => line.row > titles.row && isSample(line) && line.text !== titles.text);
  const firstSample = samples[0]?.row ?? titles.row + 1;
  const below = print.filter(({ row, text }) => row > titles.row && row < firstSample && !isRule(text));
  const units = below.length <= MAX_UNIT_LINES ? below : [];
  const off = new Set<number>();
  let columns = columnsOf(titles, [...units, ...samples]);
  while (!Array.isArray(columns)) {
    const { rows } = columns as OffColumns;
    for (const row of rows) off.add(row);
    const kept = samples.filter(({ row }) => !off.has(row));
    const isFew = off.size <= (kept.length + off.size) * MAX_SHARE_OFF;
    if (!isFew || kept.length === samples.length) {
      throw new IntakeError(
        `${file} row ${rows[0]}: expected ${OFF_COLUMNS}, whose titles are in row ${titles.row}; export the results as delimited text or a workbook`,
      );
    }
    samples = kept;
    columns = columnsOf(titles, [...units, ...samples]);
  }
  const edges: readonly Edge[] = columns;
  return print.map((line): RawRow => {
    const text = line.text.trim();
    if (isRule(text)) return { ...line, cells: [""] };
    if (line.row === titles.row - 1) return { ...line, cells: groupCells(line, edges) };
    if (line.row < titles.row) return { ...line, cells: [text] };
    const cells = off.has(line.row) ? undefined : cellsByColumns(line.text, edges);
    if (cells !== undefined) return { ...line, cells };
    const isOfTable = off.has(line.row) || text.split(BLANKS).length * 2 >= edges.length;
    return { ...line, cells: [text], ...(isOfTable && { broken: OFF_COLUMNS }) };
  });
}

/** A line of dashes is no text. */
function isRule(text: string): boolean {
  return /^[\s=_+*-]*$/.test(text);
}

/** Whether a line is one of a sample: a day begins below the title for it, or near it where the line has slipped. */
function sampleLines(titles: RawRow, cells: readonly string[], name: Namer): (line: RawRow) => boolean {
  const day = cells.findIndex((title) => holdsOf(name(title)) === "drawn");
  const starts = [...titles.text.matchAll(PIECES)].map(({ index, 0: { length } }) => ({
    from: index,
    to: index + length,
  }));
  const [from, to] = day < 0 ? [0, 0] : [starts[day - 1]?.to ?? 0, starts[day + 1]?.from ?? MAX_LINE];
  return ({ text }) => {
    if (day < 0) return text.trim().split(BLANKS).length * 2 > cells.length;
    return [...text.matchAll(/\S+/g)].some(
      ({ index }) => index >= from && index < to && hasDay(text.slice(index)),
    );
  };
}

/** The line above the titles: groups that begin where a column does, or one title over all of them. */
function groupCells({ text }: RawRow, edges: readonly Edge[]): string[] {
  const groups = [...text.matchAll(PIECES)];
  const cells = edges.map(({ from }) => {
    return groups.find(({ index: start }) => start === from)?.[0] ?? "";
  });
  return cells.filter((cell) => cell !== "").length === groups.length
    ? cells
    : edges.map(() => text.trim().replace(/\s+/g, " "));
}

/** A table whose samples stand across, with its columns where all of its lines are blank. */
function readAcross(
  file: string,
  print: readonly RawRow[],
  rows: readonly RawRow[],
  map: ColumnMap | undefined,
): Print | undefined {
  const table = rows.filter(({ cells }) => cells.length > 1).map(({ row }) => print[row - 1] as RawRow);
  const [first, ...others] = table;
  if (first === undefined) return undefined;
  const columns = columnsOf(first, others);
  if (!Array.isArray(columns)) return undefined;
  const cut = print.map(
    (line): RawRow => ({ ...line, cells: cellsByColumns(line.text, columns) ?? [line.text.trim()] }),
  );
  const source: RowSource = { file, format: "delimited text", readAs: "", rows: () => cut };
  const parts = partsOf(source, undefined, map);
  if (parts?.some((part) => part.source.isAcross) !== true) return undefined;
  return { score: parts.length, says: "a print with columns of blanks", rows: () => cut };
}

function readStrip(print: readonly RawRow[], map: ColumnMap | undefined): Print | undefined {
  const name = namer(map);
  const rows = print.map((line): RawRow => ({ ...line, cells: stripCells(line.text, name), inOrder: true }));
  const layout = findLayout({}, rows.slice(0, HEAD_ROWS), map);
  return (
    layout && {
      score: layout.score,
      says: "a print with a label and its value in each line",
      rows: () => rows,
    }
  );
}
