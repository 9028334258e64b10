import { basename } from "node:path";
import { isDeepStrictEqual } from "node:util";
import {
  type CircuitCase,
  type CircuitDecision,
  casesOfCart,
  type UnreadOfFleet,
  type UnreadResult,
  unreadOfFleet,
} from "../../fitness/index.js";
import {
  type FleetFiles,
  IntakeError,
  localDay,
  type NamedSample,
  parseCartsFile,
  parseRequirementsFile,
  textOnDisk,
  unreadResults,
} from "../../intake/index.js";
import { type Assumption, describePlaces } from "../../provenance/index.js";
import {
  assumedAsOf,
  type Cart,
  carryCarts,
  cartChanges,
  cartsAsOf,
  type FleetChange,
  findNamed,
  type Origin,
  type RequirementsFile,
  requirementChanges,
} from "../../samples/index.js";
import { Book } from "../book.js";
import type { KeptQuarantinedRow, RowDecision, SettledRow } from "../taking-in/open-rows.js";
import type { Withdrawal } from "../taking-in/standing-withdrawals.js";
import { decisionsAsOf, quarantineAsOf } from "./known-by.js";

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
   * What is in quarantine, and samples under names that the carts do not have. Rows that a person decided about are in the
   * way no more, and the verdicts say so.
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
    const { carts, document, quarantine, decisions, unread, knownCarts, assumptions, asOf, isKept } =
      outlineOf(book, paths);
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

/**
 * The same cart by cart, for fleets of any size: only the samples of one cart are in memory at a time.
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
    const outline = outlineOf(book, { on, ...paths });
    const casesOfOne = cartReader(book, outline, on);
    const unread = unreadOfFleet(outline.unread, outline.carts, outline.knownCarts);
    for (const cart of outline.carts) yield casesOfOne(cart, unread);
  } finally {
    book.close();
  }
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

function outlineOf(book: Book, paths: FleetOfBookPaths): FleetOutline {
  const { asOf } = paths;
  const held = asOf === undefined ? undefined : book.heldOn(asOf);
  const isHeld = {
    carts: held !== undefined && held.carts.length > 0,
    requirement: held?.requirements !== undefined,
  };
  const ownCarts = held !== undefined && isHeld.carts ? held.carts : book.carts();
  const ownDocument = held?.requirements ?? book.requirements();
  const cartsFile =
    paths.carts === undefined ? undefined : parseCartsFile(basename(paths.carts), textOnDisk(paths.carts));
  const fileCarts = cartsFile?.carts;
  // Events that the book has kept count also where another file describes the carts.
  const carriedCarts =
    fileCarts === undefined ? ownCarts : carryCarts(ownCarts, fileCarts, paths.on ?? localDay());
  const carts = asOf === undefined ? carriedCarts : cartsAsOf(asOf, carriedCarts);
  const fileDocument =
    paths.requirement === undefined
      ? undefined
      : parseRequirementsFile(basename(paths.requirement), textOnDisk(paths.requirement));
  const document = fileDocument ?? ownDocument;
  if (carts.length === 0) throw new IntakeError(`${book.path}: the book knows no carts; give a carts file`);
  if (document === undefined) {
    throw new IntakeError(`${book.path}: the book has no requirements; give a requirements file`);
  }
  const changes = [
    ...(fileCarts === undefined
      ? []
      : [...cartChanges(ownCarts, fileCarts), ...notNamed(ownCarts, fileCarts)]),
    ...(fileDocument === undefined || ownDocument === undefined
      ? []
      : requirementChanges(ownDocument, fileDocument)),
  ];
  const isOther =
    fileDocument !== undefined && ownDocument !== undefined && !isDeepStrictEqual(fileDocument, ownDocument);
  const names = carts.map(({ cart }) => cart);
  const ownOthers = held !== undefined && isHeld.carts ? held.otherCarts : book.otherCarts();
  const otherCarts = cartsFile?.otherCarts ?? ownOthers.filter((cart) => !names.includes(cart));
  const rows = { open: book.quarantine(), settled: book.settledRows() };
  const { open, settled } = asOf === undefined ? rows : quarantineAsOf(asOf, rows.open, rows.settled);
  // Another carts file may have another list.
  const hidden = settled.filter(({ ofOtherBase }) => ofOtherBase);
  const quarantine = [...open, ...hidden].filter(({ cart = "" }) => !otherCarts.includes(cart));
  const named = book.namedSamples([...quarantine, ...settled]);
  return {
    carts,
    document,
    quarantine,
    decisions: asOf === undefined ? book.decisions() : decisionsAsOf(asOf, book.decisions()),
    unread: [
      ...unreadResults(quarantine, named),
      ...settled.flatMap((row) => decidedResult(row, named)),
      ...book.withdrawals().flatMap((withdrawal) => withdrawnResults(withdrawal, asOf)),
      ...book.samplesOfNoCircuit(carts).filter(({ drawnOn = "" }) => drawnOn <= (asOf ?? drawnOn)),
    ],
    knownCarts: [
      ...names,
      ...otherCarts,
      ...(fileCarts === undefined ? [] : ownCarts.map(({ cart }) => cart)),
    ],
    assumptions: [
      ...changes.map(differsFromBook),
      ...(asOf === undefined
        ? []
        : assumedAsOf(asOf, book.datedReports(), {
            carts: isHeld.carts && fileCarts === undefined,
            requirement: isHeld.requirement || fileDocument !== undefined,
          })),
      ...(asOf === undefined && !isOther ? [] : [NOT_KEPT]),
    ],
    ...(asOf !== undefined && { asOf }),
    isKept: asOf === undefined && !isOther,
  };
}

const NOT_KEPT: Assumption = {
  code: "not-kept",
  message:
    "verdicts as of a day, or by another requirement than the book's, answer a question: they are not kept in the book",
};

/** A row that a person decided about; none where a later file took its place. */
function decidedResult({ decided, ...row }: SettledRow, named: readonly NamedSample[]): UnreadResult[] {
  if (decided === undefined) return [];
  return unreadResults([row], named).map((unread) => ({ ...unread, decided: describeDecision(decided) }));
}

/**
 * Samples of a file that was taken back. They block a circuit while another file reports them that has to be imported again,
 * and as of a day before they were taken back: they were known then, and are not read any more.
 */
function withdrawnResults({ at, reports, ...by }: Withdrawal, asOf: string | undefined): UnreadResult[] {
  const decided = describeDecision({ decision: "withdrawn", at, ...by });
  const isLater = asOf !== undefined && at.slice(0, 10) > asOf;
  return reports
    .filter(({ sample: { drawnOn } }) => drawnOn <= (asOf ?? drawnOn))
    .map(({ sample: { cart, circuit, sample, drawnOn, origin }, awaited }) => {
      const [{ file, rows }] = origin as [Origin];
      const where = `${file} ${describePlaces(rows.slice(0, 1))}`;
      const settles = isLater
        ? "it was known on that day: judge as of a later one"
        : awaited && `${awaited} reports it too: import that file again`;
      return {
        ...{ cart, circuit, sample, drawnOn, where },
        ...(settles === undefined ? { decided } : { withdrawn: settles }),
      };
    });
}

function describeDecision({ decision, person, at, reason }: RowDecision): string {
  return `${decision} by ${person} on ${at.slice(0, 10)}: ${reason}`;
}

function notNamed(own: readonly Cart[], ofFile: readonly Cart[]): Pick<FleetChange, "message">[] {
  const names = new Set(ofFile.map(({ cart }) => cart));
  return own
    .filter(({ cart }) => !names.has(cart))
    .map(({ cart }) => ({ message: `cart ${cart} is not in the file and is not judged` }));
}

function differsFromBook({ message }: Pick<FleetChange, "message">): Assumption {
  return { code: "differs-from-the-book", message: `other than in the book: ${message}` };
}
