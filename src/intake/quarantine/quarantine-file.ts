import { stringify } from "csv-stringify/sync";
import type { DateForm, DateRule } from "../cells/dates.js";
import { describeIssue, type QuarantinedRow } from "../checks/issue.js";
import type { ColumnMap } from "../layout/column-map.js";
import { plainTitle } from "../layout/columns.js";
import { type Conventions, survey } from "../layout/conventions.js";
import type { Layout } from "../layout/layout.js";
import { type Meaning, NEEDED_NAMING } from "../layout/meaning.js";
import type { Table } from "../layout/tables.js";
import { guarded } from "../rows/formula-guard.js";
import { type RawCell, textOf } from "../rows/row.js";
import { entriesOf } from "../samples/entries.js";
import { type Entry, OF_THE_MAP } from "../samples/entry.js";
import { NamesOfTable } from "../samples/names-of-table.js";
import { entryNamer } from "../samples/read-sample.js";
import { formatPlace } from "./quarantine-place.js";

/** A file that a person corrects and feeds back, and the column map it is read with. */
export interface QuarantineFile {
  /** Delimited text with commas, UTF-8 with a byte order mark so that spreadsheets open it rightly. */
  readonly csv: string;
  readonly map: ColumnMap;
}

/**
 * Writes the quarantined rows of a table as they stood, each with what is wrong and where it stood: one file for each
 * header of the table, because rows below one must not be read by another.
 *
 * The map carries what the whole file showed and a few rows cannot: what each column holds, the decimal mark and the order
 * of dates. In the column "quarantine accepted" a person writes the check that was looked into and is accepted, or
 * "discard" for a row that is no result.
 *
 * @param table - a table of the file
 * @param quarantine - the quarantined rows of the whole file
 * @param sha256 - of the file, so that the rows find their place again
 * @returns none when no row of this table is in quarantine
 */
export function quarantineFilesOf(
  table: Table,
  quarantine: readonly QuarantinedRow[],
  sha256: string,
  map: ColumnMap | undefined,
): QuarantineFile[] {
  const { source, layout } = table;
  const waiting = new Map(
    quarantine.filter(({ sheet }) => sheet === source.sheet).map((row) => [row.row, row]),
  );
  if (waiting.size === 0) return [];
  const { conventions } = survey(table, map);
  const isWaiting = ({ rows }: Entry) => rows.some(({ row }) => waiting.has(row));
  const files: { readonly layout: Layout; readonly entries: Entry[] }[] = [];
  const add = (below: Layout, entry: Entry) => {
    const file = files.find((one) => one.layout === below);
    if (file === undefined) files.push({ layout: below, entries: [entry] });
    else file.entries.push(entry);
  };
  const outside = new NamesOfTable(table, map);
  const nameEntry = entryNamer(conventions);
  for (const item of entriesOf(source, layout, map)) {
    for (const named of outside.of(item)) {
      if ("entry" in named && isWaiting(named.entry))
        add(item.section?.layout ?? layout, outside.compared(nameEntry(named.entry)).entry);
    }
  }
  for (const named of outside.atEnd()) if ("entry" in named) add(layout, named.entry);
  return files.map((file) => {
    const isBlock = file.layout.shape === "block" && layout.shape === "block";
    const columns = isBlock ? labelsOf(file.entries) : columnsOf(file.layout);
    const titles = [...columns.keys()];
    const width = isBlock ? 0 : Math.max(...file.entries.map(({ rows }) => rows[0]?.cells.length ?? 0));
    while (titles.length < width) titles.push(`column ${titles.length + 1}`);
    const places = new Map([...columns.values()].map((meaning, index) => [meaning?.holds, index]));
    const names = namesElsewhere(columns, map);
    for (const holds of names) columns.set(NAME_TITLES[holds], { holds });
    const around = new Map<string, Meaning>();
    for (const { title, meaning } of file.entries.flatMap((entry) => saidAround(entry, map)))
      if (meaning.holds === "remarks" || !places.has(meaning.holds)) around.set(title, meaning);
    for (const [title, meaning] of around) columns.set(title, meaning);
    const lines = file.entries.map((entry) => {
      const aside = entry.rows.flatMap(({ row }) => waiting.get(row) ?? []);
      const reasons = aside.flatMap(({ issues }) => issues).map(describeIssue);
      const cells = [...(isBlock ? blockCells(entry, titles) : (entry.rows[0]?.cells ?? []))];
      const said = new Map(saidAround(entry, map).map(({ title, cell }) => [title, cell]));
      for (const { meaning, cell } of saidAround(entry, map)) {
        const index = meaning.holds === "remarks" ? undefined : places.get(meaning.holds);
        if (index !== undefined && textOf(cells[index]) === "") cells[index] = cell;
      }
      const place = formatPlace(
        source.file,
        sha256,
        source.sheet,
        aside.map(({ row }) => row),
      );
      return [
        [...new Set(reasons)].join("; "),
        place,
        "",
        ...titles.map((_, index) => written(cells[index] ?? "", conventions)),
        ...names.map((holds) => aside[0]?.[holds === "drawn" ? "drawnOn" : holds] ?? ""),
        ...[...around.keys()].map((title) => String(said.get(title) ?? "")),
      ];
    });
    const header = [
      ...["quarantine reason", "quarantine place", "quarantine accepted"],
      ...titles,
      ...names.map((holds) => NAME_TITLES[holds]),
      ...around.keys(),
    ];
    return {
      csv: stringify(
        [header, ...lines].map((cells) => cells.map(guarded)),
        { bom: true },
      ),
      map: mapOf(source.file, columns, conventions, map, file.layout.shape === "long" ? "long" : "wide"),
    };
  });
}

function columnsOf({ columns }: Layout): Map<string, Meaning | undefined> {
  const held = new Map<string, Meaning | undefined>();
  for (const [index, { title, recognition }] of columns.entries()) {
    // Two columns of one title stay two, or the cells after them would be below other titles.
    const own = title === "" ? `column ${index + 1}` : title;
    const name = held.has(own) ? `${own} (column ${index + 1})` : own;
    held.set(name, recognition.kind === "known" ? recognition.meaning : undefined);
  }
  return held;
}

/** The cells of a block with their titles: names, results, those in question, and texts. */
function cellsOf({ naming, results, faults, texts = [] }: Entry) {
  return [
    ...Object.entries(naming).flatMap(([holds, cell]) =>
      cell.row === OF_THE_MAP ? [] : [{ title: cell.column, cell: cell.cell, meaning: { holds } as Meaning }],
    ),
    ...results.map(({ column, cell, measurand }) => ({ title: column, cell, meaning: measurand })),
    ...faults
      .filter(({ code }) => code === "measurand-not-known")
      .map(({ column, value }) => ({ title: column, cell: value, meaning: undefined })),
    ...texts.map(({ column, cell, holds }) => ({ title: column, cell, meaning: { holds } as Meaning })),
  ];
}

/** The labels of blocks become the titles of columns. */
function labelsOf(entries: readonly Entry[]): Map<string, Meaning | undefined> {
  const labels = new Map<string, Meaning | undefined>();
  for (const { title, meaning } of entries.flatMap(cellsOf))
    if (!labels.has(title)) labels.set(title, meaning);
  return labels;
}

/**
 * What lines around the table or other sheets say of a sample, apart from what names it. It comes along, or the rows would
 * come back without their fluid, their port or a remark that holds for all of them.
 */
function saidAround({ naming, results, texts }: Entry, map: ColumnMap | undefined) {
  const isOurs = (holds: string) =>
    !NEEDED_NAMING.some((kind) => kind === holds) && !Object.hasOwn(map?.fixed ?? {}, holds);
  const placed = [
    ...Object.entries(naming).map(([holds, cell]) => ({ ...cell, holds, title: holds })),
    ...results.map(({ measurand: { holds }, ...cell }) => ({ ...cell, holds, title: holds })),
    ...texts.map((text) => ({ ...text, title: text.column })),
  ];
  return placed
    .filter(({ row, holds }) => row === OF_THE_MAP && isOurs(holds))
    .map(({ holds, title, cell }) => ({
      title: `around the table: ${title}`,
      meaning: { holds } as Meaning,
      cell,
    }));
}

/**
 * What names a sample and is in no column of its table: it stood above the table, in another sheet, or nowhere. It gets a
 * column of its own with what is known of it, so that the rows can be read by themselves.
 */
function namesElsewhere(columns: ReadonlyMap<string, Meaning | undefined>, map: ColumnMap | undefined) {
  const held = new Set([...columns.values()].map((meaning) => meaning?.holds));
  return NEEDED_NAMING.filter((holds) => !held.has(holds) && !Object.hasOwn(map?.fixed ?? {}, holds));
}

const NAME_TITLES = { sample: "sample", cart: "cart", circuit: "circuit", drawn: "drawn on" } as const;

function blockCells(entry: Entry, titles: readonly string[]): RawCell[] {
  const byTitle = new Map(cellsOf(entry).map(({ title, cell }) => [title, cell]));
  return titles.map((title) => byTitle.get(title) ?? "");
}

/** Numbers of a workbook are written with the mark that the rest of the file uses. */
function written(cell: RawCell, { decimal }: Conventions): string {
  if (typeof cell === "string") return cell;
  return decimal === "," ? String(cell).replace(".", ",") : String(cell);
}

function mapOf(
  file: string,
  columns: ReadonlyMap<string, Meaning | undefined>,
  { decimal, dates }: Conventions,
  map: ColumnMap | undefined,
  shape: "long" | "wide",
): ColumnMap {
  // What the map said of a column goes on under the title that the column has here, once: a map finds its titles by
  // what is left of them without their marks.
  const said = new Map<string, readonly [string, Meaning]>();
  for (const [title, meaning] of [...Object.entries(map?.columns ?? {}), ...columns])
    if (meaning !== undefined) said.set(plainTitle(title), [title, meaning]);
  const { which: _, ...settled } = map ?? {};
  return {
    ...settled,
    siltbookColumnMap: 1,
    name: map?.name ?? `quarantine of ${file}`,
    shape,
    ...((decimal === "." || decimal === ",") && { decimal }),
    ...(dates.form !== undefined &&
      MARKS.includes(dates.form) &&
      isOrder(dates.order) && { dates: dates.order }),
    columns: Object.fromEntries(said.values()),
  };
}

/** Dates that need an order to be read; others are read without one, and an odd one must not be read by theirs. */
const MARKS: readonly DateForm[] = ["/", "-"];

function isOrder(order: DateRule["order"]): order is NonNullable<ColumnMap["dates"]> {
  return order === "day-month-year" || order === "month-day-year";
}
