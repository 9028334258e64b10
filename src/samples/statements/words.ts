/**
 * A list of words or of patterns, written one after another with commas between them.
 *
 * @example
 * words`free water, water (?:visible|present)`; // => ["free water", "water (?:visible|present)"]
 */
export function words(list: TemplateStringsArray, ...parts: readonly string[]): string[] {
  return String.raw(list, ...parts)
    .trim()
    .split(/\s*,\s*/);
}
