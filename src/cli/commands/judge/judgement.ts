import type { KeptVerdict } from "../../../book/index.js";
import {
  type CircuitDecision,
  cartsTogether,
  casesOf,
  type FleetCase,
  holdsElsewhere,
  isAllFit,
  type JudgedCart,
  type JudgedCircuit,
  judgeCarts,
  recordOf,
  standsAs,
  type UnreadResult,
  unreadOfFleet,
} from "../../../fitness/index.js";
import { type Collection, type FleetFiles, type LabFile, readFleetFiles } from "../../../intake/index.js";
import { type Cart, findNamed, type RequirementsFile } from "../../../samples/index.js";
import { readDay } from "../../day.js";
import { type ExitCode, UsageError } from "../../io.js";

/** Options of the commands that judge. */
export interface JudgeOptions {
  readonly book?: string;
  readonly carts?: string;
  readonly requirement?: string;
  /** Column map of the laboratory files. */
  readonly map?: string;
  /** Only the circuits of this cart. */
  readonly cart?: string;
  readonly on?: string;
  readonly json?: boolean;
  /** All there is to say, not only what to do. */
  readonly explain?: boolean;
}

/** Everything that was read and judged. */
export interface Judgement {
  readonly on: string;
  readonly requirements: RequirementsFile;
  readonly files: readonly LabFile[];
  readonly collection: Collection;
  readonly circuits: readonly JudgedCircuit[];
  readonly carts: readonly JudgedCart[];
  /** Rows that can be given to no cart: what every "fit" has to be read with. */
  readonly rowsOfNoCart: readonly UnreadResult[];
  /** The verdicts as the book keeps them, in the order of the circuits; none without a book. */
  readonly kept: readonly KeptRecord[];
  /** What holds circuits that were not judged; none without a book. */
  readonly heldElsewhere: readonly CircuitDecision[];
}

/** A verdict in the book, with the one of the report before. */
export interface KeptRecord {
  readonly verdict: KeptVerdict;
  readonly before?: KeptVerdict;
}

/** Reads the files that the options name, judges every circuit, and keeps the verdicts where there is a book. */
export async function readAndJudge(
  sampleFiles: readonly string[],
  options: JudgeOptions,
): Promise<Judgement> {
  const on = readDay(options.on);
  const read = await readFleet(sampleFiles, options, on);
  const fleet = { ...read, carts: cartsAskedFor(read, options.cart), on };
  const circuits = judgeCarts(fleet);
  return {
    on,
    requirements: read.document,
    files: read.files,
    collection: read,
    circuits,
    carts: cartsTogether(circuits, fleet.requirements),
    rowsOfNoCart: unreadOfFleet(read.unread, read.carts, read.knownCarts).ofNoCart,
    kept: options.book === undefined ? [] : await keep(options.book, fleet, circuits, read.document),
    heldElsewhere: holdsElsewhere(
      read.decisions,
      circuits.map(({ verdict }) => verdict),
      isWhole(options),
    ),
  };
}

/** All carts, or the one that was named. */
export function cartsAskedFor(
  { carts }: { readonly carts: readonly Cart[] },
  name: string | undefined,
): readonly Cart[] {
  if (name === undefined) return carts;
  const found = findNamed(carts, ({ cart }) => cart, name);
  if (found !== undefined) return [found];
  const known = carts.map(({ cart }) => cart).join(", ");
  throw new UsageError(`--cart: there is no cart "${name}"; known are ${known}`);
}

async function keep(
  path: string,
  fleet: FleetCase,
  circuits: readonly JudgedCircuit[],
  document: RequirementsFile,
): Promise<KeptRecord[]> {
  const records = casesOf(fleet).map((input, index) =>
    recordOf(input, (circuits[index] as JudgedCircuit).verdict, document),
  );
  const { Book } = await import("../../../book/index.js");
  const book = Book.open(path);
  try {
    return book.keepVerdicts(records).map((verdict) => {
      const before = book.verdictBefore(verdict);
      return { verdict, ...(before && { before }) };
    });
  } finally {
    book.close();
  }
}

/** Whether every circuit of the book was to be judged. */
export function isWhole({ cart, carts }: JudgeOptions): boolean {
  return cart === undefined && carts === undefined;
}

/** From the book when one is named; otherwise from files, which hold no decisions. */
export async function readFleet(
  sampleFiles: readonly string[],
  options: JudgeOptions,
  on: string,
): Promise<FleetFiles & Required<Pick<FleetCase, "decisions">>> {
  const { book, carts, requirement, map, cart } = options;
  if (book === undefined) {
    if (carts === undefined || requirement === undefined || sampleFiles.length === 0) {
      throw new UsageError("expected --carts, --requirement and laboratory files, or --book");
    }
    const read = await readFleetFiles({
      carts,
      requirement,
      samples: sampleFiles,
      ...(map !== undefined && { map }),
    });
    return { ...read, decisions: [] };
  }
  if (map !== undefined) throw new UsageError("--map goes with laboratory files; give it to siltbook import");
  if (sampleFiles.length > 0) {
    throw new UsageError(
      "expected --book or laboratory files, not both; import the files into the book first",
    );
  }
  // The database is loaded for a book alone.
  const { readFleetOfBook } = await import("../../../book/index.js");
  return readFleetOfBook(book, { ...pathsIn(options), on }, cart);
}

/** The files that take the place of what the book holds. */
export function pathsIn({ carts, requirement }: JudgeOptions): Pick<JudgeOptions, "carts" | "requirement"> {
  return { ...(carts !== undefined && { carts }), ...(requirement !== undefined && { requirement }) };
}

/** 1 when a circuit is not fit or held by a person, or a row is in quarantine or can be given to no cart. */
export function exitCodeOf({ circuits, collection, heldElsewhere, rowsOfNoCart }: Judgement): ExitCode {
  return isAllFit(circuits.map(standsAs), collection.quarantine, heldElsewhere, rowsOfNoCart) ? 0 : 1;
}
