import { isDeepStrictEqual } from "node:util";
import { isBlankRow, type RawRow, type RowSource, textOf } from "../rows/row.js";
import { type ColumnMap, meaningsOfMap } from "./column-map.js";
import { plainTitle, recognise } from "./columns.js";
import { isMeasurand, NEEDED_NAMING, type Recognition } from "./meaning.js";

/** A row for each sample, a row for each measurand, or one sample as a small sheet of two columns. */
export type Shape = "wide" | "long" | "block";

/** One column, or one label of a block, and what is known of it. */
export interface TitledColumn {
  /** The title as the file writes it; titles of several rows are joined. */
  readonly title: string;
  readonly recognition: Recognition;
}

/** How the rows of a table are laid out. */
export interface Layout {
  readonly shape: Shape;
  /** Empty for blocks, whose labels stand in the rows. */
  readonly columns: readonly TitledColumn[];
  /** Rows that hold titles or units; the table begins after the last of them. */
  readonly headerRows: readonly RawRow[];
  /** How much of the header was understood; for choosing among readings of one file. */
  readonly score: number;
}

/** The header is looked for in so many rows. */
export const HEAD_ROWS = 100;

/**
 * Finds the header of a table, or the labels of its blocks.
 *
 * The row with the most titles that are understood is the header. Titles may stand in two rows (a group above its
 * columns) and units in a row of their own below.
 *
 * @param source - for titles that the format itself gives
 * @param head - the first {@link HEAD_ROWS} rows
 * @param map - what a person has settled
 * @returns the best reading, or undefined when fewer than two titles are understood
 */
export function findLayout(
  source: Pick<RowSource, "titles">,
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
      : [
          tableOf(
            source.titles.map((title) => name(title)),
            [],
          ),
        ];
  const block = source.titles === undefined ? blockIn(head, name) : undefined;
  const wanted = [...tables, ...(block ? [block] : [])].filter(
    ({ score, shape }) => score >= MIN_KNOWN && (map?.shape === undefined || map.shape === shape),
  );
  const best = Math.max(...wanted.map(({ score }) => score));
  return wanted.find(({ score }) => score === best);
}

const MIN_KNOWN = 2;

/** A row of data has figures in most of its cells, a row of titles has words. */
function mayHoldTitles({ cells }: RawRow): boolean {
  const written = cells.filter((cell) => textOf(cell) !== "");
  const words = written.filter((cell) => typeof cell === "string" && /\p{L}/u.test(cell));
  return words.length * 2 >= written.length;
}

export type Namer = (title: string, unit?: string, group?: string) => TitledColumn;

/** Names titles by the map first and by the dictionary second. */
export function namer(map: ColumnMap | undefined): Namer {
  const settled = meaningsOfMap(map);
  const named = NAMED.get(map ?? NO_MAP) ?? new Map<string, TitledColumn>();
  NAMED.set(map ?? NO_MAP, named);
  return (title, unit = "", group = "") => {
    if (title.length + unit.length + group.length > MAX_NAMED_LENGTH)
      return { title, recognition: { kind: "unknown" } };
    const key = `${title}\n${unit}\n${group}`;
    const before = named.get(key);
    if (before !== undefined) return before;
    const meaning = settled.get(plainTitle(title));
    const recognition: Recognition =
      meaning !== undefined
        ? { kind: "known", meaning }
        : title === "" || title.length + unit.length > MAX_TITLE_LENGTH
          ? { kind: "unknown" }
          : recognise(title, unit, map?.counts ?? {}, group);
    // A column of names that are all different must not fill the memory.
    if (named.size > MAX_NAMES) named.clear();
    named.set(key, { title, recognition });
    return { title, recognition };
  };
}

/** What titles were found to be, by column map: many files of one laboratory have the same ones. */
const NAMED = new WeakMap<object, Map<string, TitledColumn>>();
const NO_MAP = {};
const MAX_TITLE_LENGTH = 200;
const MAX_UNIT_LENGTH = 50;
/** A longer text is not looked up in a column map either, and not remembered. */
const MAX_NAMED_LENGTH = 2000;
const MAX_NAMES = 10_000;

function* headersAt(head: readonly RawRow[], index: number, name: Namer): Generator<Layout> {
  const row = head[index] as RawRow;
  const titles = trimmedTitles(row);
  if (titles.length < 2) return;
  const units = unitRowsBelow(head, index, titles, name);
  const unitAt = (column: number) =>
    units
      .map(({ cells }) => textOf(cells[column]))
      .filter((text) => /[^\s-]/.test(text))
      .join(" ");
  const columns = titles.map((title, column) => joinTitles("", title, unitAt(column), name));
  const above = head[index - 1];
  if (above === undefined || isBlankRow(above)) {
    yield tableOf(columns, [row, ...units]);
    return;
  }
  const groups = groupsIn(above, columns);
  const grouped = groups.map((group, column) =>
    joinTitles(group, titles[column] ?? "", unitAt(column), name),
  );
  // A group that contradicts its columns, such as "Limits" or "per 100 mL", cannot be left out.
  const contradicts = columns.some(
    ({ recognition }, column) =>
      holdsResult(recognition) && !isDeepStrictEqual(recognition, grouped[column]?.recognition),
  );
  const layout = tableOf(grouped, [above, row, ...units]);
  if (contradicts) yield layout;
  else {
    yield tableOf(columns, [row, ...units]);
    // A hair less, so that a group row is used only where it makes more titles understood.
    yield { ...layout, score: layout.score - 0.5 };
  }
}

function holdsResult(recognition: Recognition): boolean {
  return recognition.kind === "known" && isMeasurand(recognition.meaning);
}

function trimmedTitles(row: RawRow): string[] {
  const titles = row.cells.map(textOf);
  return titles.slice(0, titles.findLastIndex((title) => title !== "") + 1);
}

/** The titles of groups above their columns: a merged cell holds its text in the first of them. A line of text is none. */
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
function unitRowsBelow(
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
const NUMBER_OR_LIMIT = /^[<>≤≥=\s]*\d[\d.,\s]*$/;

function isUnitRow({ cells }: RawRow, titles: readonly string[], name: Namer): boolean {
  const written = cells.flatMap((cell, column) => {
    const text = textOf(cell);
    return /[^\s-]/.test(text) ? [{ text, column, title: titles[column] ?? "" }] : [];
  });
  return (
    written.length > 0 &&
    written.every(({ text, title }) => {
      if (text.length > MAX_UNIT_LENGTH || NUMBER_OR_LIMIT.test(text)) return false;
      const { recognition } = name(title);
      return (
        recognition.kind !== "known" || isMeasurand(recognition.meaning) || /^[ymdhjat\s:./-]+$/i.test(text)
      );
    }) &&
    written.some(({ text, title }) => name(title).recognition.kind !== "unknown" && !isTitle(name(text)))
  );
}

function isTitle({ recognition }: TitledColumn): boolean {
  return recognition.kind !== "unknown";
}

/** Reads a title by itself and together with the group above it. */
function joinTitles(group: string, title: string, unit: string, name: Namer): TitledColumn {
  if (title === "") return name(group, unit);
  const own = name(title, unit);
  if (group === "") return own;
  const below = name(title, unit, group);
  if (isDeepStrictEqual(own.recognition, below.recognition) && own.recognition.kind === "known") return own;
  const joined = name(`${group} ${title}`, unit);
  if (joined.recognition.kind === "known") return joined;
  if (below.recognition.kind === "known" || own.recognition.kind === "known")
    return { title: joined.title, recognition: below.recognition };
  // "> 4" below "Particles per mL, µm(c)": the size belongs before its unit.
  const bareSize =
    title.length <= MAX_TITLE_LENGTH && /^[<>≥≤\s]*\d+(\.\d+)?(\s*[-–]\s*\d+(\.\d+)?)?$/.test(title);
  const sized =
    bareSize && !/\d\s*[µμu]m/i.test(group) ? name(group.replace(/[µμu]m/i, `${title} µm`), unit) : joined;
  return { title: joined.title, recognition: sized.recognition };
}

function tableOf(columns: readonly TitledColumn[], headerRows: readonly RawRow[]): Layout {
  const kinds = columns.flatMap(({ recognition }) =>
    recognition.kind === "known" ? [recognition.meaning.holds] : [],
  );
  const shape = kinds.includes("measurand") && kinds.includes("value") ? "long" : "wide";
  return { shape, columns, headerRows, score: scoreOf(columns) };
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

function blockIn(head: readonly RawRow[], name: Namer): Layout | undefined {
  const seen = new Map<string, TitledColumn>();
  for (const row of head) {
    const label = labelOf(row, name);
    if (label !== undefined && !seen.has(label.column.title)) seen.set(label.column.title, label.column);
  }
  const columns = [...seen.values()];
  const kinds = columns.flatMap(({ recognition }) =>
    recognition.kind === "known" ? [recognition.meaning.holds] : [],
  );
  const named = NEEDED_NAMING.filter((kind) => kinds.includes(kind)).length;
  if (named < 2) return undefined;
  return { shape: "block", columns: [], headerRows: [], score: scoreOf(columns) };
}

/** The label and the value of a row of a block; undefined when the row does not begin with a known label. */
export function labelOf(
  row: RawRow,
  name: Namer,
): { column: TitledColumn; value: RawRow["cells"][number]; unit: string } | undefined {
  const written = row.cells.filter((cell) => textOf(cell) !== "");
  const [label, value = "", unit = ""] = written;
  if (typeof label !== "string" || label.length > MAX_TITLE_LENGTH || written.length > 3) return undefined;
  const column = name(label.trim().replace(/\s*:$/, ""), textOf(unit));
  return column.recognition.kind === "unknown" ? undefined : { column, value, unit: textOf(unit) };
}
