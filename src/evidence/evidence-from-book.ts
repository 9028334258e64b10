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
 * @throws RangeError for an original other than the files that the verdict rests on
 */
export async function evidenceFromBook(
  path: string,
  meant: VerdictMeant,
  options: Omit<PackOptions, "rowsOfNoCart"> = {},
): Promise<EvidencePack> {
  // Before the book is opened here: one that is open twice is not one file when it is closed.
  const { unread, carts, knownCarts } = readFleetOutline(path);
  const rowsOfNoCart = unreadOfFleet(unread, carts, knownCarts).ofNoCart;
  const book = Book.open(path);
  try {
    const verdict = findVerdict(book, meant);
    return { verdict, files: await packEvidence(book.evidence(verdict.id), { ...options, rowsOfNoCart }) };
  } finally {
    book.close();
  }
}
