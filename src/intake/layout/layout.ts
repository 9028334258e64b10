import { isDeepStrictEqual } from "node:util";
import { columnLetters } from "../../provenance/index.js";
import { isBlankRow, type RawCell, type RawRow, type RowSource, textOf } from "../rows/row.js";
import { type ColumnMap, placesOfMap } from "./column-map.js";
import { plainTitle } from "./columns.js";
import { LabelReader } from "./labels.js";
import { holdsOf, holdsResult, isMeasurand, kindsIn, NAMING, NEEDED_NAMING } from "./meaning.js";
import { joinTitles, type Namer, namer, type TitledColumn } from "./namer.js";

/** A row for each sample, a row for each measurand, or one sample as a small sheet of two columns. */
type LayoutShape = Exclude<Shape, "across">;
/** The same, or a column for each sample: a table that is turned before it is read. */
export type Shape = "wide" | "long" | "block" | "across";

/** How the rows of a table are laid out. */
export interface Layout {
  readonly shape: LayoutShape;
  /** Whether the titles stand down a column, because the samples stand across. */
  readonly isAcross?: true;
  /** Empty for blocks, whose labels are in the rows. */
  readonly columns: readonly TitledColumn[];
  /** What a person calls the place of each: the letter of its column, or the number of its row where samples stand across. */
  readonly places: readonly string[];
  /** Rows that hold titles or units; the table begins after the last of them. */
  readonly headerRows: readonly RawRow[];
  /** Those of them that hold units. */
  readonly unitRows: readonly RawRow[];
  /** How much of the header was understood; for choosing among readings of one file. */
  readonly score: number;
}

/** The header is looked for in this many rows. */
export const HEAD_ROWS = 100;

/**
 * Finds the header of a table, or the labels of its blocks.
 *
 * The row with the most titles that are understood is the header. Titles may be in two rows (a group above its
 * columns) and units in a row of their own below.
 *
 * @param source - for titles that the format itself gives
 * @param head - the first {@link HEAD_ROWS} rows
 * @param map - what a person has settled
 * @returns the best reading, or undefined when fewer than two titles are understood
 */
export function findLayout(
  source: GivenTitles,
  head: readonly RawRow[],
  map: ColumnMap | undefined,
): Layout | undefined {
  const name = namer(map);
  const tables =
    source.titles === undefined
      ? head.flatMap((row, index) => {
          const above = head[index - 1];
          const may = mayHoldTitles(row) || (above !== undefined && mayHoldTitles(above));
          return may ? [...headersAt(head, index, name)] : [];
        })
      : [tableOf(titlesOf(source, name), [])];
  const block = source.titles === undefined ? blockIn(head, name) : undefined;
  const wanted = [...tables, ...(block ? [block.layout] : [])].filter(
    ({ score, shape }) => score >= MIN_KNOWN && isOfShape(shape, source, map),
  );
  const start = wanted.find(isOfSamples)?.headerRows[0]?.row;
  const above =
    start === undefined
      ? undefined
      : blockIn(
          head.filter(({ row }) => row < start),
          name,
        );
  // A sample in rows of labels that stands above a table must not be passed over with its preamble.
  if (above !== undefined && isOfSamples({ shape: "block", columns: above.labels })) return above.layout;
  const best = bestOf(firstOf(wanted));
  return (
    best && withChosen({ ...withCountsPer(best), ...(source.isAcross && { isAcross: true }) }, source, map)
  );
}

/** The titles that a format or a turned table gives. */
function titlesOf({ titles = [], withTitles, isAcross }: GivenTitles, name: Namer): TitledColumn[] {
  const columns = titles.map((title, index) => {
    const { group = "", unit = "" } = withTitles?.[index] ?? {};
    return joinTitles(group, title, unit, name);
  });
  if (!isAcross || kindsIn(columns).has("sample")) return columns;
  const question = "does this row of titles hold the numbers of the samples (sample)?";
  return columns.map((column) =>
    holdsOf(column) === "measurand"
      ? { title: column.title, recognition: { kind: "unsure", question } }
      : column,
  );
}

type GivenTitles = Pick<RowSource, "titles" | "withTitles" | "isAcross">;

function isOfShape(shape: Shape, { isAcross }: GivenTitles, map: ColumnMap | undefined): boolean {
  return map?.shape === undefined || map.shape === (isAcross ? "across" : shape);
}

/** Of several columns of one title those that the column map does not mean are not used. */
function withChosen(layout: Layout, { withTitles }: GivenTitles, map: ColumnMap | undefined): Layout {
  const places = layout.columns.map(
    (_, index) => withTitles?.[index]?.row.toString() ?? columnLetters(index),
  );
  const meant = placesOfMap(map);
  const columns = layout.columns.map((column, index): TitledColumn => {
    const place = meant.get(plainTitle(column.title));
    const isThere = layout.columns.some(
      ({ title }, other) => places[other] === place && plainTitle(title) === plainTitle(column.title),
    );
    if (!isThere || place === places[index]) return column;
    return { title: column.title, recognition: { kind: "known", meaning: { holds: "text" } } };
  });
  return { ...layout, columns, places };
}

/** Counts whose titles leave out the volume are known where a column holds it. */
function withCountsPer(layout: Layout): Layout {
  if (!kindsIn(layout.columns).has("counts-per")) return layout;
  const columns = layout.columns.map(({ title, recognition }) => ({
    title,
    recognition:
      recognition.kind === "unsure" && recognition.withoutVolume !== undefined
        ? ({ kind: "known", meaning: recognition.withoutVolume } as const)
        : recognition,
  }));
  return { ...layout, columns };
}

function bestOf(layouts: readonly Layout[]): Layout | undefined {
  const best = Math.max(...layouts.map(({ score }) => score));
  return layouts.find(({ score }) => score === best);
}

/** Of several tables below each other the readings of the first: the others begin sections of their own further down. */
function firstOf(layouts: readonly Layout[]): readonly Layout[] {
  const first = layouts.find(isOfSamples);
  if (first === undefined) return layouts;
  const last = first.headerRows.at(-1)?.row ?? 0;
  return layouts.filter(({ headerRows }) => (headerRows[0]?.row ?? 0) <= last + 1);
}

/** Whether a layout is surely of results of samples, though something that it needs may be missing. */
export function isOfSamples({ shape, columns }: Pick<Layout, "shape" | "columns">): boolean {
  const kinds = kindsIn(columns);
  const named = NEEDED_NAMING.filter((kind) => kinds.has(kind));
  const holdsResults = shape === "long" || columns.some(holdsResult);
  return (kinds.has("sample") || kinds.has("drawn")) && named.length >= 2 && holdsResults;
}

const MIN_KNOWN = 2;

/** Figures of a day, or a month by name; a title that begins with a size has neither. */
const DAY =
  /^\s*(?:\d{1,4}[-./ ]\d{1,2}[-./ ]\d{1,4}|\d{8}$|\d{1,2}[-. ]*\p{L}{3,}[-. ,]*\d{2,4}|\p{L}{3,}[-. ]*\d{1,2}[-., ]+\d{2,4})/u;

/** Whether a cell begins with a day, as one does in every row of a sample. */
export function hasDay(cell: RawCell | undefined): boolean {
  return DAY.test(textOf(cell).slice(0, 40));
}

/** A row of data has figures in most of its cells, a row of titles has words. */
function mayHoldTitles({ cells }: RawRow): boolean {
  const written = cells.filter((cell) => textOf(cell) !== "");
  const words = written.filter((cell) => typeof cell === "string" && /\p{L}/u.test(cell));
  return words.length * 2 >= written.length;
}

const MAX_UNIT_LENGTH = 50;

function* headersAt(head: readonly RawRow[], index: number, name: Namer): Generator<Layout> {
  const row = head[index] as RawRow;
  const titles = trimmedTitles(row);
  if (titles.length < 2) return;
  const above = head[index - 1];
  // Titles in two rows, none of which is understood by itself, make no header: every row of words would be tried.
  if (![...titles, ...(above?.cells ?? [])].some((cell) => isTitle(name(textOf(cell))))) return;
  const units = unitRowsBelow(head, index, titles, name);
  const unitAt = (column: number) =>
    units
      .map(({ cells }) => textOf(cells[column]))
      .filter((text) => /[^\s-]/.test(text))
      .join(" ");
  const columns = titles.map((title, column) => joinTitles("", title, unitAt(column), name));
  if (
    above === undefined ||
    isBlankRow(above) ||
    above.cells.some((cell) => hasDay(cell) || isLabel(cell, name))
  ) {
    yield tableOf(columns, [row], units);
    return;
  }
  const groups = groupsIn(above, columns);
  const grouped = groups.map((group, column) =>
    joinTitles(group, titles[column] ?? "", unitAt(column), name),
  );
  // A group that contradicts its columns, such as "Limits" or "per 100 mL", cannot be left out.
  const contradicts = columns.some(
    (title, column) =>
      holdsResult(title) && !isDeepStrictEqual(title.recognition, grouped[column]?.recognition),
  );
  const layout = tableOf(grouped, [above, row], units);
  if (contradicts) yield layout;
  else {
    yield tableOf(columns, [row], units);
    // A hair less, so that a group row is used only where it makes more titles understood.
    yield { ...layout, score: layout.score - 0.5 };
  }
}

/** Whether a cell is a label such as "Cart:", which stands over no columns. */
function isLabel(cell: RawCell, name: Namer): boolean {
  const text = textOf(cell);
  return text.endsWith(":") && NAMING.some((kind) => kind === holdsOf(name(text.slice(0, -1).trimEnd())));
}

function trimmedTitles(row: RawRow): string[] {
  const titles = row.cells.map(textOf);
  return titles.slice(0, titles.findLastIndex((title) => title !== "") + 1);
}

/** The titles of groups above their columns: a merged cell holds its text in the first of them. A line of text is not a group. */
function groupsIn(above: RawRow, columns: readonly TitledColumn[]): string[] {
  const width = Math.max(columns.length, trimmedTitles(above).length);
  let last = "";
  return Array.from({ length: width }, (_, column) => {
    const recognition = columns[column]?.recognition;
    const isNaming = recognition?.kind === "known" && !isMeasurand(recognition.meaning);
    const own = textOf(above.cells[column]);
    if (own !== "") last = isNaming || !/\p{L}/u.test(own) ? "" : own;
    return last;
  });
}

/** Rows of units, methods and the like below the titles: nothing that names a sample, and no numbers. */
export function unitRowsBelow(
  head: readonly RawRow[],
  index: number,
  titles: readonly string[],
  name: Namer,
): RawRow[] {
  const rows: RawRow[] = [];
  for (const row of head.slice(index + 1, index + 1 + MAX_UNIT_ROWS)) {
    if (!isUnitRow(row, titles, name)) break;
    rows.push(row);
  }
  return rows;
}

const MAX_UNIT_ROWS = 2;
/** What is in a column of names in a row of units: how a day is written, or what the row is. */
const NOT_A_NAME =
  /^(?:[ymdhjat\s:./-]+|units?|einheit(?:en)?|unités?|unidad(?:es)?|unità|eenhe(?:id|den)|methods?|test method|norm)[\s:]*$/i;
const NUMBER_OR_LIMIT = /^[<>≤≥=\s]*\d[\d.,\s]*$/;

export function isUnitRow({ cells }: RawRow, titles: readonly string[], name: Namer): boolean {
  const written = cells.flatMap((cell, column) => {
    const text = textOf(cell);
    return /[^\s-]/.test(text) ? [{ text, column, title: titles[column] ?? "" }] : [];
  });
  return (
    written.length > 0 &&
    written.every(({ text, title }) => {
      if (text.length > MAX_UNIT_LENGTH || NUMBER_OR_LIMIT.test(text)) return false;
      const { recognition } = name(title);
      return recognition.kind !== "known" || isMeasurand(recognition.meaning) || NOT_A_NAME.test(text);
    }) &&
    written.some(({ text, title }) => name(title).recognition.kind !== "unknown" && !isTitle(name(text)))
  );
}

function isTitle({ recognition }: TitledColumn): boolean {
  return recognition.kind !== "unknown";
}

function tableOf(
  columns: readonly TitledColumn[],
  titleRows: readonly RawRow[],
  unitRows: readonly RawRow[] = [],
): Layout {
  const kinds = kindsIn(columns);
  const shape = kinds.has("measurand") && kinds.has("value") ? "long" : "wide";
  return {
    shape,
    columns,
    places: [],
    headerRows: [...titleRows, ...unitRows],
    unitRows,
    score: scoreOf(columns),
  };
}

function scoreOf(columns: readonly TitledColumn[]): number {
  const known = new Set<string>();
  let unsure = 0;
  for (const { recognition } of columns) {
    // Many a legend has a column of remarks; it does not make a table of samples.
    if (recognition.kind === "known" && recognition.meaning.holds !== "remarks")
      known.add(JSON.stringify(recognition.meaning));
    else if (recognition.kind === "unsure") unsure += 1;
  }
  return known.size + unsure / 2;
}

/** Whether rows of labels name a sample in full and give a result of it. */
export function namesSample(rows: readonly RawRow[], name: Namer): boolean {
  const { labels = [] } = blockIn(rows.slice(0, HEAD_ROWS), name) ?? {};
  const kinds = kindsIn(labels);
  return NEEDED_NAMING.every((kind) => kinds.has(kind)) && labels.some(holdsResult);
}

/** The titles of naming and results in rows of labels. */
function blockIn(
  head: readonly RawRow[],
  name: Namer,
): { layout: Layout; labels: TitledColumn[] } | undefined {
  const reader = new LabelReader(name);
  const seen = new Map<string, TitledColumn>();
  for (const row of head) {
    for (const { column } of reader.read(row).labels)
      if (!seen.has(column.title)) seen.set(column.title, column);
  }
  const labels = [...seen.values()].filter(({ recognition }) => recognition.kind !== "unknown");
  const kinds = kindsIn(labels);
  const named = NEEDED_NAMING.filter((kind) => kinds.has(kind)).length;
  if (named < 2) return undefined;
  const layout: Layout = {
    shape: "block",
    columns: [],
    places: [],
    headerRows: [],
    unitRows: [],
    score: scoreOf(labels),
  };
  return { layout, labels };
}
