/** Share of the font size that a character takes, at most, in the usual fonts without serifs. */
const SHARES = [
  [/[\s.,:;'|!()[\]ijlrtfI-]/u, 0.42],
  [/[mwMW@%—]/u, 1],
  [/[A-Z\d]/u, 0.72],
  // Scripts with letters as wide as they are high.
  [/[\u1100-\u11ff\u2e80-\ua4cf\uac00-\ud7af\uf900-\ufaff\uff00-\uff60]|\p{Extended_Pictographic}/u, 1.1],
] as const;
const OTHERWISE = 0.62;
const BOLD = 1.08;

/** How letters are written, in pixels. */
export interface Letters {
  readonly fontSize: number;
  readonly bold?: boolean;
}

/** How many pixels a text takes at most; a picture is drawn without a browser that could measure it. */
export function widthOf(text: string, { fontSize, bold = false }: Letters): number {
  const share = Array.from(text).reduce(
    (sum, letter) => sum + (SHARES.find(([kind]) => kind.test(letter))?.[1] ?? OTHERWISE),
    0,
  );
  return share * fontSize * (bold ? BOLD : 1);
}

/**
 * Breaks a text into lines between its words, and within a word that is longer than a line.
 *
 * @param width - pixels that a line may take
 * @returns at least one line; put together they are the text, with one space between words
 */
export function wrapped(text: string, width: number, letters: Letters): string[] {
  const lines = [""];
  const spacedWords = text
    .trim()
    .replace(/\s+/g, " ")
    .split(/(?<= )/);
  for (const spaced of spacedWords) {
    const [last = ""] = lines.slice(-1);
    if (widthOf((last + spaced).trimEnd(), letters) <= width) {
      lines[lines.length - 1] = last + spaced;
      continue;
    }
    if (last !== "") lines.push("");
    for (const letter of spaced) {
      const line = lines[lines.length - 1] as string;
      if (line !== "" && letter !== " " && widthOf(line + letter, letters) > width) lines.push(letter);
      else lines[lines.length - 1] = line + letter;
    }
  }
  return lines;
}
