import { parse } from "csv-parse/sync";
import { linesOf, MAX_LINE_LENGTH, withoutBreak } from "./lines.js";
import { type RawRow, type Separator, withoutTextMark } from "./row.js";

/** Lines with quotation marks are handed to the parser in blocks of this size, since each call costs. */
const BLOCK_LINES = 256;
/** Or of this one, where the lines are long. */
const BLOCK_CHARACTERS = 4_000_000;

/** A quotation mark that is not closed within this many lines was never meant to open a cell. */
const MAX_QUOTED_LINES_LENGTH = 100;

const NEVER_CLOSED = "a quotation mark that is closed";

/**
 * Splits delimited text into rows of cells.
 *
 * A line without a quotation mark is cut at its separators. Lines with one go through a parser, so that separators and
 * line breaks inside quoted cells are kept. Where a quotation mark is never closed only its own line is broken.
 *
 * @param file - name for messages
 * @param pieces - the text, cut anywhere
 */
export function* rowsOfText(file: string, pieces: Iterable<string>, separator: Separator): Generator<RawRow> {
  for (const row of splitRows(file, pieces, separator)) {
    const isMarked = row.text.includes("'") || row.text.includes("=");
    yield isMarked ? { ...row, cells: row.cells.map(withoutTextMark) } : row;
  }
}

function* splitRows(file: string, pieces: Iterable<string>, separator: Separator): Generator<RawRow> {
  let row = 0;
  let held: string[] = [];
  let characters = 0;
  for (const line of linesOf(file, pieces)) {
    if (held.length === 0 && !line.includes('"')) {
      row += 1;
      const text = withoutBreak(line);
      yield { row, cells: cellsIn(text, separator), text };
      continue;
    }
    held.push(line);
    characters += line.length;
    if (held.length % BLOCK_LINES !== 0 && characters < BLOCK_CHARACTERS) continue;
    const { records, rest } = parseBlock(held, separator, false);
    for (const record of records) {
      row += 1;
      yield { row, ...record };
    }
    held = rest;
    characters = 0;
  }
  for (const record of parseBlock(held, separator, true).records) {
    row += 1;
    yield { row, ...record };
  }
}

/** A line without quotation marks, cut at its separators: faster than the language's own way. */
function cellsIn(text: string, separator: Separator): string[] {
  const cells: string[] = [];
  let start = 0;
  for (let end = text.indexOf(separator); end !== -1; end = text.indexOf(separator, start)) {
    cells.push(text.slice(start, end));
    start = end + 1;
  }
  cells.push(text.slice(start));
  return cells;
}

/** A row before it is counted. */
type UncountedRow = Omit<RawRow, "row">;

function neverClosed(line: string): UncountedRow {
  const text = withoutBreak(line);
  return { cells: [text], text, broken: NEVER_CLOSED };
}

/** Parses lines as far as they hold whole rows; `rest` is what needs the lines that follow. */
function parseBlock(
  lines: readonly string[],
  separator: Separator,
  atEnd: boolean,
): { records: UncountedRow[]; rest: string[] } {
  const whole = parseLines(lines, separator);
  if (whole !== undefined) return { records: whole, rest: [] };
  const records: UncountedRow[] = [];
  let start = 0;
  while (start < lines.length) {
    const end = endOfRow(lines, start, separator);
    if (end !== undefined) {
      records.push(...(parseLines(lines.slice(start, end), separator) ?? []));
      start = end;
    } else if (atEnd || isLong(lines, start)) {
      records.push(neverClosed(lines[start] as string));
      start += 1;
    } else break;
  }
  return { records, rest: lines.slice(start) };
}

/** Whether so much follows a place that a quotation mark still open there was never meant to open a cell. */
function isLong(lines: readonly string[], start: number): boolean {
  if (lines.length - start >= MAX_QUOTED_LINES_LENGTH) return true;
  return lines.slice(start).reduce((sum, line) => sum + line.length, 0) > MAX_LINE_LENGTH;
}

/** The line after the row that starts at `start`; undefined when the row is still open after as much as it may have. */
function endOfRow(lines: readonly string[], start: number, separator: Separator): number | undefined {
  const last = Math.min(lines.length, start + MAX_QUOTED_LINES_LENGTH);
  let isQuoted = false;
  let characters = 0;
  for (let at = start; at < last; at += 1) {
    const line = lines[at] as string;
    characters += line.length;
    if (at > start && characters > MAX_LINE_LENGTH) return undefined;
    isQuoted = isOpenAfter(line, isQuoted, separator);
    if (!isQuoted) return at + 1;
  }
  return undefined;
}

/**
 * Whether a quoted cell is open at the end of a line.
 *
 * The rules of the parser, in one pass: a quotation mark opens a cell where it is the first of its characters, two of them
 * stand for one, and the next one closes it, whatever follows.
 */
function isOpenAfter(line: string, wasOpen: boolean, separator: Separator): boolean {
  let isOpen = wasOpen;
  let at = 0;
  for (;;) {
    if (isOpen) {
      const quote = line.indexOf('"', at);
      if (quote === -1) return true;
      at = quote + 1;
      if (line[at] === '"') {
        at += 1;
        continue;
      }
    } else if (line[at] === '"') {
      isOpen = true;
      at += 1;
      continue;
    }
    isOpen = false;
    const end = line.indexOf(separator, at);
    if (end === -1) return false;
    at = end + 1;
  }
}

/** The rows that some lines hold, or undefined when the last one is not complete. */
function parseLines(lines: readonly string[], separator: Separator): UncountedRow[] | undefined {
  try {
    const parsed = parse(lines.join(""), {
      delimiter: separator,
      record_delimiter: ["\r\n", "\n", "\r"],
      relax_column_count: true,
      relax_quotes: true,
      raw: true,
    }) as unknown as { record: string[]; raw: string }[];
    return parsed.map(({ record, raw }) => ({ cells: record, text: withoutBreak(raw) }));
  } catch {
    // With these options the only thing that can be wrong is a quotation mark that is not closed yet.
    return undefined;
  }
}
