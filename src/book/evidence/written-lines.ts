import { type ChainEntry, type EntryKind, piecesIn } from "../chain/entry.js";
import { brokenLinks, type Misfit } from "../chain/links.js";
import type { PieceOfEntry } from "../chain/misfits.js";
import { type Piece, RowHasher } from "../chain/rows.js";
import { chainedTable } from "../chain/tables.js";
import { WrittenRows } from "../chain/written.js";
import type { Connection } from "../storage/database.js";

/** Rows that one entry wrote into one table, as the chain hashes them. */
export interface WrittenLines {
  readonly entry: number;
  readonly table: string;
  /** Whether all rows of the entry are here, so that their hash can be compared; otherwise only those that are wanted. */
  readonly isWhole: boolean;
  /** In the order in which they were hashed; null for a row that the entry deleted. */
  readonly lines: readonly (string | null)[];
}

/** What an entry wrote, table by table. */
export interface EntryBody {
  readonly entry: number;
  readonly pieces: readonly Piece[];
}

/** A part of the chain of a book: every entry, and for some of them what they wrote. */
export interface ChainPart {
  readonly entries: readonly ChainEntry[];
  readonly bodies: readonly EntryBody[];
  readonly lines: readonly WrittenLines[];
}

/** The first entry of a book from before the chain covers all rows of it: more than this is not taken whole. */
const MAX_CHARACTERS = 64_000_000;

/** A row of a table, by its key. */
export interface WantedRow {
  readonly table: "verdict" | "file" | "column_map" | "row_text";
  readonly key: number;
}

/** Tables of what people decided about circuits. A part holds all of their rows, so that no decision can be left out. */
const DECISIONS: readonly string[] = ["override", "lifting"];

/** What entries that may have written a decision wrote is in every part. */
const MAY_DECIDE: ReadonlySet<EntryKind> = new Set(["begin", "override", "lifting", "book"]);

/** The entries that wrote some rows, what else these entries wrote, and the rows as they were written; and all decisions. */
export function chainPartOf(
  db: Connection,
  entries: readonly ChainEntry[],
  wanted: readonly WantedRow[],
): ChainPart {
  const lines = new Map<string, WrittenLines>();
  const bodies = new Map<number, EntryBody>();
  const addBody = (entry: number): readonly Piece[] => {
    const body = bodies.get(entry) ?? {
      entry,
      pieces: piecesIn(db, "entry = ?", entry).map(({ entry: _, ...one }) => one),
    };
    bodies.set(entry, body);
    return body.pieces;
  };
  for (const row of wanted) {
    const piece = pieceThatInserted(db, row);
    if (piece === undefined) continue;
    const name = `${piece.entry} ${row.table}`;
    const own = wanted.filter(({ table, key }) => table === row.table && isWithin(piece, key));
    if (!lines.has(name)) lines.set(name, linesOf(db, piece, new Set(own.map(({ key }) => key))));
    addBody(piece.entry);
  }
  for (const { number: entry } of entries.filter(({ kind }) => MAY_DECIDE.has(kind))) {
    for (const piece of addBody(entry).filter(({ table }) => DECISIONS.includes(table))) {
      lines.set(`${entry} ${piece.table}`, linesOf(db, { ...piece, entry }, new Set()));
    }
  }
  const byEntry = (a: { entry: number }, b: { entry: number }) => a.entry - b.entry;
  return {
    entries,
    bodies: [...bodies.values()].sort(byEntry),
    lines: [...lines.values()].sort((a, b) => byEntry(a, b) || (a.table < b.table ? -1 : 1)),
  };
}

function pieceThatInserted(db: Connection, { table, key }: WantedRow): PieceOfEntry | undefined {
  return piecesIn(db, "of_table = ? AND first <= ? AND last >= ?", table, key, key).at(-1);
}

function isWithin({ first, last }: Piece, key: number): boolean {
  return key >= first && key <= last;
}

function linesOf(db: Connection, piece: PieceOfEntry, wanted: ReadonlySet<number | string>): WrittenLines {
  const all: (string | null)[] = [];
  const some: string[] = [];
  let characters = 0;
  for (const { key, line } of new WrittenRows(db, chainedTable(piece.table)).of(piece.entry, piece)) {
    if (line !== undefined && wanted.has(key)) some.push(line);
    characters += line?.length ?? 0;
    if (characters <= MAX_CHARACTERS) all.push(line ?? null);
  }
  const isWhole = characters <= MAX_CHARACTERS;
  return { entry: piece.entry, table: piece.table, isWhole, lines: isWhole ? all : some };
}

/** What does not fit in a part of a chain: its entries, and the rows that are here as a whole. */
export function misfitsOfPart({ entries, bodies, lines }: ChainPart): {
  readonly links: readonly Misfit[];
  readonly rows: readonly Misfit[];
} {
  const bodyOf = new Map(bodies.map(({ entry, pieces }) => [entry, pieces]));
  const known = new Set(entries.map(({ number }) => number));
  // The hash of an entry covers its body, so a body of no entry could say anything.
  const strays = bodies.filter(({ entry }) => !known.has(entry));
  return {
    links: [
      ...brokenLinks(entries, (entry) => bodyOf.get(entry)),
      ...strays.map(({ entry }) => ({ entry, message: `entry ${entry} is not in the chain` })),
    ],
    rows: [
      ...lines.flatMap((written) => faultOfLines(written, bodyOf.get(written.entry)) ?? []),
      ...entries.flatMap((entry) => faultOfDecisions(entry, bodyOf.get(entry.number), lines) ?? []),
    ],
  };
}

function faultOfDecisions(
  { number: entry, kind }: ChainEntry,
  pieces: readonly Piece[] | undefined,
  lines: readonly WrittenLines[],
): Misfit | undefined {
  const isAbsent = (table: string) => !lines.some((one) => one.entry === entry && one.table === table);
  const isIncomplete =
    pieces === undefined
      ? MAY_DECIDE.has(kind)
      : pieces.some(({ table }) => DECISIONS.includes(table) && isAbsent(table));
  const message = `entry ${entry} may have written a decision, and its rows are not all here`;
  return isIncomplete ? { entry, message } : undefined;
}

function faultOfLines(
  { entry, table, isWhole, lines }: WrittenLines,
  pieces: readonly Piece[] | undefined,
): Misfit | undefined {
  const piece = pieces?.find((one) => one.table === table);
  if (piece === undefined) return { entry, message: `entry ${entry} wrote no rows of table ${table}` };
  if (!isWhole) {
    const message = `rows of table ${table} cannot be compared: entry ${entry} wrote more of them than are here`;
    return { entry, message };
  }
  const hasher = new RowHasher(table);
  for (const line of lines) hasher.add(line ?? undefined);
  if (hasher.end().sha256 === piece.sha256) return undefined;
  return { entry, message: `rows of table ${table} are not as entry ${entry} wrote them` };
}
