import { type ChainEntry, hashOfHeader, hashOfPieces, NO_ENTRY } from "./entry.js";
import type { Piece } from "./rows.js";

/** Something that is not as the chain says. */
export interface Misfit {
  /** The entry that does not fit; the last one for what no entry wrote. */
  readonly entry: number;
  /** In words. */
  readonly message: string;
}

/** A clock is put right by minutes now and then; more was a wrong date. */
const CLOCK_STEP_MS = 5 * 60 * 1000;

/**
 * What is wrong with the entries themselves: their order, their hashes, and the list of what each wrote.
 *
 * @param piecesOf - undefined for an entry of which only the header is at hand
 */
export function brokenLinks(
  entries: readonly ChainEntry[],
  piecesOf: (entry: number) => readonly Piece[] | undefined,
): Misfit[] {
  if (entries.length === 0) return [{ entry: 0, message: "the book has no chain: all its entries are gone" }];
  return entries.flatMap((entry, place) => {
    const before = entries[place - 1];
    const expected = (before?.number ?? 0) + 1;
    if (entry.number !== expected) {
      const gone =
        entry.number - 1 === expected
          ? `entry ${expected} is`
          : `entries ${expected} to ${entry.number - 1} are`;
      return [{ entry: expected, message: `${gone} gone` }];
    }
    return faultsOf(entry, before, piecesOf(entry.number)).map((fault) => ({
      entry: entry.number,
      message: `${describeEntry(entry)}: ${fault}`,
    }));
  });
}

function faultsOf(
  entry: ChainEntry,
  before: ChainEntry | undefined,
  pieces: readonly Piece[] | undefined,
): string[] {
  const faults: string[] = [];
  if (entry.hash !== hashOfHeader(entry)) {
    faults.push("its date, name, subject or hash was changed after it was written");
  }
  if (entry.previous !== (before?.hash ?? NO_ENTRY)) faults.push("it does not follow the entry before it");
  if (pieces !== undefined && entry.bodySha256 !== hashOfPieces(pieces))
    faults.push("its list of what it wrote was changed");
  if (before !== undefined && Date.parse(before.at) - Date.parse(entry.at) > CLOCK_STEP_MS) {
    faults.push(`it is dated before the entry that it follows (${before.at}): the clock was set back`);
  }
  return faults;
}

/** An entry as an auditor finds it. */
export function describeEntry({ number, kind, by, subject, at }: ChainEntry): string {
  const who = by === null ? "" : ` by ${by}`;
  return `entry ${number} of ${at.slice(0, 10)}, ${kind}${who} (${subject})`;
}
