import type { ByteSource } from "../bytes/bytes.js";
import { decoded, encodingOf, type TextEncoding } from "../bytes/encoding.js";
import { otherKind } from "../bytes/other-kinds.js";
import { IntakeError, shown } from "../checks/issue.js";
import { rowsOfText } from "../rows/delimited.js";
import { withoutGuards } from "../rows/formula-guard.js";
import { openJson } from "../rows/json.js";
import { linesOf, withoutBreak } from "../rows/lines.js";
import { filledDown } from "../rows/merged-cells.js";
import { isBlankRow, type RawRow, type RowSource, SEPARATORS, type Separator, textOf } from "../rows/row.js";
import type { Part } from "./across.js";
import type { ColumnMap } from "./column-map.js";
import type { Identity } from "./identity.js";
import { findLayout, HEAD_ROWS, isOfSamples, type Layout } from "./layout.js";
import { contradictedBy } from "./lines-against.js";
import { holdsResult, kindsIn, type Naming, NEEDED_NAMING } from "./meaning.js";
import { namer } from "./namer.js";
import { type NameAround, namesAround } from "./names-around.js";
import { partsOf } from "./parts.js";
import { readPrint } from "./print.js";
import { askForUnits, mustServe, refuseVolumesAlone } from "./serves.js";

/** A table whose layout is known. */
export interface Table {
  readonly source: RowSource;
  readonly layout: Layout;
  /** What names its samples and is in no column. */
  readonly names?: readonly NameAround[];
  /** Whether its samples are named by their numbers alone, and another sheet says who they are. */
  readonly isJoined?: true;
  /** Who its samples are by the other sheets of its file. */
  readonly elsewhere?: NamedSamples;
}

/** Who the samples of some sheets are, by their number or by all that names them; null where two sheets differ. */
export type NamedSamples = ReadonlyMap<string, Identity | null>;

/** The tables of one file. */
export interface OpenedFile {
  readonly file: string;
  readonly tables: readonly Table[];
  /** Sheets that name samples and hold no results. */
  readonly registers: readonly Table[];
  /** Sheets that hold no table of samples, with their layout where they hold a table of anything. */
  readonly otherSheets: readonly OtherSheet[];
}

export type OtherSheet = Pick<Table, "source"> & Partial<Pick<Table, "layout">>;

/** A laboratory reports fewer; more would fill the memory with titles. */
const MAX_COLUMNS = 2000;
/** A header is among the first cells, this many of them; each may be a title and is looked at. */
const MAX_HEAD_CELLS = 20_000;

/**
 * Opens a laboratory file of any kind and finds its tables.
 *
 * The kind follows from the content and not from the name: a zip archive is a workbook, a brace or bracket begins JSON, and
 * everything else is delimited text.
 *
 * @param source - the file's bytes
 * @param map - what a person has settled
 * @returns the tables, which can be read any number of times
 * @throws IntakeError when the file cannot be read, names no samples, or needs a column map
 */
export async function openFile(source: ByteSource, map?: ColumnMap): Promise<OpenedFile> {
  const { tables: found, otherSheets: withoutTable } = await findTables(source, map);
  const otherSheets = withoutTable.map((sheet): OtherSheet => ({ source: sheet }));
  const isNamed = (table: Table) => NEEDED_NAMING.every((kind) => isGiven(table, kind, map));
  const registers = found.filter((table) => isNamed(table) && !holdsResults(table));
  for (const register of registers) refuseVolumesAlone(placeOf(register), register.layout);
  const canJoin = found.some(isNamed);
  const tables = found
    .filter((table) => !registers.includes(table))
    .map((table): Table => {
      const isOfNumbers = canJoin && !isNamed(table) && isGiven(table, "sample", map) && holdsResults(table);
      return isOfNumbers ? { ...table, isJoined: true } : table;
    });
  const file = source.file;
  if (found.length === 1 || source.size === 0) {
    for (const table of found) mustServeIn(table, map);
    return { file, tables: found, registers: [], otherSheets };
  }
  // A legend or a list of fluids may share words with a table of samples; one sheet that serves is enough.
  const served = tables.filter((table) => serves(table, map));
  const [first] = found;
  if (served.length === 0 && first !== undefined) mustServeIn(first, map);
  const others = tables.filter((table) => !served.includes(table));
  return { file, tables: served, registers, otherSheets: [...otherSheets, ...others] };
}

/** Checks a table of a file: {@link mustServe}. */
export function mustServeIn(table: Table, map: ColumnMap | undefined): void {
  const around = table.isJoined ? NEEDED_NAMING : (table.names ?? []).map(({ kind }) => kind);
  mustServe(placeOf(table), table.layout, map, around);
}

function isGiven({ layout, names = [] }: Table, kind: Naming, map: ColumnMap | undefined): boolean {
  return (
    kindsIn(layout.columns).has(kind) ||
    names.some((name) => name.kind === kind) ||
    Object.keys(map?.fixed ?? {}).includes(kind)
  );
}

function holdsResults({ layout: { shape, columns } }: Table): boolean {
  return (
    shape !== "wide" || columns.some((column) => holdsResult(column) || column.recognition.kind === "unsure")
  );
}

const OF_SAMPLES = "sample, cart, circuit and day drawn";

/**
 * Opens a file as far as its tables and titles, whether or not they serve.
 *
 * @param wanted - what columns are expected for, in words
 * @throws IntakeError when the file cannot be read or no table is found in it
 */
export async function findTables(
  source: ByteSource,
  map?: ColumnMap,
  wanted = OF_SAMPLES,
): Promise<{ tables: readonly Table[]; otherSheets: readonly RowSource[] }> {
  const sources = await openSources(source, map);
  const read = sources.flatMap((given) => {
    const whole = readPart({ source: withoutGuards(given, headOf(given.rows())) }, map);
    const parts = whole.isTooWide ? undefined : partsOf(whole.source, whole.layout, map);
    return parts?.map((part) => readPart(part, map)) ?? [whole];
  });
  const tables = read.flatMap(({ source, layout, head }): Table[] => {
    if (layout === undefined) return [];
    const names = namesAround(source, layout, head, namer(map));
    const filled = filledDown(source, layout.headerRows.at(-1)?.row ?? 0);
    return [{ source: filled, layout, ...(names.length > 0 && { names }) }];
  });
  if (tables.length === 0) throw noTable(source.file, read[0]?.head ?? [], wanted);
  return {
    tables,
    otherSheets: read.flatMap((entry) => (entry.layout === undefined ? [entry.source] : [])),
  };
}

/** A sheet or a part of it with its layout, as far as it is understood. */
function readPart({ source, lines }: Part, map: ColumnMap | undefined) {
  const head = headOf(source.rows());
  const isTooWide = head.some(({ cells }) => cells.length > MAX_COLUMNS);
  const found = isTooWide ? undefined : findLayout(source, head, map);
  const layout = found && underLines(askForUnits(found, head), lines ?? source.around ?? head, map);
  return { source, layout, head, isTooWide };
}

/** A line above the table may say of its counts what their titles contradict. */
function underLines(layout: Layout, head: readonly RawRow[], map: ColumnMap | undefined): Layout {
  const first = layout.headerRows[0]?.row ?? 1;
  const above = head.filter(({ row }) => row < first);
  return above.reduce((under, line) => contradictedBy(line, under, map) ?? under, layout);
}

/** The rows in which a header may stand. A row that is too wide for any table ends them: it would fill the memory. */
function headOf(rows: Iterable<RawRow>): RawRow[] {
  const head: RawRow[] = [];
  let cells = 0;
  for (const row of rows) {
    head.push(row);
    cells += row.cells.length;
    if (head.length === HEAD_ROWS || row.cells.length > MAX_COLUMNS || cells > MAX_HEAD_CELLS) break;
  }
  return head;
}

function nameOf({ file, sheet }: RowSource): string {
  return sheet === undefined ? file : `${file} sheet "${sheet}"`;
}

function placeOf({ source, layout }: Table): string {
  const row = layout.headerRows.at(-1)?.row;
  const place = nameOf(source);
  return row === undefined ? place : `${place} row ${row}`;
}

function serves(table: Table, map: ColumnMap | undefined): boolean {
  // A sheet that needs a column map, or another column, is not passed over: it may be the one that matters.
  const isUnsure = table.layout.columns.some(({ recognition }) => recognition.kind === "unsure");
  if (isUnsure || isOfSamples(table.layout) || table.isJoined) mustServeIn(table, map);
  try {
    mustServeIn(table, map);
    return true;
  } catch {
    return false;
  }
}

function noTable(file: string, head: readonly RawRow[], wanted: string): IntakeError {
  const wide = head.find((row) => row.cells.length > MAX_COLUMNS);
  if (wide !== undefined) {
    return new IntakeError(
      `${file} row ${wide.row}: expected at most ${MAX_COLUMNS} columns, found ${wide.cells.length}`,
    );
  }
  const first = head.find((row) => !isBlankRow(row));
  if (first === undefined)
    return new IntakeError(
      `${file}: expected a header, found none: the file is empty${head.length > 0 ? " but for blanks" : ""}; export it again, or ask the laboratory for it`,
    );
  const cells = first.cells.slice(0, 12).map((cell) => shown(textOf(cell).slice(0, 40)));
  return new IntakeError(
    `${file}: expected a header with columns for ${wanted}; found "${cells.join('", "')}"`,
  );
}

async function openSources(source: ByteSource, map: ColumnMap | undefined): Promise<RowSource[]> {
  const start = firstBytes(source);
  if (startsWith(start, [0x50, 0x4b])) {
    // What reads workbooks is loaded for workbooks alone.
    return (await import("../rows/workbook.js")).openWorkbook(source);
  }
  const other = otherKind(start, source.file);
  if (other !== undefined)
    throw new IntakeError(`${source.file}: expected text, xlsx or JSON, found ${other}`);
  if (/^[^\p{L}\p{N}"']*[[{]/u.test(new TextDecoder().decode(start).slice(0, 100).trim())) {
    return [openJson(source)];
  }
  return [openText(source, map)];
}

function firstBytes(source: ByteSource): Uint8Array {
  for (const chunk of source.chunks()) return chunk.subarray(0, 4096);
  return new Uint8Array();
}

function startsWith(bytes: Uint8Array, signature: readonly number[]): boolean {
  return signature.every((byte, index) => bytes[index] === byte);
}

const SEPARATOR_NAMES: Record<Separator, string> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
  "|": "pipe",
};

function openText(source: ByteSource, map: ColumnMap | undefined): RowSource {
  const encoding = encodingOf(source);
  const { separator, score } = separatorOf(source, encoding, map);
  const opened = {
    file: source.file,
    format: "delimited text",
    ...(encoding.assumption && { assumptions: [encoding.assumption] }),
  } as const;
  const lines = () => linesAsRows(source, encoding);
  const print = isParted(headOf(lines())) ? undefined : readPrint(source.file, lines, map);
  if (print !== undefined && print.score > score)
    return { ...opened, readAs: `text, ${encoding.says}, ${print.says}`, rows: print.rows };
  return {
    ...opened,
    readAs: `text, ${encoding.says}, ${SEPARATOR_NAMES[separator]} between cells`,
    rows: () => rowsOfText(source.file, decoded(source, encoding), separator),
  };
}

/** Whether half of the lines have a mark between cells that is not part of a number. */
function isParted(head: readonly RawRow[]): boolean {
  const written = head.filter(({ text }) => text.trim() !== "");
  return [/(?<!\d),|,(?!\d)/, /;/, /\t/, /\|/].some(
    (mark) => written.filter(({ text }) => mark.test(text)).length * 2 >= Math.max(1, written.length),
  );
}

/** The lines of a text, each in one cell. */
function* linesAsRows(source: ByteSource, encoding: TextEncoding): Generator<RawRow> {
  let row = 0;
  for (const line of linesOf(source.file, decoded(source, encoding))) {
    row += 1;
    const text = withoutBreak(line);
    yield { row, cells: [text], text };
  }
}

/** The separator by which the most titles are understood; of equals the one that makes the most cells. */
function separatorOf(source: ByteSource, encoding: TextEncoding, map: ColumnMap | undefined) {
  const heads = SEPARATORS.map((separator) => {
    const head = headOf(rowsOfText(source.file, decoded(source, encoding), separator));
    const most = Math.max(0, ...head.map(({ cells }) => cells.length));
    const layout = most > MAX_COLUMNS || most < 2 ? undefined : findLayout({}, head, map);
    return { separator, most, score: layout?.score ?? 0 };
  });
  const [best] = heads.sort((a, b) => b.score - a.score || b.most - a.most);
  return best as (typeof heads)[number];
}
