import {
  EXPECTED_CODE,
  EXPECTED_SATURATION,
  MAX_SATURATION,
  type OnlineReading,
  readingOfCode,
} from "../../online/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import { tryParseQuantity } from "../../units/index.js";
import type { ByteSource } from "../bytes/bytes.js";
import { readResultCell } from "../cells/cells.js";
import { IntakeError, type IntakeIssue } from "../checks/issue.js";
import { type Conventions, survey } from "../layout/conventions.js";
import { plainUnit } from "../layout/meaning.js";
import type { TitledColumn } from "../layout/namer.js";
import { findTables, type Table } from "../layout/tables.js";
import { isBlankRow, type RawCell, type RawRow, textOf } from "../rows/row.js";
import { columnsOfLog, type LogColumn } from "./log-columns.js";
import { type LogMap, logMapOf } from "./log-map.js";
import { LogMoments } from "./log-moments.js";
import { LOG_QUANTITIES } from "./log-titles.js";

/** A row of a log: what the instrument showed at one moment, or why it cannot be read. */
export type LogRow = { readonly row: number } & (
  | { readonly kind: "readings"; readonly readings: readonly OnlineReading[] }
  | { readonly kind: "set-aside"; readonly issue: IntakeIssue }
);

/** The log of an instrument in the line. */
export interface CounterLog {
  readonly file: string;
  /** The kind of file, and how it was split into cells. */
  readonly readAs: string;
  /** In the order of time. Every row below the titles that is not blank is one of them. */
  readonly rows: readonly LogRow[];
  /** Titles of columns that are not used. */
  readonly notUsed: readonly string[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Reads the log of an instrument in the line: delimited text or a workbook with a row of titles and a row for each moment.
 *
 * Bytes, rows, layout and cells are those of laboratory files: encoding, separator, decimal mark, order of days, titles of
 * counts and their units. A row of which a cell cannot be read is set aside as a whole, and named.
 *
 * @param map - what a person has settled
 * @throws IntakeError when the file cannot be read, or a column map has to settle what a column holds
 */
export async function readCounterLogFile(source: ByteSource, map: LogMap = logMapOf()): Promise<CounterLog> {
  const { tables } = await findTables(source, map.columns, WANTED);
  const [table, ...others] = tables as [Table, ...Table[]];
  if (others.length > 0) {
    throw new IntakeError(
      `${source.file}: expected one table, found ${tables.length}; save the log as a file of its own`,
    );
  }
  const columns = columnsOfLog(table, map);
  const { conventions } = survey(asSurveyed(table, columns), map.columns);
  const moments = new LogMoments(() => conventions.dates, map.columns.zone);
  const last = table.layout.headerRows.at(-1)?.row ?? 0;
  const rows: LogRow[] = [];
  for (const row of table.source.rows()) {
    if (row.row > last && !isBlankRow(row)) rows.push(readRow(row, { columns, conventions, moments, table }));
  }
  const isReversed = newestFirst(rows);
  return {
    file: source.file,
    readAs: table.source.readAs,
    rows: isReversed ? rows.reverse() : rows,
    notUsed: columns.flatMap(({ holds, title }) => (holds === "nothing" && title !== "" ? [title] : [])),
    assumptions: joinAssumptions(
      table.source.assumptions ?? [],
      moments.assumptions,
      isReversed ? [NEWEST_FIRST] : [],
    ),
  };
}

const WANTED = 'the time and for counts, such as "time stamp" and "> 4 µm(c) per mL"';

const NEWEST_FIRST: Assumption = {
  code: "log-newest-first",
  message: "the newest row of the log stands first; it was read from its end",
};

/** What a row is read with. */
interface Reading {
  readonly columns: readonly LogColumn[];
  readonly conventions: Conventions;
  readonly moments: LogMoments;
  readonly table: Table;
}

/** The table as its days and numbers are looked at: with the columns that only a log has. */
function asSurveyed(table: Table, columns: readonly LogColumn[]): Table {
  const titled = table.layout.columns.map((column, index): TitledColumn => {
    const holds = columns[index]?.holds;
    if (holds !== "time" && holds !== "value") return column;
    return {
      ...column,
      recognition: { kind: "known", meaning: { holds: holds === "time" ? "drawn" : "value" } },
    };
  });
  return { ...table, layout: { ...table.layout, columns: titled } };
}

function readRow({ row, cells, broken }: RawRow, reading: Reading): LogRow {
  const { columns, moments, table } = reading;
  const { file, sheet } = table.source;
  const refuse = (column: string, value: string, expected: string): LogRow => ({
    kind: "set-aside",
    row,
    issue: {
      code: "cell-not-read",
      file,
      ...(sheet !== undefined && { sheet }),
      row,
      column,
      value,
      expected,
    },
  });
  if (broken !== undefined) return refuse("", "", broken);
  if (cells.length > columns.length && cells.slice(columns.length).some((cell) => textOf(cell) !== "")) {
    return refuse("", textOf(cells[columns.length]), `at most ${columns.length} cells`);
  }
  const at = momentOf(cells, columns, moments);
  if (typeof at === "object") return refuse(at.title, at.value, at.expected);
  const readings: OnlineReading[] = [];
  for (const [index, column] of columns.entries()) {
    const cell = cells[index] ?? "";
    const found = readCell(at, column, cell, reading.conventions);
    if (typeof found === "string") return refuse(column.title, textOf(cell), found);
    if (found !== undefined) readings.push(found);
  }
  return { kind: "readings", row, readings };
}

function momentOf(cells: readonly RawCell[], columns: readonly LogColumn[], moments: LogMoments) {
  const elapsed = columns.findIndex(({ holds }) => holds === "elapsed");
  const times = columns.flatMap(({ holds }, index) => (holds === "time" ? [index] : []));
  if (times.length === 0) return sinceStart(columns[elapsed], textOf(cells[elapsed]));
  const texts = times.map((index) => textOf(cells[index]));
  const at = moments.read(texts);
  if (typeof at === "number") return at;
  return { title: columns[times[0] as number]?.title ?? "", value: texts.join(" "), expected: at };
}

function sinceStart(column: LogColumn | undefined, text: string) {
  const unit = column?.holds === "elapsed" ? column.unit : "";
  const quantity = tryParseQuantity(`${text} ${unit}`, "time");
  if (quantity.kind !== "refused") return Math.round(60_000 * quantity.value);
  return { title: column?.title ?? "", value: text, expected: quantity.expected };
}

/** What one cell shows; undefined where it shows nothing, and what was expected where it cannot be read. */
function readCell(
  at: number,
  column: LogColumn,
  cell: RawCell,
  conventions: Conventions,
): OnlineReading | string | undefined {
  const name = column.title;
  if (column.holds === "code") {
    const text = textOf(cell);
    return text === "" || conventions.blanks.includes(text)
      ? undefined
      : (readingOfCode(at, name, text) ?? EXPECTED_CODE);
  }
  if (column.holds !== "count" && column.holds !== "value") return undefined;
  const isTemperature = column.holds === "value" && column.quantity === "temperature";
  const read = readResultCell(
    cell,
    () => conventions.decimal,
    { signed: isTemperature, isUnit: (text) => column.holds === "value" && plainUnit(text) === column.unit },
    conventions,
  );
  if (read.kind === "blank") return undefined;
  if (read.kind === "refused") return read.expected;
  // What is below a limit is counted as that limit, which nothing can be cleaner for.
  if (read.kind === "words" || read.limit === "above" || read.limit === "at-least") return "a number";
  return column.holds === "count"
    ? { at, name, counts: [{ sizeUmC: column.sizeUmC, perMl: read.value / column.volumeMl }] }
    : readingIn(at, column, read.value);
}

function readingIn(
  at: number,
  { title: name, quantity, unit }: Extract<LogColumn, { holds: "value" }>,
  value: number,
): OnlineReading | string {
  const { field, kind } = LOG_QUANTITIES[quantity];
  if (kind === undefined) {
    const share = value / Number(unit);
    return share <= MAX_SATURATION ? { at, name, [field]: share } : EXPECTED_SATURATION;
  }
  const read = tryParseQuantity(`${value} ${unit}`, kind);
  return read.kind === "refused" ? read.expected : { at, name, [field]: read.value };
}

/** Whether time runs backwards from row to row, throughout. */
function newestFirst(rows: readonly LogRow[]): boolean {
  const moments = rows.flatMap((row) => (row.kind === "readings" ? (row.readings[0]?.at ?? []) : []));
  const [first, last] = [moments[0], moments.at(-1)];
  if (first === undefined || last === undefined || first <= last) return false;
  return moments.every((moment, index) => index === 0 || moment <= (moments[index - 1] as number));
}
