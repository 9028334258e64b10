import { grouped } from "../../numeric/index.js";

const FIRST_WORD = /[\p{L}\p{N}]+/u;
const WORDS = new RegExp(FIRST_WORD, "gu");
/** What shows that a number goes on, or has begun before: S-1 is not in S-1-2, nor 12 in 12.5 or 12:30. */
const GOES_ON = /^(?:[\p{L}\p{N}_]|[-/][\p{L}\p{N}]|[.:]\p{N})/u;
const HAS_BEGUN = /(?:[\p{L}\p{N}_]|[\p{L}\p{N}][-/]|\p{N}[.:])$/u;

/** Numbers of one length that have their first word at one place: 26-0001 to 26-9999. */
interface Alike {
  readonly wordAt: number;
  readonly length: number;
  readonly numbers: ReadonlySet<string>;
}

/**
 * Finds numbers of samples in the text of a row, whatever parts its cells: commas, blanks, or a colon after a label.
 *
 * @returns the numbers that are in a text
 */
export function numbersFinder(numbers: Iterable<string>): (text: string) => ReadonlySet<string> {
  const byWord = grouped(numbers, (number) => FIRST_WORD.exec(number)?.[0] ?? "");
  const alikeOf = new Map([...byWord].map(([word, all]) => [word, alikeIn(word, all)]));
  return (written) => {
    // As intake reads a number.
    const text = written.normalize("NFC").replace(/\s+/g, " ");
    const found = new Set<string>();
    for (const { 0: word, index } of text.matchAll(WORDS)) {
      for (const { wordAt, length, numbers: alike } of alikeOf.get(word) ?? []) {
        const start = index - wordAt;
        const number = text.slice(Math.max(0, start), start + length);
        if (alike.has(number) && isWhole(text, start, start + length)) found.add(number);
      }
    }
    return found;
  };
}

function alikeIn(word: string, all: readonly string[]): Alike[] {
  const byShape = grouped(all, (number) => `${number.indexOf(word)} ${number.length}`);
  return [...byShape.values()].map((alike) => ({
    wordAt: alike[0].indexOf(word),
    length: alike[0].length,
    numbers: new Set(alike),
  }));
}

function isWhole(text: string, start: number, end: number): boolean {
  return (
    !HAS_BEGUN.test(text.slice(Math.max(0, start - 2), start)) && !GOES_ON.test(text.slice(end, end + 2))
  );
}
