import { latinOf } from "./look-alikes.js";

/**
 * How a name is read before it is compared.
 *
 * - `writing`: letters of any case, width or script that looks alike, with any dashes, spaces, full stops, slashes and other
 *   marks between them or none, and with or without leading zeros.
 * - `looks`: the same, with O for 0 and I or l for 1.
 */
export const READINGS = ["writing", "looks"] as const;
/** See {@link READINGS}. */
export type Reading = (typeof READINGS)[number];

/** A word of letters or a number, as it is compared. */
export interface NamePart {
  /** A number without its leading zeros. */
  readonly text: string;
  readonly withZeros: string;
  readonly isNumber: boolean;
  /** Whether a word or number of the text as it is written begins here, and whether one ends here. */
  readonly opens: boolean;
  readonly closes: boolean;
}

const RUNS = /[\p{L}\p{M}]+|\p{N}+|\+/gu;
/** Where one word ends and the next begins without a space: "CartQB". */
const JOINED_WORDS = /(?<=\p{Ll})(?=\p{Lu})/gu;

const STARTS_WITH_NUMBER = /^\p{N}/u;

const DASHES = /[\p{Pd}\u2212]/gu;

/** The words of letters and the numbers in a text, without what stands between them. */
export function partsOf(text: string, reading: Reading): readonly NamePart[] {
  const last = LAST[reading];
  if (last?.text === text) return last.parts;
  const parts = Object.freeze(readParts(text, reading));
  LAST[reading] = { text, parts };
  return parts;
}

/** What a name may mean is found in several ways, each of which needs its parts. */
const LAST: { [R in Reading]?: { readonly text: string; readonly parts: readonly NamePart[] } } = {};

function readParts(text: string, reading: Reading): NamePart[] {
  const written = latinOf(text).replace(JOINED_WORDS, " ");
  const folded = reading === "writing" ? written : written.replace(/[Oo]/g, "0").replace(/[Il]/g, "1");
  if (folded === written) {
    return (written.match(RUNS) ?? []).map((run) => partOf(run, reading, true, true));
  }
  // The letter O read as a figure takes a word apart: what stands before and after is no word of the text.
  const words = [...written.matchAll(RUNS)];
  const starts = new Set(words.map(({ index }) => index));
  const ends = new Set(words.map(({ 0: run, index }) => index + run.length));
  return [...folded.matchAll(RUNS)].map(({ 0: run, index }) =>
    partOf(run, reading, starts.has(index), ends.has(index + run.length)),
  );
}

function partOf(run: string, reading: Reading, opens: boolean, closes: boolean): NamePart {
  const isNumber = STARTS_WITH_NUMBER.test(run);
  const withZeros = run.toLowerCase();
  return { text: isNumber ? withoutZeros(run, reading) : withZeros, withZeros, isNumber, opens, closes };
}

/** Where letters may be figures, zeros alone may be letters: "ZOO" is not "ZO". */
function withoutZeros(run: string, reading: Reading): string {
  if (!run.startsWith("0")) return run;
  return run.replace(reading === "looks" ? /^0+(?=[1-9])/ : /^0+(?=\p{N})/u, "");
}

/** A text of more words and numbers is no name. */
export const MAX_PARTS_OF_A_NAME = 12;

/** Runs of neighbouring words and numbers, the whole among them. */
export function runsOf(parts: readonly NamePart[]): NamePart[][] {
  return parts.flatMap((_, start) =>
    parts.slice(start).flatMap((_part, length) => {
      const run = parts.slice(start, start + length + 1);
      return areWords(run) ? [run] : [];
    }),
  );
}

/** Whether parts begin where a word of the text begins and end where one ends. */
function areWords(run: readonly NamePart[]): boolean {
  return run[0]?.opens === true && run.at(-1)?.closes === true;
}

/** Parts as one text. */
export function keyOfParts(parts: readonly NamePart[]): string {
  return parts.reduce((key, part, index) => keyWith(key, part, parts[index - 1]), "");
}

/** The key of parts with one more. Between two numbers a dash stays, because 1-11 is not 11-1. */
export function keyWith(key: string, part: NamePart, before: NamePart | undefined): string {
  return key + (part.isNumber && before?.isNumber ? "-" : "") + part.text;
}

/** What two names that differ only in the way of {@link READINGS} have in common. */
export function keyOfName(name: string, reading: Reading): string {
  const key = keyOfParts(partsOf(name, reading));
  // A name of marks alone, such as "-", is compared unchanged.
  return key || ` ${name.normalize("NFKC").replace(DASHES, "-").trim()}`;
}

/**
 * Whether a person could take one name for the other, because they differ only in how they are written: in case, dashes,
 * spaces, full stops, slashes, leading zeros, letters that look alike, O for 0, or I or l for 1. QB-01 and QB-02 are not.
 *
 * @example
 * couldBeConfused("C-01", "c1"); // => true
 */
export function couldBeConfused(one: string, other: string): boolean {
  return READINGS.some((reading) => keyOfName(one, reading) === keyOfName(other, reading));
}

/** The pairs of different names among some that {@link couldBeConfused}: each name with the first that it could be taken for. */
export function confusedPairs(names: readonly string[]): [string, string][] {
  const seen = new Map<string, string>();
  return names.flatMap((name): [string, string][] => {
    const keys = READINGS.map((reading) => `${reading} ${keyOfName(name, reading)}`);
    const earlier = keys.map((key) => seen.get(key)).find((other) => other !== undefined && other !== name);
    for (const key of keys) if (!seen.has(key)) seen.set(key, name);
    return earlier === undefined ? [] : [[earlier, name]];
  });
}
