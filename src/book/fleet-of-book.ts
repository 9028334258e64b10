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
import type { KeptQuarantinedRow } from "./samples.js";

/** The files that take the place of what the book holds. */
export interface FleetOfBookPaths {
  readonly carts?: string;
  readonly requirement?: string;
}

/** What verdicts on the circuits of a book rest on, but for the samples. */
export interface FleetOutline {
  readonly carts: readonly Cart[];
  readonly document: RequirementsFile;
  readonly quarantine: readonly KeptQuarantinedRow[];
}

/**
 * Reads what verdicts rest on from a book, but for the samples.
 *
 * @param path - the book
 * @param paths - a carts file or a requirements file to judge by instead of the book's own
 * @throws BookError when the book cannot be opened
 * @throws IntakeError when neither the book nor a file gives carts or requirements
 */
export function readFleetOutline(path: string, paths: FleetOfBookPaths = {}): FleetOutline {
  return withBook(path, (book) => outlineOf(book, paths));
}

/**
 * Reads everything that verdicts rest on from a book: carts, requirements, samples, and rows that nobody has read.
 *
 * @param paths - see {@link readFleetOutline}
 * @param cart - only the samples of this cart
 * @throws BookError and IntakeError as {@link readFleetOutline} does
 */
export function readFleetOfBook(path: string, paths: FleetOfBookPaths = {}, cart?: string): FleetFiles {
  return withBook(path, (book) => {
    const { carts, document, quarantine } = outlineOf(book, paths);
    return {
      carts,
      requirements: document.systems,
      document,
      files: [],
      samples: [...book.samples({ ...(cart !== undefined && { cart }) })],
      quarantine,
      repeated: 0,
      assumptions: [],
      unread: unreadResults(quarantine),
    };
  });
}

/**
 * The same cart by cart, for fleets of any size: only the samples of one cart are held at a time.
 *
 * @param path - the book
 * @param on - the day of judging, as ISO 8601 calendar day
 * @param paths - see {@link readFleetOutline}
 * @returns what the verdict on each circuit of a cart rests on, in the order of the carts
 * @throws BookError and IntakeError as {@link readFleetOutline} does
 */
export function* casesOfBook(
  path: string,
  on: string,
  paths: FleetOfBookPaths = {},
): Generator<readonly CircuitCase[]> {
  const book = Book.open(path);
  try {
    const outline = outlineOf(book, paths);
    const casesOfCart = cartReader(book, outline, on);
    for (const cart of outline.carts) yield casesOfCart(cart);
  } finally {
    book.close();
  }
}

/** Reads from an open book what the verdicts on the circuits of one cart rest on. */
export function cartReader(
  book: Book,
  { document, quarantine }: Pick<FleetOutline, "document" | "quarantine">,
  on: string,
): (cart: Cart) => CircuitCase[] {
  const unreadOf = unreadByCart(unreadResults(quarantine));
  return (cart) =>
    casesOf({
      carts: [cart],
      requirements: document.systems,
      samples: [...book.samples({ cart: cart.cart })],
      unread: unreadOf(cart.cart),
      on,
    });
}

function withBook<T>(path: string, act: (book: Book) => T): T {
  const book = Book.open(path);
  try {
    return act(book);
  } finally {
    book.close();
  }
}

function outlineOf(book: Book, paths: FleetOfBookPaths): FleetOutline {
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
  return { carts, document, quarantine: book.quarantine() };
}
