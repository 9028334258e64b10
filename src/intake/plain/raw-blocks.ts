import { IntakeError } from "../issue.js";
import type { ByteSource } from "../readers/bytes.js";
import { firstRowOf, LONGEST_QUOTED_LINES, rowOfLine } from "../readers/delimited.js";
import { decode } from "../readers/encoding.js";
import { LONGEST_LINE, linesOf } from "../readers/lines.js";
import type { RawRow, Separator } from "../readers/row.js";
import { FEED, RETURN } from "./cell-bytes.js";
import { CellSplitter, type ColumnsToSplit } from "./split.js";

const BYTE_ORDER_MARK = [0xef, 0xbb, 0xbf];

/** A block ends after so many rows, so that its columns stay small. */
const BLOCK_ROWS = 4096;

/** A run of rows: those that were split into cells, and the others. */
export interface RawBlock {
  readonly firstRow: number;
  readonly rows: number;
  /** Used again for the next block. */
  readonly split: CellSplitter;
  readonly others: readonly RawRow[];
  readonly bytes: Uint8Array;
  readonly start: number;
  readonly end: number;
}

/**
 * Goes through the rows of a text file, block by block.
 *
 * Each row of a block is one line; a row of several lines, or a line of several rows, is a block of its own.
 *
 * @param firstDataRow - rows before it are not split
 * @throws IntakeError for a line of more than 1,000,000 characters
 */
export function* rawBlocks(
  { bytes: source, separator }: { bytes: ByteSource; separator: Separator },
  columns: ColumnsToSplit,
  firstDataRow: number,
): Generator<RawBlock> {
  const window = new LineWindow(source);
  // A row has at least one byte for each of its cells, so that a small file needs little room.
  const capacity = Math.min(BLOCK_ROWS, Math.ceil(source.size / columns.numberPlaces.length) + 1);
  const split = new CellSplitter(columns, separator.charCodeAt(0), capacity);
  let row = 1;
  let firstRow = 1;
  let at = window.start;
  let start = at;
  let others: RawRow[] = [];
  function* block(): Generator<RawBlock> {
    if (row === firstRow) return;
    yield { firstRow, rows: row - firstRow, split, others, bytes: window.bytes, start, end: at };
    split.clear();
    others = [];
    firstRow = row;
    start = at;
  }
  try {
    for (;;) {
      const { bytes, end } = window;
      while (at < end) {
        if (row >= firstDataRow) {
          const before = split.size;
          at = split.split(bytes, at, end, row, capacity - (row - firstRow));
          row += split.size - before;
        }
        if (row - firstRow >= capacity) {
          yield* block();
          continue;
        }
        if (at === end) break;
        const after = afterLines(bytes, at, 1);
        // A line that ends with a lone carriage return is a block of its own: only the reader of whole rows takes such breaks.
        const single = bytes[after - 1] === FEED ? rowOfLine(decode(bytes, at, after), separator) : undefined;
        if (single !== undefined) {
          others.push({ row, ...single });
          at = after;
          row += 1;
          continue;
        }
        yield* block();
        // A row of several lines may go on in a part of the file that has not been read yet.
        const lines = window.holdsRow(at) ? linesAt(source.file, bytes, at) : undefined;
        if (lines === undefined) break;
        const found = firstRowOf(lines, separator);
        others.push({ row, ...found.record });
        at = afterLines(bytes, at, found.lines);
        row += 1;
        yield* block();
      }
      yield* block();
      if (!window.goOn(at, row)) return;
      at = 0;
      start = 0;
    }
  } finally {
    window.close();
  }
}

/** The part of a file that is being read: whole lines only. */
class LineWindow {
  bytes: Uint8Array = new Uint8Array();
  /** After the last whole line. */
  end = 0;
  /** Where the text begins, after a byte order mark. */
  start = 0;
  #atEnd = false;
  readonly #chunks: Iterator<Uint8Array>;

  constructor(private readonly source: ByteSource) {
    this.#chunks = source.chunks()[Symbol.iterator]();
    this.goOn(0, 1);
    if (BYTE_ORDER_MARK.every((byte, index) => this.bytes[index] === byte))
      this.start = BYTE_ORDER_MARK.length;
  }

  /** Reads on, keeping what stands from a place on; false when there is nothing more. */
  goOn(from: number, row: number): boolean {
    if (this.#atEnd) return false;
    let rest = this.bytes.subarray(from);
    do {
      const chunk = this.#chunks.next();
      if (chunk.done) {
        this.#atEnd = true;
        // The last line may have no break.
        rest = rest.length === 0 || rest.at(-1) === FEED ? rest : joined(rest, Uint8Array.of(FEED));
      } else rest = joined(rest, chunk.value);
      this.bytes = rest;
      this.end = rest.lastIndexOf(FEED) + 1;
      refuseLongLine(this.source.file, rest, this.end, row);
    } while (this.end === 0 && !this.#atEnd);
    return this.end > 0;
  }

  /** Lets go of the file, also when nobody wants the rest of it. */
  close(): void {
    this.#chunks.return?.();
  }

  /** Whether as much as one row may have stands from a place on, or all that is left of the file. */
  holdsRow(from: number): boolean {
    return this.#atEnd || endOfLongest(this.bytes, from) <= this.end;
  }
}

function refuseLongLine(file: string, bytes: Uint8Array, start: number, row: number): void {
  if (bytes.length - start <= LONGEST_LINE || decode(bytes, start, bytes.length).length <= LONGEST_LINE)
    return;
  throw new IntakeError(
    `${file} row ${row}: expected lines of at most ${LONGEST_LINE} characters, found a longer one`,
  );
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}

/** As many lines from a place on as one row may have, each with its break. */
function linesAt(file: string, bytes: Uint8Array, from: number): string[] {
  const end = Math.min(bytes.length, endOfLongest(bytes, from));
  return [...linesOf(file, [decode(bytes, from, end)])];
}

/** A character has at most so many bytes, so that many more than the longest row has are surely enough. */
const MOST_BYTES = 4 * LONGEST_LINE;

/** The end of the lines that one row may have at most; beyond the bytes when they are not all there. */
function endOfLongest(bytes: Uint8Array, from: number): number {
  let at = from;
  for (let line = 0; line < LONGEST_QUOTED_LINES && at - from <= MOST_BYTES; line += 1)
    at = afterLines(bytes, at, 1);
  return at;
}

/** Where the line after some lines begins, whichever breaks they end with; beyond the end when there are fewer. */
function afterLines(bytes: Uint8Array, from: number, lines: number): number {
  let at = from;
  for (let line = 0; line < lines; line += 1) {
    while (at < bytes.length && bytes[at] !== FEED && bytes[at] !== RETURN) at += 1;
    at += bytes[at] === RETURN && bytes[at + 1] === FEED ? 2 : 1;
  }
  return at;
}
