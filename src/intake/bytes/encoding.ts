import { isUtf8 } from "node:buffer";
import type { ByteSource } from "./bytes.js";

/** How the characters of a text file are written. */
export type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";

/** What a person calls them. */
export const ENCODING_NAMES: Record<Encoding, string> = {
  "utf-8": "UTF-8",
  "utf-16le": "UTF-16",
  "utf-16be": "UTF-16",
  "windows-1252": "Windows-1252",
};

/** As many bytes as are looked at for the zeros that UTF-16 has between plain letters. */
const PROBE_BYTES = 4096;

/**
 * Finds out how the characters of a text file are written.
 *
 * A byte order mark decides. Without one, zeros in every other byte show UTF-16, a file that is UTF-8 from end to end is
 * UTF-8, and any other file is Windows-1252, the code of older office computers.
 *
 * @param source - the whole file is looked at
 */
export function encodingOf(source: ByteSource): Encoding {
  let first = true;
  let rest: Uint8Array = new Uint8Array();
  for (const chunk of source.chunks()) {
    const sure = first ? markedEncoding(chunk) : undefined;
    if (sure !== undefined) return sure;
    first = false;
    const bytes = rest.length === 0 ? chunk : Buffer.concat([rest, chunk]);
    const end = bytes.length - unfinished(bytes);
    if (!isUtf8(bytes.subarray(0, end))) return "windows-1252";
    // Copied, because the next piece takes the place of this one.
    rest = bytes.slice(end);
  }
  return rest.length === 0 ? "utf-8" : "windows-1252";
}

/** How many bytes at the end of a piece belong to a character that the next piece completes. */
function unfinished(bytes: Uint8Array): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back += 1) {
    const byte = bytes[bytes.length - back] as number;
    if (byte < 0x80) return 0;
    if (byte >= 0xc0) return back < lengthOf(byte) ? back : 0;
  }
  return 0;
}

/** Bytes of the character that begins with some byte. */
function lengthOf(lead: number): number {
  if (lead >= 0xf0) return 4;
  return lead >= 0xe0 ? 3 : 2;
}

function markedEncoding(chunk: Uint8Array): Encoding | undefined {
  const [a, b, c] = chunk;
  if (a === 0xef && b === 0xbb && c === 0xbf) return "utf-8";
  if (a === 0xff && b === 0xfe) return "utf-16le";
  if (a === 0xfe && b === 0xff) return "utf-16be";
  const probe = chunk.subarray(0, PROBE_BYTES - (PROBE_BYTES % 2));
  const zeros = [0, 0];
  for (const [index, byte] of probe.entries()) {
    if (byte === 0) zeros[index % 2] = (zeros[index % 2] ?? 0) + 1;
  }
  const [even = 0, odd = 0] = zeros;
  const half = probe.length / 2;
  if (odd > half / 2 && even < half / 10) return "utf-16le";
  if (even > half / 2 && odd < half / 10) return "utf-16be";
  return undefined;
}

/**
 * The text of a file, piece by piece, without its byte order mark.
 *
 * Bytes that break the code of a marked file become U+FFFD, which no cell reader takes.
 */
export function* decoded(source: ByteSource, encoding: Encoding): Generator<string> {
  // Streamed on purpose: this Node decodes windows-1252 as Latin-1 when it is given the bytes in one piece.
  const decoder = new TextDecoder(encoding);
  for (const chunk of source.chunks()) yield decoder.decode(chunk, { stream: true });
  yield decoder.decode();
}

const UTF_8 = new TextDecoder("utf-8", { ignoreBOM: true });

/** The text of some bytes in UTF-8, a byte order mark included. */
export function decode(bytes: Uint8Array, start: number, end: number): string {
  return UTF_8.decode(bytes.subarray(start, end));
}
