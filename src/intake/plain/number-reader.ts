import { LONGEST_RESULT } from "../cells.js";
import { COMMA, DASH, EQUALS, LESS, LIMIT, MORE, POINT, SPACE, ZERO } from "./cell-bytes.js";
import { NOT_PLAIN } from "./names.js";

/** With so many figures a whole number and its power of ten are exact, and their quotient is the nearest number. */
const MOST_FIGURES = 15;
const POWERS = Float64Array.from({ length: MOST_FIGURES + 1 }, (_, power) => 10 ** power);

/** What decides whether a number has one reading. */
export interface NumberRule {
  /** Whether a decimal point, and a decimal comma, may stand in a number. */
  readonly point: boolean;
  readonly comma: boolean;
  /** The mark that is known to be decimal even before three figures: "1.500". */
  readonly settled?: "." | ",";
}

/** Reads numbers that have one reading by themselves from the bytes of their cells. */
export class NumberReader {
  rule: NumberRule = { point: true, comma: false };
  /** The number that was read last, and the limit sign before it. */
  value = Number.NaN;
  limit: number = LIMIT.none;
  /** Whether a number with a decimal point, or comma, that has no other reading was met. Whoever asks sets it back. */
  sawPoint = false;
  sawComma = false;

  /** @param separator - what stands between cells */
  constructor(private readonly separator: number) {}

  /**
   * Reads a number, with a limit sign before it or not, into `value` and `limit`; NaN when the cell is blank.
   *
   * @returns where it ends, blanks included, or −1 when it is not plain
   */
  read(bytes: Uint8Array, start: number, quoted: boolean): number {
    let at = start;
    let byte = bytes[at] as number;
    while (byte === SPACE) byte = bytes[++at] as number;
    const written = at;
    let limit: number = LIMIT.none;
    if (byte === LESS || byte === MORE) {
      limit = byte === LESS ? LIMIT.below : LIMIT.above;
      byte = bytes[++at] as number;
      if (byte === EQUALS) {
        limit = limit === LIMIT.below ? LIMIT.atMost : LIMIT.atLeast;
        byte = bytes[++at] as number;
      }
      while (byte === SPACE) byte = bytes[++at] as number;
    }
    this.limit = limit;
    const first = at;
    let figure = byte - ZERO;
    let whole = 0;
    while (figure >= 0 && figure <= 9) {
      whole = whole * 10 + figure;
      byte = bytes[++at] as number;
      figure = byte - ZERO;
    }
    const before = at - first;
    if (before > MOST_FIGURES) return NOT_PLAIN;
    if (before === 0) {
      // Nothing was measured when the cell is blank or holds a dash.
      if (limit !== LIMIT.none) return NOT_PLAIN;
      if (byte === DASH) byte = bytes[++at] as number;
      this.value = Number.NaN;
    } else if (byte === POINT || (byte === COMMA && (quoted || this.separator !== COMMA))) {
      const mark = byte;
      const behind = at + 1;
      byte = bytes[++at] as number;
      figure = byte - ZERO;
      while (figure >= 0 && figure <= 9) {
        whole = whole * 10 + figure;
        byte = bytes[++at] as number;
        figure = byte - ZERO;
      }
      const after = at - behind;
      if (after === 0 || before + after > MOST_FIGURES) return NOT_PLAIN;
      if (!this.#hasOneReading(mark === POINT, before, after, bytes[first] === ZERO)) return NOT_PLAIN;
      this.value = whole / (POWERS[after] as number);
    } else this.value = whole;
    if (at - written > LONGEST_RESULT) return NOT_PLAIN;
    while (byte === SPACE) byte = bytes[++at] as number;
    return at;
  }

  /** Whether a number with a decimal mark is read in one way only; remembers which marks were seen to be decimal. */
  #hasOneReading(isPoint: boolean, before: number, after: number, beginsWithZero: boolean): boolean {
    const { point, comma, settled } = this.rule;
    if (!(isPoint ? point : comma)) return false;
    // Three figures behind one to three that do not begin with a zero may be thousands.
    if (after === 3 && before <= 3 && !beginsWithZero) return settled === (isPoint ? "." : ",");
    if (isPoint) this.sawPoint = true;
    else this.sawComma = true;
    return true;
  }
}
