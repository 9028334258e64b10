import type { FleetOfBook, KeptVerdict } from "../../../book/index.js";
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
  withMeasuredSpread,
} from "../../../fitness/index.js";
import { type Collection, type FleetFiles, type LabFile, readFleetFiles } from "../../../intake/index.js";
import { compareLaboratories } from "../../../laboratories/index.js";
import { findNamed, type RequirementsFile } from "../../../samples/index.js";
import type { UnitSystem } from "../../../units/index.js";
import { cartsInUnits } from "../../carts-in-units.js";
import { readDay, readDayOf } from "../../day.js";
import { type ExitCode, UsageError } from "../../io.js";
import { readUnits } from "../../units-option.js";

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
  /** Only what was known on this day. */
  readonly asOf?: string;
  /** Compare with the verdicts of this day. */
  readonly since?: string;
  /** Whether the spread that the laboratories of the book show is taken where it is wider than the requirement's. */
  readonly measuredSpread?: boolean;
  /** Units of the answer. */
  readonly units?: string;
  readonly json?: boolean;
  /** All there is to say, not only what to do. */
  readonly explain?: boolean;
}

/** Everything that was read and judged. */
export interface Judgement {
  readonly on: string;
  /** The day whose knowledge was judged with; absent where it is all that is known. */
  readonly asOf?: string;
  readonly requirements: RequirementsFile;
  readonly files: readonly LabFile[];
  readonly collection: Collection;
  readonly circuits: readonly JudgedCircuit[];
  readonly carts: readonly JudgedCart[];
  /** Rows that can be given to no cart: what every "fit" has to be read with. */
  readonly rowsOfNoCart: readonly UnreadResult[];
  /** The verdicts as the book keeps them, in the order of the circuits; none without a book. */
  readonly kept: readonly KeptRecord[];
  /** Head of the chain of the book that they are in. */
  readonly head?: string;
  /** Why the verdicts are not in the book: another program holds it for writing. */
  readonly notKept?: string;
  /** What holds circuits that were not judged; none without a book. */
  readonly heldElsewhere: readonly CircuitDecision[];
}

/** A verdict in the book, absent for a what-if, with the one that it is compared with. */
export interface KeptRecord {
  readonly verdict?: KeptVerdict;
  readonly before?: KeptVerdict;
}

/** Reads the files that the options name, judges every circuit, and keeps the verdicts where there is a book. */
export async function readAndJudge(
  sampleFiles: readonly string[],
  options: JudgeOptions,
): Promise<Judgement> {
  const { on, asOf, since } = readDays(options);
  const units = readUnits(options.units);
  const stated = await readFleet(sampleFiles, options, { on, ...(asOf !== undefined && { asOf }) });
  const read = options.measuredSpread === true ? await widened(stated, options) : stated;
  const unreadOf = unreadOfFleet(read.unread, read.carts, read.knownCarts);
  const carts = cartsAskedFor(read, options.cart);
  const fleet = { ...read, carts, on, ...(carts === read.carts && { unreadOf }) };
  const { circuits, shown } = judgeInUnits(fleet, units);
  return {
    on,
    ...(asOf !== undefined && { asOf }),
    requirements: read.document,
    files: read.files,
    collection: read,
    circuits: shown,
    carts: cartsTogether(shown, fleet.requirements),
    rowsOfNoCart: unreadOf.ofNoCart,
    ...(options.book === undefined
      ? { kept: [] }
      : await keep(options.book, read, { fleet, circuits, since })),
    heldElsewhere: holdsElsewhere(
      read.decisions,
      circuits.map(({ verdict }) => verdict),
      isWhole(options),
    ),
  };
}

/**
 * Judges a fleet, and shows the verdicts in the units that a person asks for. The book keeps the words of its carts file, and
 * what people decided was decided on them: what stands does not depend on the units.
 */
export function judgeInUnits(
  fleet: FleetCase,
  units: UnitSystem | undefined,
): { readonly circuits: readonly JudgedCircuit[]; readonly shown: readonly JudgedCircuit[] } {
  const circuits = judgeCarts(fleet);
  if (units === undefined) return { circuits, shown: circuits };
  const inUnits = judgeCarts({ ...fleet, carts: cartsInUnits(fleet.carts, units) });
  return {
    circuits,
    shown: inUnits.map(({ standing: _inOtherWords, ...judged }, index) => {
      const standing = circuits[index]?.standing;
      return standing === undefined ? judged : { ...judged, standing };
    }),
  };
}

/** All carts, or the one that was named. */
export function cartsAskedFor<C extends { readonly cart: string }>(
  { carts }: { readonly carts: readonly C[] },
  name: string | undefined,
): readonly C[] {
  if (name === undefined) return carts;
  const names = [...new Set(carts.map(({ cart }) => cart))];
  const found = findNamed(names, (cart) => cart, name);
  if (found !== undefined) return carts.filter(({ cart }) => cart === found);
  throw new UsageError(`--cart: there is no cart "${name}"; known are ${names.join(", ")}`);
}

async function keep(
  path: string,
  { document, isKept }: Pick<FleetOfBook, "document" | "isKept">,
  judged: {
    readonly fleet: FleetCase;
    readonly circuits: readonly JudgedCircuit[];
    readonly since: string | undefined;
  },
): Promise<Pick<Judgement, "kept" | "head" | "notKept">> {
  const { fleet, circuits, since } = judged;
  const records = casesOf(fleet).map((input, index) =>
    recordOf(input, (circuits[index] as JudgedCircuit).verdict, document),
  );
  const { Book, isBusy, keptRecords } = await import("../../../book/index.js");
  const book = Book.open(path);
  try {
    const kept = keptRecords(book, book.packVerdicts(records), { isKept, since }).map(
      ({ kept: verdict, before }) => ({ ...(verdict && { verdict }), ...(before && { before }) }),
    );
    return { kept, head: book.head().hash };
  } catch (error) {
    // A verdict must not wait for a program that was stopped while it was writing.
    if (!isBusy(error)) throw error;
    return { kept: [], notKept: (error as Error).message };
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
  days: { readonly on: string; readonly asOf?: string },
): Promise<FleetFiles & Required<Pick<FleetCase, "decisions">> & Pick<FleetOfBook, "isKept">> {
  const { book, carts, requirement, map, cart, since } = options;
  if (book === undefined) {
    if (since !== undefined)
      throw new UsageError("--since compares with verdicts that a book keeps; expected --book");
    if (carts === undefined || requirement === undefined || sampleFiles.length === 0) {
      throw new UsageError("expected --carts, --requirement and laboratory files, or --book");
    }
    const read = await readFleetFiles({
      carts,
      requirement,
      samples: sampleFiles,
      ...(map !== undefined && { map }),
      ...(days.asOf !== undefined && { asOf: days.asOf }),
    });
    return { ...read, decisions: [], isKept: false };
  }
  if (map !== undefined) throw new UsageError("--map goes with laboratory files; give it to siltbook import");
  if (sampleFiles.length > 0) {
    throw new UsageError(
      "expected --book or laboratory files, not both; import the files into the book first",
    );
  }
  // The database is loaded for a book alone.
  const { readFleetOfBook } = await import("../../../book/index.js");
  return readFleetOfBook(book, { ...pathsIn(options), ...days }, cart);
}

/** The fleet with the spread that the laboratories of its book show; such verdicts are a what-if and are not kept. */
async function widened<F extends Pick<FleetOfBook, "carts" | "requirements" | "isKept">>(
  fleet: F,
  { book: path, asOf }: JudgeOptions,
): Promise<F> {
  if (path === undefined)
    throw new UsageError("--measured-spread compares the laboratories of a book; expected --book");
  if (asOf !== undefined)
    throw new UsageError("--measured-spread goes by all of the book; it does not go with --as-of");
  const { Book, laboratorySamplesOf } = await import("../../../book/index.js");
  const book = Book.open(path);
  try {
    return { ...withMeasuredSpread(fleet, compareLaboratories(laboratorySamplesOf(book))), isKept: false };
  } finally {
    book.close();
  }
}

/** The day of judging, the day whose knowledge is judged with, and the day that is compared with. */
export function readDays({ on, asOf, since }: Pick<JudgeOptions, "on" | "asOf" | "since">) {
  return {
    on: readDay(on ?? readDayOf("--as-of", asOf)),
    asOf: readDayOf("--as-of", asOf),
    since: readDayOf("--since", since),
  };
}

/** The files that take the place of what the book holds. */
export function pathsIn({ carts, requirement }: JudgeOptions): Pick<JudgeOptions, "carts" | "requirement"> {
  return { ...(carts !== undefined && { carts }), ...(requirement !== undefined && { requirement }) };
}

/** 1 when a circuit is not fit or held by a person, or a row is in quarantine or can be given to no cart. */
export function exitCodeOf(judgement: Judgement): ExitCode {
  const { circuits, collection, heldElsewhere, rowsOfNoCart, notKept } = judgement;
  if (notKept !== undefined) return 1;
  return isAllFit(circuits.map(standsAs), collection.quarantine, heldElsewhere, rowsOfNoCart) ? 0 : 1;
}
