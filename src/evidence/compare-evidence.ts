import { type ChainEntry, type CheckedStatement, statementStands } from "../book/index.js";
import type { EvidenceVerification } from "./verify-evidence.js";

/** A head that was printed, as a pack has it. */
export interface HeadInPack {
  readonly isInPack: boolean;
  /** Whether it is the head of the entry that wrote the verdict, or of a later one. */
  readonly coversVerdict: boolean;
  readonly entry: ChainEntry | null;
}

/**
 * Looks for a printed head in the chain of a pack.
 *
 * @param digits - its first digits, as printed
 */
export function headInPack(
  { entries, verdict }: Pick<EvidenceVerification, "entries" | "verdict">,
  digits: string,
): HeadInPack {
  const entry = entries.find(({ hash }) => hash.startsWith(digits));
  return {
    isInPack: entry !== undefined,
    coversVerdict: entry !== undefined && verdict !== undefined && entry.number >= verdict.entry,
    entry: entry ?? null,
  };
}

/** What a pack was compared with; null where that was not required. */
export interface ComparedEvidence {
  readonly against: HeadInPack | null;
  readonly book: { readonly containsHead: boolean } | null;
  readonly signed: CheckedStatement | null;
}

/** Whether printed page, book and signed statement agree with the pack, as far as they are given. */
export function agreesWithPack({ against, book, signed }: ComparedEvidence): boolean {
  return (
    against?.coversVerdict !== false && book?.containsHead !== false && statementStands(signed ?? undefined)
  );
}

/** Whether nothing speaks against a pack: it fits, and agrees with what it was compared with. */
export function evidenceStands(found: ComparedEvidence & Pick<EvidenceVerification, "fits">): boolean {
  return found.fits && agreesWithPack(found);
}
