/**
 * Characters that nobody types and nobody sees: controls, halves of characters, the sign for bytes that could not be
 * decoded, marks that turn the direction of the text, and spaces without width. Two names that differ only in them look
 * the same.
 */
const UNREADABLE = /[\p{Cc}\p{Cs}\ufffd\u202a-\u202e\u2066-\u2069\u200b\u2060\ufeff]/u;

/**
 * Whether a name can be read by a person, so that no two carts look like one.
 *
 * @example
 * isReadable("QB-01"); // => true
 */
export function isReadable(name: string): boolean {
  return !UNREADABLE.test(name);
}

/** What is expected of a name that {@link isReadable} refuses. */
export const READABLE_CHARACTERS = "readable characters, without controls and marks that are not seen";
