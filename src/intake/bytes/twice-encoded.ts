import { isUtf8 } from "node:buffer";
import { bytesOf } from "./single-byte-codes.js";

/** What "µ", "°", "²", "ü" become when UTF-8 is taken for Windows-1252 and written as UTF-8 again. */
const LEADS = "[\u00c2-\u00c5\u00ce]";
const FOLLOWS =
  "[\u0080-\u00bf\u0152\u0153\u0160\u0161\u0178\u017d\u017e\u0192\u02c6\u02dc\u2013-\u2026\u2030\u2039\u203a\u20ac\u2122]";
/** The first half of a pair at the end of a piece. */
const OPEN_PAIR = new RegExp(`${LEADS}$`);
const TWICE = new RegExp(LEADS + FOLLOWS, "g");

/** Whether a text has characters that only come about when it is encoded twice. */
export function isEncodedTwice(text: string): boolean {
  const found = text.match(TWICE) ?? [];
  return found.length > 0 && found.every((pair) => plain(pair) !== undefined);
}

/** A text as it was before it was encoded a second time. */
export function* onceEncoded(pieces: Iterable<string>): Generator<string> {
  let rest = "";
  for (const piece of pieces) {
    const text = rest + piece;
    rest = OPEN_PAIR.exec(text)?.[0] ?? "";
    yield text.slice(0, text.length - rest.length).replace(TWICE, (pair) => plain(pair) ?? pair);
  }
  yield rest;
}

function plain(pair: string): string | undefined {
  const bytes = bytesOf(pair);
  return bytes !== undefined && isUtf8(bytes) ? Buffer.from(bytes).toString("utf8") : undefined;
}
