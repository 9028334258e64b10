import type { VerdictName } from "../../fitness/index.js";
import { grouped } from "../../numeric/index.js";
import { frozen, VERSION } from "../../provenance/index.js";
import { recomputeVerdict } from "../judging/verdicts.js";
import { BookError, type Connection, rowsOf } from "../storage/database.js";
import { rowsAstray, unreadableIn } from "../storage/soundness.js";
import { type Withdrawal, withdrawalsIn } from "../taking-in/standing-withdrawals.js";
import { type ChainEntry, entriesIn, piecesIn } from "./entry.js";
import { brokenLinks, describeEntry, type Misfit } from "./links.js";
import { misfitsIn, type PieceOfEntry } from "./misfits.js";
import { CHAINED_TABLES } from "./tables.js";

/** What became of the verdicts of a book when they were computed again. */
export interface RecomputedVerdicts {
  /** How many there are. */
  readonly kept: number;
  /** How many the installed version computes the same, to the last byte. */
  readonly same: number;
  /** Of these, how many another version had made, by version. */
  readonly sameOfOthers: Readonly<Record<string, number>>;
  /** Verdicts of another version that are as they were written and come out otherwise today. */
  readonly otherwise: readonly VerdictComputedOtherwise[];
}

/** A verdict as another version computed it, and as the installed version does. */
export interface VerdictComputedOtherwise {
  readonly number: number;
  /** The entry that wrote it. */
  readonly entry: number;
  readonly cart: string;
  readonly circuit: string;
  /** The day it was judged for. */
  readonly on: string;
  /** The version that it names. */
  readonly version: string;
  readonly recorded: VerdictName;
  /** The same word as recorded where only reasons or figures differ; null where the installed version cannot compute it. */
  readonly today: VerdictName | null;
}

/** What was found of a book against its chain. */
export interface BookVerification {
  /** Whether all is as it was written. A verdict of another version that comes out otherwise today does not change that. */
  readonly fits: boolean;
  readonly entries: number;
  /** Where the chain begins. */
  readonly begins: ChainEntry | undefined;
  readonly head: ChainEntry | undefined;
  /** What does not fit, in the order of the entries; the first is the one to look at. */
  readonly misfits: readonly Misfit[];
  /** What is wrong with the file itself. */
  readonly damage: readonly string[];
  readonly verdicts: RecomputedVerdicts;
  /** Files that were taken back. */
  readonly withdrawn: readonly Omit<Withdrawal, "reports">[];
}

const NOTHING_READ: BookVerification = frozen({
  fits: false,
  entries: 0,
  begins: undefined,
  head: undefined,
  misfits: [],
  damage: [],
  verdicts: { kept: 0, same: 0, sameOfOthers: {}, otherwise: [] },
  withdrawn: [],
});

/**
 * Checks a book against its chain: the entries, every row that they wrote, every verdict computed again, and the file itself.
 *
 * A book whose rows and chain were both written again by one program fits; only a head that was printed elsewhere shows that.
 */
export function verifyBook(db: Connection): BookVerification {
  const damage: string[] = [];
  const attempt = <T>(act: () => T, otherwise: T): T => {
    try {
      return act();
    } catch (error) {
      damage.push((error as Error).message);
      return otherwise;
    }
  };
  damage.push(...attempt(() => unreadableIn(db), []).map((line) => line.replace(/\s+/g, " ")));
  // The driver ends the program on a text whose bytes are no text, and a broken page may be read without end.
  if (damage.length > 0) return { ...NOTHING_READ, damage };
  damage.push(...attempt(() => rowsAstray(db), []));
  const entries = attempt(() => entriesIn(db, "TRUE ORDER BY number"), []);
  const pieces = attempt(() => piecesIn(db, "TRUE"), []);
  const byEntry = grouped(pieces, ({ entry }) => entry);
  const byTable = grouped(pieces, ({ table }) => table);
  const numbered = new Map(entries.map((entry) => [entry.number, entry]));
  const links = brokenLinks(entries, (entry) => byEntry.get(entry) ?? []);
  const misfits = [...links];
  for (const table of CHAINED_TABLES) {
    misfits.push(...attempt(() => [...misfitsIn(db, table, byTable.get(table.name) ?? [], numbered)], []));
  }
  // Who changes a verdict and mends its own entry leaves a broken link after it, so then no entry is trusted.
  const doubtful = new Set(misfits.map(({ entry }) => entry));
  const isAsWritten = ({ number }: ChainEntry) => links.length === 0 && !doubtful.has(number);
  const again = attempt(
    () => recomputeAll(db, byTable.get("verdict") ?? [], numbered, isAsWritten),
    undefined,
  );
  misfits.push(...(again?.misfits ?? []));
  misfits.sort((a, b) => a.entry - b.entry);
  const withdrawn = attempt(() => withdrawalsIn(db), []).map(({ reports: _, ...withdrawal }) => withdrawal);
  return {
    fits: misfits.length === 0 && damage.length === 0,
    entries: entries.length,
    begins: entries[0],
    head: entries.at(-1),
    misfits,
    damage,
    verdicts: again?.verdicts ?? NOTHING_READ.verdicts,
    withdrawn,
  };
}

/** The entry whose hash begins with some digits; undefined when the book has none. */
export function entryWithHash(db: Connection, digits: string): ChainEntry | undefined {
  return entriesIn(db, "TRUE").find(({ hash }) => hash.startsWith(digits));
}

function recomputeAll(
  db: Connection,
  pieces: readonly PieceOfEntry[],
  entries: ReadonlyMap<number, ChainEntry>,
  isAsWritten: (entry: ChainEntry) => boolean,
): { verdicts: RecomputedVerdicts; misfits: Misfit[] } {
  const verdicts = rowsOf<Omit<VerdictComputedOtherwise, "entry" | "today">>(
    db,
    'SELECT id AS number, cart, circuit, judged_on AS "on", version, verdict AS recorded FROM verdict ORDER BY id',
  );
  const misfits: Misfit[] = [];
  const otherwise: VerdictComputedOtherwise[] = [];
  const sameOfOthers: Record<string, number> = {};
  let same = 0;
  for (const verdict of verdicts) {
    const { number, cart, circuit, on, version } = verdict;
    const again = computedAgain(db, number);
    if (again.is === "same") {
      same += 1;
      if (version !== VERSION) sameOfOthers[version] = (sameOfOthers[version] ?? 0) + 1;
      continue;
    }
    const entry = pieces.find(({ first, last }) => number >= first && number <= last)?.entry ?? 0;
    const written = entries.get(entry);
    // What another version computed is no fault of the book, as long as nothing speaks against the row.
    if (again.is !== "damaged" && version !== VERSION && written !== undefined && isAsWritten(written)) {
      otherwise.push({ ...verdict, entry, today: again.is === "other" ? again.verdict : null });
      continue;
    }
    const where = written === undefined ? "" : `${describeEntry(written)}: `;
    misfits.push({
      entry,
      message: `${where}verdict ${number} of cart ${cart}, circuit ${circuit}, judged for ${on}: ${faultOf(again, version)}`,
    });
  }
  return { verdicts: { kept: verdicts.length, same, sameOfOthers, otherwise }, misfits };
}

type ComputedAgain =
  | { readonly is: "same" }
  | { readonly is: "other"; readonly verdict: VerdictName }
  | { readonly is: "damaged" | "not computed"; readonly why: string };

function computedAgain(db: Connection, number: number): ComputedAgain {
  try {
    const again = recomputeVerdict(db, number);
    return again.kind === "same"
      ? { is: "same" }
      : { is: "other", verdict: JSON.parse(again.recomputed).verdict };
  } catch (error) {
    const { message } = error as Error;
    return error instanceof BookError
      ? { is: "damaged", why: message }
      : { is: "not computed", why: `what it rests on cannot be read (${message})` };
  }
}

function faultOf(again: Exclude<ComputedAgain, { is: "same" }>, version: string): string {
  if (again.is !== "other") return again.why;
  return version === VERSION
    ? "computed again from its inputs, it comes out otherwise"
    : `siltbook ${version} computed it; computed again by ${VERSION}, it comes out otherwise`;
}
