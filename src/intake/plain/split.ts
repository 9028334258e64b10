import * as cellBytes from "./cell-bytes.js";
import * as figures from "./figures.js";
import { MARK } from "./marks.js";
import * as names from "./names.js";

// A constant of the module itself is compiled in; an imported one is looked up for every byte, a quarter of the time.
const { DAY_LENGTH, dayAt, FEED, POINT, QUOTE, RETURN, SPACE, ZERO } = cellBytes;
const { NOT_PLAIN } = names;
const { MOST_FIGURES, NOT_FIGURES, POWERS } = figures;
const WITH_POINT = MARK.point;

/** Stands for a column of neither numbers nor days. */
const TEXT = -1;
/** A column of days stands below {@link TEXT}: this, less the place where its days begin. */
const FIRST_DAY = -2;

/** The cells of one column in rows that follow each other: each begins behind its place in `before` and ends at `ends`. */
export interface CellColumn {
  readonly bytes: Uint8Array;
  readonly size: number;
  readonly before: Int32Array;
  readonly ends: Int32Array;
}

/** What columns hold, as far as the splitter has to know it. */
export interface ColumnsToSplit {
  /** For each column its place among those of numbers; −1 when it is none of them. */
  readonly numberPlaces: Int8Array;
  /** The same for days. */
  readonly dayPlaces: Int8Array;
  /** Whether a point in a number may be decimal. */
  readonly hasPoint: boolean;
}

/**
 * Finds where the cells of rows begin and end, and reads numbers of nothing but figures and a point, and days such as
 * 2026-03-14, on the way.
 *
 * A row is taken when it has a cell for each column, stands in one line, and has quotation marks only around whole cells.
 * Its other cells can then be read column by column, which is faster than row by row.
 */
export class CellSplitter {
  /** How many rows were taken since {@link clear}. */
  size = 0;
  /** Their numbers in the file, and where each ends, without its line break. */
  readonly row: Int32Array;
  readonly end: Int32Array;
  /** {@link MARK.point} for rows that have a number with a decimal point. */
  readonly marks: Uint8Array;
  /** One place before each row; and the end of each cell, a column behind the other. */
  readonly #edges: Int32Array;
  /** What was read on the way: NaN for a blank cell. */
  readonly #figures: Float64Array;
  /** Days that were read on the way; 0 for other cells. */
  readonly #days: Int32Array;
  /** Whether a column has cells that were not read on the way. */
  readonly #hasOthers: Uint8Array;
  /** Where the figures of each column stand; {@link TEXT} for a column that has none; for days see {@link FIRST_DAY}. */
  readonly #at: Int32Array;

  /**
   * @param separator - what stands between cells
   * @param capacity - as many rows are taken before they are cleared
   */
  constructor(
    private readonly columns: ColumnsToSplit,
    private readonly separator: number,
    readonly capacity: number,
  ) {
    const { numberPlaces: places, dayPlaces } = columns;
    this.row = new Int32Array(capacity);
    this.end = new Int32Array(capacity);
    this.marks = new Uint8Array(capacity);
    this.#edges = new Int32Array((places.length + 1) * capacity);
    this.#figures = new Float64Array((Math.max(-1, ...places) + 1) * capacity);
    this.#hasOthers = new Uint8Array(places.length);
    this.#days = new Int32Array((Math.max(-1, ...dayPlaces) + 1) * capacity);
    this.#at = Int32Array.from(places, (place, column) => {
      const dayPlace = dayPlaces[column] as number;
      if (dayPlace >= 0) return FIRST_DAY - dayPlace * capacity;
      return place < 0 ? TEXT : place * capacity;
    });
  }

  clear(): void {
    this.size = 0;
    this.#hasOthers.fill(0);
  }

  /** The cells of a column. */
  column(bytes: Uint8Array, column: number): CellColumn {
    const edges = (place: number) =>
      this.#edges.subarray(place * this.capacity, place * this.capacity + this.size);
    return { bytes, size: this.size, before: edges(column), ends: edges(column + 1) };
  }

  /** The numbers of a column of numbers: NaN for a blank cell, −1 for one that has yet to be read. */
  figures(column: number): Float64Array {
    const from = this.#at[column] as number;
    return this.#figures.subarray(from, from + this.size);
  }

  /** The days of a column of days, as 20260314: 0 for a cell that is blank or has yet to be read. */
  days(column: number): Int32Array {
    const from = FIRST_DAY - (this.#at[column] as number);
    return this.#days.subarray(from, from + this.size);
  }

  /** Whether some of {@link figures} or {@link days} have yet to be read. */
  hasOthers(column: number): boolean {
    return this.#hasOthers[column] === 1;
  }

  /** Where a row begins. */
  startOf(index: number): number {
    return (this.#edges[index] as number) + 1;
  }

  /**
   * Takes rows until there are no more, as many as wanted are taken, or one is met that it does not take.
   *
   * @param bytes - whole lines from `start` to `end`
   * @param row - the number of the first row in the file
   * @param most - how many rows are wanted; there has to be room for them
   * @returns where the first row begins that was not taken
   */
  split(bytes: Uint8Array, start: number, end: number, row: number, most: number): number {
    const first = this.size;
    let at = start;
    while (at < end && this.size - first < most) {
      const next = this.#splitRow(bytes, at);
      if (next === NOT_PLAIN) break;
      this.row[this.size] = row + this.size - first;
      this.size += 1;
      at = next;
    }
    return at;
  }

  /**
   * Splits one row; returns where the next begins, or −1 when this one is not taken.
   *
   * One function with comparisons: a call for each number, and a table of marks, take about a fifth more.
   */
  #splitRow(bytes: Uint8Array, start: number): number {
    const { separator, capacity, size } = this;
    const { hasPoint } = this.columns;
    const places = this.#at;
    const figures = this.#figures;
    const days = this.#days;
    const edges = this.#edges;
    const last = places.length - 1;
    let mark = 0;
    let at = start;
    edges[size] = start - 1;
    for (let column = 0; ; column += 1) {
      const place = places[column] as number;
      const first = at;
      let byte = bytes[at] as number;
      if (place >= 0) {
        let whole = 0;
        let figure = byte - ZERO;
        while (figure >= 0 && figure <= 9) {
          whole = whole * 10 + figure;
          byte = bytes[++at] as number;
          figure = byte - ZERO;
        }
        const before = at - first;
        let value = before === 0 ? Number.NaN : whole;
        let isPlain = before <= MOST_FIGURES;
        if (byte === POINT) {
          const behind = at + 1;
          byte = bytes[++at] as number;
          figure = byte - ZERO;
          while (figure >= 0 && figure <= 9) {
            whole = whole * 10 + figure;
            byte = bytes[++at] as number;
            figure = byte - ZERO;
          }
          const after = at - behind;
          // Three figures behind a point may be thousands.
          isPlain = hasPoint && before > 0 && after > 0 && after !== 3 && before + after <= MOST_FIGURES;
          value = whole / (POWERS[after] as number);
          if (isPlain) mark = WITH_POINT;
        }
        if (isPlain && (byte === separator || byte === FEED || byte === RETURN))
          figures[place + size] = value;
        else {
          figures[place + size] = NOT_FIGURES;
          this.#hasOthers[column] = 1;
        }
      } else if (place !== TEXT) {
        const day = dayAt(bytes, at, at + DAY_LENGTH);
        const after = bytes[at + DAY_LENGTH] as number;
        if (day !== 0 && (after === separator || after === FEED || after === RETURN)) {
          days[FIRST_DAY - place + size] = day;
          at += DAY_LENGTH;
          byte = after;
        } else {
          days[FIRST_DAY - place + size] = 0;
          this.#hasOthers[column] = 1;
        }
      }
      if (byte === QUOTE && at === first) {
        do byte = bytes[++at] as number;
        while (byte !== QUOTE && byte !== FEED && byte !== RETURN);
        if (byte !== QUOTE) return NOT_PLAIN;
        byte = bytes[++at] as number;
      } else {
        for (;;) {
          while (byte > QUOTE && byte !== separator) byte = bytes[++at] as number;
          if (byte === separator || byte === FEED || byte === RETURN || byte === QUOTE) break;
          byte = bytes[++at] as number;
        }
      }
      edges[(column + 1) * capacity + size] = at;
      if (column === last) break;
      if (byte !== separator) return NOT_PLAIN;
      at += 1;
    }
    // Separators without anything behind them do not make a row longer.
    while (bytes[at] === separator || bytes[at] === SPACE) at += 1;
    this.end[size] = at;
    this.marks[size] = mark;
    if (bytes[at] === RETURN) at += 1;
    return bytes[at] === FEED ? at + 1 : NOT_PLAIN;
  }
}
