import { columnLetters, placeOfColumn } from "../../provenance/index.js";
import { IntakeError } from "../checks/issue.js";
import { isBlankRow, type RawCell, type RawRow, type RowSource, textOf } from "../rows/row.js";
import type { ColumnMap } from "./column-map.js";
import { isHeading } from "./labels.js";
import { isOfSamples, isUnitRow, type Layout } from "./layout.js";
import { isMeasurand, NEEDED_NAMING } from "./meaning.js";
import { type Namer, namer, type TitledColumn } from "./namer.js";
import { isNotAResult } from "./title-words.js";

/** A table of rows, and the lines of text around it. */
export interface Part {
  readonly source: RowSource;
  /** Lines above and below a table that was turned. */
  readonly lines?: readonly RawRow[];
}

/** The tables of a sheet of labels are looked for in so many rows. */
const MAX_ROWS = 10_000;

/**
 * Cuts a sheet where another kind of table begins, and turns each table whose samples stand across: labels down one column,
 * and a column for each sample. Turned, its columns are rows, each with the number of its column as its place.
 *
 * A row of such a table serves several samples, so its places are its columns; lines outside of it are rows as everywhere.
 * Every place has one fate.
 *
 * @param found - how the sheet would be read without being cut
 * @returns undefined where it is one table, to be read as it is
 * @throws IntakeError naming a row whose values have no label
 */
export function partsOf(
  source: RowSource,
  found: Layout | undefined,
  map: ColumnMap | undefined,
): Part[] | undefined {
  if (source.titles !== undefined || (map?.shape !== undefined && map.shape !== "across")) return undefined;
  // Above the header of a table only a table that stands across begins a part of its own.
  const header = found !== undefined && isOfSamples(found) ? found.headerRows[0]?.row : undefined;
  const name = namer(map);
  const rows = rowsBefore(source, header ?? MAX_ROWS);
  if (rows.some(({ inOrder }) => inOrder)) return undefined;
  const pieces = joinedBlocks(
    piecesOf(rows, name).map((piece) => ({ ...piece, ...turn(source, piece, name, map) })),
  );
  const isCut = pieces.length > 1 && (found === undefined || found.shape === "block");
  if (!isCut && pieces.every((piece) => piece.turned === undefined)) return undefined;
  const last = pieces.at(-1);
  if (header !== undefined && last !== undefined && last.turned === undefined) pieces.pop();
  const parts = pieces.map(({ rows: own, turned }) => turned ?? partWith(source, () => own));
  const end = pieces.at(-1)?.rows.at(-1)?.row ?? 0;
  if (header === undefined && rows.length < MAX_ROWS - 1) return parts;
  return [...parts, partWith(source, () => rowsAfter(source, end))];
}

function partWith(source: RowSource, rows: RowSource["rows"]): Part {
  return { source: { ...source, rows } };
}

function rowsBefore(source: RowSource, end: number): RawRow[] {
  const rows: RawRow[] = [];
  for (const row of source.rows()) {
    if (row.row >= end) break;
    rows.push(row);
  }
  return rows;
}

function* rowsAfter(source: RowSource, end: number): Generator<RawRow> {
  for (const row of source.rows()) if (row.row > end) yield row;
}

interface Piece {
  readonly kind: "labels" | "table";
  readonly rows: readonly RawRow[];
  readonly turned?: Part;
}

/** Rows of labels up to where a label that names the sample returns, and rows below a header. */
function piecesOf(rows: readonly RawRow[], name: Namer): Piece[] {
  const starts: { readonly at: number; readonly kind: Piece["kind"] }[] = [{ at: 0, kind: "labels" }];
  let seen = new Set<string>();
  let end = 0;
  rows.forEach((row, index) => {
    const written = row.cells.map(textOf).filter((text) => text !== "");
    const kinds = written.map((text) => namingOf(name(withoutColon(text))));
    const [label, second] = kinds;
    const isHeader = kinds.filter(Boolean).length > 2 && second !== undefined;
    const isLabel = label !== undefined && second === undefined && written.length > 1;
    const inTable = starts.at(-1)?.kind === "table";
    if (isHeader && !inTable) starts.push({ at: end, kind: "table" });
    else if (isLabel && (inTable || seen.has(label))) starts.push({ at: end, kind: "labels" });
    if (isHeader || (isLabel && (inTable || seen.has(label)))) seen = new Set();
    if (isLabel) seen.add(label);
    // Lines of text above a table belong to it.
    if (written.length > 1) end = index + 1;
  });
  return starts
    .map(({ at, kind }, index) => ({ kind, rows: rows.slice(at, starts[index + 1]?.at) }))
    .filter(({ rows: own }) => own.length > 0);
}

/** Blocks below each other are one table of blocks. */
function joinedBlocks(pieces: readonly Piece[]): Piece[] {
  const joined: Piece[] = [];
  for (const piece of pieces) {
    const last = joined.at(-1);
    const isMore = last?.kind === "labels" && piece.kind === "labels" && !last.turned && !piece.turned;
    if (isMore) joined.splice(-1, 1, { ...last, rows: [...last.rows, ...piece.rows] });
    else joined.push(piece);
  }
  return joined;
}

function namingOf({ recognition }: TitledColumn): string | undefined {
  if (recognition.kind !== "known") return undefined;
  return NEEDED_NAMING.find((kind) => kind === recognition.meaning.holds);
}

function withoutColon(label: string): string {
  return label.replace(/\s*:$/, "");
}

/** A row of a table that stands across: its label, what belongs to it, and its cells. */
interface Labelled {
  readonly row: RawRow;
  readonly title: TitledColumn;
  readonly group: string;
}

/** The table of a piece with its columns as rows, where its samples stand across. */
function turn(
  source: RowSource,
  { kind, rows }: Piece,
  name: Namer,
  map: ColumnMap | undefined,
): { readonly turned?: Part } {
  if (kind === "table") return {};
  const first = rows.find((row) => firstWritten(row) >= 0 && namingOf(titleIn(row, firstWritten(row), name)));
  const at = first === undefined ? -1 : firstWritten(first);
  if (first === undefined || at < 0) return {};
  const all = labelledIn(rows, at, name).map((one) => ({ ...one, row: filledAcross(source, one.row, at) }));
  const naming = all.filter(({ title }) => namingOf(title) !== undefined);
  const hasNumbers = naming.some(({ title }) => namingOf(title) === "sample");
  // A row of titles may hold the numbers of the samples; where another row does it is a line above the table.
  const labelled = hasNumbers ? all.filter((row) => !isTitleRow(row)) : all;
  const width = Math.max(...rows.map(({ cells }) => cells.length));
  const columns = Array.from({ length: width - at - 1 }, (_, index) => at + 1 + index);
  const named = columns.filter((column) => isNamed(naming, column));
  const isPaired = naming.some(({ row }) =>
    row.cells.slice(at + 1).some((cell) => namingOf(name(textOf(cell)))),
  );
  if (isPaired || named.length < (map?.shape === "across" ? 1 : 2)) return {};
  const own = new Set(all.map(({ row }) => row.row));
  const nameless = rows.find(
    ({ row, cells }) => !own.has(row) && row > first.row && named.some((c) => textOf(cells[c]) !== ""),
  );
  if (nameless !== undefined) {
    const place = source.sheet === undefined ? source.file : `${source.file} sheet "${source.sheet}"`;
    throw new IntakeError(
      `${place} row ${nameless.row}: expected a label in column ${columnLetters(at)}, because the samples stand across in columns ${named.map(columnLetters).join(", ")}; found none`,
    );
  }
  return { turned: turned(source, rows, labelled, at, columns, name) };
}

/** A row whose cells that are merged after its label hold their text for each sample. */
function filledAcross({ mergedAcross = [] }: RowSource, row: RawRow, at: number): RawRow {
  const merged = mergedAcross.filter((one) => one.row === row.row && one.fromColumn > at);
  if (merged.length === 0) return row;
  const cells = row.cells.map((cell, column) => {
    const over = merged.find(({ fromColumn, toColumn }) => fromColumn <= column && column <= toColumn);
    return over === undefined ? cell : (row.cells[over.fromColumn] ?? "");
  });
  return { ...row, cells };
}

function firstWritten({ cells }: RawRow): number {
  return cells.findIndex((cell) => textOf(cell) !== "");
}

function titleIn({ cells }: RawRow, at: number, name: Namer): TitledColumn {
  return name(withoutColon(textOf(cells[at])));
}

/** The rows with a label, each with the heading above it, such as "Counts per mL" or "Limits". */
function labelledIn(rows: readonly RawRow[], at: number, name: Namer): Labelled[] {
  let group = "";
  return rows.flatMap((row): Labelled[] => {
    const label = withoutColon(textOf(row.cells[at]));
    if (label === "" || firstWritten(row) !== at) return [];
    const title = name(label);
    const isAlone = row.cells.every((cell, column) => column === at || textOf(cell) === "");
    if (isAlone && !isOfSample(title)) {
      if (isHeading(label)) group = label;
      return [];
    }
    if (namingOf(title) !== undefined) group = "";
    return [{ row, title, group }];
  });
}

function isOfSample({ recognition }: TitledColumn): boolean {
  if (recognition.kind !== "known") return recognition.kind === "unsure";
  const { meaning } = recognition;
  return isMeasurand(meaning) || NEEDED_NAMING.some((kind) => kind === meaning.holds);
}

/** Whether a row is one of titles above the columns, such as "Parameter, Unit, Limit". */
function isTitleRow({ title: { recognition } }: Labelled): boolean {
  return recognition.kind === "known" && recognition.meaning.holds === "measurand";
}

/** Whether a column has a name in the row of the sample, and another name at least. */
function isNamed(naming: readonly Labelled[], column: number): boolean {
  const kinds = naming.flatMap(({ row, title }) =>
    textOf(row.cells[column]) === "" ? [] : [namingOf(title)],
  );
  const hasSampleRow = naming.some(({ title }) => namingOf(title) === "sample");
  return kinds.length >= 2 && (!hasSampleRow || kinds.includes("sample"));
}

function turned(
  source: RowSource,
  rows: readonly RawRow[],
  labelled: readonly Labelled[],
  at: number,
  columns: readonly number[],
  name: Namer,
): Part {
  const [first] = labelled as [Labelled, ...Labelled[]];
  const titles = labelled.map(({ title }) => title.title);
  const above = rows.findLast((row) => row.row < first.row.row && !isBlankRow(row));
  const placed = (column: number): RawRow => {
    const cells: RawCell[] = labelled.map(({ row }) => row.cells[column] ?? "");
    return { row: placeOfColumn(column, first.row.row), cells, text: cells.map(textOf).join("\t") };
  };
  const all = columns.map((column) => ({ column, row: placed(column) }));
  const units = all.filter(({ row }) => isUnitRow(row, titles, name));
  const unused = all.filter(
    ({ column, row }) =>
      !units.some((unit) => unit.row === row) && isOfLimits(row, labelled, textOf(above?.cells[column])),
  );
  const why = ({ row }: { readonly row: RawRow }): RawRow["outside"] =>
    isBlankRow(row) ? "blank" : [...units, ...unused].some((one) => one.row === row) ? "header" : undefined;
  const own = new Set(labelled.map(({ row }) => row.row));
  const lines = rows.filter(({ row }) => !own.has(row));
  const outside = lines.map(
    (row): RawRow => ({ ...row, cells: [], outside: isBlankRow(row) ? "blank" : "above the table" }),
  );
  const samples = all.filter((column) => why(column) === undefined);
  const read: RawRow[] = [
    ...outside,
    { ...placed(at), cells: [], outside: "header" },
    ...all.map((column): RawRow => {
      const outsideFor = why(column);
      return outsideFor === undefined ? column.row : { ...column.row, cells: [], outside: outsideFor };
    }),
  ];
  const inLetters = (some: readonly { readonly column: number }[]) =>
    some.map(({ column }) => columnLetters(column)).join(", ");
  const said = [
    `the samples of columns ${inLetters(samples)} were read by the titles in column ${columnLetters(at)}`,
    ...(units.length > 0 ? [`with the units in column ${inLetters(units)}`] : []),
    ...(unused.length > 0 ? [`and column ${inLetters(unused)} was not used`] : []),
  ];
  const aroundOf = (some: readonly RawRow[]) => some.map((row) => ({ ...row, row: 0 }));
  return {
    lines: aroundOf(lines),
    source: {
      ...source,
      mergedDown: [],
      titles,
      withTitles: labelled.map(({ group, row: { row } }, index) => ({
        group,
        row,
        unit: units
          .map(({ row }) => textOf(row.cells[index]))
          .filter((text) => /[^\s-]/.test(text))
          .join(" "),
      })),
      isAcross: true,
      around: aroundOf(lines.filter(({ row }) => row < first.row.row)),
      assumptions: [...(source.assumptions ?? []), { code: "samples-across", message: said.join(", ") }],
      readAs: `${source.readAs}, a column for each sample`,
      rows: () => read,
    },
  };
}

/** Whether a column holds limits, earlier results and the like: its heading says so, and it names no sample. */
function isOfLimits({ cells }: RawRow, labelled: readonly Labelled[], above: string): boolean {
  const names = labelled.flatMap(({ title }, index) => {
    const text = textOf(cells[index]);
    return namingOf(title) === undefined || text === "" ? [] : [{ kind: namingOf(title), text }];
  });
  const heading =
    names.length === 0 ? above : names.every(({ kind }) => kind === "sample") ? (names[0]?.text ?? "") : "";
  // A figure in it may make it the number of a sample whose other names are left out.
  return heading !== "" && isNotAResult(heading) && (names.length === 0 || !/\d/.test(heading));
}
