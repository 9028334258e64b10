import { createHash } from "node:crypto";
import { isDeepStrictEqual } from "node:util";
import {
  type QuarantinedRow,
  type QuarantinePlace,
  replacesRow,
  type TakenReport,
} from "../../intake/index.js";
import { otherCartsIn } from "../judging/fleet.js";
import { type Connection, eachOf, rowsOf } from "../storage/database.js";
import { given } from "../storage/given.js";
import { quarantineInserter } from "./quarantine-rows.js";

/** A report shows up to this many quarantined rows; all of them are in the book. */
const MAX_SHOWN = 10_000;

/** The reason that is kept where a row comes back marked as no result. */
export const MARKED_DISCARD = 'marked "discard" there';

type Issues = QuarantinedRow["issues"];

type OpenRow = Readonly<Record<"sample" | "cart" | "circuit" | "drawnOn" | "reported", string | null>> & {
  readonly id: number;
  readonly file_id: number;
  readonly text: string;
  readonly issues: string;
};

const SELECT_OPEN = `SELECT id, file_id, sample, cart, circuit, drawn_on AS drawnOn, text, issues, reported FROM open_row
  WHERE file_id < ?`;

/** Keeps the quarantined rows of one file, and settles those of other files that come back corrected. */
export class QuarantineKeeper {
  readonly #keep;
  /** Rows of this file that another file has settled already, and which. */
  readonly #settled: ReadonlyMap<string, number>;
  /** Rows of this file that a person has decided about. */
  readonly #decided: ReadonlySet<string>;
  readonly #shown: QuarantinedRow[] = [];
  /** Sample numbers of open rows of files that came before. */
  readonly #waiting: ReadonlySet<string>;
  /** Open rows of those files whose sample could not be read. */
  readonly #nameless: readonly OpenRow[];
  /** The files of open rows that came before; made when it is first asked for. */
  #named: ReadonlyMap<string, number> | undefined;
  readonly #otherCarts: ReadonlySet<string | undefined>;
  #count = 0;
  #ofOtherCarts = 0;
  #settledAgain = 0;

  constructor(
    private readonly db: Connection,
    private readonly fileId: number,
  ) {
    this.#otherCarts = new Set(otherCartsIn(db));
    const settled = rowsOf<{ sheet: string | null; row: number; settled_by: number | null }>(
      db,
      `SELECT sheet, row, settled_by FROM quarantined_row
       WHERE file_id = ? AND (settled_by IS NOT NULL OR decision_id IN (SELECT id FROM quarantine_decision WHERE decision <> 'reopened'))`,
      fileId,
    );
    const keys = settled.map(({ sheet, row, settled_by }) => [keyOf(sheet, row), settled_by] as const);
    this.#settled = new Map(keys.filter((entry): entry is [string, number] => entry[1] !== null));
    this.#decided = new Set(keys.filter(([, settledBy]) => settledBy === null).map(([key]) => key));
    // Rows that were set aside earlier are read again: a cart may have become known since.
    db.prepare("DELETE FROM quarantine WHERE file_id = ?").run(fileId);
    const waiting = rowsOf<{ sample: string }>(
      db,
      "SELECT DISTINCT sample FROM open_row WHERE file_id < ? AND sample IS NOT NULL",
      fileId,
    );
    this.#waiting = new Set(waiting.map(({ sample }) => sample));
    this.#nameless = rowsOf<OpenRow>(db, `${SELECT_OPEN} AND sample IS NULL`, fileId);
    this.#keep = quarantineInserter(db);
  }

  /** How many rows were set aside and wait for a person. */
  get count(): number {
    return this.#count;
  }

  /** How many rows were set aside and are of carts of other bases. */
  get ofOtherCarts(): number {
    return this.#ofOtherCarts;
  }

  /** How many rows would be set aside, but have come back from an earlier quarantine and are settled. */
  get settledAgain(): number {
    return this.#settledAgain;
  }

  /** The first of them. */
  get shown(): readonly QuarantinedRow[] {
    return this.#shown;
  }

  setAside(rows: readonly QuarantinedRow[]): void {
    for (const entry of rows) {
      const { cart } = entry;
      const key = keyOf(entry.sheet, entry.row);
      const settledBy = this.#settled.get(key);
      const isDecided = this.#decided.has(key);
      const waitsIn = isDecided ? undefined : this.#waitsIn(entry);
      if (this.#otherCarts.has(cart)) this.#ofOtherCarts += 1;
      else if (waitsIn === undefined && (settledBy !== undefined || isDecided)) this.#settledAgain += 1;
      else {
        this.#count += 1;
        if (this.#shown.length < MAX_SHOWN) this.#shown.push(entry);
      }
      this.#keep(this.fileId, entry, settledBy ?? waitsIn);
    }
  }

  /**
   * The earlier file in which the same row waits, so that one row does not wait twice: it has come back as it was, or still
   * with a fault, or a later file repeats it exactly. It must say the same of whose result it is, because it waits
   * for those circuits.
   */
  #waitsIn({ sample, cart, circuit, drawnOn, text, issues, reported, cameFrom }: QuarantinedRow) {
    const who = [sample, cart, circuit, drawnOn].map((name) => name ?? null);
    const { sha256Start = "", sheet = null } = cameFrom ?? {};
    for (const row of cameFrom?.rows ?? []) {
      const before = rowsOf<OpenRow>(
        this.db,
        `${SELECT_OPEN} AND row = ? AND sheet IS ? AND file_id IN (SELECT id FROM file WHERE substr(sha256, 1, ?) = ?)`,
        ...[this.fileId, row, sheet, sha256Start.length, sha256Start],
      );
      const same = before.find((open) => isDeepStrictEqual(whoOf(open), who));
      if (same !== undefined) return same.file_id;
    }
    if (sample === undefined || !this.#waiting.has(sample)) return undefined;
    this.#named ??= this.#namedRows();
    return this.#named.get(keyOfRow(who, text, asText(reported), issues));
  }

  /** The files of the open rows that came before, by what such a row says: a file may repeat one number in every row. */
  #namedRows(): ReadonlyMap<string, number> {
    const files = new Map<string, number>();
    for (const open of eachOf<OpenRow>(this.db, `${SELECT_OPEN} AND sample IS NOT NULL`, this.fileId)) {
      const key = keyOfRow(whoOf(open), open.text, open.reported, JSON.parse(open.issues) as Issues);
      if (!files.has(key)) files.set(key, open.file_id);
    }
    return files;
  }

  /** Rows of another file have come back: corrected and taken, or discarded. */
  settle({ sha256Start, sheet, rows }: QuarantinePlace): void {
    for (const row of rows) {
      this.db
        .prepare(
          `UPDATE quarantine SET settled_by = ? WHERE row = ? AND sheet IS ? AND settled_by IS NULL
             AND file_id IN (SELECT id FROM file WHERE substr(sha256, 1, ?) = ?)`,
        )
        .run(this.fileId, row, sheet ?? null, sha256Start.length, sha256Start);
    }
  }

  /** Rows of another file were marked as no results; that is kept as a decision, so that verdicts can say it. */
  discard(place: QuarantinePlace, by: string): void {
    for (const row of place.rows) {
      this.db
        .prepare(
          `INSERT INTO quarantine_decision (file_sha256, sheet, row, decision, person, reason, at)
           SELECT DISTINCT sha256, ifnull(sheet, ''), row, 'discarded', ?, ?, ? FROM open_row
           WHERE row = ? AND sheet IS ? AND substr(sha256, 1, ?) = ?`,
        )
        .run(
          by,
          MARKED_DISCARD,
          new Date().toISOString(),
          row,
          place.sheet ?? null,
          place.sha256Start.length,
          place.sha256Start,
        );
    }
    this.settle(place);
  }

  /** A report was taken in full: the open rows of earlier files that it replaces are settled. */
  settleReplaced(taken: TakenReport): void {
    const { sample } = taken.sample;
    const named = this.#waiting.has(sample)
      ? rowsOf<OpenRow>(
          this.db,
          `${SELECT_OPEN} AND sample = ? AND reported IS NOT NULL`,
          this.fileId,
          sample,
        )
      : [];
    const nameless = this.#nameless.filter(({ text }) => text.includes(sample));
    for (const row of [...named, ...nameless]) {
      if (!replacesRow(quarantinedOf(row), taken)) continue;
      this.db.prepare("UPDATE quarantine SET settled_by = ? WHERE id = ?").run(this.fileId, row.id);
    }
  }
}

function quarantinedOf({ issues, reported, ...row }: OpenRow): Parameters<typeof replacesRow>[0] {
  return {
    ...given(row),
    issues: JSON.parse(issues) as Issues,
    ...(reported !== null && { reported: JSON.parse(reported) as Record<string, unknown> }),
  };
}

function asText(reported: QuarantinedRow["reported"]): string | null {
  return reported === undefined ? null : JSON.stringify(reported);
}

function whoOf({ sample, cart, circuit, drawnOn }: OpenRow): (string | null)[] {
  return [sample, cart, circuit, drawnOn];
}

/** A row with whose it is and what is wrong with it, wherever it stands. */
function keyOfRow(
  who: readonly (string | null)[],
  text: string,
  reported: string | null,
  issues: Issues,
): string {
  const faults = issues.map(({ code, column, value }) => [code, column, value]);
  return createHash("sha256")
    .update(JSON.stringify([who, text, reported, faults]))
    .digest("base64");
}

function keyOf(sheet: string | null | undefined, row: number): string {
  return `${sheet ?? ""}\n${row}`;
}
