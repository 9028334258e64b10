import { isBlankRow, type RawRow, type RowSource, textOf } from "../rows/row.js";
import { type ColumnMap, meaningsOfMap } from "./column-map.js";
import { plainTitle, recognise } from "./columns.js";
import { NEEDED_NAMING, plainUnit, type Recognition } from "./meaning.js";

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

export type Namer = (title: string, unit?: string) => TitledColumn;

/** Names titles by the map first and by the dictionary second. */
export function namer(map: ColumnMap | undefined): Namer {
  const settled = meaningsOfMap(map);
  const named = NAMED.get(map ?? NO_MAP) ?? new Map<string, TitledColumn>();
  NAMED.set(map ?? NO_MAP, named);
  return (title, unit = "") => {
    if (title.length + unit.length > MAX_NAMED_LENGTH) return { title, recognition: { kind: "unknown" } };
    const key = `${title}\n${unit}`;
    const before = named.get(key);
    if (before !== undefined) return before;
    const meaning = settled.get(plainTitle(title));
    const recognition: Recognition =
      meaning !== undefined
        ? { kind: "known", meaning }
        : title === "" || title.length + unit.length > MAX_TITLE_LENGTH
          ? { kind: "unknown" }
          : recognise(title, unit, map?.counts ?? {});
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
  const below = head[index + 1];
  const units = below !== undefined && isUnitRow(below, titles.length) ? below : undefined;
  const columns = titles.map((title, column) => joinTitles("", title, textOf(units?.cells[column]), name));
  yield tableOf(columns, units === undefined ? [row] : [row, units]);
  const above = head[index - 1];
  if (above === undefined || isBlankRow(above)) return;
  const groups = filledToTheRight(above, titles.length);
  const grouped = Array.from({ length: groups.length }, (_, column) =>
    joinTitles(groups[column] ?? "", titles[column] ?? "", textOf(units?.cells[column]), name),
  );
  // A hair less, so that a group row is used only where it makes more titles understood.
  const layout = tableOf(grouped, units === undefined ? [above, row] : [above, row, units]);
  yield { ...layout, score: layout.score - 0.5 };
}

function trimmedTitles(row: RawRow): string[] {
  const titles = row.cells.map(textOf);
  return titles.slice(0, titles.findLastIndex((title) => title !== "") + 1);
}

/** A merged cell holds its text in the first of its columns. */
function filledToTheRight(row: RawRow, width: number): string[] {
  let last = "";
  return Array.from({ length: Math.max(width, trimmedTitles(row).length) }, (_, column) => {
    last = textOf(row.cells[column]) || last;
    return last;
  });
}

const UNIT = /^[([]?\s*(1|#|particles|counts?|p)?\s*(\/|per )\s*(\d+ ?)?ml\s*[)\]]?$/i;
const KNOWN_UNITS = [
  ...["ppm", "mg/kg", "%", "% m/m", "ppm by mass", "µg/g", "ug/g", "mg koh/g", "mm²/s", "cst", "°C", "°F"],
  ...["kg/m³", "kg/m3", "g/cm³", "g/cm3", "g/ml", "ml"],
];

function isKnownUnit(text: string): boolean {
  return KNOWN_UNITS.includes(plainUnit(text.replace(/^[([]|[)\]]$/g, "")));
}

/** Whether a row holds units and nothing else. */
function isUnitRow(row: RawRow, width: number): boolean {
  const cells = row.cells.slice(0, width).map(textOf);
  const written = cells.filter((cell) => cell !== "" && cell !== "-");
  return (
    written.length > 0 &&
    written.every((cell) => cell.length <= MAX_UNIT_LENGTH && (UNIT.test(cell) || isKnownUnit(cell)))
  );
}

/** Tries a title by itself before it is read together with the group above it. */
function joinTitles(group: string, title: string, unit: string, name: Namer): TitledColumn {
  const own = title === "" ? name(group, unit) : name(title, unit);
  if (own.recognition.kind === "known" || group === "" || title === "") return own;
  const joined = name(`${group} ${title}`, unit);
  if (joined.recognition.kind === "known") return joined;
  // "Fe" below "Metals (ppm)": the unit of a group is that of its columns.
  const ofGroup = unit === "" ? unitOfGroup(group) : undefined;
  const withUnit = ofGroup === undefined ? own : name(title, ofGroup);
  if (withUnit.recognition.kind === "known")
    return { title: joined.title, recognition: withUnit.recognition };
  // "> 4" below "Particles per mL, µm(c)": the size belongs before its unit.
  const bareSize =
    title.length <= MAX_TITLE_LENGTH && /^[<>≥≤\s]*\d+(\.\d+)?(\s*[-–]\s*\d+(\.\d+)?)?$/.test(title);
  const sized =
    bareSize && !/\d\s*[µμu]m/i.test(group) ? name(group.replace(/[µμu]m/i, `${title} µm`), unit) : joined;
  return { title: joined.title, recognition: sized.recognition };
}

/** The unit with which the title of a group ends: in brackets, behind a comma, or as its last word. */
function unitOfGroup(group: string): string | undefined {
  if (group.length > MAX_TITLE_LENGTH) return undefined;
  return [
    group.slice(Math.max(group.lastIndexOf("("), group.lastIndexOf("["), 0)),
    group.slice(group.lastIndexOf(",") + 1),
    group.slice(group.lastIndexOf(" ") + 1),
  ]
    .map((text) => text.trim())
    .find(isKnownUnit);
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
