/** A number as a JSON text writes it. */
export interface WrittenNumber {
  readonly written: string;
  /** Line of the text, the first being 1. */
  readonly line: number;
}

/**
 * The first number of a JSON text that would not be kept as it is written: one that is too large for any number, or a whole
 * one with more figures than are exact, such as a long sample number without quotation marks.
 *
 * Looked at in the text, because reading it makes infinity or a rounded number of them without a word.
 *
 * @param text - JSON
 * @example
 * numberNotKept('{"sample": 20260314000000000017}')?.written; // => "20260314000000000017"
 */
export function numberNotKept(text: string): WrittenNumber | undefined {
  const [first] = numbersNotKept(text);
  if (first === undefined) return undefined;
  const { written, at } = first;
  return { written, line: lineAt(text, at) };
}

/** The line of a text that a place is in, the first being 1. */
export function lineAt(text: string, at: number): number {
  return text.slice(0, at).split("\n").length;
}

/**
 * Puts quotation marks around those numbers, so that they are kept as text.
 *
 * @param text - JSON, also without the quotation marks
 */
export function quoteNumbersNotKept(text: string): string {
  const pieces: string[] = [];
  let taken = 0;
  for (const { written, at } of numbersNotKept(text)) {
    pieces.push(text.slice(taken, at), `"${written}"`);
    taken = at + written.length;
  }
  return pieces.join("") + text.slice(taken);
}

function* numbersNotKept(text: string): Generator<{ readonly written: string; readonly at: number }> {
  let inString = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (inString) {
      if (code === BACKSLASH) at += 1;
      else if (code === QUOTE) inString = false;
    } else if (code === QUOTE) inString = true;
    else if (code >= ZERO && code <= NINE) {
      NUMBER.lastIndex = at;
      const [written] = NUMBER.exec(text) as RegExpExecArray;
      const sign = text[at - 1] === "-" ? "-" : "";
      if (!isKept(written)) yield { written: sign + written, at: at - sign.length };
      at += written.length - 1;
    }
  }
}

const NUMBER = /\d[\d.]*(?:[eE][+-]?\d+)?/y;
const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const ZERO = 0x30;
const NINE = 0x39;

/** Whole numbers of so many figures are exact. */
const EXACT_FIGURES = 15;
/** A whole number with so many figures is infinite. */
const ENDLESS_FIGURES = 310;

function isKept(written: string): boolean {
  if (!/^\d+$/.test(written)) return Number.isFinite(Number(written));
  if (written.length <= EXACT_FIGURES) return true;
  return written.length < ENDLESS_FIGURES && BigInt(Number(written)) === BigInt(written);
}

/** What to do about it. */
export const NUMBER_NOT_KEPT =
  "numbers that can be kept as they are written; a name of many figures stands in quotation marks";
