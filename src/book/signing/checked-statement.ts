import type { ChainEntry } from "../chain/entry.js";
import { containsSignedHead, isSignedBy, type SignedHead } from "./signed-head.js";

/** What was found of a signed statement. */
export interface CheckedStatement {
  readonly statement: SignedHead;
  readonly isSigned: boolean;
  /** Whether the chain that was looked at contains the head of the statement. */
  readonly isContained: boolean;
  /** Whether it is the head of the entry that wrote the verdict of a pack, or of a later one; null for a book. */
  readonly coversVerdict: boolean | null;
}

/**
 * Checks a signed statement against a chain.
 *
 * @param verdictEntry - the entry that wrote the verdict of an evidence pack
 * @throws RangeError when the key is not a public key for Ed25519
 */
export function checkStatement(
  statement: SignedHead,
  publicKey: string,
  entries: readonly ChainEntry[],
  verdictEntry?: number,
): CheckedStatement {
  return {
    statement,
    isSigned: isSignedBy(statement, publicKey),
    isContained: containsSignedHead(entries, statement),
    coversVerdict: verdictEntry === undefined ? null : statement.entry >= verdictEntry,
  };
}

/** Whether nothing speaks against a statement; one that was not required does not. */
export function statementStands(found: CheckedStatement | undefined): boolean {
  return found === undefined || (found.isSigned && found.isContained && found.coversVerdict !== false);
}
