import { isDeepStrictEqual } from "node:util";

/** RangeErrors of the language itself: they say nothing to a person, so they come from a fault. */
const OF_THE_LANGUAGE =
  /^(Invalid (array|string|typed array|count|time|date|code point)|Maximum call stack|toFixed|toPrecision|toString\(\) radix|precision|Array buffer|Invalid DataView|The number .* cannot be converted|offset is out|Out of memory|\w+ argument)/;
const DOCUMENTED = [
  "IntakeError",
  "BookError",
  "NotebookError",
  "FramesError",
  "PictureError",
  "CountError",
  "UsageError",
];

/** What a call gave, or the documented error in which it ended. */
export type Outcome<T> = { readonly value: T } | { readonly error: Error };

/**
 * Does something with what a person brought along.
 *
 * @throws whatever was thrown and is no documented error: one that the language itself throws is a fault
 */
export function attempt<T>(act: () => T): Outcome<T> {
  try {
    return { value: act() };
  } catch (error) {
    return { error: mustBeDocumented(error) };
  }
}

/** The same for what takes a while. */
export async function attemptLater<T>(act: () => Promise<T>): Promise<Outcome<T>> {
  try {
    return { value: await act() };
  } catch (error) {
    return { error: mustBeDocumented(error) };
  }
}

function mustBeDocumented(error: unknown): Error {
  if (!(error instanceof Error)) throw new Error(`thrown, and no error: ${String(error)}`);
  const ours =
    DOCUMENTED.includes(error.name) || (error instanceof RangeError && !OF_THE_LANGUAGE.test(error.message));
  if (!ours || error.message.trim() === "") throw error;
  return error;
}

/** Fails where a number that was returned is none, or has no end. */
export function mustBeFinite(value: unknown, where = "result"): void {
  if (typeof value === "number") {
    if (!Number.isFinite(value)) throw new Error(`${where} is ${value}`);
  } else if (value instanceof Map) mustBeFinite([...value], where);
  else if (typeof value === "object" && value !== null)
    for (const [name, inside] of Object.entries(value)) mustBeFinite(inside, `${where}.${name}`);
}

/** Words that only a fault writes into a text for people. */
const FAULTS = /\bundefined\b|\bNaN\b|\bInfinity\b|\[object |\bnull\b|TypeError|RangeError|^\s+at .*:\d+/m;

/**
 * Fails where a text for people holds what only a fault writes there.
 *
 * @param brought - what a person or a file brought along; its own words may come back
 */
export function mustBeForPeople(text: string, ...brought: readonly string[]): void {
  const found = FAULTS.exec(text)?.[0];
  if (found === undefined || brought.some((own) => own.includes(found.trim()))) return;
  throw new Error(`"${found}" is in ${JSON.stringify(text.slice(0, 2000))}`);
}

/** Fails where two values are not the same, comparing what JSON holds of them. */
export function mustEqual(found: unknown, expected: unknown, what: string): void {
  const [a, b] = [found, expected].map((value) => JSON.parse(JSON.stringify(value ?? null)));
  const place = difference(a, b, "");
  if (place !== undefined) throw new Error(`${what}: ${place}`);
}

/** The first place where two values of JSON are not the same, and what stands there. */
function difference(a: unknown, b: unknown, where: string): string | undefined {
  if (isDeepStrictEqual(a, b)) return undefined;
  if (typeof a === "object" && typeof b === "object" && a !== null && b !== null)
    for (const name of new Set([...Object.keys(a), ...Object.keys(b)])) {
      const place = difference(Reflect.get(a, name), Reflect.get(b, name), `${where}.${name}`);
      if (place !== undefined) return place;
    }
  return `${where || "(all)"}: expected ${JSON.stringify(b)}, found ${JSON.stringify(a)}`;
}
