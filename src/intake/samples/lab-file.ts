import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import { namesHourMeter, namesWho, type Sample } from "../../samples/index.js";
import { type ByteSource, bytesInMemory } from "../bytes/bytes.js";
import { type NotSampleRow, type QuarantinedRow, shown } from "../checks/issue.js";
import type { ColumnMap } from "../layout/column-map.js";
import { hasLostMu } from "../layout/count-titles.js";
import type { Identity } from "../layout/identity.js";
import type { Shape } from "../layout/layout.js";
import { isMeasurand, isOfBottle, type Meaning } from "../layout/meaning.js";
import type { TitledColumn } from "../layout/namer.js";
import { mustServeIn, type OtherSheet, openFile, type Table } from "../layout/tables.js";
import { labelsOf } from "../layout/understood.js";
import { type RowSource, textOf } from "../rows/row.js";
import { type Fate, hasOneOf, namedSamplesIn, namesByRow, type ReadOptions, readTable } from "./fates.js";
import { faultOutsideTables } from "./lines-around.js";
import { bottleOf, numberOf, saidAround } from "./names-of-table.js";
import { ReadableShare } from "./readable-share.js";

/** What a laboratory file held. Every row ends in a sample, in quarantine, or among those that are no samples. */
export interface LabFile {
  readonly file: string;
  /** A row for each sample, a row for each measurand, a block for each sample, or a column for each. */
  readonly shape: Shape;
  /** How the file was read: format, encoding and separator. */
  readonly readAs: string;
  /** Rows that belong to samples: those of the samples and those in quarantine. */
  readonly rows: number;
  readonly samples: readonly Sample[];
  readonly quarantine: readonly QuarantinedRow[];
  /** Headers, blank rows, footers and the like. */
  readonly notSamples: readonly NotSampleRow[];
  /** Columns whose title was not recognised; what they hold was not used. */
  readonly unusedColumns: readonly string[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Reads a laboratory file of any kind into memory.
 *
 * For files that may not fit into memory there is {@link readFates}, which the sample book uses.
 *
 * @param file - name for messages and for the origin of every sample
 * @param bytes - the file's content
 * @returns samples, quarantined rows, rows that are no samples, and what was assumed
 * @throws IntakeError when the file cannot be read, names no samples, or needs a column map
 */
export async function readLabFile(
  file: string,
  bytes: Uint8Array,
  options: ReadOptions = {},
): Promise<LabFile> {
  const opened = await openLabFile(bytesInMemory(file, bytes), options);
  const samples: Sample[] = [];
  const quarantine: QuarantinedRow[] = [];
  const notSamples: NotSampleRow[] = [];
  const assumptions: (readonly Assumption[])[] = [opened.assumptions];
  let rows = 0;
  for (const fate of opened.fates()) {
    if (fate.kind === "not-a-sample") {
      notSamples.push(fate.row);
      continue;
    }
    if (fate.kind === "quarantined") {
      rows += 1;
      quarantine.push(fate.row);
      continue;
    }
    rows += fate.fate.rows.length;
    samples.push(fate.fate.sample);
    assumptions.push(fate.fate.assumptions);
  }
  return {
    file,
    shape: opened.shape,
    readAs: opened.readAs,
    rows,
    samples,
    quarantine: quarantine.sort((a, b) => bySheet(a, b) || a.row - b.row),
    notSamples,
    unusedColumns: opened.unusedColumns,
    assumptions: joinAssumptions(assumptions.flat()),
  };
}

function bySheet(a: QuarantinedRow, b: QuarantinedRow): number {
  return a.sheet === b.sheet ? 0 : (a.sheet ?? "").localeCompare(b.sheet ?? "");
}

/** A laboratory file whose tables are known and can be read. */
export interface OpenedLabFile {
  readonly file: string;
  readonly shape: Shape;
  readonly readAs: string;
  readonly unusedColumns: readonly string[];
  readonly assumptions: readonly Assumption[];
  readonly tables: readonly Table[];
  /** Reads the file, sheet after sheet. Each call begins again. */
  readonly fates: () => Generator<Fate>;
}

/**
 * Opens a laboratory file for reading row by row.
 *
 * @param source - the file's bytes, in memory or on disk
 * @throws IntakeError when the file cannot be read, names no samples, or needs a column map
 */
export async function openLabFile(source: ByteSource, options: ReadOptions = {}): Promise<OpenedLabFile> {
  const { file, tables: found, registers, otherSheets } = await openFile(source, options.map);
  const [first] = found as [Table, ...Table[]];
  const elsewhere = found.some(({ isJoined }) => isJoined)
    ? namedSamplesIn([...registers, ...found.filter(({ isJoined }) => !isJoined)], options, numberOf)
    : undefined;
  const registered = registers.length > 0 ? namedSamplesIn(registers, options, bottleOf) : undefined;
  for (const table of found) {
    // A sheet of which no number is known is one of other samples, and needs columns of its own.
    const { isJoined: _, ...alone } = table;
    if (elsewhere !== undefined && table.isJoined && !hasOneOf(table, elsewhere, options))
      mustServeIn(alone, options.map);
  }
  const tables = found.map((table): Table => {
    const known = table.isJoined ? elsewhere : registered;
    return known === undefined ? table : { ...table, elsewhere: known };
  });
  function* fates(): Generator<Fate> {
    const share = new ReadableShare(file);
    for (const table of tables) yield* readTable(table, options, share);
    yield* rowsWithoutSamples();
  }
  function* rowsWithoutSamples(): Generator<Fate> {
    for (const register of registers) {
      let names: ReturnType<typeof namesByRow> | undefined;
      yield* rowsOutside(register, (row) => {
        names ??= namesByRow(register, options);
        return names.get(row);
      });
    }
    for (const sheet of otherSheets) yield* rowsOutside(sheet);
  }
  const sheets = new Set(tables.map(({ source: { sheet } }) => sheet)).size;
  return {
    file,
    shape: first.layout.isAcross ? "across" : first.layout.shape,
    readAs:
      first.source.format === "workbook"
        ? `a workbook of ${sheets} ${sheets === 1 ? "sheet" : "sheets"}`
        : first.source.readAs,
    unusedColumns: [...new Set(tables.flatMap((table) => unusedIn(table, options.map)))],
    assumptions: [
      ...joinAssumptions(...tables.map(({ source }) => source.assumptions ?? [])),
      ...tables.flatMap(({ source }) => (source.isHidden ? [hiddenSheetRead(source)] : [])),
      ...tables.flatMap(({ source }) => shownNumbers(source)),
      ...tables.flatMap(lostSigns),
      ...tables.flatMap((table) => [
        ...namedAround(table),
        ...fixedByMap(table, options.map),
        ...joined(table),
      ]),
      ...(tables.some(({ isJoined }) => !isJoined) ? registers.map(registerRead) : []),
      ...otherSheets.map(({ source }) => sheetNotRead(source)),
    ],
    tables,
    fates,
  };
}

/** Rows of a sheet without results; those by which something failed wait, with the names that they have in a register. */
function* rowsOutside(
  { source, layout }: OtherSheet,
  nameOf?: (row: number) => Identity | undefined,
): Generator<Fate> {
  const place = { file: source.file, ...(source.sheet !== undefined && { sheet: source.sheet }) };
  for (const raw of source.rows()) {
    const { row, text } = raw;
    const fault = faultOutsideTables(raw, layout?.columns);
    if (fault === undefined) {
      yield { kind: "not-a-sample", row: { ...place, row, text, why: "sheet without samples" } };
      continue;
    }
    const { sample, cart, circuit, drawnOn } = nameOf?.(row) ?? {};
    const names = {
      ...(cart !== undefined && { cart }),
      ...(circuit !== undefined && { circuit }),
      ...(drawnOn !== undefined && { drawnOn }),
      ...(sample !== undefined && { sample }),
    };
    yield { kind: "quarantined", row: { ...place, row, text, issues: [{ ...place, ...fault }], ...names } };
  }
}

function unusedIn(table: Table, map: ColumnMap | undefined): string[] {
  const { layout } = table;
  const columns = layout.shape === "block" ? labelsOf(table, map) : layout.columns;
  const isUnused = ({ title, recognition }: TitledColumn) =>
    recognition.kind === "unknown"
      ? title !== "" && namesWho(title) === undefined && !namesHourMeter(title)
      : layout.shape === "long" && recognition.kind === "known" && isResultOfRow(recognition.meaning);
  return columns.filter(isUnused).map(({ title }) => title);
}

function isResultOfRow(meaning: Meaning): boolean {
  return isMeasurand(meaning) && !isOfBottle(meaning);
}

function lostSigns({ layout }: Table): Assumption[] {
  const such = layout.columns.find(
    ({ title, recognition }) =>
      recognition.kind === "known" && recognition.meaning.holds === "count" && hasLostMu(title),
  );
  if (such === undefined) return [];
  const message = `titles such as "${shown(such.title)}" were read with "µm", whose "µ" the file has lost`;
  return [{ code: "lost-sign", message }];
}

function namedAround(table: Table): Assumption[] {
  const { source } = table;
  const taken = saidAround(table).filter(({ cell }) => cell !== "");
  return taken.map(({ kind, cell, row }) => ({
    code: "named-around",
    message: `${kind === "flowing" ? "flow" : kind.replace("-", " ")} "${shown(textOf(cell))}" was taken from ${row === undefined ? (source.sheet === undefined ? "what stands around the rows" : "the name of the sheet") : `row ${row}`} for the rows below it that name none`,
  }));
}

function fixedByMap({ source, layout }: Table, map: ColumnMap | undefined): Assumption[] {
  const below = layout.headerRows.at(-1)?.row;
  const rows = below === undefined ? "every row" : `every row below row ${below}`;
  const place = source.sheet === undefined ? "" : ` of sheet "${shown(source.sheet)}"`;
  return Object.entries(map?.fixed ?? {}).map(([kind, value]) => ({
    code: "fixed-by-map",
    message: `${kind} "${shown(value ?? "")}" was taken from the column map for ${rows}${place} that names none`,
  }));
}

function joined({ source: { sheet = "" }, isJoined }: Table): Assumption[] {
  if (!isJoined) return [];
  const message = `the samples of sheet "${shown(sheet)}" were found by their numbers in the other sheets, which give their cart, circuit and day`;
  return [{ code: "joined-by-number", message }];
}

function registerRead({ source: { sheet } }: Table): Assumption {
  const where = sheet === undefined ? "a table without results" : `sheet "${shown(sheet)}"`;
  return {
    code: "joined-by-number",
    message: `what ${where} says of a bottle, such as its fluid, was taken for the sample of the same number, cart, circuit and day`,
  };
}

function hiddenSheetRead({ sheet = "" }: RowSource): Assumption {
  return {
    code: "hidden-sheet",
    message: `sheet "${sheet}" is hidden in the workbook and was read like any other`,
  };
}

function shownNumbers({ sheet = "", shownNumber }: RowSource): Assumption[] {
  if (shownNumber === undefined) return [];
  const { holds, shows } = shownNumber;
  return [
    {
      code: "number-as-shown",
      message: `numbers of sheet "${sheet}" were read as their cells show them, such as "${shows}" where the cell holds ${holds}`,
    },
  ];
}

function sheetNotRead({ sheet = "" }: RowSource): Assumption {
  return { code: "sheet-not-read", message: `sheet "${sheet}" holds no table of samples and was not read` };
}
