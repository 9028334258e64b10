import widthOf from "string-width";

/** As many columns a terminal has when it does not say. */
export const COLUMNS = 80;

/** Where a cell may be wrapped: at blanks, and after a hyphen between small letters, which no code has. */
export const BETWEEN_WORDS = /(?<= )|(?<=\p{Ll}-)(?=\p{Ll})/u;

/** A command to be copied whole. */
const TO_BE_COPIED = /^ *(?:[^:]{1,20}: )?siltbook /;

/** Wraps the lines that are wider than a terminal, each below its own beginning; no part of a line is left out. */
export function fitToTerminal(text: string): string {
  return text
    .split("\n")
    .map((line) => (widthOf(line) <= COLUMNS || TO_BE_COPIED.test(line) ? line : wrapLine(line)))
    .join("\n");
}

function wrapLine(line: string): string {
  const [before = ""] = /^ {0,20}(?:- |\d{1,2}\. )?/.exec(line) ?? [];
  return wrapCell(line.slice(before.length), COLUMNS - before.length)
    .split("\n")
    .map((part, at) => (at === 0 ? before : " ".repeat(before.length)) + part)
    .join("\n");
}

/** Wraps a text; a word that is longer than a line is broken, so that no part of it is left out. */
export function wrapCell(text: string, width: number): string {
  return text
    .split("\n")
    .flatMap((line) => {
      const lines = [""];
      for (const word of line.split(BETWEEN_WORDS)) {
        const last = lines.at(-1) as string;
        if (widthOf((last + word).trimEnd()) <= width) {
          lines[lines.length - 1] = last + word;
          continue;
        }
        if (last === "") lines.pop();
        lines.push(...piecesOf(word, width));
      }
      return lines.map((one) => one.trimEnd());
    })
    .join("\n");
}

/** A word in pieces of at most a width; a character that is wider than that is a piece by itself. */
function piecesOf(word: string, width: number): string[] {
  const pieces: string[] = [];
  let [piece, used] = ["", 0];
  for (const character of word) {
    const more = widthOf(character);
    if (piece !== "" && used + more > width) {
      pieces.push(piece);
      [piece, used] = ["", 0];
    }
    piece += character;
    used += more;
  }
  return piece === "" ? pieces : [...pieces, piece];
}
