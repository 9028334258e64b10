import { IntakeError } from "../checks/issue.js";
import { type ByteSource, bytesOnDisk } from "./bytes.js";
import { decoded, encodingOf } from "./encoding.js";

/** A file that is read in one piece, such as a carts file, is never larger. */
const MAX_TEXT_BYTES = 100_000_000;

/**
 * The whole text of a small file, such as a carts file.
 *
 * @throws IntakeError when the file cannot be opened, is larger than 100 MB, or is neither UTF-8 nor UTF-16
 */
export function textOnDisk(path: string): string {
  const source = bytesOnDisk(path);
  if (source.size > MAX_TEXT_BYTES) {
    throw new IntakeError(
      `${path}: cannot be read: expected at most ${MAX_TEXT_BYTES} bytes, found ${source.size}`,
    );
  }
  // No list of assumptions comes with such a file, so nothing is guessed of an older code.
  const { assumption } = encodingOf(source);
  if (assumption !== undefined) {
    throw new IntakeError(
      `${path}: expected text in UTF-8, found bytes that are none: ${assumption.message}`,
    );
  }
  return wholeText(source);
}

/** The text of a source in one piece. */
export function wholeText(source: ByteSource): string {
  return [...decoded(source, encodingOf(source))].join("");
}
