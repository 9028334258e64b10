import { deflateRawSync, inflateRawSync } from "node:zlib";
import { type Connection, firstOf } from "./database.js";

/** Rows that are kept together in one packed piece. */
const ROWS_TOGETHER = 500;

/** Keeps the text of every row of a file, packed, in the order it is read. */
export class RowTextKeeper {
  readonly #insert;
  #sheet = "";
  #firstRow = 1;
  #texts: string[] = [];

  constructor(
    db: Connection,
    private readonly fileId: number,
  ) {
    this.#insert = db.prepare(
      "INSERT OR IGNORE INTO row_text (file_id, sheet, first_row, body) VALUES (?, ?, ?, ?)",
    );
  }

  keep(sheet: string, row: number, text: string): void {
    if (
      sheet !== this.#sheet ||
      row !== this.#firstRow + this.#texts.length ||
      this.#texts.length >= ROWS_TOGETHER
    ) {
      this.flush();
      this.#sheet = sheet;
      this.#firstRow = row;
    }
    this.#texts.push(text);
  }

  flush(): void {
    if (this.#texts.length > 0) this.#pack(this.#sheet, this.#firstRow, this.#texts);
    this.#texts = [];
  }

  #pack(sheet: string, firstRow: number, texts: readonly string[]): void {
    this.#insert.run(this.fileId, sheet, firstRow, deflateRawSync(JSON.stringify(texts), { level: 1 }));
  }
}

/**
 * The text of one row of a file, as it stood there.
 *
 * @returns the text, or undefined when the file has no such row
 */
export function rowTextOf(db: Connection, fileId: number, sheet: string, row: number): string | undefined {
  const found = firstOf<{ first_row: number; body: Buffer }>(
    db,
    "SELECT first_row, body FROM row_text WHERE file_id = ? AND sheet = ? AND first_row <= ? ORDER BY first_row DESC LIMIT 1",
    ...[fileId, sheet, row],
  );
  if (found === undefined) return undefined;
  const texts = JSON.parse(inflateRawSync(found.body).toString("utf8")) as string[];
  return texts[row - found.first_row];
}
