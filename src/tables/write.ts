import { stringify } from "csv-stringify/sync";
import { BYTE_ORDER_MARK, GUARD_TITLE, guarded } from "../intake/index.js";
import type { Cell, Table } from "./table.js";

/**
 * A table as delimited text with commas. A text that a spreadsheet would run as a formula gets an apostrophe before it;
 * a column of its own says so, and by it intake takes the apostrophes away again.
 */
export function tableAsCsv({ columns, rows }: Table): string {
  const texts = rows.map((row) => row.map((cell) => (typeof cell === "string" ? guarded(cell) : cell)));
  const isGuarded = texts.some((row, index) => row.some((cell, at) => cell !== rows[index]?.[at]));
  const names = columns.map(({ name }) => name);
  const table: Cell[][] = isGuarded
    ? [[...names, GUARD_TITLE], ...texts.map((row) => [...row, "yes"])]
    : [names, ...texts];
  return BYTE_ORDER_MARK + stringify(table);
}

/** Tables as a workbook, a sheet for each. Texts are cells of text, which no spreadsheet runs as a formula. */
export async function tablesAsWorkbook(tables: readonly Table[]): Promise<Uint8Array> {
  const { default: writeSheets } = await import("write-excel-file/node");
  const sheets = tables.map(({ name, columns, rows }) => ({
    sheet: name,
    stickyRowsCount: 1,
    data: [
      columns.map((column) => ({ value: column.name, type: String, fontWeight: "bold" as const })),
      ...rows.map((row) => row.map(sheetCell)),
    ],
  }));
  return writeSheets(sheets).toBuffer();
}

function sheetCell(cell: Cell) {
  if (cell === undefined) return null;
  return typeof cell === "number" ? { value: cell, type: Number } : { value: forXml(cell), type: String };
}

/** What XML cannot hold is written as the format of workbooks says: `_x000B_`. */
function forXml(text: string): string {
  return text.replace(/[^\P{Cc}\t\n\r]|[\p{Cs}\ufffe\uffff]/gu, (character) => {
    return `_x${character.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}_`;
  });
}

/** A table as Parquet: texts as UTF-8, numbers as doubles, and null where nothing is known. */
export async function tableAsParquet({ columns, rows }: Table): Promise<Uint8Array> {
  const { parquetWriteBuffer } = await import("hyparquet-writer");
  const buffer = parquetWriteBuffer({
    columnData: columns.map(({ name, type }, index) => ({
      name,
      type: type === "number" ? ("DOUBLE" as const) : ("STRING" as const),
      nullable: true,
      data: rows.map((row) => row[index] ?? null),
    })),
  });
  return new Uint8Array(buffer);
}
