import * as z from "zod";
import { canonicalJson } from "../../fitness/index.js";
import type { ChainEntry } from "../chain/entry.js";
import { fingerprintOf, isSignatureOf, signatureOf } from "./ed25519.js";

/** A statement that a book had a head, signed with a key of the base. */
export interface SignedHead {
  /** The form of the statement. */
  readonly siltbookSignedHead: 1;
  /** The number of the last entry. */
  readonly entry: number;
  /** The hash of the last entry. */
  readonly head: string;
  /** When that entry was written, as ISO 8601. */
  readonly at: string;
  /** The day of signing. */
  readonly signedOn: string;
  /** SHA-256 of the public key. */
  readonly keySha256: string;
  /** By Ed25519 (RFC 8032), of all the others in canonical form (RFC 8785), in base64. */
  readonly signature: string;
}

/**
 * Signs the head of a book.
 *
 * @param privateKey - for Ed25519, as PEM; it is not kept
 * @throws RangeError when it is not a private key for Ed25519
 */
export function signHead(
  { number, hash, at }: Pick<ChainEntry, "number" | "hash" | "at">,
  privateKey: string,
  signedOn: string,
): SignedHead {
  const keySha256 = fingerprintOf({ privateKey });
  const statement = { siltbookSignedHead: 1, entry: number, head: hash, at, signedOn, keySha256 } as const;
  const signature = Buffer.from(signatureOf(bytesOf(statement), privateKey)).toString("base64");
  return { ...statement, signature };
}

const HASH = z.string().regex(/^[0-9a-f]{64}$/);
const signedHeadSchema = z.strictObject({
  siltbookSignedHead: z.literal(1),
  entry: z.int().min(1),
  head: HASH,
  at: z.string(),
  signedOn: z.string(),
  keySha256: HASH,
  signature: z.string().regex(/^[A-Za-z0-9+/]{86}==$/),
});

/**
 * Reads a signed statement. {@link isSignedBy} checks its signature.
 *
 * @throws RangeError when the text is not a signed statement
 */
export function parseSignedHead(text: string): SignedHead {
  try {
    return signedHeadSchema.parse(JSON.parse(text));
  } catch (error) {
    throw new RangeError('it is not a signed head, as "siltbook sign" writes it', { cause: error });
  }
}

/**
 * Whether a statement was signed with the private key of a public key, and has not been changed since.
 *
 * @param publicKey - for Ed25519, as PEM
 * @throws RangeError when it is not a public key for Ed25519
 */
export function isSignedBy({ signature, ...statement }: SignedHead, publicKey: string): boolean {
  return (
    statement.keySha256 === fingerprintOf({ publicKey }) &&
    isSignatureOf(bytesOf(statement), Buffer.from(signature, "base64"), publicKey)
  );
}

/** Whether a chain contains the head of a statement. */
export function containsSignedHead(entries: readonly ChainEntry[], { entry, head, at }: SignedHead): boolean {
  return entries.some((one) => one.number === entry && one.hash === head && one.at === at);
}

function bytesOf(statement: Omit<SignedHead, "signature">): Uint8Array {
  return new TextEncoder().encode(canonicalJson(statement));
}
