/** What stands for a text that there is no room for. */
const NOT_KEPT = -1;
/** No more different texts than this are remembered; a column of texts that are all different must not fill the memory. */
const MOST_NAMES = 50_000;
/** Nor longer ones, in bytes. */
const LONGEST_NAME = 200;
/** Places in the table of texts, a power of two, and bytes of texts that there is room for at first. */
const START_SLOTS = 1024;
const START_BYTES = 8192;

/** Places in the table of texts that were met last, a power of two. */
const RECENT = 1024;

/** The number of a text that has no plain reading. */
export const NOT_PLAIN = -1;

/**
 * Texts that stand again and again in a column, such as carts and days, each decoded and read once.
 *
 * A text is looked up by its bytes, so that no string is made for a cell whose text was met before.
 */
export class ByteNames<T> {
  readonly values: T[] = [];
  /** The bytes of the remembered texts, one behind the other. */
  #keys = new Uint8Array(START_BYTES);
  /** Where each of them begins, and behind the last where the next will. */
  #starts = new Int32Array(START_SLOTS);
  #hashes = new Int32Array(START_SLOTS);
  /** What each of them is: a place in `values`, or {@link NOT_PLAIN}. */
  #ids = new Int32Array(START_SLOTS);
  #count = 0;
  /** Number of a text plus 1 by its hash, open addressing; 0 is a free place. */
  #slots = new Int32Array(START_SLOTS);
  /** Number plus 1 of the text that was met last of those with the same length and last bytes. */
  readonly #recent = new Int32Array(RECENT);

  /** @param read - reads a text that is met for the first time; undefined when it has no plain reading */
  constructor(private readonly read: (text: string) => T | undefined) {}

  /** The place in `values` of the text that stands in some bytes; {@link NOT_PLAIN} when it has no plain reading. */
  idOf(bytes: Uint8Array, start: number, end: number): number {
    // Names of carts differ in their last figures, so most texts are found without going through their bytes twice.
    const last =
      (bytes[end - 1] as number) + 10 * (bytes[end - 2] as number) + 100 * (bytes[end - 3] as number);
    const place = (last + 7 * (end - start)) & (RECENT - 1);
    const recent = (this.#recent[place] as number) - 1;
    if (recent >= 0 && this.#isKey(recent, bytes, start, end)) return this.#ids[recent] as number;
    const entry = this.#entryOf(bytes, start, end);
    if (entry === NOT_KEPT) return NOT_PLAIN;
    this.#recent[place] = entry + 1;
    return this.#ids[entry] as number;
  }

  /** The number of a text among those that are remembered. */
  #entryOf(bytes: Uint8Array, start: number, end: number): number {
    let hash = 0x811c9dc5;
    for (let at = start; at < end; at += 1) hash = Math.imul(hash ^ (bytes[at] as number), 0x01000193);
    hash ^= hash >>> 15;
    const slots = this.#slots;
    const mask = slots.length - 1;
    let slot = hash & mask;
    for (;;) {
      const entry = (slots[slot] as number) - 1;
      if (entry === -1) return this.#remember(bytes, start, end, hash, slot);
      if (this.#hashes[entry] === hash && this.#isKey(entry, bytes, start, end)) return entry;
      slot = (slot + 1) & mask;
    }
  }

  #isKey(entry: number, bytes: Uint8Array, start: number, end: number): boolean {
    const keys = this.#keys;
    const from = this.#starts[entry] as number;
    if ((this.#starts[entry + 1] as number) - from !== end - start) return false;
    const shift = from - start;
    for (let at = start; at < end; at += 1) if (keys[at + shift] !== bytes[at]) return false;
    return true;
  }

  #remember(bytes: Uint8Array, start: number, end: number, hash: number, slot: number): number {
    const entry = this.#count;
    if (entry >= MOST_NAMES || end - start > LONGEST_NAME) return NOT_KEPT;
    const value = this.read(new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes.subarray(start, end)));
    const id = value === undefined ? NOT_PLAIN : this.values.push(value) - 1;
    const from = this.#starts[entry] as number;
    const to = from + end - start;
    this.#count += 1;
    this.#slots[slot] = this.#count;
    if (to > this.#keys.length) this.#keys = enlarged(this.#keys, to);
    this.#keys.set(bytes.subarray(start, end), from);
    this.#starts[this.#count] = to;
    this.#hashes[entry] = hash;
    this.#ids[entry] = id;
    // Half of the places stay free, so there is always room for one text more.
    if (this.#count * 2 > this.#slots.length) this.#grow();
    return entry;
  }

  #grow(): void {
    const size = this.#slots.length * 4;
    this.#starts = enlarged(this.#starts, size);
    this.#hashes = enlarged(this.#hashes, size);
    this.#ids = enlarged(this.#ids, size);
    const slots = new Int32Array(size);
    for (let entry = 0; entry < this.#count; entry += 1) {
      let slot = (this.#hashes[entry] as number) & (size - 1);
      while (slots[slot] !== 0) slot = (slot + 1) & (size - 1);
      slots[slot] = entry + 1;
    }
    this.#slots = slots;
  }
}

/** The same numbers with room for at least so many. */
function enlarged<A extends Int32Array | Uint8Array>(numbers: A, size: number): A {
  const all = new (numbers.constructor as new (size: number) => A)(Math.max(size, 2 * numbers.length));
  all.set(numbers);
  return all;
}
