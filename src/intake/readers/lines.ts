import { IntakeError } from "../issue.js";

/** No laboratory writes a longer line; without a bound a file of one line would have to fit into memory. */
export const LONGEST_LINE = 1_000_000;

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
    for (;;) {
      const end = endOfLine(text, start);
      if (end === -1) break;
      number += 1;
      yield text.slice(start, end);
      start = end;
    }
    rest = text.slice(start);
    if (rest.length > LONGEST_LINE) {
      throw new IntakeError(
        `${file} row ${number + 1}: expected lines of at most ${LONGEST_LINE} characters, found a longer one`,
      );
    }
  }
  // A carriage return was held back in case a line feed follows; now nothing does.
  for (const line of rest.split(/(?<=\r)/)) if (line !== "") yield line;
}

/** Where the line that starts at `start` ends, after its break; -1 when its end is not in the text yet. */
function endOfLine(text: string, start: number): number {
  const feed = text.indexOf("\n", start);
  // Looking for a lone carriage return in every line would double the work; only files that have one pay for it.
  const line = feed === -1 ? text.slice(start) : text.slice(start, feed);
  const carriage = line.indexOf("\r");
  if (carriage === -1 || (feed !== -1 && carriage === line.length - 1)) return feed === -1 ? -1 : feed + 1;
  const end = start + carriage + 1;
  return end < text.length ? end : -1;
}

/** A line without the break it ends with. */
export function withoutBreak(line: string): string {
  if (line.endsWith("\r\n")) return line.slice(0, -2);
  return line.endsWith("\n") || line.endsWith("\r") ? line.slice(0, -1) : line;
}
