/**
 * Sorts a stretch of numbers and counts the pairs of which the earlier one was greater, in time that grows as n log n.
 *
 * @param keys - sorted in place
 * @param spare - of the same length
 */
export function sortCounting(keys: Float64Array, spare: Float64Array, from: number, to: number): number {
  let inversions = 0;
  for (let start = from; start < to; start += SHORT) {
    const end = Math.min(start + SHORT, to);
    for (let place = start + 1; place < end; place += 1) {
      const key = keys[place] as number;
      let at = place;
      for (; at > start && (keys[at - 1] as number) > key; at -= 1) keys[at] = keys[at - 1] as number;
      keys[at] = key;
      inversions += place - at;
    }
  }
  let [source, target] = [keys, spare];
  for (let width = SHORT; width < to - from; width *= 2) {
    for (let start = from; start < to; start += 2 * width) {
      const middle = Math.min(start + width, to);
      const end = Math.min(start + 2 * width, to);
      let [left, right] = [start, middle];
      for (let place = start; place < end; place += 1) {
        if (right < end && (left === middle || (source[right] as number) < (source[left] as number))) {
          target[place] = source[right] as number;
          right += 1;
          inversions += middle - left;
        } else {
          target[place] = source[left] as number;
          left += 1;
        }
      }
    }
    [source, target] = [target, source];
  }
  if (source !== keys) keys.set(source.subarray(from, to), from);
  return inversions;
}

/** Stretches so short are sorted by putting each number into its place. */
const SHORT = 8;

/** Things in an order, each with the key that it is sorted by. */
interface Keyed {
  readonly order: Int32Array;
  readonly keys: Float64Array;
}

/** Receives the pairs that change places: one thing, and the stretch of the order that it goes before. */
export interface Changes {
  pass(order: Int32Array, from: number, to: number, after: number): void;
}

/** Sorts things that are known by a number, and names the pairs that change places. */
export class PairSorter {
  private readonly present: Keyed;
  private readonly spare: Keyed;

  constructor(size: number) {
    this.present = { order: new Int32Array(size), keys: new Float64Array(size) };
    this.spare = { order: new Int32Array(size), keys: new Float64Array(size) };
  }

  /** The things in their present order. */
  get order(): Int32Array {
    return this.present.order;
  }

  /** Puts all things back into their first order. */
  reset(): void {
    const { order } = this.present;
    for (let thing = 0; thing < order.length; thing += 1) order[thing] = thing;
  }

  /**
   * Sorts a stretch of the order by the things' keys; equal ones keep their places.
   *
   * @param keyOf - the key of each thing
   * @param changes - receives the pairs that change places, the thing before and the thing after; none when absent
   */
  sort(keyOf: Float64Array, from: number, to: number, changes?: Changes): void {
    const { order, keys } = this.present;
    for (let place = from; place < to; place += 1) keys[place] = keyOf[order[place] as number] as number;
    let [source, target] = [this.present, this.spare];
    for (let width = 1; width < to - from; width *= 2) {
      for (let start = from; start < to; start += 2 * width) {
        const middle = Math.min(start + width, to);
        merge(source, target, start, middle, Math.min(start + 2 * width, to), changes);
      }
      [source, target] = [target, source];
    }
    if (source !== this.present) order.set(source.order.subarray(from, to), from);
  }
}

function merge(
  { order, keys }: Keyed,
  target: Keyed,
  start: number,
  middle: number,
  end: number,
  changes: Changes | undefined,
): void {
  let [left, right] = [start, middle];
  for (let place = start; place < end; place += 1) {
    if (right < end && (left === middle || (keys[right] as number) < (keys[left] as number))) {
      target.keys[place] = keys[right] as number;
      target.order[place] = order[right] as number;
      changes?.pass(order, left, middle, order[right] as number);
      right += 1;
    } else {
      target.keys[place] = keys[left] as number;
      target.order[place] = order[left] as number;
      left += 1;
    }
  }
}

/** Looks at one of every few of the pairs that change places, evenly, and keeps a number of each. */
export class EveryFew implements Changes {
  /** How many pairs have passed. */
  passed = 0;
  /** How many numbers are kept. */
  kept = 0;
  readonly numbers: Float64Array;
  private next: number;

  /**
   * @param most - as many numbers may be kept at most
   * @param step - 1 keeps the number of every pair
   * @param numberOf - the number of a pair
   */
  constructor(
    most: number,
    private readonly step: number,
    private readonly numberOf: (before: number, after: number) => number,
  ) {
    this.numbers = new Float64Array(most);
    this.next = step === 1 ? 0 : step / 2;
  }

  /** Takes the pairs that one thing makes with those of a stretch. */
  pass(order: Int32Array, from: number, to: number, after: number): void {
    const first = this.passed;
    this.passed += to - from;
    while (this.next < this.passed && this.kept < this.numbers.length) {
      const before = order[from + Math.floor(this.next) - first] as number;
      this.numbers[this.kept] = this.numberOf(before, after);
      this.kept += 1;
      this.next += this.step;
    }
  }
}
