import { type Connection, readerOf, rowsOf } from "../storage/database.js";
import type { JoinedFile } from "./join-files.js";
import { isOnlyOfNames } from "./join-samples.js";
import { type News, placeOf } from "./news.js";

/** A row of the quarantine of the other book. */
interface TheirRow {
  readonly id: number;
  readonly file_id: number;
  readonly sheet: string | null;
  readonly row: number;
  readonly text: string;
  readonly issues: string;
  readonly cart: string | null;
  readonly circuit: string | null;
  readonly drawn_on: string | null;
  readonly settled_by: number | null;
  readonly sample: string | null;
  readonly reported: string | null;
  /** 1 where it waits for a person in the other book. */
  readonly waits: number;
}

/** A decision about a quarantined row. */
interface RowDecisionRow {
  readonly id: number;
  readonly file_sha256: string;
  readonly sheet: string;
  readonly row: number;
  readonly decision: string;
  readonly person: string;
  readonly reason: string;
  readonly at: string;
}

/** Who brings a book in, and what is new in it. */
export interface JoinRowsOptions {
  readonly name: string;
  readonly news: News;
  /** Places that were in its quarantine when our book knew it. */
  readonly known: ReadonlySet<string>;
  /** For the decision that lets a row wait again. */
  readonly person: string;
  readonly at: string;
}

/**
 * Puts the quarantine of the other book into ours, with what people decided about its rows.
 *
 * A row waits in our book where it waits in one of the two: what a person decided in one book, not knowing the carts of the
 * other, is asked again. The decisions of the other book count for files that our book knows from there only.
 */
export function joinRows(
  ours: Connection,
  theirs: Connection,
  files: ReadonlyMap<number, JoinedFile>,
  options: JoinRowsOptions,
): void {
  const decided = joinDecisions(ours, theirs, files, options.news);
  const find = readerOf<{ id: number; settled_by: number | null; waits: number; is_decided: number }>(
    ours,
    `SELECT id, settled_by, id IN (SELECT id FROM open_row) AS waits,
       decision_id IN (SELECT id FROM quarantine_decision WHERE decision <> 'reopened') AS is_decided
     FROM quarantined_row WHERE file_id = ? AND sheet IS ? AND row = ?`,
  );
  const insert = ours.prepare(
    `INSERT INTO quarantine (file_id, sheet, row, text, issues, cart, circuit, drawn_on, settled_by, sample, reported)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const settle = ours.prepare("UPDATE quarantine SET settled_by = ? WHERE id = ?");
  const reopen = ours.prepare(
    `INSERT INTO quarantine_decision (file_sha256, sheet, row, decision, person, reason, at)
     VALUES (?, ?, ?, 'reopened', ?, ?, ?)`,
  );
  const rows = rowsOf<TheirRow>(
    theirs,
    `SELECT id, file_id, sheet, row, text, issues, cart, circuit, drawn_on, settled_by, sample, reported,
       id IN (SELECT id FROM open_row) AS waits FROM quarantine ORDER BY id`,
  );
  for (const entry of rows) {
    const { sheet, row, text, issues, cart, circuit, drawn_on, sample, reported } = entry;
    const file = files.get(entry.file_id) as JoinedFile;
    const place = placeOf(file.sha256, sheet, row);
    // Reading a file again gives its rows new numbers; that asks nothing again.
    const isFresh = !options.known.has(place) || decided.has(place);
    if (!isFresh && !file.isNew && !options.news.has("quarantine", entry.id)) continue;
    const settledBy = settlingFile(files, entry.settled_by);
    const known = find.first(file.ours, sheet, row);
    if (known === undefined) {
      // Our book has read the row otherwise. It waits for a person, but for a row whose circuit only the other book lacks.
      if (!file.isNew && (!isFresh || entry.waits === 0 || isOnlyOfNames(issues))) continue;
      insert.run(
        ...[file.ours, sheet, row, text, issues, cart, circuit, drawn_on, settledBy, sample, reported],
      );
    } else if (isFresh && entry.waits === 1 && known.is_decided === 1) {
      const reason = `it waits in ${options.name}`;
      reopen.run(file.sha256, sheet ?? "", row, options.person, reason, options.at);
    } else if (known.waits === 1 && known.settled_by === null && settledBy !== null) {
      settle.run(settledBy, known.id);
    }
  }
}

/** The file whose row took the place of another one, where all that it says is in our book. */
function settlingFile(files: ReadonlyMap<number, JoinedFile>, settledBy: number | null): number | null {
  const file = settledBy === null ? undefined : files.get(settledBy);
  return file === undefined || file.counts.setAside > 0 ? null : file.ours;
}

/** @returns the places about which people have decided in the other book since ours knew it */
function joinDecisions(
  ours: Connection,
  theirs: Connection,
  files: ReadonlyMap<number, JoinedFile>,
  news: News,
): Set<string> {
  const select = "SELECT id, file_sha256, sheet, row, decision, person, reason, at FROM quarantine_decision";
  const all = rowsOf<RowDecisionRow>(theirs, `${select} ORDER BY id`);
  const made = new Set(all.map(keyOfDecision));
  const own = rowsOf<RowDecisionRow>(ours, `${select} ORDER BY id`);
  const ownKeys = new Set(own.map(keyOfDecision));
  /** Rows about which a person has decided in our book. */
  const decidedHere = new Set(own.filter((row) => !made.has(keyOfDecision(row))).map(placeOfDecision));
  const bySha = new Map<string, JoinedFile[]>();
  for (const file of files.values()) bySha.set(file.sha256, [...(bySha.get(file.sha256) ?? []), file]);
  const keep = ours.prepare(
    `INSERT INTO quarantine_decision (file_sha256, sheet, row, decision, person, reason, at)
     VALUES (?, ?, ?, ?, ?, ?, ?)`,
  );
  const fresh = all.filter(({ id }) => news.has("quarantine_decision", id));
  for (const row of fresh) {
    const of = bySha.get(row.file_sha256) ?? [];
    const isTheirs = of.every(({ isNewContent, isFollowed }) => isNewContent || isFollowed);
    if (!isTheirs || decidedHere.has(placeOfDecision(row)) || ownKeys.has(keyOfDecision(row))) continue;
    const { file_sha256, sheet, row: place, decision, person, reason, at } = row;
    keep.run(file_sha256, sheet, place, decision, person, reason, at);
  }
  return new Set(fresh.map(placeOfDecision));
}

function keyOfDecision({ file_sha256, sheet, row, decision, person, reason, at }: RowDecisionRow): string {
  return JSON.stringify([file_sha256, sheet, row, decision, person, reason, at]);
}

function placeOfDecision({ file_sha256, sheet, row }: RowDecisionRow): string {
  return placeOf(file_sha256, sheet, row);
}
