import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

/** Gives a number from 0 to less than 1, another one each time it is called. */
export type RandomSource = () => number;

/**
 * A source of random numbers that gives the same numbers for the same seed, on every machine: whole multiples of 2⁻³².
 *
 * Twice as many digits would take twice as long, and a million cases show nothing of them.
 *
 * @param seed - a whole number
 * @throws RangeError for anything else
 * @example
 * seededRandom(1)() === seededRandom(1)(); // => true
 */
export function seededRandom(seed: number): RandomSource {
  if (!Number.isInteger(seed)) throw new RangeError(`seed must be a whole number, not ${seed}`);
  const generator = xoroshiro128plus(seed);
  return () => (generator.next() >>> 0) / 2 ** 32;
}
