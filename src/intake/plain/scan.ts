import {
  COMMA,
  DASH,
  dayAt,
  EQUALS,
  FEED,
  isBlank,
  isPlainText,
  isPossible,
  isTimeMark,
  LESS,
  LIMIT,
  MORE,
  marked,
  POINT,
  QUOTE,
  RETURN,
  SPACE,
  ZERO,
} from "./cell-bytes.js";
import { NOT_PLAIN } from "./names.js";
import { HOLDS, type PlainPlan } from "./plan.js";
import { emptyScanned, type Scanned } from "./scanned.js";
import type { Texts } from "./texts.js";

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

/**
 * Reads the rows of a wide text file from their bytes, cell by cell.
 *
 * Only cells that have one reading by themselves are read, and only rows that stand every check that can be made without
 * other rows; any other row is left to the ordinary reader. It is fast because most rows of most files are plain.
 */
export class PlainScanner {
  rule: NumberRule = { point: true, comma: false };
  /** Whether a number with a decimal point, or comma, that has no other reading was met. */
  sawPoint = false;
  sawComma = false;
  #scanned: Scanned;
  #size = 0;
  readonly #smallerFirst: Int8Array;
  /** Bytes at which the text of a cell ends, or at which the row is left to the ordinary reader. */
  readonly #endsPlain: Uint8Array;
  readonly #endsQuoted = marked(QUOTE, FEED, RETURN);

  /**
   * @param separator - what stands between cells
   * @param bounds - the last day that is not in the future as 20260314, and the water that is possible, in ppm
   */
  constructor(
    private readonly plan: PlainPlan,
    private readonly separator: number,
    private readonly texts: Texts,
    private readonly fixed: { readonly cart: number; readonly circuit: number; readonly fluid: number },
    private readonly bounds: {
      readonly lastDay: number;
      readonly waterPpm: { readonly least: number; readonly most: number };
      readonly waterSlot: number;
      readonly temperatureSlot: number;
    },
    capacity: number,
  ) {
    this.#scanned = emptyScanned(plan, capacity);
    this.#smallerFirst = plan.bySize;
    this.#endsPlain = marked(separator, QUOTE, FEED, RETURN);
  }

  get size(): number {
    return this.#size;
  }

  get isFull(): boolean {
    return this.#size === this.#scanned.capacity;
  }

  /** Hands over what was read and begins anew. */
  take(): { scanned: Scanned; size: number } {
    const taken = { scanned: this.#scanned, size: this.#size };
    this.#scanned = emptyScanned(this.plan, this.#scanned.capacity);
    this.#size = 0;
    return taken;
  }

  /** Forgets what was read. */
  clear(): void {
    this.#size = 0;
  }

  /**
   * Reads one row.
   *
   * @param bytes - holds the row and its line break
   * @param start - where the row begins
   * @param row - its number in the file
   * @returns where the next row begins, or −1 when this one is not plain
   */
  scan(bytes: Uint8Array, start: number, row: number): number {
    const { separator, texts, bounds } = this;
    const { holds, slots } = this.plan;
    const scanned = this.#scanned;
    const index = this.#size;
    const last = holds.length - 1;
    let at = start;
    let named = false;
    let cart = this.fixed.cart;
    let circuit = this.fixed.circuit;
    let fluid = this.fixed.fluid;
    let time = NOT_PLAIN;
    let timeOfDay = NOT_PLAIN;
    let drawn = 0;
    let received = 0;
    let reported = 0;
    let counted = 0;
    for (let column = 0; column <= last; column += 1) {
      const kind = holds[column] as number;
      let byte = bytes[at] as number;
      const quoted = byte === QUOTE;
      if (quoted) {
        at += 1;
        byte = bytes[at] as number;
      }
      if (kind >= HOLDS.count) {
        while (byte === SPACE) byte = bytes[++at] as number;
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
        const first = at;
        let figure = byte - ZERO;
        let whole = 0;
        while (figure >= 0 && figure <= 9) {
          whole = whole * 10 + figure;
          byte = bytes[++at] as number;
          figure = byte - ZERO;
        }
        const before = at - first;
        let value = whole;
        let figures = before;
        if (before === 0) {
          // Nothing was measured when the cell is blank or holds a dash.
          if (limit !== LIMIT.none) return NOT_PLAIN;
          if (byte === DASH) byte = bytes[++at] as number;
          value = Number.NaN;
        } else if (byte === POINT || (byte === COMMA && (quoted || separator !== COMMA))) {
          const isPoint = byte === POINT;
          const mark = at;
          byte = bytes[++at] as number;
          figure = byte - ZERO;
          while (figure >= 0 && figure <= 9) {
            whole = whole * 10 + figure;
            byte = bytes[++at] as number;
            figure = byte - ZERO;
          }
          const after = at - mark - 1;
          figures = before + after;
          if (after === 0 || !(isPoint ? this.rule.point : this.rule.comma)) return NOT_PLAIN;
          // Three figures behind one to three that do not begin with a zero may be thousands.
          if (after === 3 && before <= 3 && bytes[first] !== ZERO) {
            if (this.rule.settled !== (isPoint ? "." : ",")) return NOT_PLAIN;
          } else if (isPoint) this.sawPoint = true;
          else this.sawComma = true;
          value = figures > MOST_FIGURES ? Number.NaN : whole / (POWERS[after] as number);
        }
        if (figures > MOST_FIGURES) return NOT_PLAIN;
        while (byte === SPACE) byte = bytes[++at] as number;
        const slot = slots[column] as number;
        if (kind === HOLDS.count) {
          if (limit !== LIMIT.none) return NOT_PLAIN;
          if (before > 0) counted += 1;
          (scanned.counts[slot] as Float64Array)[index] = value;
        } else {
          if (slot === bounds.waterSlot && !isPossible(value, limit, bounds.waterPpm)) return NOT_PLAIN;
          if (slot === bounds.temperatureSlot && limit !== LIMIT.none) return NOT_PLAIN;
          (scanned.values[slot] as Float64Array)[index] = value;
          (scanned.limits[slot] as Uint8Array)[index] = limit;
        }
      } else {
        let from = at;
        const ends = quoted ? this.#endsQuoted : this.#endsPlain;
        while (ends[byte] === 0) byte = bytes[++at] as number;
        if (byte === QUOTE && !quoted) return NOT_PLAIN;
        if (kind !== HOLDS.nothing) {
          let to = at;
          while (from < to && bytes[from] === SPACE) from += 1;
          while (to > from && bytes[to - 1] === SPACE) to -= 1;
          if (kind === HOLDS.sample) {
            if (from === to || !isPlainText(bytes, from, to)) return NOT_PLAIN;
            scanned.numberStart[index] = from;
            scanned.numberEnd[index] = to;
            named = true;
          } else if (kind === HOLDS.cart) {
            cart = texts.names.idOf(bytes, from, to);
          } else if (kind === HOLDS.circuit) {
            circuit = texts.names.idOf(bytes, from, to);
          } else if (kind === HOLDS.fluid) {
            fluid = NOT_PLAIN;
            if (from < to) {
              fluid = texts.names.idOf(bytes, from, to);
              if (fluid === NOT_PLAIN) return NOT_PLAIN;
            }
          } else if (kind === HOLDS.class) {
            const id = isBlank(bytes, from, to) ? NOT_PLAIN : texts.classes.idOf(bytes, from, to);
            if (id === NOT_PLAIN && !isBlank(bytes, from, to)) return NOT_PLAIN;
            (scanned.classes[slots[column] as number] as Int32Array)[index] = id;
          } else if (kind === HOLDS["drawn-time"]) {
            if (from < to) {
              time = texts.times.idOf(bytes, from, to);
              if (time === NOT_PLAIN) return NOT_PLAIN;
            }
          } else if (from < to) {
            let day = dayAt(bytes, from, to);
            if (day === 0) {
              // Behind a day written year first there may be a time of day.
              day = to - from > 11 && isTimeMark(bytes[from + 10]) ? dayAt(bytes, from, from + 10) : 0;
              if (day !== 0) {
                const clock = texts.times.idOf(bytes, from + 11, to);
                if (clock === NOT_PLAIN) return NOT_PLAIN;
                if (kind === HOLDS.drawn) timeOfDay = clock;
              } else if (texts.daysAreSettled) {
                const id = texts.days.idOf(bytes, from, to);
                if (id === NOT_PLAIN) return NOT_PLAIN;
                day = texts.days.values[id] as number;
              } else return NOT_PLAIN;
            }
            if (day > bounds.lastDay) return NOT_PLAIN;
            if (kind === HOLDS.drawn) drawn = day;
            else if (kind === HOLDS.received) received = day;
            else reported = day;
          }
        }
      }
      if (quoted) {
        if (byte !== QUOTE) return NOT_PLAIN;
        byte = bytes[++at] as number;
      }
      if (column < last) {
        if (byte !== separator) return NOT_PLAIN;
        at += 1;
      }
    }
    // Separators without anything behind them do not make a row longer.
    while (bytes[at] === separator || bytes[at] === SPACE) at += 1;
    const end = at;
    if (bytes[at] === RETURN) at += 1;
    if (bytes[at] !== FEED) return NOT_PLAIN;
    if (!named || cart === NOT_PLAIN || circuit === NOT_PLAIN || drawn === 0) return NOT_PLAIN;
    if (received !== 0 && drawn > received) return NOT_PLAIN;
    if (reported !== 0 && (received === 0 ? drawn : received) > reported) return NOT_PLAIN;
    // A sample is counted at all sizes or at none; one with gaps is left to the ordinary reader.
    if (counted > 0 && (counted < this.plan.counts.length || !this.#countsFall(index))) return NOT_PLAIN;
    scanned.row[index] = row;
    scanned.start[index] = start;
    scanned.end[index] = end;
    scanned.cart[index] = cart;
    scanned.circuit[index] = circuit;
    scanned.fluid[index] = fluid;
    scanned.time[index] = time === NOT_PLAIN ? timeOfDay : time;
    scanned.days[0][index] = drawn;
    scanned.days[1][index] = received;
    scanned.days[2][index] = reported;
    this.#size = index + 1;
    return at + 1;
  }

  /** Cumulative counts cannot rise with size. */
  #countsFall(index: number): boolean {
    let smaller = Number.POSITIVE_INFINITY;
    for (let place = 0; place < this.#smallerFirst.length; place += 1) {
      const column = this.#scanned.counts[this.#smallerFirst[place] as number] as Float64Array;
      const count = column[index] as number;
      if (count > smaller) return false;
      smaller = count;
    }
    return true;
  }
}
