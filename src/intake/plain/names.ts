/** No more different texts than this are remembered; a column of texts that are all different must not fill the memory. */
const MOST_NAMES = 50_000;
/** Places in the table for each remembered text, a power of two. */
const START_SLOTS = 1024;

/** The number of a text that has no plain reading. */
export const NOT_PLAIN = -1;

/**
 * Texts that stand again and again in a column, such as carts and days, each decoded and read once.
 *
 * A text is looked up by its bytes, so that no string is made for a cell whose text was met before.
 */
export class ByteNames<T> {
  readonly values: T[] = [];
  readonly #keys: Uint8Array[] = [];
  readonly #hashes: number[] = [];
  /** Number of a text plus 1 by its hash, open addressing; 0 is a free place. */
  #slots = new Int32Array(START_SLOTS);
  /** What each remembered text is: a place in `values`, or {@link NOT_PLAIN}. */
  readonly #ids: number[] = [];

  /** @param read - reads a text that is met for the first time; undefined when it has no plain reading */
  constructor(private readonly read: (text: string) => T | undefined) {}

  /** The place in `values` of the text that stands in some bytes; {@link NOT_PLAIN} when it has no plain reading. */
  idOf(bytes: Uint8Array, start: number, end: number): number {
    let hash = 0x811c9dc5;
    for (let at = start; at < end; at += 1) hash = Math.imul(hash ^ (bytes[at] as number), 0x01000193);
    hash ^= hash >>> 15;
    const mask = this.#slots.length - 1;
    let slot = hash & mask;
    for (;;) {
      const entry = this.#slots[slot] as number;
      if (entry === 0) return this.#remember(bytes, start, end, hash, slot);
      if (
        this.#hashes[entry - 1] === hash &&
        equals(this.#keys[entry - 1] as Uint8Array, bytes, start, end)
      ) {
        return this.#ids[entry - 1] as number;
      }
      slot = (slot + 1) & mask;
    }
  }

  #remember(bytes: Uint8Array, start: number, end: number, hash: number, slot: number): number {
    if (this.#ids.length >= MOST_NAMES) return NOT_PLAIN;
    const key = bytes.slice(start, end);
    const value = this.read(new TextDecoder("utf-8", { ignoreBOM: true }).decode(key));
    const id = value === undefined ? NOT_PLAIN : this.values.push(value) - 1;
    this.#keys.push(key);
    this.#hashes.push(hash);
    this.#ids.push(id);
    this.#slots[slot] = this.#ids.length;
    if (this.#ids.length * 2 > this.#slots.length) this.#grow();
    return id;
  }

  #grow(): void {
    const slots = new Int32Array(this.#slots.length * 4);
    this.#hashes.forEach((hash, index) => {
      let slot = hash & (slots.length - 1);
      while (slots[slot] !== 0) slot = (slot + 1) & (slots.length - 1);
      slots[slot] = index + 1;
    });
    this.#slots = slots;
  }
}

function equals(key: Uint8Array, bytes: Uint8Array, start: number, end: number): boolean {
  if (key.length !== end - start) return false;
  for (let at = 0; at < key.length; at += 1) if (key[at] !== bytes[start + at]) return false;
  return true;
}
