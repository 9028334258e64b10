/** Texts of a file may all be different, and must not fill the memory. */
const MAX_REMEMBERED = 5000;
const MAX_LENGTH = 200;

/**
 * A reader that remembers what it has read: the same words stand in a file many times.
 *
 * @param read - depends on nothing but the text
 */
export function remembering<T>(read: (text: string) => T): (text: string) => T {
  const known = new Map<string, T>();
  // The same words often follow each other.
  let last: { readonly text: string; readonly reading: T } | undefined;
  return (text) => {
    if (last?.text === text) return last.reading;
    let reading = known.get(text);
    if (reading === undefined) {
      reading = read(text);
      if (text.length > MAX_LENGTH) return reading;
      if (known.size >= MAX_REMEMBERED) known.clear();
      known.set(text, reading);
    }
    last = { text, reading };
    return reading;
  };
}
