import { doubtsSamples } from "../../samples/index.js";
import type { NotSampleRow } from "../checks/issue.js";
import { speaksAgainst } from "../layout/against-titles.js";
import type { ColumnMap } from "../layout/column-map.js";
import type { Layout } from "../layout/layout.js";
import { isMeasurand, isOfBottle, type Meaning, type Measurand, NAMING, textIn } from "../layout/meaning.js";
import { type Namer, namer } from "../layout/namer.js";
import { inSections, type Section } from "../layout/sections.js";
import { minCells } from "../layout/short-rows.js";
import { isBlankRow, isWritten, type RawRow, type RowSource, textOf } from "../rows/row.js";
import { blockEntries } from "./blocks.js";
import {
  type Entry,
  type EntryOrSkipped,
  faultOfRow,
  fixedNaming,
  type PlacedCell,
  type PlacedText,
  type ReportedResult,
  type RowFault,
  rowFault,
  twiceFaults,
  unreadEntry,
} from "./entry.js";
import { faultAround } from "./lines-around.js";
import { saysSomethingIsWrong, TextLines } from "./text-lines.js";

/**
 * Goes through the rows of a table and says which belong to samples and what their cells are.
 *
 * @param source - the table
 * @param layout - how its rows are laid out
 * @param map - what a person has settled
 */
export function entriesOf(
  source: RowSource,
  layout: Layout,
  map: ColumnMap | undefined,
): Generator<EntryOrSkipped & { readonly section?: Section }> {
  return layout.shape === "block" ? blockEntries(source, map) : tableEntries(source, layout, map);
}

interface Place {
  readonly index: number;
  readonly title: string;
  /** Of a column of volumes, where its cells leave it out. */
  readonly unit?: string | undefined;
}

/** The cell of a column of volumes, with the unit that its title says. */
function volumeCell(placed: PlacedCell, { unit }: Place): PlacedCell {
  const text = textOf(placed.cell);
  return unit !== undefined && /^[\d.,]+$/.test(text) ? { ...placed, cell: `${text} ${unit}` } : placed;
}

/** The entries of a table, each with the section that it is in. */
export function* tableEntries(
  source: RowSource,
  layout: Layout,
  map: ColumnMap | undefined,
): Generator<EntryOrSkipped & { readonly section: Section }> {
  const readers = new Map<Section, ReturnType<typeof entryReader>>();
  const around = textsAround(source);
  for (const [row, section] of inSections(source, layout, map)) {
    let read = readers.get(section);
    if (read === undefined) {
      read = entryReader(section, map, around);
      readers.set(section, read);
    }
    yield read(row);
  }
}

/** What the name of a sheet, or a document around its list of samples, says of them that is wrong: no row of it can wait. */
function textsAround({ sheet = "", format, isAcross, around = [] }: RowSource): PlacedText[] {
  if (doubtsSamples(sheet)) return [{ holds: "remarks", cell: sheet, row: 0, column: "(sheet)" }];
  if (format !== "JSON" || isAcross) return [];
  return around.flatMap((row): PlacedText[] => {
    const [name = "", text = ""] = row.cells.map(textOf);
    return saysSomethingIsWrong(row) ? [{ holds: "remarks", cell: text, row: row.row, column: name }] : [];
  });
}

/**
 * A reader for the rows of one section.
 *
 * @param around - what is said around the table of every sample in it
 * @returns says of a row whether it belongs to a sample, and what its cells are
 */
function entryReader(
  section: Section,
  map: ColumnMap | undefined,
  around: readonly PlacedText[],
): (row: RawRow) => EntryOrSkipped & { readonly section: Section } {
  const { layout, obstacle, isList, against: lineAgainst } = section;
  const name = namer(map);
  const titles = layout.columns.map(({ title }) => title);
  const headerRows = new Set(layout.headerRows.map(({ row }) => row));
  const lastHeaderRow = Math.max(0, ...headerRows);
  const headerTexts = layout.headerRows.map(({ text }) => text);
  const places = new Map<Meaning["holds"], Place>();
  const texts: (Place & Pick<PlacedText, "holds">)[] = [];
  const notKnown: Place[] = [];
  const measurands: (Place & { measurand: Measurand })[] = [];
  layout.columns.forEach(({ title, recognition }, index) => {
    const holds = textIn(recognition, layout.shape === "long");
    if (holds !== undefined) texts.push({ index, title, holds });
    if (recognition.kind === "unknown") notKnown.push({ index, title });
    if (recognition.kind !== "known") return;
    const { meaning } = recognition;
    if (isMeasurand(meaning)) {
      if (layout.shape === "wide" || isOfBottle(meaning))
        measurands.push({ index, title, measurand: meaning });
      else texts.push({ index, title, holds: "text" });
    } else places.set(meaning.holds, { index, title, ...("unit" in meaning && { unit: meaning.unit }) });
  });
  const namingPlaces = NAMING.flatMap((kind) => {
    const place = places.get(kind);
    return place === undefined ? [] : [{ kind, ...place }];
  });
  const fixed = fixedNaming(map);
  const accepted = places.get("accepted");
  const place = places.get("place");
  const per = places.get("counts-per");
  const least = minCells(layout);
  const lines = new TextLines();
  const writtenOn = texts.map(({ index }) => index);
  return (row) => {
    const why =
      skip(row, lastHeaderRow, headerRows, headerTexts) ??
      (titles.length > 2 && isOutside(row, writtenOn) && lines.isText(row) ? "footer" : undefined);
    const line = faultAround(row, why, lineAgainst);
    if (why !== undefined && line === undefined) return { skipped: { row, why }, section };
    if (isList === true && why === undefined) return { skipped: { row, why: "footer" }, section };
    // A row below a header that does not serve must not be read by the header before it.
    const fault =
      line ??
      (obstacle === undefined
        ? rowFault(row, titles.length, least)
        : faultOfRow(row, `a row below a header that can be read; ${obstacle}`));
    const naming: Entry["naming"] = { ...fixed };
    if (fault !== undefined) return { entry: unreadEntry(row, naming, fault), section };
    const { cells } = row;
    const cellAt = ({ index, title }: Place): PlacedCell => ({
      cell: cells[index] ?? "",
      row: row.row,
      column: title,
    });
    for (const named of namingPlaces) naming[named.kind] = cellAt(named);
    lines.see(textOf(naming.sample?.cell));
    const written: PlacedText[] = [...around];
    for (const text of texts) {
      if (isWritten(cells[text.index])) written.push({ holds: text.holds, ...cellAt(text) });
    }
    const entry = (
      results: readonly ReportedResult[],
      faults: readonly RowFault[],
      furtherTexts: readonly PlacedText[] = [],
    ) => ({
      entry: {
        rows: [row],
        naming,
        results,
        faults,
        texts: furtherTexts.length === 0 ? written : [...written, ...furtherTexts],
        accepted: accepted === undefined ? "" : textOf(cells[accepted.index]),
        place: place === undefined ? "" : textOf(cells[place.index]),
      },
      section,
    });
    if (row.twice !== undefined) return entry([], twiceFaults(row));
    const against = (results: readonly ReportedResult[]) =>
      notKnown.length === 0 ? [] : faultsAgainst(notKnown.map(cellAt), results);
    if (layout.shape !== "wide") {
      const long = longResult(places, cellAt, name);
      Object.assign(naming, long.naming);
      const context = measurands.map(({ measurand, ...place }) => ({ measurand, ...cellAt(place) }));
      const faults = [...long.faults, ...against(long.results)];
      return entry([...long.results, ...context], faults, long.texts);
    }
    const countsPer = per && volumeCell(cellAt(per), per);
    const results = measurands.map(({ measurand, index, title }): ReportedResult => {
      const result = { measurand, cell: cells[index] ?? "", row: row.row, column: title };
      return countsPer === undefined || measurand.holds !== "count" ? result : { ...result, countsPer };
    });
    return entry(results, against(results));
  };
}

/** What cells of columns that are not known say against the titles of the counts in their row. */
function faultsAgainst(cells: readonly PlacedCell[], results: readonly ReportedResult[]): RowFault[] {
  if (cells.length === 0) return [];
  const counts = results.flatMap(({ measurand }) => (measurand.holds === "count" ? [measurand] : []));
  return cells.flatMap(({ cell, row, column }): RowFault[] => {
    const value = textOf(cell);
    if (value === "" || !speaksAgainst(column, value, counts)) return [];
    return [{ code: "cell-not-read", row, column, value, expected: AS_THE_TITLES_SAY }];
  });
}

const AS_THE_TITLES_SAY =
  'nothing that changes what the counts of the row stand for; a column map says "text" where their titles hold all the same';

/** Whether a row may be a line of text outside the samples: nothing stands where words about a sample stand. */
function isOutside({ broken, twice, cells }: RawRow, writtenOn: readonly number[]): boolean {
  return (
    broken === undefined && twice === undefined && writtenOn.every((index) => textOf(cells[index]) === "")
  );
}

function skip(
  row: RawRow,
  lastHeaderRow: number,
  headerRows: ReadonlySet<number>,
  headerTexts: readonly string[],
): NotSampleRow["why"] | undefined {
  if (row.outside !== undefined) return row.outside;
  if (headerRows.has(row.row)) return "header";
  if (row.broken !== undefined || row.twice !== undefined) return undefined;
  if (isBlankRow(row)) return "blank";
  if (row.row < lastHeaderRow) return "above the table";
  // A report of several pages repeats its header on each.
  return headerTexts.includes(row.text) ? "header" : undefined;
}

/** What a row of a measurand may say of the sample in place of a column. */
const ABOUT_THE_SAMPLE = ["calibration-due", "received", "reported", "drawn-time", "fluid"] as const;

function longResult(
  places: ReadonlyMap<Meaning["holds"], Place>,
  cellAt: (place: Place) => PlacedCell,
  name: Namer,
): Pick<Entry, "results" | "faults"> & Partial<Pick<Entry, "texts" | "naming">> {
  const measurandAt = places.get("measurand");
  const valueAt = places.get("value");
  if (measurandAt === undefined || valueAt === undefined) return { results: [], faults: [] };
  const named = cellAt(measurandAt);
  const unitAt = places.get("unit");
  const { recognition } = name(textOf(named.cell), unitAt === undefined ? "" : textOf(cellAt(unitAt).cell));
  const per = places.get("counts-per");
  const measurand =
    recognition.kind === "known"
      ? recognition.meaning
      : recognition.kind === "unsure" && per !== undefined
        ? recognition.withoutVolume
        : undefined;
  if (isMeasurand(measurand)) {
    const countsPer =
      per !== undefined && measurand.holds === "count" ? { countsPer: volumeCell(cellAt(per), per) } : {};
    return { results: [{ measurand, ...cellAt(valueAt), ...countsPer }], faults: [] };
  }
  if (recognition.kind === "known" && recognition.meaning.holds === "nothing")
    return { results: [], faults: [] };
  const ofSample = ABOUT_THE_SAMPLE.find(
    (kind) => recognition.kind === "known" && recognition.meaning.holds === kind,
  );
  if (ofSample !== undefined)
    return {
      results: [],
      faults: [],
      naming: { [ofSample]: { ...cellAt(valueAt), column: textOf(named.cell) } },
    };
  const holds = recognition.kind === "known" ? textIn(recognition, false) : undefined;
  if (holds !== undefined) {
    const text = { holds, ...cellAt(valueAt), column: textOf(named.cell) };
    return { results: [], faults: [], texts: [text] };
  }
  const expected =
    recognition.kind === "unsure"
      ? `a column map that settles: ${recognition.question}`
      : `a measurand with its unit, such as "4 µm(c)" with "1/mL"`;
  const { row: at, column } = named;
  return {
    results: [],
    faults: [{ code: "measurand-not-known", row: at, column, value: textOf(named.cell), expected }],
  };
}
