import { FEED, isPossible, LIMIT, QUOTE, RETURN, SPACE } from "./cell-bytes.js";
import { NOT_PLAIN } from "./names.js";
import { NumberReader } from "./number-reader.js";
import { HOLDS, type PlainPlan } from "./plan.js";
import { classColumn, NONE, Scanned, WHOLE } from "./scanned.js";
import { TextReader } from "./text-reader.js";
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
  readonly #text: TextReader;
  #scanned: Scanned;
  #size = 0;
  /** Where each column of the file begins among the columns of what was found. */
  readonly #targets: Int32Array;

  /**
   * @param separator - what stands between cells
   * @param fixed - numbers of the names that hold for every row
   * @param capacity - as many rows are read before they are taken
   */
  constructor(
    private readonly plan: PlainPlan,
    private readonly separator: number,
    texts: Texts,
    private readonly fixed: { readonly cart: number; readonly circuit: number; readonly fluid: number },
    private readonly bounds: Bounds,
    private readonly capacity: number,
  ) {
    this.#scanned = this.#empty();
    this.number = new NumberReader(separator);
    this.#text = new TextReader(separator, texts, plan.holds.length);
    this.#targets =
      plan.holds.length === 0
        ? new Int32Array()
        : Int32Array.from(plan.holds, (_, column) => this.#target(column));
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
    const text = this.#text;
    const { holds } = this.plan;
    const { wholes, numbers } = this.#scanned;
    const targets = this.#targets;
    const index = this.#size;
    const last = holds.length - 1;
    this.oddCell = true;
    text.timeOfDay = NONE;
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
        at = text.read(kind, column, bytes, at, quoted);
        if (at === NOT_PLAIN) return NOT_PLAIN;
        wholes[place] = text.value;
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
    wholes[WHOLE.numberEnd * capacity + index] = text.numberEnd;
    const time = WHOLE.time * capacity + index;
    if (!this.plan.hasTimes || wholes[time] === NONE) wholes[time] = text.timeOfDay;
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
