import { frozen } from "../../provenance/index.js";

/** Texts of a file may all be different, and must not fill the memory. */
const MAX_REMEMBERED = 5000;
const MAX_LENGTH = 2000;

/**
 * A reader that remembers what it has read: the same words are in a file many times.
 *
 * @param read - depends on nothing but what it is given
 * @param keyOf - all of it as one text, by which it is known again
 */
export function rememberingBy<A, T>(read: (given: A) => T, keyOf: (given: A) => string): (given: A) => T {
  const known = new Map<string, T>();
  // The same words often follow each other.
  let [lastKey, last]: [string | undefined, T | undefined] = [undefined, undefined];
  return (given) => {
    const key = keyOf(given);
    if (key === lastKey) return last as T;
    let reading = known.get(key);
    if (reading === undefined && !known.has(key)) {
      // It is given to many.
      reading = frozen(read(given));
      if (key.length > MAX_LENGTH) return reading;
      if (known.size >= MAX_REMEMBERED) known.clear();
      known.set(key, reading);
    }
    [lastKey, last] = [key, reading];
    return reading as T;
  };
}

/** As {@link rememberingBy}, for texts. */
export function remembering<T>(read: (text: string) => T): (text: string) => T {
  return rememberingBy(read, (text) => text);
}
