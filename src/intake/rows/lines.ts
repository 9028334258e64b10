import { IntakeError } from "../checks/issue.js";

/** No laboratory writes a longer line; without a bound a file of one line would have to fit into memory. */
export const MAX_LINE_LENGTH = 1_000_000;

/**
 * The lines of a text, each with the line break it ends with: "\r\n", "\n" or "\r".
 *
 * @param file - name for messages
 * @param pieces - the text, cut anywhere
 * @throws IntakeError for a line of more than 1,000,000 characters
 */
export function* linesOf(file: string, pieces: Iterable<string>): Generator<string> {
  let rest = "";
  let number = 0;
  for (const piece of pieces) {
    const text = rest + piece;
    let start = 0;
    let feed = -1;
    for (;;) {
      // Looked for once and not again for every carriage return before it.
      if (feed < start) feed = firstAt(text, "\n", start);
      const end = endOfLine(text, start, feed);
      if (end === -1) break;
      number += 1;
      yield text.slice(start, end);
      start = end;
    }
    rest = text.slice(start);
    if (rest.length > MAX_LINE_LENGTH) {
      throw new IntakeError(
        `${file} row ${number + 1}: expected lines of at most ${MAX_LINE_LENGTH} characters, found a longer one`,
      );
    }
  }
  // A carriage return was held back in case a line feed follows; now nothing does.
  for (const line of rest.split(/(?<=\r)/)) if (line !== "") yield line;
}

/** Where a mark stands at or after a place; the end of the text when it does not. */
function firstAt(text: string, mark: string, start: number): number {
  const at = text.indexOf(mark, start);
  return at === -1 ? text.length : at;
}

/** Where the line that starts at `start` ends, after its break; -1 when its end is not in the text yet. */
function endOfLine(text: string, start: number, feed: number): number {
  // Looking for a lone carriage return in every line would double the work; only files that have one pay for it.
  const line = text.slice(start, feed);
  const carriage = line.indexOf("\r");
  const isOpen = feed === text.length;
  if (carriage === -1 || (!isOpen && carriage === line.length - 1)) return isOpen ? -1 : feed + 1;
  const end = start + carriage + 1;
  return end < text.length ? end : -1;
}

/** A line without the break it ends with. */
export function withoutBreak(line: string): string {
  if (line.endsWith("\r\n")) return line.slice(0, -2);
  return line.endsWith("\n") || line.endsWith("\r") ? line.slice(0, -1) : line;
}
