import { grouped } from "../../numeric/index.js";
import { columnLetters, placeOfColumn } from "../../provenance/index.js";
import { IntakeError } from "../checks/issue.js";
import {
  isBlankRow,
  type MergedAcross,
  type RawCell,
  type RawRow,
  type RowSource,
  textOf,
} from "../rows/row.js";
import type { ColumnMap } from "./column-map.js";
import { isHeading } from "./labels.js";
import { isUnitRow } from "./layout.js";
import { holdsOf, holdsResult, NEEDED_NAMING } from "./meaning.js";
import type { Namer, TitledColumn } from "./namer.js";
import { isNotAResult } from "./title-words.js";

/** A table of rows, and the lines of text around it. */
export interface Part {
  readonly source: RowSource;
  /** Lines above and below a table that was turned. */
  readonly lines?: readonly RawRow[];
}

/** Rows of a sheet that belong together, and the table that they are when its samples stand across. */
export interface Piece {
  readonly kind: "labels" | "table";
  readonly rows: readonly RawRow[];
  readonly turned?: Part;
  /** Whether it holds samples in rows of labels, below a table with a header. */
  readonly isBlock?: true;
}

/** What a title names of a sample: its number, cart, circuit or day. */
export function namingOf(title: TitledColumn): string | undefined {
  const holds = holdsOf(title);
  return NEEDED_NAMING.find((kind) => kind === holds);
}

/** A label without the colon after it. */
export function withoutColon(label: string): string {
  return label.endsWith(":") ? label.slice(0, -1).trimEnd() : label;
}

/** A row of a table that stands across: its label, what belongs to it, and its cells. */
interface Labelled {
  readonly row: RawRow;
  readonly title: TitledColumn;
  readonly group: string;
}

/**
 * Turns a table whose samples stand across: labels down one column, and a column for each sample. Its columns become rows,
 * each with the number of its column as its place.
 *
 * A row of such a table serves several samples, so its places are its columns; lines outside of it are rows as everywhere.
 * Every place has one fate.
 *
 * @returns nothing where the rows are no such table
 * @throws IntakeError naming a row whose values have no label
 */
export function turn(
  source: RowSource,
  { kind, rows }: Piece,
  name: Namer,
  map: ColumnMap | undefined,
): { readonly turned?: Part } {
  if (kind === "table") return {};
  const first = rows.find((row) => firstWritten(row) >= 0 && namingOf(titleIn(row, firstWritten(row), name)));
  const at = first === undefined ? -1 : firstWritten(first);
  if (first === undefined || at < 0) return {};
  const merged = grouped(source.mergedAcross ?? [], ({ row }) => row);
  const all = labelledIn(rows, at, name).map((one) => ({
    ...one,
    row: filledAcross(merged.get(one.row.row) ?? [], one.row, at),
  }));
  const naming = all.filter(({ title }) => namingOf(title) !== undefined);
  const hasNumbers = naming.some(({ title }) => namingOf(title) === "sample");
  // A row of titles may hold the numbers of the samples; where another row does it is a line above the table.
  const labelled = hasNumbers ? all.filter(({ title }) => holdsOf(title) !== "measurand") : all;
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
function filledAcross(merged: readonly MergedAcross[], row: RawRow, at: number): RawRow {
  // Of ranges that lie over each other the first holds.
  const cells = [...row.cells];
  const filled = new Set<number>();
  for (const { fromColumn, toColumn } of merged) {
    if (fromColumn <= at || filled.has(fromColumn)) continue;
    for (let column = fromColumn; column <= Math.min(toColumn, cells.length - 1); column += 1) {
      if (filled.has(column)) break;
      filled.add(column);
      cells[column] = row.cells[fromColumn] ?? "";
    }
  }
  return filled.size === 0 ? row : { ...row, cells };
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
    if (isAlone && (!isOfSample(title) || isSentence(label, title))) {
      if (isHeading(label)) group = label;
      return [];
    }
    if (namingOf(title) !== undefined) group = "";
    return [{ row, title, group }];
  });
}

function isOfSample(title: TitledColumn): boolean {
  return title.recognition.kind === "unsure" || holdsResult(title) || namingOf(title) !== undefined;
}

/** "Water by Karl Fischer, particles by counter" asks nothing where no sample has a cell for it. */
function isSentence(label: string, { recognition }: TitledColumn): boolean {
  return recognition.kind === "unsure" && label.split(/\s+/).length >= MIN_WORDS_OF_SENTENCE;
}

/** A text of so many words is no title. */
export const MIN_WORDS_OF_SENTENCE = 5;

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
  // A line below the columns of the samples is of all of them, as one above is.
  const around = lines.map((row) => ({ ...row, row: 0 }));
  return {
    lines: around,
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
      around,
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
