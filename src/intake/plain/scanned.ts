import type { CountColumns } from "../../cleanliness/index.js";
import type { PlainPlan } from "./plan.js";

/** What stands for "none" in a column of places in a list. */
export const NONE = -1;

/** Columns of whole numbers; behind them stands one for each column of classes, and one for each column of words. */
export const WHOLE = {
  row: 0,
  start: 1,
  end: 2,
  numberStart: 3,
  numberEnd: 4,
  cart: 5,
  circuit: 6,
  fluid: 7,
  time: 8,
  drawn: 9,
  received: 10,
  reported: 11,
} as const;

const FIRST_TEXT = Object.keys(WHOLE).length;

/** Columns of places in a list that the file may lack. */
const MAY_LACK = [WHOLE.fluid, WHOLE.time];

/**
 * What the scanner found, columns of `capacity` places one behind the other.
 *
 * They stand in three pieces of memory and not in twenty, because making and finding them takes its share of the time.
 */
export class Scanned {
  readonly wholes: Int32Array;
  /** Counts, and behind them measured values. */
  readonly numbers: Float64Array;
  /** Limits of the measured values. */
  readonly limits: Uint8Array;
  readonly #counts: number;
  readonly #classes: number;

  constructor(
    { counts, measured, classes, described }: PlainPlan,
    readonly capacity: number,
  ) {
    this.#counts = counts.length;
    this.#classes = classes.length;
    this.wholes = new Int32Array((FIRST_TEXT + classes.length + described.length) * capacity);
    this.numbers = new Float64Array((counts.length + measured.length) * capacity);
    this.limits = new Uint8Array(measured.length * capacity);
    for (const column of MAY_LACK) this.wholes.fill(NONE, column * capacity, (column + 1) * capacity);
    this.wholes.fill(NONE, FIRST_TEXT * capacity);
  }

  /** A column of {@link WHOLE}. */
  whole(column: number, size: number): Int32Array {
    return this.wholes.subarray(column * this.capacity, column * this.capacity + size);
  }

  /** A column of reported classes: places in the list of their texts. */
  classes(slot: number, size: number): Int32Array {
    return this.whole(FIRST_TEXT + slot, size);
  }

  /** A column of words about the bottle: places in the list of their readings. */
  described(slot: number, size: number): Int32Array {
    return this.whole(FIRST_TEXT + this.#classes + slot, size);
  }

  counts(slot: number, size: number): Float64Array {
    return this.numbers.subarray(slot * this.capacity, slot * this.capacity + size);
  }

  values(slot: number, size: number): Float64Array {
    return this.counts(this.#counts + slot, size);
  }

  limitsOf(slot: number, size: number): Uint8Array {
    return this.limits.subarray(slot * this.capacity, slot * this.capacity + size);
  }

  /**
   * Takes rows out; returns how many are left.
   *
   * @param isGone - whether a row is taken out
   */
  without(isGone: (index: number) => boolean): number {
    const { capacity } = this;
    let kept = 0;
    let index = 0;
    while (index < capacity) {
      const from = index;
      while (index < capacity && !isGone(index)) index += 1;
      // Few rows are taken out, so those between are moved together.
      if (from > kept) {
        for (const all of [this.wholes, this.numbers, this.limits]) {
          for (let start = 0; start < all.length; start += capacity)
            all.copyWithin(start + kept, start + from, start + index);
        }
      }
      kept += index - from;
      index += 1;
    }
    return kept;
  }
}

/** Counts in the order of their sizes. */
export function countColumns({ counts, bySize }: PlainPlan, scanned: Scanned, size: number): CountColumns {
  const slots = [...bySize];
  return {
    sizesUm: slots.map((slot) => counts[slot]?.fromUm as number),
    counts: slots.map((slot) => scanned.counts(slot, size)),
    volumeMl: counts[0]?.volumeMl as number,
  };
}
