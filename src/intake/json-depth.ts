/** Objects and lists inside each other; no file of ours or of a laboratory comes near. */
export const DEEPEST_NESTING = 100;

/**
 * Whether a JSON text holds lists and objects deeper inside each other than {@link DEEPEST_NESTING}.
 *
 * Looked at in the text, because reading goes to any depth and everything that is done afterwards does not.
 *
 * @example
 * nestsTooDeep("[[1]]"); // => false
 */
export function nestsTooDeep(text: string): boolean {
  // Most files have no room for so many brackets.
  if (text.length <= DEEPEST_NESTING) return false;
  let depth = 0;
  let inString = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (inString) {
      if (code === BACKSLASH) at += 1;
      else if (code === QUOTE) inString = false;
    } else if (code === QUOTE) inString = true;
    else if (code === OPEN_LIST || code === OPEN_OBJECT) {
      depth += 1;
      if (depth > DEEPEST_NESTING) return true;
    } else if (code === CLOSE_LIST || code === CLOSE_OBJECT) depth -= 1;
  }
  return false;
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const OPEN_LIST = 0x5b;
const CLOSE_LIST = 0x5d;
const OPEN_OBJECT = 0x7b;
const CLOSE_OBJECT = 0x7d;
