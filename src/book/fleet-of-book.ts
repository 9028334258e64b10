import { basename } from "node:path";
import { type CircuitCase, casesOf, unreadByCart } from "../fitness/index.js";
import {
  type FleetFiles,
  IntakeError,
  readCartsFile,
  readRequirementsFile,
  textOnDisk,
  unreadResults,
} from "../intake/index.js";
import type { Cart, RequirementsFile } from "../samples/index.js";
import { Book } from "./book.js";

/** The files that take the place of what the book holds. */
export interface FleetOfBookPaths {
  readonly carts?: string;
  readonly requirement?: string;
}

/**
 * Reads everything that verdicts rest on from a book: carts, requirements, samples, and rows that nobody has read.
 *
 * @param path - the book
 * @param paths - a carts file or a requirements file to judge by instead of the book's own
 * @throws BookError when the book cannot be opened
 * @throws IntakeError when neither the book nor a file gives carts or requirements
 */
export function readFleetOfBook(path: string, paths: FleetOfBookPaths = {}): FleetFiles {
  const book = Book.open(path);
  try {
    const { carts, document } = whatToJudge(book, paths);
    const quarantine = book.quarantine();
    return {
      carts,
      requirements: document.systems,
      document,
      files: [],
      samples: [...book.samples()],
      quarantine,
      repeated: 0,
      unread: unreadResults(quarantine),
    };
  } finally {
    book.close();
  }
}

/**
 * The same cart by cart, for fleets of any size: only the samples of one cart are held at a time.
 *
 * @param path - the book
 * @param on - the day of judging, as ISO 8601 calendar day
 * @param paths - see {@link readFleetOfBook}
 * @returns what the verdict on each circuit of a cart rests on, in the order of the carts
 * @throws BookError and IntakeError as {@link readFleetOfBook} does
 */
export function* casesOfBook(
  path: string,
  on: string,
  paths: FleetOfBookPaths = {},
): Generator<readonly CircuitCase[]> {
  const book = Book.open(path);
  try {
    const { carts, document } = whatToJudge(book, paths);
    const unreadOf = unreadByCart(unreadResults(book.quarantine()));
    for (const cart of carts) {
      yield casesOf({
        carts: [cart],
        requirements: document.systems,
        samples: [...book.samples({ cart: cart.cart })],
        unread: unreadOf(cart.cart),
        on,
      });
    }
  } finally {
    book.close();
  }
}

function whatToJudge(
  book: Book,
  paths: FleetOfBookPaths,
): { readonly carts: readonly Cart[]; readonly document: RequirementsFile } {
  const carts =
    paths.carts === undefined
      ? book.carts()
      : readCartsFile(basename(paths.carts), textOnDisk(paths.carts)).carts;
  const document =
    paths.requirement === undefined
      ? book.requirements()
      : readRequirementsFile(basename(paths.requirement), textOnDisk(paths.requirement));
  if (carts.length === 0) throw new IntakeError(`${book.path}: the book knows no carts; give a carts file`);
  if (document === undefined) {
    throw new IntakeError(`${book.path}: the book has no requirements; give a requirements file`);
  }
  return { carts, document };
}
