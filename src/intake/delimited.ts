import { parse } from "csv-parse/sync";
import { IntakeError } from "./issue.js";

/** One row of a delimited file. */
export interface DelimitedRow {
  /** Row as a person counts it; the header is row 1. */
  readonly row: number;
  readonly cells: readonly string[];
  /** The row as it stands in the file. */
  readonly text: string;
}

/** A delimited file, split into cells and nothing more. */
export interface DelimitedFile {
  readonly separator: string;
  readonly header: readonly string[];
  readonly rows: readonly DelimitedRow[];
}

const SEPARATORS = [";", "\t", ","] as const;

/**
 * Splits a delimited text file. The separator is the one that splits the first line into the most cells.
 *
 * @param file - name for messages
 * @param bytes - UTF-8, with or without byte order mark
 * @returns header and rows; rows without any text are left out
 * @throws IntakeError when the file is not UTF-8, is empty, or has a quotation mark that is never closed
 */
export function splitDelimited(file: string, bytes: Uint8Array): DelimitedFile {
  const text = decode(file, bytes);
  const firstLine = text.split(/\r?\n/, 1)[0] ?? "";
  const separator =
    [...SEPARATORS].sort((a, b) => firstLine.split(b).length - firstLine.split(a).length)[0] ?? ",";
  const records = split(file, text, separator);
  const [header, ...rest] = records.map(({ record, raw }, index) => ({
    row: index + 1,
    cells: record.map((cell) => cell.trim()),
    text: raw.replace(/\r?\n$/, ""),
  }));
  if (header === undefined || header.cells.every((cell) => cell === "")) {
    throw new IntakeError(`${file}: expected a header in the first row, found none`);
  }
  const rows = rest.filter((row) => row.cells.some((cell) => cell !== ""));
  return { separator, header: header.cells, rows };
}

function decode(file: string, bytes: Uint8Array): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch (error) {
    throw new IntakeError(`${file}: expected UTF-8 text, found bytes that are not`, { cause: error });
  }
}

function split(file: string, text: string, separator: string): { record: string[]; raw: string }[] {
  try {
    return parse(text, { delimiter: separator, relax_column_count: true, raw: true }) as unknown as {
      record: string[];
      raw: string;
    }[];
  } catch (error) {
    throw new IntakeError(`${file}: ${(error as Error).message}`, { cause: error });
  }
}
