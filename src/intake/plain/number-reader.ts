import { LONGEST_RESULT } from "../cells.js";
import { COMMA, DASH, EQUALS, LESS, LIMIT, MORE, POINT, QUOTE, SPACE, ZERO } from "./cell-bytes.js";
import { MOST_FIGURES, NOT_FIGURES, POWERS } from "./figures.js";
import { MARK } from "./marks.js";
import type { CellColumn } from "./split.js";

/** What decides whether a number has one reading. */
export interface NumberRule {
  /** Whether a decimal point, and a decimal comma, may stand in a number. */
  readonly point: boolean;
  readonly comma: boolean;
  /** The mark that is known to be decimal even before three figures: "1.500". */
  readonly settled?: "." | ",";
}

/** Reads columns of numbers that have one reading by themselves from the bytes of their cells. */
export class NumberReader {
  rule: NumberRule = { point: true, comma: false };
  // What the cell that was read last held: its number, the limit sign before it, and what its row is marked with.
  #value = Number.NaN;
  #limit: number = LIMIT.none;
  #mark = 0;

  /**
   * Reads the cells of a column that the splitter left, with limit signs before the numbers or not.
   *
   * @param values - the numbers that were read while the rows were split, to which the others are added; NaN where a cell
   *   is blank
   * @param limits - where the limits are written; a cell with a limit is not plain when there are none
   * @param marks - {@link MARK} of each row, to which what is found is added
   */
  readColumn(
    { bytes, size, before, ends }: CellColumn,
    values: Float64Array,
    limits: Uint8Array | undefined,
    marks: Uint8Array,
  ): void {
    for (let index = 0; index < size; index += 1) {
      if (values[index] !== NOT_FIGURES) continue;
      const isPlain = this.#read(bytes, (before[index] as number) + 1, ends[index] as number);
      if (!isPlain || (limits === undefined && this.#limit !== LIMIT.none)) {
        marks[index] = (marks[index] as number) | MARK.oddCell;
        continue;
      }
      values[index] = this.#value;
      if (limits !== undefined) limits[index] = this.#limit;
      marks[index] = (marks[index] as number) | this.#mark;
    }
  }

  /** Reads any cell; false when it is not plain. What stands behind a cell is neither a figure nor a blank. */
  #read(bytes: Uint8Array, start: number, behind: number): boolean {
    this.#mark = 0;
    const isQuoted = bytes[start] === QUOTE;
    let at = isQuoted ? start + 1 : start;
    const end = isQuoted ? behind - 1 : behind;
    while (bytes[at] === SPACE) at += 1;
    if (end - at > LONGEST_RESULT) return false;
    at = this.#readLimit(bytes, at, end);
    const first = at;
    let whole = 0;
    let figure = (bytes[at] as number) - ZERO;
    while (figure >= 0 && figure <= 9) {
      whole = whole * 10 + figure;
      figure = (bytes[++at] as number) - ZERO;
    }
    const before = at - first;
    if (before > MOST_FIGURES) return false;
    if (before === 0) {
      // Nothing was measured when the cell is blank or holds a dash.
      if (this.#limit !== LIMIT.none) return false;
      if (at < end && bytes[at] === DASH) at += 1;
      this.#value = Number.NaN;
    } else if (at < end && (bytes[at] === POINT || bytes[at] === COMMA)) {
      const mark = bytes[at] as number;
      const point = ++at;
      figure = (bytes[at] as number) - ZERO;
      while (figure >= 0 && figure <= 9) {
        whole = whole * 10 + figure;
        figure = (bytes[++at] as number) - ZERO;
      }
      const after = at - point;
      if (after === 0 || before + after > MOST_FIGURES) return false;
      if (!this.#hasOneReading(mark === POINT, before, after, bytes[first] === ZERO)) return false;
      this.#value = whole / (POWERS[after] as number);
    } else this.#value = whole;
    while (bytes[at] === SPACE) at += 1;
    return at === end;
  }

  /** Reads the limit sign that may stand before a number; returns where the number begins. */
  #readLimit(bytes: Uint8Array, start: number, end: number): number {
    let at = start;
    this.#limit = LIMIT.none;
    if (at === end || (bytes[at] !== LESS && bytes[at] !== MORE)) return at;
    const isLess = bytes[at] === LESS;
    at += 1;
    this.#limit = isLess ? LIMIT.below : LIMIT.above;
    if (bytes[at] === EQUALS) {
      this.#limit = isLess ? LIMIT.atMost : LIMIT.atLeast;
      at += 1;
    }
    while (bytes[at] === SPACE) at += 1;
    return at;
  }

  /** Whether a number with a decimal mark is read in one way only; notes which mark was seen to be decimal. */
  #hasOneReading(isPoint: boolean, before: number, after: number, beginsWithZero: boolean): boolean {
    const { point, comma, settled } = this.rule;
    if (!(isPoint ? point : comma)) return false;
    // Three figures behind one to three that do not begin with a zero may be thousands.
    if (after === 3 && before <= 3 && !beginsWithZero) {
      if (settled !== (isPoint ? "." : ",")) return false;
      this.#mark = MARK.byOtherNumbers;
      return true;
    }
    this.#mark = isPoint ? MARK.point : MARK.comma;
    return true;
  }
}
