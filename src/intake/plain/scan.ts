import type { Description } from "../meaning.js";
import { isPossible } from "./cell-bytes.js";
import { LEFT, MARK } from "./marks.js";
import { NumberReader } from "./number-reader.js";
import { HOLDS, type PlainPlan } from "./plan.js";
import { countColumns, Scanned, WHOLE } from "./scanned.js";
import type { CellSplitter } from "./split.js";
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

/** Numbers of the names that hold for every row; −1 is none. */
export interface FixedNames {
  readonly cart: number;
  readonly circuit: number;
  readonly fluid: number;
}

/** Rows that were read, and what is to be known of each. */
export interface ScannedRows {
  readonly scanned: Scanned;
  readonly size: number;
  /** {@link MARK} of each row; those with one of {@link LEFT} are left to the ordinary reader. */
  readonly marks: Uint8Array;
}

/**
 * Reads the rows of a wide text file from their bytes, column by column.
 *
 * Only cells that have one reading by themselves are read, and only rows that stand every check that can be made without
 * other rows; any other row is left to the ordinary reader. It is fast because most rows of most files are plain, and
 * because the cells of a column are alike.
 */
export class PlainScanner {
  /** Reads the cells of numbers; its rule may be changed between blocks. */
  readonly number = new NumberReader();
  readonly #text: TextReader;

  constructor(
    private readonly plan: PlainPlan,
    private readonly texts: Texts,
    private readonly fixed: FixedNames,
    private readonly bounds: Bounds,
  ) {
    this.#text = new TextReader(texts);
  }

  /** Reads the rows that were split. */
  scan(bytes: Uint8Array, rows: CellSplitter): ScannedRows {
    const { size } = rows;
    const scanned = new Scanned(this.plan, size);
    const { cart, circuit, fluid } = this.fixed;
    scanned.whole(WHOLE.cart, size).fill(cart);
    scanned.whole(WHOLE.circuit, size).fill(circuit);
    scanned.whole(WHOLE.fluid, size).fill(fluid);
    scanned.whole(WHOLE.row, size).set(rows.row.subarray(0, size));
    scanned.whole(WHOLE.end, size).set(rows.end.subarray(0, size));
    const starts = scanned.whole(WHOLE.start, size);
    for (let index = 0; index < size; index += 1) starts[index] = rows.startOf(index);
    const marks = rows.marks.slice(0, size);
    for (let column = 0; column < this.plan.holds.length; column += 1)
      this.#readColumn(bytes, rows, column, scanned, marks);
    this.#checkDays(scanned, marks);
    this.#checkWater(scanned, marks);
    this.#checkCounts(scanned, marks);
    return { scanned, size, marks };
  }

  #readColumn(
    bytes: Uint8Array,
    rows: CellSplitter,
    column: number,
    scanned: Scanned,
    marks: Uint8Array,
  ): void {
    const { plan, number } = this;
    const { size } = rows;
    const text = this.#text;
    const cells = rows.column(bytes, column);
    const slot = plan.slots[column] as number;
    const whole = (place: number) => scanned.whole(place, size);
    const readDays = (times: Int32Array | undefined, days: Int32Array) => {
      days.set(rows.days(column));
      if (rows.hasOthers(column)) text.readDays(cells, times, days, marks);
    };
    switch (plan.holds[column]) {
      case HOLDS.sample:
        text.readSampleNumbers(cells, whole(WHOLE.numberStart), whole(WHOLE.numberEnd), marks);
        break;
      case HOLDS.cart:
        text.readNames(cells, false, whole(WHOLE.cart), marks);
        break;
      case HOLDS.circuit:
        text.readNames(cells, false, whole(WHOLE.circuit), marks);
        break;
      case HOLDS.fluid:
        text.readNames(cells, true, whole(WHOLE.fluid), marks);
        break;
      case HOLDS.drawn:
        readDays(whole(WHOLE.time), whole(WHOLE.drawn));
        break;
      case HOLDS.received:
        readDays(undefined, whole(WHOLE.received));
        break;
      case HOLDS.reported:
        readDays(undefined, whole(WHOLE.reported));
        break;
      case HOLDS["drawn-time"]:
        text.readTexts(cells, this.texts.times, false, whole(WHOLE.time), marks);
        break;
      case HOLDS.class:
        text.readTexts(cells, this.texts.classes, true, scanned.classes(slot, size), marks);
        break;
      case HOLDS.described: {
        const words = this.texts.described[plan.described[slot] as Description];
        text.readTexts(cells, words, true, scanned.described(slot, size), marks);
        break;
      }
      case HOLDS.count: {
        const values = scanned.counts(slot, size);
        values.set(rows.figures(column));
        if (rows.hasOthers(column)) number.readColumn(cells, values, undefined, marks);
        break;
      }
      case HOLDS.measured: {
        const limits = slot === this.bounds.temperatureSlot ? undefined : scanned.limitsOf(slot, size);
        const values = scanned.values(slot, size);
        values.set(rows.figures(column));
        if (rows.hasOthers(column)) number.readColumn(cells, values, limits, marks);
        break;
      }
    }
  }

  #checkDays(scanned: Scanned, marks: Uint8Array): void {
    const { lastDay } = this.bounds;
    const [drawn, received, reported] = [WHOLE.drawn, WHOLE.received, WHOLE.reported].map((place) =>
      scanned.whole(place, marks.length),
    ) as [Int32Array, Int32Array, Int32Array];
    for (let index = 0; index < marks.length; index += 1) {
      const first = drawn[index] as number;
      const second = received[index] as number;
      const third = reported[index] as number;
      const arrived = second === 0 ? first : second;
      const isFuture = first > lastDay || second > lastDay || third > lastDay;
      if (isFuture || first > arrived || (third !== 0 && arrived > third)) leave(marks, index);
    }
  }

  #checkWater(scanned: Scanned, marks: Uint8Array): void {
    const { waterSlot, waterPpm } = this.bounds;
    if (waterSlot === -1) return;
    const values = scanned.values(waterSlot, marks.length);
    const limits = scanned.limitsOf(waterSlot, marks.length);
    for (let index = 0; index < marks.length; index += 1) {
      if (!isPossible(values[index] as number, limits[index] as number, waterPpm)) leave(marks, index);
    }
  }

  /** A sample is counted at all sizes or at none, and cumulative counts cannot rise with size. */
  #checkCounts(scanned: Scanned, marks: Uint8Array): void {
    if (this.plan.counts.length === 0) return;
    const { counts } = countColumns(this.plan, scanned, marks.length);
    for (let size = 1; size < counts.length; size += 1) {
      const column = counts[size] as Float64Array;
      const smaller = counts[size - 1] as Float64Array;
      for (let index = 0; index < marks.length; index += 1) {
        const falls = (column[index] as number) <= (smaller[index] as number);
        if (!falls && !(Number.isNaN(column[index]) && Number.isNaN(smaller[index]))) leave(marks, index);
      }
    }
  }
}

function leave(marks: Uint8Array, index: number): void {
  marks[index] = (marks[index] as number) | MARK.odd;
}

/** Whether a row is left to the ordinary reader. */
export function isLeft(mark: number): boolean {
  return (mark & LEFT) !== 0;
}
