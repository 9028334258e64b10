import { existsSync } from "node:fs";
import { basename } from "node:path";
import {
  bytesOnDisk,
  describeMeaning,
  mapToEdit,
  parseColumnMap,
  textOnDisk,
  type UnderstoodTable,
  understand,
} from "../../../intake/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { drawTable } from "../../text.js";
import { writeWhole } from "../../whole-file.js";

/** Options of `siltbook columns`. */
export interface ColumnsOptions {
  readonly map?: string;
  readonly write?: string;
  readonly json?: boolean;
}

/** Prints what is understood of a file, and writes a column map to edit. */
export async function runColumns(path: string, options: ColumnsOptions, io: Io): Promise<ExitCode> {
  const map =
    options.map === undefined ? undefined : parseColumnMap(basename(options.map), textOnDisk(options.map));
  const tables = await understand(bytesOnDisk(path), map);
  const toEdit: Readonly<Record<string, unknown>> = { ...mapToEdit(map?.name ?? basename(path), tables) };
  if (options.write !== undefined) await writeMap(options.write, toEdit);
  if (options.json) printJson(io, answerOf("columns", { tables: tables.map(tableAsJson), map: toEdit }));
  else {
    io.out(tables.map(describeTable).join("\n"));
    if (options.write !== undefined) io.out(`\nThe column map to edit is in ${options.write}\n`);
  }
  return tables.every(({ obstacle }) => obstacle === undefined) ? 0 : 1;
}

async function writeMap(path: string, map: object): Promise<void> {
  // An edited map is somebody's work; it is never overwritten.
  if (existsSync(path)) throw new UsageError(`--write: ${path} cannot be written: the file exists already`);
  await writeWhole("--write", path, [`${JSON.stringify(map, null, 2)}\n`]);
}

function tableAsJson({ columns, conventions, ...table }: UnderstoodTable) {
  // What words and names mean is in the column map that was given, and nowhere else.
  const { resultWords: _results, words: _words, names: _names, ...found } = conventions;
  return {
    ...table,
    conventions: found,
    obstacle: table.obstacle ?? null,
    columns: columns.map(({ title, recognition }) => ({ title, ...recognition })),
  };
}

function describeTable(table: UnderstoodTable): string {
  const { file, sheet, readAs, shape, headerRows, columns, conventions, obstacle } = table;
  const rows = columns.map(({ title, recognition }) => {
    if (recognition.kind === "known") return [title, describeMeaning(recognition.meaning)];
    return [
      title,
      recognition.kind === "unsure" ? `to be settled: ${recognition.question}` : "not known, not used",
    ];
  });
  const shapes = {
    wide: "a row for each sample",
    long: "a row for each measurand",
    block: "a block for each sample",
    across: "a column for each sample",
  };
  const titles = headerRows.length === 0 ? "" : `; titles in row ${headerRows.join(" and ")}`;
  return [
    `${file}${sheet === undefined ? "" : `, sheet "${sheet}"`}: ${readAs}; ${shapes[shape]}${titles}\n`,
    drawTable(["column", "holds"], rows),
    `decimal mark: ${describeDecimal(conventions.decimal)}; dates with figures: ${describeDates(conventions.dates.order)}\n`,
    obstacle === undefined ? "" : `Cannot be taken in yet: ${obstacle}\n`,
  ].join("");
}

function describeDecimal(decimal: UnderstoodTable["conventions"]["decimal"]): string {
  if (decimal === "not-shown") return "the file does not show it";
  return decimal === "contradicting" ? "the file uses both" : `"${decimal}"`;
}

function describeDates(dates: UnderstoodTable["conventions"]["dates"]["order"]): string {
  if (dates === "not-shown") return "the file does not show their order";
  return dates === "contradicting" ? "the file uses both orders" : dates;
}
