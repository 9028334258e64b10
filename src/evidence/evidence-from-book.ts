import { Book, type KeptVerdict, readFleetOutline } from "../book/index.js";
import { unreadOfFleet } from "../fitness/index.js";
import { findVerdict, type VerdictMeant } from "./find-verdict.js";
import { type PackOptions, packEvidence } from "./pack-evidence.js";
import type { PackFile } from "./pack-file.js";

/** An evidence pack with the verdict that it is about. */
export interface EvidencePack {
  readonly verdict: KeptVerdict;
  readonly files: readonly PackFile[];
}

/**
 * Makes the evidence pack of one verdict of a book.
 *
 * @param path - the book
 * @param meant - the verdict; see {@link VerdictMeant}
 * @throws BookError when the book has no such verdict, or does not fit its chain
 * @throws RangeError for an original that is none of the laboratory's files
 */
export async function evidenceFromBook(
  path: string,
  meant: VerdictMeant,
  options: Omit<PackOptions, "rowsOfNoCart"> = {},
): Promise<EvidencePack> {
  const book = Book.open(path);
  try {
    const verdict = findVerdict(book, meant);
    const { unread, carts, knownCarts } = readFleetOutline(path, { on: verdict.on });
    const rowsOfNoCart = unreadOfFleet(unread, carts, knownCarts).ofNoCart;
    return { verdict, files: await packEvidence(book.evidence(verdict.id), { ...options, rowsOfNoCart }) };
  } finally {
    book.close();
  }
}
