import { grouped } from "../../numeric/index.js";
import { type Connection, readerOf, rowsOf } from "../storage/database.js";
import { COLUMNS, inserterInto, type RowOf } from "../storage/insert.js";
import type { JoinedFile } from "./join-files.js";
import { isOnlyOfNames } from "./join-samples.js";
import { type News, placeOf } from "./news.js";

/** A row of the quarantine of the other book. */
interface TheirRow extends RowOf<"quarantine"> {
  readonly id: number;
  readonly file_id: number;
  readonly sheet: string | null;
  readonly row: number;
  readonly issues: string;
  readonly settled_by: number | null;
  /** 1 where it waits for a person in the other book. */
  readonly waits: number;
}

/** A decision about a quarantined row. */
interface RowDecisionRow extends RowOf<"quarantine_decision"> {
  readonly id: number;
  readonly file_sha256: string;
  readonly sheet: string;
  readonly row: number;
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
 * A row waits in our book where it waits in one of the two: who decided about it in one book did not know the carts of the
 * other, so a person decides again. The decisions of the other book count for files that our book knows from there only.
 */
export function joinRows(
  ours: Connection,
  theirs: Connection,
  files: ReadonlyMap<number, JoinedFile>,
  options: JoinRowsOptions,
): void {
  const decided = joinRowDecisions(ours, theirs, files, options.news);
  const find = readerOf<{ id: number; settled_by: number | null; waits: number; is_decided: number }>(
    ours,
    `SELECT id, settled_by, id IN (SELECT id FROM open_row) AS waits,
       decision_id IN (SELECT id FROM quarantine_decision WHERE decision <> 'reopened') AS is_decided
     FROM quarantined_row WHERE file_id = ? AND sheet IS ? AND row = ?`,
  );
  const insert = inserterInto(ours, "quarantine");
  const settle = ours.prepare("UPDATE quarantine SET settled_by = ? WHERE id = ?");
  const decide = inserterInto(ours, "quarantine_decision");
  const rows = rowsOf<TheirRow>(
    theirs,
    `SELECT id, ${COLUMNS.quarantine}, id IN (SELECT id FROM open_row) AS waits FROM quarantine ORDER BY id`,
  );
  for (const entry of rows) {
    const { sheet, row, issues } = entry;
    const file = files.get(entry.file_id) as JoinedFile;
    const place = placeOf(file.sha256, sheet, row);
    // Reading a file again gives its rows new numbers; that does not make them new.
    const isFresh = !options.known.has(place) || decided.has(place);
    if (!isFresh && !file.isNew && !options.news.has("quarantine", entry.id)) continue;
    const settledBy = settlingFile(files, entry.settled_by);
    const known = find.first(file.ours, sheet, row);
    if (known === undefined) {
      // Our book has read the row otherwise. It waits for a person, but for a row whose circuit only the other book lacks.
      if (!file.isNew && (!isFresh || entry.waits === 0 || isOnlyOfNames(issues))) continue;
      insert({ ...entry, file_id: file.ours, settled_by: settledBy });
    } else if (isFresh && entry.waits === 1 && known.is_decided === 1) {
      const { person, at, name } = options;
      const reopened = { decision: "reopened", person, reason: `it waits in ${name}`, at };
      decide({ file_sha256: file.sha256, sheet: sheet ?? "", row, ...reopened });
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
function joinRowDecisions(
  ours: Connection,
  theirs: Connection,
  files: ReadonlyMap<number, JoinedFile>,
  news: News,
): Set<string> {
  const select = `SELECT id, ${COLUMNS.quarantine_decision} FROM quarantine_decision ORDER BY id`;
  const all = rowsOf<RowDecisionRow>(theirs, select);
  const made = new Set(all.map(keyOfDecision));
  const own = rowsOf<RowDecisionRow>(ours, select);
  const ownKeys = new Set(own.map(keyOfDecision));
  /** Rows about which a person has decided in our book. */
  const decidedHere = new Set(own.filter((row) => !made.has(keyOfDecision(row))).map(placeOfDecision));
  const bySha = grouped(files.values(), ({ sha256 }) => sha256);
  const keep = inserterInto(ours, "quarantine_decision");
  const fresh = all.filter(({ id }) => news.has("quarantine_decision", id));
  for (const row of fresh) {
    const of: readonly JoinedFile[] = bySha.get(row.file_sha256) ?? [];
    const isTheirs = of.every(({ isNewContent, isFollowed }) => isNewContent || isFollowed);
    if (!isTheirs || decidedHere.has(placeOfDecision(row)) || ownKeys.has(keyOfDecision(row))) continue;
    keep(row);
  }
  return new Set(fresh.map(placeOfDecision));
}

function keyOfDecision(row: RowDecisionRow): string {
  const { id: _, ...decision } = row;
  return JSON.stringify(decision);
}

function placeOfDecision({ file_sha256, sheet, row }: RowDecisionRow): string {
  return placeOf(file_sha256, sheet, row);
}
