const FIRST_WORD = /[\p{L}\p{N}]+/u;
const WORDS = new RegExp(FIRST_WORD, "gu");
/** What shows that a number goes on, or has begun before: S-1 is not in S-1-2, nor 12 in 12.5 or 12:30. */
const GOES_ON = /^(?:[\p{L}\p{N}_]|[-/][\p{L}\p{N}]|[.:]\p{N})/u;
const HAS_BEGUN = /(?:[\p{L}\p{N}_]|[\p{L}\p{N}][-/]|\p{N}[.:])$/u;

/**
 * Finds numbers of samples in the text of a row, whatever parts its cells: commas, blanks, or a colon after a label.
 *
 * @returns the numbers that are in a text
 */
export function numbersFinder(numbers: Iterable<string>): (text: string) => ReadonlySet<string> {
  const byWord = new Map<string, string[]>();
  for (const number of numbers) {
    const word = FIRST_WORD.exec(number)?.[0] ?? "";
    byWord.set(word, [...(byWord.get(word) ?? []), number]);
  }
  return (written) => {
    // As intake reads a number.
    const text = written.normalize("NFC").replace(/\s+/g, " ");
    const found = new Set<string>();
    for (const { 0: word, index } of text.matchAll(WORDS)) {
      for (const number of byWord.get(word) ?? []) {
        if (isAt(text, number, index - number.indexOf(word))) found.add(number);
      }
    }
    return found;
  };
}

function isAt(text: string, number: string, start: number): boolean {
  const end = start + number.length;
  return (
    text.startsWith(number, start) &&
    !HAS_BEGUN.test(text.slice(Math.max(0, start - 2), start)) &&
    !GOES_ON.test(text.slice(end, end + 2))
  );
}
