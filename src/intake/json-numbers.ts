/** What nearly every file has not: sixteen figures one after the other, or an exponent of three. */
const MAYBE_NOT_HELD = /\d{16}|[eE][+-]?\d{3}/;

/** A number, from where it is looked for. */
const NUMBER = /-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/y;

/**
 * Puts quotation marks around the numbers of a JSON text that would be read as others than they are written: those
 * beyond 1.8e308, which would have no end, and whole ones of so many figures that the last would be lost.
 *
 * @param json - text that is JSON
 * @example
 * quoteNumbersNotHeld('{"water":1e999,"drawn":4}'); // => "{\"water\":\"1e999\",\"drawn\":4}"
 */
export function quoteNumbersNotHeld(json: string): string {
  if (!MAYBE_NOT_HELD.test(json)) return json;
  const pieces: string[] = [];
  let taken = 0;
  let at = 0;
  while (at < json.length) {
    if (json[at] === '"') at = endOfText(json, at);
    else {
      NUMBER.lastIndex = at;
      const written = NUMBER.exec(json)?.[0];
      if (written !== undefined && !isHeld(written)) {
        pieces.push(json.slice(taken, at), `"${written}"`);
        taken = at + written.length;
      }
      at += written?.length ?? 1;
    }
  }
  return pieces.join("") + json.slice(taken);
}

/** The place behind a text that begins here. */
function endOfText(json: string, start: number): number {
  for (let at = start + 1; at < json.length; at += 1) {
    if (json[at] === "\\") at += 1;
    else if (json[at] === '"') return at + 1;
  }
  return json.length;
}

function isHeld(written: string): boolean {
  const value = Number(written);
  return Number.isFinite(value) && (!/^-?\d+$/.test(written) || Number.isSafeInteger(value));
}

/** A number without end in parsed JSON: its place, and as it is written. */
export interface EndlessNumber {
  readonly path: readonly string[];
  readonly written: string;
}

/**
 * Finds the numbers of a JSON text that have no end once they are parsed.
 *
 * @param parsed - what the text parses to
 * @param quoted - what it parses to after {@link quoteNumbersNotHeld}: the same but for those numbers
 */
export function* endlessNumbers(
  parsed: unknown,
  quoted: unknown,
  path: readonly string[] = [],
): Generator<EndlessNumber> {
  if (typeof parsed === "number" && !Number.isFinite(parsed)) yield { path, written: String(quoted) };
  if (typeof parsed !== "object" || parsed === null) return;
  for (const [name, inside] of Object.entries(parsed)) {
    yield* endlessNumbers(inside, Reflect.get(Object(quoted), name), [...path, name]);
  }
}
