/**
 * A list of words or of patterns, written one after another with commas between them; "~" is any ending of a word.
 *
 * @example
 * words`free water, water (?:visible|present)`; // => ["free water", "water (?:visible|present)"]
 */
export function words(list: TemplateStringsArray, ...parts: readonly string[]): string[] {
  return String.raw(list, ...parts)
    .trim()
    .replaceAll("~", "\\p{L}*")
    .split(/\s*,\s*/);
}
