import { stringify } from "csv-stringify/sync";
import type { DateForm, DateRule } from "../cells/dates.js";
import { describeIssue, type QuarantinedRow } from "../checks/issue.js";
import type { ColumnMap } from "../layout/column-map.js";
import { plainTitle } from "../layout/columns.js";
import { type Conventions, survey } from "../layout/conventions.js";
import { labelOf, namer } from "../layout/layout.js";
import { type Meaning, NEEDED_NAMING } from "../layout/meaning.js";
import type { Table } from "../layout/tables.js";
import { guarded } from "../rows/formula-guard.js";
import type { RawCell } from "../rows/row.js";
import { entriesOf } from "../samples/entries.js";
import type { Entry } from "../samples/entry.js";
import { formatPlace } from "./quarantine-place.js";

/** A file that a person corrects and feeds back, and the column map it is read with. */
export interface QuarantineFile {
  /** Delimited text with commas, UTF-8 with a byte order mark so that spreadsheets open it rightly. */
  readonly csv: string;
  readonly map: ColumnMap;
}

/**
 * Writes the quarantined rows of a table as they stood, each with what is wrong and where it stood.
 *
 * The map carries what the whole file showed and a few rows cannot: what each column holds, the decimal mark and the order
 * of dates. In the column "quarantine accepted" a person writes the check that was looked into and is accepted, or
 * "discard" for a row that is no result.
 *
 * @param table - a table of the file
 * @param quarantine - the quarantined rows of the whole file
 * @param sha256 - of the file, so that the rows find their place again
 * @returns undefined when no row of this table is in quarantine
 */
export function quarantineFileOf(
  table: Table,
  quarantine: readonly QuarantinedRow[],
  sha256: string,
  map: ColumnMap | undefined,
): QuarantineFile | undefined {
  const { source, layout } = table;
  const issues = new Map(
    quarantine.filter(({ sheet }) => sheet === source.sheet).map((row) => [row.row, row.issues]),
  );
  if (issues.size === 0) return undefined;
  const { conventions } = survey(table, map);
  const entries: Entry[] = [];
  for (const item of entriesOf(source, layout, map)) {
    if ("entry" in item && item.entry.rows.some(({ row }) => issues.has(row))) entries.push(item.entry);
  }
  const columns = layout.shape === "block" ? labelsOf(entries, map) : columnsOf(table);
  const titles = [...columns.keys()];
  const lines = entries.map((entry) => {
    const rows = entry.rows.map(({ row }) => row).filter((row) => issues.has(row));
    const reasons = rows.flatMap((row) => issues.get(row) ?? []).map(describeIssue);
    const cells = layout.shape === "block" ? blockCells(entry, titles, map) : (entry.rows[0]?.cells ?? []);
    const place = formatPlace(source.file, sha256, source.sheet, rows);
    return [[...new Set(reasons)].join("; "), place, "", ...cells.map((cell) => written(cell, conventions))];
  });
  const header = ["quarantine reason", "quarantine place", "quarantine accepted", ...titles];
  return {
    csv: stringify(
      [header, ...lines].map((cells) => cells.map(guarded)),
      { bom: true },
    ),
    map: mapOf(source.file, columns, conventions, map, layout.shape === "long" ? "long" : "wide"),
  };
}

function columnsOf({ layout }: Table): Map<string, Meaning | undefined> {
  return new Map(
    layout.columns.map(({ title, recognition }, index) => [
      title || `column ${index + 1}`,
      recognition.kind === "known" ? recognition.meaning : undefined,
    ]),
  );
}

/** The labels of blocks become the titles of columns. */
function labelsOf(entries: readonly Entry[], map: ColumnMap | undefined): Map<string, Meaning | undefined> {
  const name = namer(map);
  const labels = new Map<string, Meaning | undefined>();
  for (const row of entries.flatMap((entry) => entry.rows)) {
    const label = labelOf(row, name);
    if (label === undefined) continue;
    const { title, recognition } = label.column;
    labels.set(title, recognition.kind === "known" ? recognition.meaning : undefined);
  }
  for (const { column, holds } of entries.flatMap(({ texts = [] }) => texts)) {
    if (!labels.has(column)) labels.set(column, { holds });
  }
  // A block that lacks the cart gets an empty column for it, so that there is a place to write it.
  const held = [...labels.values()].map((meaning) => meaning?.holds);
  for (const holds of NEEDED_NAMING) {
    if (!held.includes(holds) && !Object.hasOwn(map?.fixed ?? {}, holds))
      labels.set(EMPTY_TITLES[holds], { holds });
  }
  return labels;
}

const EMPTY_TITLES = { sample: "sample", cart: "cart", circuit: "circuit", drawn: "drawn on" } as const;

function blockCells(entry: Entry, titles: readonly string[], map: ColumnMap | undefined): RawCell[] {
  const name = namer(map);
  const byTitle = new Map([
    ...(entry.texts ?? []).map(({ column, cell }) => [column, cell] as const),
    ...entry.rows.flatMap((row) => {
      const label = labelOf(row, name);
      return label === undefined ? [] : [[label.column.title, label.value] as const];
    }),
  ]);
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
  return {
    ...map,
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
