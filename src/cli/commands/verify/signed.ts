import {
  type ChainEntry,
  type CheckedStatement,
  checkStatement,
  parseSignedHead,
} from "../../../book/index.js";
import { UsageError } from "../../io.js";
import { readText } from "../../read-text.js";

/** Options that name a signed statement, and the key to check it with. */
export interface SignedOptions {
  readonly signed?: string;
  readonly publicKey?: string;
}

/**
 * Checks the statement that the options name; undefined where they name none.
 *
 * @param pack - the statement that an evidence pack carries, and the entry that wrote its verdict
 */
export function verifyStatement(
  { signed, publicKey }: SignedOptions,
  entries: readonly ChainEntry[],
  pack?: { readonly signedHead?: string; readonly verdictEntry: number },
): CheckedStatement | undefined {
  if (signed !== undefined && publicKey === undefined) {
    throw new UsageError("--signed: expected the key to check it with, too (--public-key)");
  }
  if (publicKey === undefined) return undefined;
  const text = signed === undefined ? pack?.signedHead : readText("--signed", signed);
  if (text === undefined)
    throw new UsageError("--public-key: expected a signed statement to check (--signed)");
  const statement = attempt(`--signed: ${signed ?? "that of the pack"}`, () => parseSignedHead(text));
  return attempt(`--public-key: ${publicKey}`, () =>
    checkStatement(statement, readText("--public-key", publicKey), entries, pack?.verdictEntry),
  );
}

function attempt<T>(what: string, act: () => T): T {
  try {
    return act();
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new UsageError(`${what}: ${error.message}`, { cause: error });
  }
}

/**
 * What was found, in words.
 *
 * @param where - what was looked at: the book, or the pack
 */
export function describeStatement(found: CheckedStatement | undefined, where: string): string {
  if (found === undefined) return "";
  const { statement, isSigned, isContained, coversVerdict } = found;
  const { entry, head, signedOn, keySha256 } = statement;
  if (!isSigned) return "The statement was not signed with this key, or was changed afterwards.\n";
  return (
    `Signed on ${signedOn} with key ${keySha256.slice(0, 12)}: entry ${entry}, head ${head.slice(0, 12)}.\n` +
    `The ${where} ${isContained ? "contains" : "does not contain"} that head.\n` +
    (coversVerdict === false ? BEFORE_THE_VERDICT : "")
  );
}

/** What a head is worth that is older than the verdict. */
export const BEFORE_THE_VERDICT =
  "That head is of an entry before the verdict, so it says nothing of the verdict.\n";
