import { basename } from "node:path";
import { IntakeError, localDay, type QuarantinedRow } from "../../intake/index.js";
import type { FleetChange } from "../../samples/index.js";
import { beginChainOfBook } from "../chain/begin.js";
import { asEntry, type ChainEntry } from "../chain/entry.js";
import { verifyBook } from "../chain/verify.js";
import { CircuitFinder, requirementsIn } from "../judging/fleet.js";
import {
  BookError,
  type Connection,
  connect,
  disconnect,
  inTransaction,
  numberOf,
  rowsOf,
} from "../storage/database.js";
import { setStraysAside } from "../taking-in/strays.js";
import { joinCarts } from "./join-carts.js";
import {
  type JoinedFile,
  joinFiles,
  joinWithdrawals,
  keepReadings,
  keepWithdrawals,
  refuseAwaited,
} from "./join-files.js";
import { joinRows } from "./join-rows.js";
import { freshSamples, isOnlyOfNames, type JoinedSamples, joinSamples } from "./join-samples.js";
import { joinDecisions, joinVerdicts } from "./join-verdicts.js";
import { type KnownEntries, keepEntries, knownCarts, knownEntries, knownPlaces, News } from "./news.js";

/** How another book is brought in. */
export interface BringInOptions {
  /** Names that mean the same cart in both books, which neither has from the other; "all" where every name does. */
  readonly sameCarts?: readonly string[] | "all";
  /** ISO 8601 day of bringing in; today at the place where the program runs when absent. */
  readonly today?: string;
  /** Who brings it in, for the record. */
  readonly by?: string;
}

/** What another book has brought into ours. */
export interface BroughtBook {
  readonly book: string;
  /** The last entry of the other book. */
  readonly head: ChainEntry;
  /** How many of its entries ours did not know. */
  readonly entries: number;
  /** What changes of the carts. */
  readonly changes: readonly FleetChange[];
  /** Files that our book did not have. */
  readonly files: number;
  readonly samples: JoinedSamples;
  /** Files that the other book has taken back since, and ours with it. */
  readonly withdrawn: readonly string[];
  /** Files to import again here: they name samples of withdrawn files, or have rows that no book read before it knew their cart. */
  readonly importAgain: readonly string[];
  /** How many more rows wait for a person than before. */
  readonly waiting: number;
  /** Rows that came in before our book knew its carts, and that name none of them. */
  readonly setAside: readonly QuarantinedRow[];
  readonly verdicts: number;
  readonly decisions: number;
  /** The requirement of the other book, where it is another than ours: it was not taken. */
  readonly requirementNotTaken?: { readonly document: string; readonly revision: string };
}

/**
 * Brings all that another book holds into ours: all of it or nothing. What ours knows of it already is left out.
 *
 * @param path - the other book
 * @throws IntakeError when the other book cannot be read, does not fit its chain, or says what cannot be put together with ours
 */
export function bringIn(ours: Connection, path: string, options: BringInOptions = {}): BroughtBook {
  const name = basename(path);
  const theirs = readable(() => connect(path, {}, beginChainOfBook));
  try {
    // Another program may write to it: all is read as it was at one moment.
    theirs.exec("BEGIN");
    readable(() => mustFit(theirs, path));
    return inTransaction(ours, () => join(ours, theirs, name, options));
  } finally {
    if (theirs.inTransaction) theirs.exec("ROLLBACK");
    disconnect(theirs);
  }
}

/** An error of the other book is one of a file that cannot be read, not of this book. */
function readable<T>(act: () => T): T {
  try {
    return act();
  } catch (error) {
    if (error instanceof BookError) throw new IntakeError(error.message, { cause: error });
    throw error;
  }
}

/** A verdict of another version that comes out otherwise today is as it was written; "verify" names it. */
function mustFit(theirs: Connection, path: string): void {
  const { fits, damage, misfits } = verifyBook(theirs);
  if (fits) return;
  throw new IntakeError(
    `${path}: ${damage[0] ?? misfits[0]?.message}; nothing of it was brought in. Run "siltbook verify" on it, and take its last backup`,
  );
}

function join(ours: Connection, theirs: Connection, name: string, options: BringInOptions): BroughtBook {
  const { by } = options;
  const entries = knownEntries(ours, theirs);
  const head = entries.all.at(-1) as ChainEntry;
  if (entries.all.every(entries.isKnown)) return nothingNew(name, head);
  refuseAwaited(ours, "this book", name);
  refuseAwaited(theirs, "it", name);
  const news = new News(theirs, entries);
  const waitingBefore = waitingIn(ours);
  const part = <T>(what: string, act: () => T) =>
    asEntry(ours, { kind: "book", by, subject: () => `from ${name}: ${what}` }, act);
  const files = joinFiles(ours, theirs, part);
  const verdicts = joinVerdicts(ours, theirs, news, part);
  const subject = ({ entries }: Pick<BroughtBook, "entries">) =>
    `${name} up to its entry ${head.number}, ${head.hash}: ${entries} entries that were not known here`;
  const brought = asEntry(ours, { kind: "book", by, subject }, () =>
    joinState(ours, theirs, { ...options, name, entries, news, files }),
  );
  return {
    ...{ book: name, head, ...brought, verdicts },
    files: [...files.values()].filter(({ isNew }) => isNew).length,
    importAgain: [...new Set([...brought.importAgain, ...filesOfKnownRows(ours)])],
    waiting: waitingIn(ours) - waitingBefore,
    ...requirementNotTaken(ours, theirs),
  };
}

interface JoinStateOptions extends BringInOptions {
  readonly name: string;
  readonly entries: KnownEntries;
  readonly news: News;
  readonly files: ReadonlyMap<number, JoinedFile>;
}

/** All but the texts of files and the verdicts, in one entry, which also lists the entries of the other book that are known from now on. */
function joinState(
  ours: Connection,
  theirs: Connection,
  { name, entries, news, files, by, today = localDay(), sameCarts = [] }: JoinStateOptions,
) {
  const known = knownCarts(theirs, entries);
  const changes = joinCarts(ours, theirs, { name, known, sameCarts, today });
  const withdrawn = joinWithdrawals(ours, theirs, files, { name, news });
  // A withdrawn file may have been the only one from which ours had a sample that the other book has from another file too.
  const isWanted = withdrawn.length > 0 ? () => true : freshSamples(theirs, news);
  const samples = joinSamples(ours, theirs, files, isWanted);
  const at = new Date().toISOString();
  const places = knownPlaces(theirs, entries);
  joinRows(ours, theirs, files, { name, news, known: places, person: by ?? `book ${name}`, at });
  keepReadings(ours, theirs, files, news);
  keepWithdrawals(ours, theirs, files);
  const decisions = joinDecisions(ours, theirs, news);
  const setAside = new CircuitFinder(ours).knowsCarts ? setStraysAside(ours) : [];
  return {
    entries: keepEntries(ours, theirs, name, entries.all),
    changes,
    samples,
    withdrawn: withdrawn.map(({ file }) => file),
    importAgain: withdrawn.flatMap((file) => file.importAgain),
    setAside,
    decisions,
  };
}

function nothingNew(book: string, head: ChainEntry): BroughtBook {
  return {
    ...{ book, head, entries: 0, changes: [], files: 0 },
    samples: { taken: 0, known: 0, amended: 0, setAside: 0 },
    ...{ withdrawn: [], importAgain: [], waiting: 0, setAside: [], verdicts: 0, decisions: 0 },
  };
}

/** The files of rows that wait only because their circuit was not known, where it is known now. */
function filesOfKnownRows(ours: Connection): string[] {
  const circuits = new CircuitFinder(ours);
  const rows = rowsOf<{ file: string; issues: string; cart: string | null; circuit: string | null }>(
    ours,
    "SELECT file, issues, cart, circuit FROM open_row ORDER BY file_id",
  );
  return rows.flatMap(({ file, issues, cart, circuit }) =>
    circuits.isKnown(cart ?? "", circuit ?? "") && isOnlyOfNames(issues) ? file : [],
  );
}

function waitingIn(db: Connection): number {
  return numberOf(db, "SELECT count(*) FROM open_row");
}

/** The requirement is what our base asks of its fluid, so another one never takes its place. */
function requirementNotTaken(ours: Connection, theirs: Connection): Pick<BroughtBook, "requirementNotTaken"> {
  const [own, other] = [requirementsIn(ours), requirementsIn(theirs)];
  if (other === undefined) return {};
  if (own?.document === other.document && own.revision === other.revision) return {};
  return { requirementNotTaken: { document: other.document, revision: other.revision } };
}
