import type { QuarantinedRow, QuarantinePlace } from "../intake/index.js";
import { type Connection, rowsOf } from "./database.js";

/** A report shows so many quarantined rows; all of them are in the book. */
const MOST_SHOWN = 10_000;

/** Keeps the quarantined rows of one file, and settles those of other files that come back corrected. */
export class QuarantineKeeper {
  readonly #insert;
  /** Rows of this file that another file has settled already, and which. */
  readonly #settled: ReadonlyMap<string, number>;
  readonly #shown: QuarantinedRow[] = [];
  #count = 0;
  #settledAgain = 0;

  constructor(
    private readonly db: Connection,
    private readonly fileId: number,
  ) {
    const settled = rowsOf<{ sheet: string | null; row: number; settled_by: number }>(
      db,
      "SELECT sheet, row, settled_by FROM quarantine WHERE file_id = ? AND settled_by IS NOT NULL",
      fileId,
    );
    this.#settled = new Map(settled.map(({ sheet, row, settled_by }) => [keyOf(sheet, row), settled_by]));
    // What was set aside when the file was read before is judged anew: a cart may have become known since.
    db.prepare("DELETE FROM quarantine WHERE file_id = ?").run(fileId);
    this.#insert = db.prepare(
      `INSERT INTO quarantine (file_id, sheet, row, text, issues, cart, circuit, drawn_on, settled_by)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    );
  }

  /** How many rows were set aside and wait for a person. */
  get count(): number {
    return this.#count;
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
      const { sheet, row, text, issues, cart, circuit, drawnOn } = entry;
      const settledBy = this.#settled.get(keyOf(sheet, row));
      if (settledBy !== undefined) this.#settledAgain += 1;
      else {
        this.#count += 1;
        if (this.#shown.length < MOST_SHOWN) this.#shown.push(entry);
      }
      this.#insert.run(
        this.fileId,
        sheet ?? null,
        row,
        text,
        JSON.stringify(issues),
        cart ?? null,
        circuit ?? null,
        drawnOn ?? null,
        settledBy ?? null,
      );
    }
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
}

function keyOf(sheet: string | null | undefined, row: number): string {
  return `${sheet ?? ""}\n${row}`;
}
