import { basename } from "node:path";
import {
  type CircuitCase,
  type CircuitDecision,
  casesOfCart,
  type UnreadOfFleet,
  type UnreadResult,
  unreadOfFleet,
} from "../fitness/index.js";
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
  /** What people decided about circuits, of these carts or of others. */
  readonly decisions: readonly CircuitDecision[];
  /** What is in quarantine, and samples under names that the carts do not have. */
  readonly unread: readonly UnreadResult[];
  /** Names of all these carts and of those that the book knows besides. */
  readonly knownCarts: readonly string[];
}

/** The same with the samples. */
export interface FleetOfBook extends FleetFiles, Pick<FleetOutline, "decisions"> {}

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
 * Reads everything that verdicts rest on from a book: carts, requirements, samples, rows that nobody has read, and
 * what people decided.
 *
 * @param paths - see {@link readFleetOutline}
 * @param cart - only the samples of this cart
 * @throws BookError and IntakeError as {@link readFleetOutline} does
 */
export function readFleetOfBook(path: string, paths: FleetOfBookPaths = {}, cart?: string): FleetOfBook {
  return withBook(path, (book) => {
    const { carts, document, quarantine, decisions, unread, knownCarts } = outlineOf(book, paths);
    return {
      carts,
      requirements: document.systems,
      document,
      files: [],
      samples: [...book.samples({ ...(cart !== undefined && { cart }) })],
      quarantine,
      repeated: 0,
      unread,
      knownCarts,
      decisions,
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
    const casesOfOne = cartReader(book, outline, on);
    const unread = unreadOfFleet(outline.unread, outline.carts, outline.knownCarts);
    for (const cart of outline.carts) yield casesOfOne(cart, unread);
  } finally {
    book.close();
  }
}

/** Reads from an open book what the verdicts on the circuits of one cart rest on. */
export function cartReader(
  book: Book,
  { document }: Pick<FleetOutline, "document">,
  on: string,
): (cart: Cart, unread: Pick<UnreadOfFleet, "of">) => CircuitCase[] {
  return (cart, unread) =>
    casesOfCart(cart, unread, {
      requirements: document.systems,
      samples: [...book.samples({ cart: cart.cart })],
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
  const quarantine = book.quarantine();
  return {
    carts,
    document,
    quarantine,
    decisions: book.decisions(),
    unread: [...unreadResults(quarantine), ...book.samplesOfNoCircuit(carts)],
    knownCarts: [...carts, ...(paths.carts === undefined ? [] : book.carts())].map(({ cart }) => cart),
  };
}
