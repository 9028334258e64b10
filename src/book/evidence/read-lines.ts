import { inflateRawSync } from "node:zlib";
import { asVerdict, type KeptVerdict, type VerdictRow } from "../judging/verdicts.js";
import { COLUMNS } from "../storage/insert.js";
import type { ChainPart } from "./written-lines.js";

/** A verdict as an entry wrote it. */
export interface WrittenVerdict extends Omit<KeptVerdict, "id" | "overrides"> {
  readonly number: number;
  /** The entry that wrote it. */
  readonly entry: number;
  /** The verdict with its reasons, as text. */
  readonly result: string;
}

/** A file as an entry wrote it. */
export interface WrittenFile {
  readonly number: number;
  readonly file: string;
  readonly sha256: string;
  readonly bytes: number;
  readonly readAs: string;
  /** The column map that it was read with, as text; absent where there was none. */
  readonly map?: string;
  /** Of the file, every row as it stood there, by sheet and row. */
  readonly rows: readonly WrittenRow[];
}

/** A row of a file as it stood there. */
export interface WrittenRow {
  /** Of a workbook; "" elsewhere. */
  readonly sheet: string;
  readonly row: number;
  readonly text: string;
}

/** Packed texts unpack to no more than this together: the largest file of a laboratory has less. */
const MAX_UNPACKED = 512_000_000;

/**
 * The verdict of a number, as the entry that is here wrote it.
 *
 * @throws RangeError when it is not here, or is not what siltbook writes
 */
export function writtenVerdict(part: ChainPart, number: number): WrittenVerdict {
  const { entry, values } = lineOf(part, "verdict", number);
  const { result, ...row } = rowOf<VerdictRow & { readonly result: string }>("verdict", values);
  return { number, entry, ...asVerdict(row), result: unpacked(result, MAX_UNPACKED) };
}

/** The values of a line by the names of their columns, in the order in which the chain hashes them. */
export function rowOf<R>(table: "verdict" | "override", values: readonly unknown[]): R {
  const columns = `id, ${COLUMNS[table]}`.split(", ");
  return Object.fromEntries(columns.map((name, index) => [name, values[index]])) as R;
}

/**
 * The file of a number with the texts of its rows, as the entries that are here wrote them.
 *
 * @throws RangeError when it is not here, or is not what siltbook writes
 */
export function writtenFile(part: ChainPart, number: number): WrittenFile {
  const [, sha256, mapNumber, file, bytes, readAs] = lineOf(part, "file", number).values as [
    ...[number: number, sha256: string, map: number | null, file: string, bytes: number, readAs: string],
  ];
  const map = mapNumber === null ? undefined : lineOf(part, "column_map", mapNumber).values[3];
  return {
    number,
    file,
    sha256,
    bytes,
    readAs,
    ...(typeof map === "string" && { map }),
    rows: rowsOfFile(part, number),
  };
}

function rowsOfFile(part: ChainPart, number: number): WrittenRow[] {
  let left = MAX_UNPACKED;
  const rows = linesOf(part, "row_text").flatMap(({ values }) => {
    const [id, sheet, firstRow, body] = values as [number, string, number, string];
    if (id !== number) return [];
    const text = unpacked(body, left);
    left -= text.length;
    return (JSON.parse(text) as string[]).map((one, index) => ({ sheet, row: firstRow + index, text: one }));
  });
  return rows.sort((a, b) => (a.sheet === b.sheet ? a.row - b.row : a.sheet < b.sheet ? -1 : 1));
}

/** A row of a table, and the entry that wrote it. */
interface ReadLine {
  readonly entry: number;
  readonly values: readonly unknown[];
}

function lineOf(part: ChainPart, table: string, number: number): ReadLine {
  const line = linesOf(part, table).find(({ values: [id] }) => id === number);
  if (line === undefined) throw new RangeError(`row ${number} of table ${table} is not among the rows`);
  return line;
}

/** The rows of a table that are here. */
export function linesOf({ lines }: ChainPart, table: string): readonly ReadLine[] {
  return lines
    .filter((written) => written.table === table)
    .flatMap(({ entry, lines: texts }) =>
      texts.flatMap((text) => (text === null ? [] : [{ entry, values: readLine(text) }])),
    );
}

function readLine(line: string): unknown[] {
  const values: unknown = JSON.parse(line);
  if (!Array.isArray(values)) throw new RangeError("a row is not a list of values");
  return values;
}

function unpacked(hex: string, maxBytes: number): string {
  return inflateRawSync(Buffer.from(hex, "hex"), { maxOutputLength: Math.max(1, maxBytes) }).toString("utf8");
}
