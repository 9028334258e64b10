/** As many characters of a text are quoted in a message. */
const MAX_SHOWN = 200;

/**
 * A text of a file or of a person, ready for a sentence: short, on one line, and with nothing in it that is not seen.
 *
 * @example
 * shown("S-1\nS-2"); // => "S-1\\u000aS-2"
 */
export function shown(text: string): string {
  // No character of two parts is cut in half.
  const start = text.slice(0, MAX_SHOWN).replace(/[\ud800-\udbff]$/, "");
  return visible(text.length > MAX_SHOWN ? `${start}… (${text.length} characters)` : text);
}

/** A text with its controls and marks that are not seen written out. */
export function visible(text: string): string {
  return text.replace(
    /[\p{Cc}\p{Cs}\u202a-\u202e\u2066-\u2069]/gu,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}
