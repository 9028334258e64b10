import { readResultCell } from "../cells/cells.js";
import { IntakeError } from "../checks/issue.js";
import { isBlankRow, type RawRow, type RowSource, textOf } from "../rows/row.js";
import type { ColumnMap } from "./column-map.js";
import { findLayout, HEAD_ROWS, hasDay, type Layout, unitRowsBelow } from "./layout.js";
import { contradictedBy } from "./lines-against.js";
import { holdsOf, holdsResult, kindsIn, NEEDED_NAMING } from "./meaning.js";
import { namer } from "./namer.js";
import { mustServe } from "./serves.js";

/** The part of a table below one header. */
export interface Section {
  readonly layout: Layout;
  /** Why the rows below this header are not read: they are set aside to the next one. */
  readonly obstacle?: string;
  /** The row of a line of text that contradicts the titles before it, with which this section begins. */
  readonly against?: number;
  /** Rows of a list, such as one of limits, are no results of anything. */
  readonly isList?: true;
}

/**
 * Goes through the rows of a table, each with the section that it is in.
 *
 * A page, a table or a row of units further down begins a new section: what stands below is read by its own header and
 * never by the one before. Where that header does not serve, the rows below it are set aside.
 *
 * Rows are looked at more closely only where no day is in the column for it, so a tidy file costs one look a row.
 *
 * @param source - the table; where the format itself gives the titles there is one section
 * @param layout - of its first header
 */
export function* inSections(
  source: RowSource,
  layout: Layout,
  map: ColumnMap | undefined,
): Generator<readonly [RawRow, Section]> {
  const known = FOUND.get(layout);
  if (known?.source === source) {
    yield* rowsIn(source, known.sections);
    return;
  }
  const first: Section = { layout };
  const last = layout.headerRows.at(-1)?.row ?? 0;
  const finder = new HeaderFinder(first, map);
  for (const row of source.rows()) {
    if (source.titles !== undefined || row.row <= last) yield [row, first];
    else yield* finder.add(row);
  }
  yield* finder.rest();
  FOUND.set(layout, { source, sections: [{ from: 0, section: first }, ...finder.begun] });
}

/** By the layout of its first header, the sections of a table that was gone through: it is read several times. */
const FOUND = new WeakMap<
  Layout,
  { readonly source: RowSource; readonly sections: readonly [NextSection, ...NextSection[]] }
>();

function* rowsIn(
  source: RowSource,
  [first, ...later]: readonly [NextSection, ...NextSection[]],
): Generator<readonly [RawRow, Section]> {
  let { section } = first;
  let begun = 0;
  for (const row of source.rows()) {
    for (; (later[begun]?.from ?? Number.POSITIVE_INFINITY) <= row.row; begun += 1)
      section = (later[begun] as NextSection).section;
    yield [row, section];
  }
}

/** A section of a table, with the rows that show what its columns hold. */
export interface LaterSection {
  readonly layout: Layout;
  readonly rows: readonly RawRow[];
}

/**
 * The sections of a table after the first, but for lists that are none of samples. One that comes again, as where two tables
 * take turns on every page, is there once.
 *
 * @param most - of each section as many rows at most
 */
export function laterSections(
  { source, layout }: { readonly source: RowSource; readonly layout: Layout },
  map: ColumnMap | undefined,
  most: number,
): LaterSection[] {
  if (layout.shape === "block") return [];
  const keyOf = ({ shape, columns }: Layout) => JSON.stringify([shape, columns]);
  const seen = new Set([keyOf(layout)]);
  const found: { layout: Layout; rows: RawRow[] }[] = [];
  const ofSection = new Map<Section, RawRow[] | undefined>();
  for (const [row, section] of inSections(source, layout, map)) {
    if (section.layout === layout || section.isList) continue;
    if (!ofSection.has(section)) {
      const isNew = seen.size < seen.add(keyOf(section.layout)).size;
      const rows: RawRow[] = [];
      if (isNew) found.push({ layout: section.layout, rows });
      ofSection.set(section, isNew ? rows : undefined);
    }
    const rows = ofSection.get(section);
    const last = section.layout.headerRows.at(-1)?.row ?? 0;
    if (rows !== undefined && rows.length < most && row.row > last) rows.push(row);
  }
  return found;
}

class HeaderFinder {
  #section: Section;
  /** Rows without a day that follow each other: among them a header may stand. */
  #run: RawRow[] = [];
  #day: number;
  /** The sections that have begun, in order. */
  readonly begun: NextSection[] = [];

  constructor(
    first: Section,
    private readonly map: ColumnMap | undefined,
  ) {
    this.#section = first;
    this.#day = columnOf(first.layout, "drawn");
  }

  *add(row: RawRow): Generator<readonly [RawRow, Section]> {
    const holdsDay =
      this.#section.obstacle === undefined ? hasDay(row.cells[this.#day]) : row.cells.some(hasDay);
    if (!holdsDay) this.#run.push(row);
    if (!holdsDay && this.#run.length < HEAD_ROWS) return;
    yield* this.rest();
    if (holdsDay) yield [row, this.#section];
  }

  *rest(): Generator<readonly [RawRow, Section]> {
    const run = this.#run;
    this.#run = [];
    const next = run.every(isBlankRow) ? undefined : sectionIn(run, this.#section, this.map);
    for (const row of run) {
      if (next !== undefined && row.row >= next.from && next.section !== this.#section) this.#begin(next);
      yield [row, this.#section];
    }
  }

  #begin(next: NextSection): void {
    const { section } = next;
    this.begun.push(next);
    this.#section = section;
    if (section.obstacle === undefined) this.#day = columnOf(section.layout, "drawn");
  }
}

function columnOf({ columns }: Layout, holds: "drawn" | "sample"): number {
  return columns.findIndex((column) => holdsOf(column) === holds);
}

interface NextSection {
  readonly section: Section;
  /** Row of its header. */
  readonly from: number;
}

/** The section that begins in a run of rows without a day. */
function sectionIn(
  run: readonly RawRow[],
  { layout, obstacle }: Section,
  map: ColumnMap | undefined,
): NextSection | undefined {
  const head = run.filter(({ broken }) => broken === undefined);
  const found = findLayout({}, head, map);
  if (found !== undefined) {
    const from = (found.headerRows[0] ?? head.find((row) => !isBlankRow(row)))?.row ?? 0;
    const again = layout.headerRows.map(({ text }) => text).join("\n");
    const isSame = obstacle === undefined && again === found.headerRows.map(({ text }) => text).join("\n");
    return isSame ? undefined : { from, section: sectionWith(found, map) };
  }
  return unitsAgain(head, layout, map) ?? lineAgainst(head, layout, map) ?? headerNotKnown(head, layout);
}

function sectionWith(layout: Layout, map: ColumnMap | undefined): Section {
  const kinds = kindsIn(layout.columns);
  if (kinds.has("measurand") && !kinds.has("value") && !NEEDED_NAMING.some((kind) => kinds.has(kind)))
    return { layout, obstacle: "a list", isList: true };
  if (layout.shape === "block")
    return {
      layout,
      obstacle: "a sample in rows of labels needs its number, cart, circuit and day among them",
    };
  try {
    mustServe(`the header in row ${layout.headerRows[0]?.row}`, layout, map);
    return { layout };
  } catch (error) {
    if (!(error instanceof IntakeError)) throw error;
    return { layout, obstacle: error.message };
  }
}

/** Another row of units below the same titles. */
function unitsAgain(
  head: readonly RawRow[],
  { headerRows, unitRows }: Layout,
  map: ColumnMap | undefined,
): NextSection | undefined {
  const titleRows = headerRows.filter((row) => !unitRows.includes(row));
  const titles = titleRows.at(-1)?.cells.map(textOf) ?? [];
  const at = head.findIndex((_, index) => unitRowsBelow(head, index - 1, titles, namer(map)).length > 0);
  const units = unitRowsBelow(head, at - 1, titles, namer(map));
  const [first] = units;
  if (at < 0 || first === undefined || unitRows.some(({ text }) => text === first.text)) return undefined;
  const layout = findLayout({}, [...titleRows, ...units], map);
  return (
    layout && {
      from: first.row,
      section: sectionWith({ ...layout, headerRows: [...titleRows, ...units] }, map),
    }
  );
}

/** A line such as "all counts below are per 100 mL" above rows whose titles say something else. */
function lineAgainst(
  head: readonly RawRow[],
  layout: Layout,
  map: ColumnMap | undefined,
): NextSection | undefined {
  for (const line of head) {
    const contradicted = contradictedBy(line, layout, map);
    if (contradicted !== undefined)
      return { from: line.row, section: { ...sectionWith(contradicted, map), against: line.row } };
  }
  return undefined;
}

/** A row of words where the day and the results should stand: a header in words that are not known. */
function headerNotKnown(head: readonly RawRow[], layout: Layout): NextSection | undefined {
  const [day, sample] = [columnOf(layout, "drawn"), columnOf(layout, "sample")];
  const results = layout.columns.flatMap((column, index) =>
    holdsResult(column) || holdsOf(column) === "value" ? [index] : [],
  );
  const row = head.find(({ cells }) => {
    if (!/^\p{L}[^\d]*$/u.test(textOf(cells[day])) || /\d/.test(textOf(cells[sample]))) return false;
    const written = results.filter((index) => textOf(cells[index]) !== "");
    return (
      written.length >= Math.min(2, results.length) && written.every((index) => isWords(cells[index] ?? ""))
    );
  });
  if (row === undefined) return undefined;
  const columns = row.cells.map((cell) => ({
    title: textOf(cell),
    recognition: { kind: "unknown" } as const,
  }));
  const expected = `a header that is understood in row ${row.row}, where words are in place of the day and the results`;
  return {
    from: row.row,
    section: { layout: { ...layout, columns, headerRows: [row] }, obstacle: expected },
  };
}

function isWords(cell: RawRow["cells"][number]): boolean {
  return /\p{L}/u.test(textOf(cell)) && readResultCell(cell, ".", { isUnit: () => false }).kind === "refused";
}
