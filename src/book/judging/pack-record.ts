import { createHash } from "node:crypto";
import { isDeepStrictEqual } from "node:util";
import { deflateRawSync, inflateRawSync } from "node:zlib";
import {
  canonicalJson,
  type JudgedBy,
  type RecordedInput,
  type Verdict,
  type VerdictName,
  type VerdictRecord,
} from "../../fitness/index.js";
import { BookError } from "../storage/database.js";

/** An input of a verdict. */
export interface KeptInput {
  readonly role: RecordedInput["role"];
  readonly sha256: string;
}

/** A record as it goes into the book: what takes time has been done, and what is left is to write it down. */
export interface PackedRecord extends JudgedBy {
  readonly on: string;
  readonly cart: string;
  readonly circuit: string;
  readonly verdict: VerdictName;
  /** Hash of every input, in order, as JSON. */
  readonly inputs: string;
  readonly inputsSha256: string;
  /** The inputs that the book did not have. */
  readonly bodies: readonly { readonly sha256: string; readonly body: Uint8Array }[];
  readonly result: Uint8Array;
  readonly resultSha256: string;
  readonly version: string;
}

/**
 * Makes records ready for the book, to be kept together and in this order: what one of them brings, the next ones do not.
 *
 * @param keptOf - those of some inputs, by their hashes, that the book has already
 */
export function packRecords(
  records: readonly VerdictRecord[],
  keptOf: (hashes: readonly string[]) => ReadonlySet<string>,
): PackedRecord[] {
  const hashes = new Map<string, string>();
  for (const { inputs } of records) {
    for (const { text } of inputs) if (!hashes.has(text)) hashes.set(text, hashOf(text));
  }
  const brought = new Set(keptOf([...hashes.values()]));
  return records.map(({ inputs, verdict, judgedBy, version }) => {
    const bodies: PackedRecord["bodies"][number][] = [];
    const hashed = inputs.map(({ role, text }): KeptInput => {
      const sha256 = hashes.get(text) as string;
      if (!brought.has(sha256)) bodies.push({ sha256, body: pack(text) });
      brought.add(sha256);
      return { role, sha256 };
    });
    const list = canonicalJson(hashed);
    return {
      ...listingOf(verdict),
      inputs: list,
      inputsSha256: hashOf(list),
      bodies,
      result: pack(verdict),
      resultSha256: hashOf(verdict),
      document: judgedBy.document,
      revision: judgedBy.revision,
      version,
    };
  });
}

/** What a record says of its verdict outside of it. */
export type Listing = Pick<PackedRecord, "on" | "cart" | "circuit" | "verdict">;

function listingOf(result: string): Listing {
  const { on, cart, circuit, verdict } = JSON.parse(result) as Verdict;
  return { on, cart, circuit, verdict };
}

/**
 * Compares what a record says of its verdict with the verdict itself, which can be computed again.
 *
 * @param result - the verdict as text
 * @returns what is wrong, to follow the name of the verdict; undefined when it is the same
 */
export function faultOfListing({ on, cart, circuit, verdict }: Listing, result: string): string | undefined {
  const own = listingOf(result);
  if (isDeepStrictEqual(own, { on, cart, circuit, verdict })) return undefined;
  const described = (one: Listing) => `"${one.verdict}" for ${one.cart} ${one.circuit} on ${one.on}`;
  return `is listed as ${described({ on, cart, circuit, verdict })}, and was computed as ${described(own)}`;
}

/** SHA-256 of a text in UTF-8. */
export function hashOf(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}

/** A third of the time of the usual level, and a twelfth more bytes. */
const PACKING = { level: 4 };

/** Packs a text for the book. */
export function pack(text: string): Uint8Array {
  return deflateRawSync(text, PACKING);
}

/**
 * The text of what was packed.
 *
 * @param what - what it is, for the message
 * @throws BookError when it is not what was packed
 */
export function unpack(body: Uint8Array, sha256: string, what: string): string {
  const text = tryUnpack(body, sha256);
  if (text === undefined) throw new BookError(`${what} in the record was changed after it was kept`);
  return text;
}

/** The same; undefined where it is not what was packed. */
export function tryUnpack(body: Uint8Array, sha256: string): string | undefined {
  const text = inflated(body);
  return text === undefined || hashOf(text) !== sha256 ? undefined : text;
}

function inflated(body: Uint8Array): string | undefined {
  try {
    return inflateRawSync(body).toString("utf8");
  } catch {
    return undefined;
  }
}
