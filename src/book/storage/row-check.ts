import type { Sql } from "./database.js";

/** What a sample is named by. */
interface Named {
  readonly cart: string;
  readonly circuit: string;
  readonly sample: string;
}

const PRIME = 0x01000193;
const BETWEEN_VALUES = 0xffff;
const NO_VALUE = 0xfffe;

/**
 * A sum over the names and values of a sample (FNV-1a in 32 bits, over UTF-16 units and halves of numbers), kept with its row and compared when it is read.
 *
 * Each changed character changes it, since every step can be undone. It finds damage; a change on purpose is found by the
 * chain.
 */
export function checkOf({ cart, circuit, sample }: Named, values: readonly Sql[]): number {
  let sum = addText(addText(addText(0x811c9dc5, cart), circuit), sample);
  for (let place = 0; place < values.length; place += 1) {
    const value = values[place] as Sql;
    if (typeof value === "string") sum = addText(sum, value);
    else if (typeof value === "number") sum = addNumber(sum, value);
    else sum = Math.imul(sum ^ NO_VALUE, PRIME);
  }
  return sum | 0;
}

const NUMBER = new Float64Array(1);
const HALVES = new Uint32Array(NUMBER.buffer);

/** By its two halves, since writing a number out takes longer than all the rest. */
function addNumber(before: number, value: number): number {
  // The engine keeps no negative zero.
  NUMBER[0] = value + 0;
  const low = HALVES[0] as number;
  const high = HALVES[1] as number;
  return Math.imul(Math.imul(before ^ low, PRIME) ^ high, PRIME);
}

function addText(before: number, text: string): number {
  let sum = before;
  for (let place = 0; place < text.length; place += 1) {
    const code = text.charCodeAt(place);
    // The sums of older books end at the first null of a text. The driver writes half a pair of surrogates as U+FFFD.
    if (code === 0) break;
    sum = Math.imul(sum ^ ((code & 0xf800) === 0xd800 ? 0xfffd : code), PRIME);
  }
  return Math.imul(sum ^ BETWEEN_VALUES, PRIME);
}
