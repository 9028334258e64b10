import type { Cart } from "../../samples/index.js";
import { hashOf } from "./pack-record.js";

/** One of several equal parts of a fleet: number 2 of 4. */
export interface Shard {
  /** From 1. */
  readonly number: number;
  readonly of: number;
}

/** More parts than this are a slip of the keyboard. */
const MAX_SHARDS = 100_000;

/**
 * Reads a shard as a person writes it.
 *
 * @param text - such as "2/4", the second of four
 * @throws RangeError when it is not one
 */
export function parseShard(text: string): Shard {
  const [, number, of] = /^\s*(\d{1,6})\s*\/\s*(\d{1,6})\s*$/.exec(text)?.map(Number) ?? [];
  if (number === undefined || of === undefined || number < 1 || number > of || of > MAX_SHARDS) {
    throw new RangeError(
      `expected a shard such as 2/4, the second of four, of at most ${MAX_SHARDS}; found "${text}"`,
    );
  }
  return { number, of };
}

export function formatShard({ number, of }: Shard): string {
  return `${number}/${of}`;
}

/** Digits of the hash that say the shard: 48 bits, which a number holds exactly. */
const DIGITS = 12;

/** The number of the shard that a cart is in. It depends on the cart's name alone, so a fleet that grows moves no cart. */
export function shardOf(cart: string, of: number): number {
  return (Number.parseInt(hashOf(cart).slice(0, DIGITS), 16) % of) + 1;
}

/** The carts of one shard, in the order of the fleet. */
export function cartsOfShard(carts: readonly Cart[], { number, of }: Shard): Cart[] {
  return carts.filter(({ cart }) => shardOf(cart, of) === number);
}
