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
}

/** What was found of a book against its chain. */
export interface BookVerification {
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
  verdicts: { kept: 0, same: 0, sameOfOthers: {} },
  withdrawn: [],
});

/**
 * Checks a book against its chain: the entries, every row that they wrote, every verdict computed again, and the file itself.
 *
 * A book whose rows and chain were both written again by one program fits; only a head that was printed elsewhere shows that.
 *
 * @param isComputed - whether verdicts that a version made are computed again; all are when absent
 */
export function verifyBook(
  db: Connection,
  isComputed: (version: string) => boolean = () => true,
): BookVerification {
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
  const misfits = brokenLinks(entries, (entry) => byEntry.get(entry) ?? []);
  for (const table of CHAINED_TABLES) {
    misfits.push(...attempt(() => [...misfitsIn(db, table, byTable.get(table.name) ?? [], numbered)], []));
  }
  const again = attempt(
    () => recomputeAll(db, isComputed, byTable.get("verdict") ?? [], numbered),
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
  isComputed: (version: string) => boolean,
  pieces: readonly PieceOfEntry[],
  entries: ReadonlyMap<number, ChainEntry>,
): { verdicts: RecomputedVerdicts; misfits: Misfit[] } {
  const verdicts = rowsOf<{ id: number; cart: string; circuit: string; on: string; version: string }>(
    db,
    'SELECT id, cart, circuit, judged_on AS "on", version FROM verdict ORDER BY id',
  ).filter(({ version }) => isComputed(version));
  const misfits: Misfit[] = [];
  const sameOfOthers: Record<string, number> = {};
  let same = 0;
  for (const { id, cart, circuit, on, version } of verdicts) {
    const fault = faultOfVerdict(db, id, version);
    if (fault === undefined) {
      same += 1;
      if (version !== VERSION) sameOfOthers[version] = (sameOfOthers[version] ?? 0) + 1;
      continue;
    }
    const entry = pieces.find(({ first, last }) => id >= first && id <= last)?.entry ?? 0;
    const written = entries.get(entry);
    const where = written === undefined ? "" : `${describeEntry(written)}: `;
    misfits.push({
      entry,
      message: `${where}verdict ${id} of cart ${cart}, circuit ${circuit}, judged for ${on}: ${fault}`,
    });
  }
  return { verdicts: { kept: verdicts.length, same, sameOfOthers }, misfits };
}

function faultOfVerdict(db: Connection, id: number, version: string): string | undefined {
  try {
    if (recomputeVerdict(db, id).kind === "same") return undefined;
    return version === VERSION
      ? "computed again from its inputs, it comes out otherwise"
      : `siltbook ${version} computed it; computed again by ${VERSION}, it comes out otherwise`;
  } catch (error) {
    if (error instanceof BookError) return error.message;
    return `what it rests on cannot be read (${(error as Error).message})`;
  }
}
