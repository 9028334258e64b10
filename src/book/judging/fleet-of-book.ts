import { basename } from "node:path";
import { isDeepStrictEqual } from "node:util";
import {
  type CircuitCase,
  type CircuitDecision,
  casesOfCart,
  type UnreadOfFleet,
  type UnreadResult,
} from "../../fitness/index.js";
import {
  type FleetFiles,
  IntakeError,
  localDay,
  parseCartsFile,
  readRequirementsFile,
  textOnDisk,
} from "../../intake/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";
import {
  assumedAsOf,
  type Cart,
  carryCarts,
  cartChanges,
  cartsAsOf,
  type FleetChange,
  findNamed,
  type Requirement,
  type RequirementsFile,
  requirementChanges,
  type Sample,
} from "../../samples/index.js";
import { Book } from "../book.js";
import type { KeptQuarantinedRow } from "../taking-in/open-rows.js";
import type { HeldOn } from "./held-on.js";
import { decisionsAsOf } from "./known-by.js";
import { unreadInBook } from "./unread-in-book.js";

/** The files that take the place of what the book holds. */
export interface FleetOfBookPaths {
  readonly carts?: string;
  readonly requirement?: string;
  /**
   * The day of judging: the day from which a fluid counts that the carts file declares and the book does not. Today when
   * absent.
   */
  readonly on?: string;
  /** Only what was known on this day, as ISO 8601: drawn, and reported or imported by then. */
  readonly asOf?: string;
}

/** What verdicts on the circuits of a book rest on, but for the samples. */
export interface FleetOutline {
  readonly carts: readonly Cart[];
  readonly document: RequirementsFile;
  readonly quarantine: readonly KeptQuarantinedRow[];
  /** What people decided about circuits, of these carts or of others. */
  readonly decisions: readonly CircuitDecision[];
  /**
   * What is in quarantine, and samples of files that were taken back or under names that the carts do not have. Rows that a
   * person decided about no longer block a circuit, and the verdicts say so.
   */
  readonly unread: readonly UnreadResult[];
  /** Names of all these carts, of the carts of other bases, and of those that the book knows besides. */
  readonly knownCarts: readonly string[];
  /** How files that take the place of what the book holds differ from it, and what judging as of a day takes for granted. */
  readonly assumptions: readonly Assumption[];
  /** The day whose knowledge is judged with; absent where it is all that the book holds. */
  readonly asOf?: string;
  /** Whether verdicts are kept: none is that is a what-if, as of a day or by another requirement than the book's. */
  readonly isKept: boolean;
  /**
   * The last entry of the book, other than verdicts, before all of this was read from it. Verdicts that would only repeat the
   * last ones are not made again; without this number every circuit is judged in full.
   */
  readonly lastChange?: number;
}

/** The same with the samples. */
export interface FleetOfBook extends FleetFiles, Pick<FleetOutline, "decisions" | "isKept"> {}

/**
 * Reads what verdicts rest on from a book, but for the samples.
 *
 * @param path - the book
 * @param paths - a carts file or a requirements file to judge by instead of the book's own
 * @throws BookError when the book cannot be opened
 * @throws IntakeError when neither the book nor a file gives carts or requirements
 */
export function readFleetOutline(path: string, paths: FleetOfBookPaths = {}): FleetOutline {
  return withBook(path, (book) => readOutline(book, paths));
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
    const { carts, document, quarantine, decisions, unread, knownCarts, assumptions, asOf, isKept } =
      readOutline(book, paths);
    // As the commands find it: a name in other case is the same cart.
    const named = cart === undefined ? undefined : (findNamed(carts, (one) => one.cart, cart)?.cart ?? cart);
    return {
      carts,
      requirements: document.systems,
      document,
      files: [],
      samples: [
        ...book.samples({
          ...(named !== undefined && { cart: named }),
          ...(asOf !== undefined && { knownBy: asOf }),
        }),
      ],
      quarantine,
      repeated: 0,
      unread,
      knownCarts,
      decisions,
      assumptions,
      isKept,
    };
  });
}

/** What trends are taken from. */
export interface HistoryOfBook extends Pick<FleetOutline, "carts" | "knownCarts" | "unread"> {
  readonly samples: readonly Sample[];
  readonly requirements: readonly Requirement[];
}

/**
 * Reads what trends are taken from.
 *
 * @param paths - see {@link readFleetOutline}; a book without a requirement has none
 * @throws BookError and IntakeError as {@link readFleetOutline} does
 */
export function readHistoryOfBook(
  path: string,
  paths: Pick<FleetOfBookPaths, "carts" | "requirement" | "on"> = {},
): HistoryOfBook {
  return withBook(path, (book) => {
    const { carts, otherCarts, knownCarts } = cartsOf(book, undefined, paths);
    const document =
      paths.requirement === undefined ? book.requirements() : readRequirementsFile(paths.requirement);
    return {
      carts,
      knownCarts,
      samples: [...book.samples()],
      requirements: document?.systems ?? [],
      unread: unreadInBook(book, carts, otherCarts, undefined).unread,
    };
  });
}

/** What the cases of all carts have in common. */
export type CaseOutline = Pick<FleetOutline, "document" | "asOf">;

/** Reads from an open book what the verdicts on the circuits of one cart rest on. */
export function cartReader(
  book: Book,
  { document, asOf }: CaseOutline,
  on: string,
): (cart: Cart, unread: Pick<UnreadOfFleet, "of">) => CircuitCase[] {
  return (cart, unread) =>
    casesOfCart(cart, unread, {
      requirements: document.systems,
      samples: [...book.samples({ cart: cart.cart, ...(asOf !== undefined && { knownBy: asOf }) })],
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

/** The carts that circuits of a book are judged by. */
interface CartsOfBook {
  readonly carts: readonly Cart[];
  readonly otherCarts: readonly string[];
  readonly knownCarts: readonly string[];
  /** How a file that takes the place of what the book holds differs from it. */
  readonly changes: readonly Pick<FleetChange, "message">[];
  /** Whether they are those that the book held on the day whose knowledge is judged with. */
  readonly areHeld: boolean;
}

function cartsOf(book: Book, held: HeldOn | undefined, paths: FleetOfBookPaths): CartsOfBook {
  const areHeld = held !== undefined && held.carts.length > 0;
  const own = areHeld ? held : { carts: book.carts(), otherCarts: book.otherCarts() };
  const file =
    paths.carts === undefined ? undefined : parseCartsFile(basename(paths.carts), textOnDisk(paths.carts));
  // Events that the book has kept count also where another file describes the carts.
  const carried = file === undefined ? own.carts : carryCarts(own.carts, file.carts, paths.on ?? localDay());
  const carts = paths.asOf === undefined ? carried : cartsAsOf(paths.asOf, carried);
  if (carts.length === 0) throw new IntakeError(`${book.path}: the book knows no carts; give a carts file`);
  const names = carts.map(({ cart }) => cart);
  const otherCarts = file?.otherCarts ?? own.otherCarts.filter((cart) => !names.includes(cart));
  return {
    carts,
    otherCarts,
    knownCarts: [...names, ...otherCarts, ...(file === undefined ? [] : own.carts.map(({ cart }) => cart))],
    changes:
      file === undefined ? [] : [...cartChanges(own.carts, file.carts), ...notNamed(own.carts, file.carts)],
    areHeld: areHeld && file === undefined,
  };
}

/** The same as {@link readFleetOutline} from an open book. */
export function readOutline(book: Book, paths: FleetOfBookPaths): FleetOutline {
  const { asOf } = paths;
  // Before anything is read: what comes in from now on may be missing.
  const lastChange = book.lastChange().number;
  const held = asOf === undefined ? undefined : book.heldOn(asOf);
  const { carts, otherCarts, knownCarts, changes, areHeld } = cartsOf(book, held, paths);
  const own = held?.requirements ?? book.requirements();
  const file = paths.requirement === undefined ? undefined : readRequirementsFile(paths.requirement);
  const document = file ?? own;
  if (document === undefined) {
    throw new IntakeError(`${book.path}: the book has no requirements; give a requirements file`);
  }
  const isOther = file !== undefined && own !== undefined && !isDeepStrictEqual(file, own);
  return {
    carts,
    document,
    ...unreadInBook(book, carts, otherCarts, asOf),
    decisions: asOf === undefined ? book.decisions() : decisionsAsOf(asOf, book.decisions()),
    knownCarts,
    assumptions: [
      ...[...changes, ...(isOther ? requirementChanges(own, file) : [])].map(differsFromBook),
      ...(asOf === undefined
        ? []
        : assumedAsOf(asOf, book.datedReports(), {
            carts: areHeld,
            requirement: held?.requirements !== undefined || file !== undefined,
          })),
      ...(asOf === undefined && !isOther ? [] : [NOT_KEPT]),
    ],
    ...(asOf !== undefined && { asOf }),
    isKept: asOf === undefined && !isOther,
    lastChange,
  };
}

const NOT_KEPT: Assumption = frozen({
  code: "not-kept",
  message:
    "verdicts as of a day, or by another requirement than the book's, answer a question: they are not kept in the book",
});

function notNamed(own: readonly Cart[], ofFile: readonly Cart[]): Pick<FleetChange, "message">[] {
  const names = new Set(ofFile.map(({ cart }) => cart));
  return own
    .filter(({ cart }) => !names.has(cart))
    .map(({ cart }) => ({ message: `cart ${cart} is not in the file and is not judged` }));
}

function differsFromBook({ message }: Pick<FleetChange, "message">): Assumption {
  return { code: "differs-from-the-book", message: `other than in the book: ${message}` };
}
