import { LONGEST_DATE } from "../dates.js";
import {
  dayAt,
  FEED,
  isBlank,
  isPlainText,
  isPossible,
  isTimeMark,
  LIMIT,
  marked,
  QUOTE,
  RETURN,
  SPACE,
} from "./cell-bytes.js";
import { NOT_PLAIN } from "./names.js";
import { NumberReader } from "./number-reader.js";
import { HOLDS, type PlainPlan } from "./plan.js";
import { classColumn, NONE, Scanned, WHOLE } from "./scanned.js";
import type { Texts } from "./texts.js";

/** What a row is checked against. */
export interface Bounds {
  /** The last day that is not in the future, as 20260314. */
  readonly lastDay: number;
  /** The water that is possible, in ppm. */
  readonly waterPpm: { readonly least: number; readonly most: number };
  /** Where water, and the temperature of the fluid, stand among the measured values; −1 when they do not. */
  readonly waterSlot: number;
  readonly temperatureSlot: number;
}

/** What a cell becomes that has no plain reading; −1 is a cell without a text. */
const REFUSED = -2;

/**
 * Reads the rows of a wide text file from their bytes, cell by cell.
 *
 * Only cells that have one reading by themselves are read, and only rows that stand every check that can be made without
 * other rows; any other row is left to the ordinary reader. It is fast because most rows of most files are plain.
 */
export class PlainScanner {
  /** Reads the cells of numbers; its rule may be changed between rows. */
  readonly number: NumberReader;
  /** Whether a number with a decimal point, or comma, that has no other reading was met. */
  sawPoint = false;
  sawComma = false;
  /** Whether the last row that was not plain has a cell whose reading may depend on the rest of the file. */
  oddCell = false;
  #scanned: Scanned;
  #size = 0;
  /** Where each column of the file begins among the columns of what was found. */
  readonly #targets: Int32Array;
  /** Bytes at which the text of a cell ends, or at which the row is left to the ordinary reader. */
  readonly #endsPlain: Uint8Array;
  readonly #endsQuoted = marked(QUOTE, FEED, RETURN);
  /** The time of day that stood behind the last day. */
  #timeOfDay = NONE;
  // Where the name that each column held last stands in the bytes, and its number.
  #lastBytes: Uint8Array | undefined;
  readonly #lastStart: Int32Array;
  readonly #lastLength: Int32Array;
  readonly #lastId: Int32Array;

  /**
   * @param separator - what stands between cells
   * @param fixed - numbers of the names that hold for every row
   * @param capacity - as many rows are read before they are taken
   */
  constructor(
    private readonly plan: PlainPlan,
    private readonly separator: number,
    private readonly texts: Texts,
    private readonly fixed: { readonly cart: number; readonly circuit: number; readonly fluid: number },
    private readonly bounds: Bounds,
    private readonly capacity: number,
  ) {
    this.#scanned = this.#empty();
    this.number = new NumberReader(separator);
    this.#endsPlain = marked(separator, QUOTE, FEED, RETURN);
    this.#targets =
      plan.holds.length === 0
        ? new Int32Array()
        : Int32Array.from(plan.holds, (_, column) => this.#target(column));
    this.#lastStart = new Int32Array(plan.holds.length);
    this.#lastLength = new Int32Array(plan.holds.length);
    this.#lastId = new Int32Array(plan.holds.length);
  }

  /** Hands over what was read and begins anew. */
  take(): { scanned: Scanned; size: number } {
    const taken = { scanned: this.#scanned, size: this.#size };
    this.#scanned = this.#empty();
    this.#size = 0;
    return taken;
  }

  #empty(): Scanned {
    const scanned = new Scanned(this.plan, this.capacity);
    const { cart, circuit, fluid } = this.fixed;
    scanned.whole(WHOLE.cart, this.capacity).fill(cart);
    scanned.whole(WHOLE.circuit, this.capacity).fill(circuit);
    scanned.whole(WHOLE.fluid, this.capacity).fill(fluid);
    return scanned;
  }

  #target(column: number): number {
    const { holds, slots, counts } = this.plan;
    const slot = slots[column] as number;
    const place = TARGETS.get(holds[column] as number);
    if (place !== undefined) return place * this.capacity;
    if (holds[column] === HOLDS.class) return classColumn(slot) * this.capacity;
    return (holds[column] === HOLDS.measured ? counts.length + slot : slot) * this.capacity;
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
    const { separator, number } = this;
    const { holds } = this.plan;
    const { wholes, numbers } = this.#scanned;
    const targets = this.#targets;
    const index = this.#size;
    const last = holds.length - 1;
    this.oddCell = true;
    this.#timeOfDay = NONE;
    // What a row shows of the decimal mark counts only when the whole row is plain.
    number.sawPoint = false;
    number.sawComma = false;
    let counted = 0;
    let at = start;
    for (let column = 0; column <= last; column += 1) {
      const kind = holds[column] as number;
      const place = (targets[column] as number) + index;
      const quoted = bytes[at] === QUOTE;
      if (quoted) at += 1;
      if (kind >= HOLDS.count) {
        at = number.read(bytes, at, quoted);
        if (at === NOT_PLAIN) return NOT_PLAIN;
        const { value } = number;
        numbers[place] = value;
        if (kind === HOLDS.measured) {
          if (!this.#keepLimit(column, index)) return NOT_PLAIN;
        } else if (number.limit !== LIMIT.none) return NOT_PLAIN;
        else if (!Number.isNaN(value)) counted += 1;
      } else {
        const isName = kind <= HOLDS.fluid && kind >= HOLDS.cart;
        const repeated = isName ? this.#repeatedName(column, bytes, at) : 0;
        if (repeated > 0) {
          at += repeated;
          wholes[place] = this.#lastId[column] as number;
        } else {
          const from = at;
          const ends = quoted ? this.#endsQuoted : this.#endsPlain;
          while (ends[bytes[at] as number] === 0) at += 1;
          if (kind !== HOLDS.nothing) {
            const found = this.#text(kind, bytes, from, at, index);
            if (found === REFUSED) return NOT_PLAIN;
            wholes[place] = found;
            if (isName) this.#rememberName(column, found, from, at);
          }
        }
      }
      if (quoted) {
        if (bytes[at] !== QUOTE) return NOT_PLAIN;
        at += 1;
      }
      if (column === last) break;
      if (bytes[at] !== separator) return NOT_PLAIN;
      at += 1;
    }
    // Separators without anything behind them do not make a row longer.
    while (bytes[at] === separator || bytes[at] === SPACE) at += 1;
    const end = at;
    if (bytes[at] === RETURN) at += 1;
    if (bytes[at] !== FEED) return NOT_PLAIN;
    this.oddCell = false;
    if (!this.#standsChecks(index, counted)) return NOT_PLAIN;
    const { capacity } = this;
    wholes[WHOLE.row * capacity + index] = row;
    wholes[WHOLE.start * capacity + index] = start;
    wholes[WHOLE.end * capacity + index] = end;
    const time = WHOLE.time * capacity + index;
    if (!this.plan.hasTimes || wholes[time] === NONE) wholes[time] = this.#timeOfDay;
    if (number.sawPoint) this.sawPoint = true;
    if (number.sawComma) this.sawComma = true;
    this.#size = index + 1;
    return at + 1;
  }

  /** Keeps the limit beside a measured value; false when it needs the ordinary reader. */
  #keepLimit(column: number, index: number): boolean {
    const slot = this.plan.slots[column] as number;
    const { limit } = this.number;
    this.#scanned.limits[slot * this.capacity + index] = limit;
    return limit === LIMIT.none || slot !== this.bounds.temperatureSlot;
  }

  /** What the text of a cell becomes in its column; −1 when the cell is blank, −2 when it needs the ordinary reader. */
  #text(kind: number, bytes: Uint8Array, start: number, end: number, index: number): number {
    let from = start;
    let to = end;
    while (from < to && bytes[from] === SPACE) from += 1;
    while (to > from && bytes[to - 1] === SPACE) to -= 1;
    if (kind === HOLDS.sample) {
      this.#scanned.wholes[WHOLE.numberEnd * this.capacity + index] = to;
      return from < to && isPlainText(bytes, from, to) ? from : REFUSED;
    }
    if (kind === HOLDS.class)
      return isBlank(bytes, from, to) ? NONE : found(this.texts.classes.idOf(bytes, from, to));
    if (kind === HOLDS.drawn || kind === HOLDS.received || kind === HOLDS.reported) {
      if (from < to) return this.#day(kind, bytes, from, to);
      return kind === HOLDS.drawn ? REFUSED : 0;
    }
    if (from === to) return kind === HOLDS.cart || kind === HOLDS.circuit ? REFUSED : NONE;
    return found((kind === HOLDS["drawn-time"] ? this.texts.times : this.texts.names).idOf(bytes, from, to));
  }

  #day(kind: number, bytes: Uint8Array, from: number, to: number): number {
    const { times, days } = this.texts;
    if (to - from > LONGEST_DATE) return REFUSED;
    const day = dayAt(bytes, from, to);
    if (day !== 0) return day;
    // Behind a day written year first there may be a time of day.
    const dayBefore = to - from > 11 && isTimeMark(bytes[from + 10]) ? dayAt(bytes, from, from + 10) : 0;
    if (dayBefore !== 0) {
      const clock = times.idOf(bytes, from + 11, to);
      if (kind === HOLDS.drawn) this.#timeOfDay = clock;
      return clock === NOT_PLAIN ? REFUSED : dayBefore;
    }
    const id = this.texts.daysAreSettled ? days.idOf(bytes, from, to) : NOT_PLAIN;
    return id === NOT_PLAIN ? REFUSED : (days.values[id] as number);
  }

  /**
   * Whether a cell holds the same name as the last one of its column that was looked up: rows that follow each other often
   * do, and then it need not be looked up again.
   *
   * @returns the length of the name; 0 when the cell holds another one
   */
  #repeatedName(column: number, bytes: Uint8Array, at: number): number {
    if (bytes !== this.#lastBytes) {
      this.#lastLength.fill(0);
      this.#lastBytes = bytes;
    }
    const start = this.#lastStart[column] as number;
    const length = this.#lastLength[column] as number;
    for (let place = 0; place < length; place += 1) {
      if (bytes[start + place] !== bytes[at + place]) return 0;
    }
    return bytes[at + length] === this.separator ? length : 0;
  }

  #rememberName(column: number, id: number, start: number, end: number): void {
    this.#lastStart[column] = start;
    this.#lastLength[column] = end - start;
    this.#lastId[column] = id;
  }

  /** Whether what a row says can be true. */
  #standsChecks(index: number, counted: number): boolean {
    const { capacity, bounds } = this;
    const { wholes, numbers, limits } = this.#scanned;
    const drawn = wholes[WHOLE.drawn * capacity + index] as number;
    const received = wholes[WHOLE.received * capacity + index] as number;
    const reported = wholes[WHOLE.reported * capacity + index] as number;
    if (drawn > bounds.lastDay || received > bounds.lastDay || reported > bounds.lastDay) return false;
    if (received !== 0 && drawn > received) return false;
    if (reported !== 0 && (received === 0 ? drawn : received) > reported) return false;
    const { counts } = this.plan;
    if (bounds.waterSlot !== -1) {
      const water = numbers[(counts.length + bounds.waterSlot) * capacity + index] as number;
      const limit = limits[bounds.waterSlot * capacity + index] as number;
      if (!isPossible(water, limit, bounds.waterPpm)) return false;
    }
    // A sample is counted at all sizes or at none; one with gaps is left to the ordinary reader.
    return counted === 0 || (counted === counts.length && this.#countsFall(numbers, index));
  }

  /** Cumulative counts cannot rise with size. */
  #countsFall(numbers: Float64Array, index: number): boolean {
    const { bySize } = this.plan;
    let smaller = Number.POSITIVE_INFINITY;
    for (let place = 0; place < bySize.length; place += 1) {
      const count = numbers[(bySize[place] as number) * this.capacity + index] as number;
      if (count > smaller) return false;
      smaller = count;
    }
    return true;
  }
}

/** The columns of whole numbers that the columns of a file fill. A day or a name that has none stays as it was made. */
const TARGETS = new Map<number, number>([
  [HOLDS.nothing, WHOLE.row],
  [HOLDS.sample, WHOLE.numberStart],
  [HOLDS.cart, WHOLE.cart],
  [HOLDS.circuit, WHOLE.circuit],
  [HOLDS.fluid, WHOLE.fluid],
  [HOLDS.drawn, WHOLE.drawn],
  [HOLDS.received, WHOLE.received],
  [HOLDS.reported, WHOLE.reported],
  [HOLDS["drawn-time"], WHOLE.time],
]);

function found(id: number): number {
  return id === NOT_PLAIN ? REFUSED : id;
}
