import { isUtf8 } from "node:buffer";
import type { Assumption } from "../../provenance/index.js";
import type { ByteSource } from "./bytes.js";
import { charactersOf, likelyCode, type SingleByteCode } from "./single-byte-codes.js";
import { isEncodedTwice, onceEncoded } from "./twice-encoded.js";

/** How the characters of a text file are written. */
export interface TextEncoding {
  readonly name: "utf-8" | "utf-8-with-odd-bytes" | "utf-8-twice" | "utf-16le" | "utf-16be" | SingleByteCode;
  /** What a person calls it. */
  readonly says: string;
  /** What the reading rests on, where the file does not show it for sure. */
  readonly assumption?: Assumption;
}

const UTF_8: TextEncoding = { name: "utf-8", says: "UTF-8" };
const UTF_16LE: TextEncoding = { name: "utf-16le", says: "UTF-16" };
const UTF_16BE: TextEncoding = { name: "utf-16be", says: "UTF-16" };
const UTF_8_TWICE: TextEncoding = {
  name: "utf-8-twice",
  says: "UTF-8 that was encoded twice",
  assumption: {
    code: "encoding",
    message:
      'the characters of the file were encoded twice, such as "Âµ" for "µ"; they were read as they were before',
  },
};
const SINGLE_BYTE_NAMES: Record<SingleByteCode, string> = {
  "windows-1252": "Windows-1252",
  "code-page-437": "code page 437",
  "code-page-850": "code page 850",
};

/** As many bytes as are looked at for the zeros that UTF-16 has between plain letters. */
const PROBE_BYTES = 4096;

/**
 * Finds out how the characters of a text file are written.
 *
 * A byte order mark decides. Without one, zeros in every other byte show UTF-16, and a file that is UTF-8 from end to end is
 * UTF-8, also with a few odd bytes among more characters that are. Any other file is in the code of older computers in which
 * its signs make the most sense.
 *
 * @param source - the whole file is looked at
 */
export function encodingOf(source: ByteSource): TextEncoding {
  let first = true;
  let foreign: Uint8Array | undefined;
  let isWhole = true;
  for (const whole of wholeCharacters(source)) {
    const sure = first ? markedEncoding(whole) : undefined;
    if (sure !== undefined) return sure;
    first = false;
    if (!isUtf8(whole)) isWhole = false;
    // Copied, because the next piece takes the place of this one.
    if (foreign === undefined && whole.some((byte) => byte >= 0x80)) foreign = whole.slice();
    if (!isWhole) break;
  }
  if (foreign === undefined) return UTF_8;
  if (isWhole) return isEncodedTwice(decode(foreign, 0, foreign.length)) ? UTF_8_TWICE : UTF_8;
  const { characters, odd } = lookAtBytes(source);
  return characters >= odd.length ? withOddBytes(odd) : olderCode(likelyCode(foreign));
}

/** A file in pieces that end with a whole character of UTF-8, where they are UTF-8. */
function* wholeCharacters(source: ByteSource): Generator<Uint8Array> {
  let rest: Uint8Array = new Uint8Array();
  for (const chunk of source.chunks()) {
    const bytes = rest.length === 0 ? chunk : Buffer.concat([rest, chunk]);
    const end = bytes.length - unfinished(bytes);
    yield bytes.subarray(0, end);
    rest = bytes.slice(end);
  }
  if (rest.length > 0) yield rest;
}

interface OddByte {
  readonly line: number;
  readonly byte: number;
}

/** How many characters of several bytes a file has in UTF-8, and the bytes that belong to none. */
function lookAtBytes(source: ByteSource): { characters: number; odd: OddByte[] } {
  let characters = 0;
  let line = 1;
  const odd: OddByte[] = [];
  for (const bytes of wholeCharacters(source)) {
    for (let at = 0; at < bytes.length; ) {
      const byte = bytes[at] as number;
      const length = characterAt(bytes, at);
      if (byte === LINE_FEED) line += 1;
      if (length > 1) characters += 1;
      else if (byte >= 0x80) odd.push({ line, byte });
      at += length;
    }
  }
  return { characters, odd };
}

const LINE_FEED = 0x0a;

/** How many bytes the character has that begins at some place; 1 also for a byte that begins none. */
function characterAt(bytes: Uint8Array, at: number): number {
  const byte = bytes[at] as number;
  if (byte < 0xc2) return 1;
  const length = lengthOf(byte);
  return at + length <= bytes.length && isUtf8(bytes.subarray(at, at + length)) ? length : 1;
}

/** As many lines with odd bytes are named. */
const MAX_LINES_NAMED = 5;

function withOddBytes(odd: readonly OddByte[]): TextEncoding {
  const named = odd
    .slice(0, MAX_LINES_NAMED)
    .map(({ line, byte }) => `${line} ("${charactersOf("windows-1252", Uint8Array.of(byte))}")`);
  const more = odd.length - named.length;
  const lines = named.join(", ") + (more > 0 ? `, and ${more} more` : "");
  return {
    name: "utf-8-with-odd-bytes",
    says: "UTF-8 with single bytes that are not",
    assumption: {
      code: "encoding",
      message: `the file is UTF-8 but for single bytes, which were read as Windows-1252: in line ${lines}`,
    },
  };
}

function olderCode(name: SingleByteCode): TextEncoding {
  const says = SINGLE_BYTE_NAMES[name];
  const message = `the file is not UTF-8 and does not say how its characters are written; it was read as ${says}`;
  return { name, says, assumption: { code: "encoding", message } };
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

function markedEncoding(chunk: Uint8Array): TextEncoding | undefined {
  const [a, b, c] = chunk;
  if (a === 0xef && b === 0xbb && c === 0xbf) return UTF_8;
  if (a === 0xff && b === 0xfe) return UTF_16LE;
  if (a === 0xfe && b === 0xff) return UTF_16BE;
  const probe = chunk.subarray(0, PROBE_BYTES - (PROBE_BYTES % 2));
  const zeros = [0, 0];
  for (const [index, byte] of probe.entries()) {
    if (byte === 0) zeros[index % 2] = (zeros[index % 2] ?? 0) + 1;
  }
  const [even = 0, odd = 0] = zeros;
  const half = probe.length / 2;
  if (odd > half / 2 && even < half / 10) return UTF_16LE;
  if (even > half / 2 && odd < half / 10) return UTF_16BE;
  return undefined;
}

/**
 * The text of a file, piece by piece, without its byte order mark.
 *
 * Bytes that break the code of a marked file become U+FFFD, which no cell reader takes.
 */
export function* decoded(source: ByteSource, { name }: TextEncoding): Generator<string> {
  switch (name) {
    case "utf-8-with-odd-bytes":
      for (const bytes of wholeCharacters(source)) yield withoutOddBytes(bytes);
      return;
    case "utf-8-twice":
      yield* onceEncoded(decodedBy(source, "utf-8"));
      return;
    case "windows-1252":
    case "code-page-437":
    case "code-page-850":
      for (const chunk of source.chunks()) yield charactersOf(name, chunk);
      return;
    default:
      yield* decodedBy(source, name);
  }
}

function* decodedBy(source: ByteSource, label: "utf-8" | "utf-16le" | "utf-16be"): Generator<string> {
  const decoder = new TextDecoder(label);
  for (const chunk of source.chunks()) yield decoder.decode(chunk, { stream: true });
  yield decoder.decode();
}

/** The text of some bytes of UTF-8, with those that are not in the code of older office computers. */
function withoutOddBytes(bytes: Uint8Array): string {
  if (isUtf8(bytes)) return decode(bytes, 0, bytes.length);
  let text = "";
  let start = 0;
  for (let at = 0; at < bytes.length; ) {
    const length = characterAt(bytes, at);
    if (length === 1 && (bytes[at] as number) >= 0x80) {
      text += decode(bytes, start, at) + charactersOf("windows-1252", bytes.subarray(at, at + 1));
      start = at + 1;
    }
    at += length;
  }
  return text + decode(bytes, start, bytes.length);
}

const UTF_8_DECODER = new TextDecoder("utf-8", { ignoreBOM: true });

/** The text of some bytes in UTF-8, a byte order mark included. */
export function decode(bytes: Uint8Array, start: number, end: number): string {
  return UTF_8_DECODER.decode(bytes.subarray(start, end));
}
