import type { ResultWord } from "../cells/cells.js";
import { DateEvidence, type DateRule } from "../cells/dates.js";
import { type DecimalConvention, DecimalEvidence } from "../cells/numbers.js";
import { hasRun } from "../cells/runs.js";
import { type RawRow, type RowSource, textOf } from "../rows/row.js";
import { entriesOf } from "../samples/entries.js";
import type { Entry } from "../samples/entry.js";
import type { SettledWord } from "../words/read-bottle-words.js";
import { type ColumnMap, type NamesOfMap, namesOfMap, wordsOfMap } from "./column-map.js";
import type { Layout } from "./layout.js";
import { isInNumbers, isMeasurand, type Meaning, type Naming } from "./meaning.js";
import { inSections, type Section } from "./sections.js";
import { minCells } from "./short-rows.js";
import type { Table } from "./tables.js";

/** How the numbers and days of a file are written. */
export interface Conventions {
  readonly decimal: DecimalConvention;
  /** Whether a column map gave the decimal mark. */
  readonly decimalIsGiven: boolean;
  readonly dates: DateRule;
  /** What neither the file nor a column map shows, although its cells need it. */
  readonly open: readonly ("decimal" | "dates")[];
  /** Zone of times that do not name one; they are local when it is absent. */
  readonly zone?: string;
  /** Texts that mean "not measured". */
  readonly blanks: readonly string[];
  /** What words in the place of a number mean, by a column map. */
  readonly resultWords: ReadonlyMap<string, ResultWord>;
  /** What words about a bottle mean, by a column map. */
  readonly words: ReadonlyMap<string, SettledWord>;
  /** Which carts, circuits and fluids the laboratory's own names are, by a column map. */
  readonly names: NamesOfMap;
}

/** What a first reading of a whole table shows. */
export interface Survey {
  readonly conventions: Conventions;
  /** For tables with a row for each measurand or run: the last row of each sample, by its key. */
  readonly lastRows: ReadonlyMap<number, number>;
}

const DATE_KINDS = ["drawn", "received", "reported", "calibration-due"] as const;

/**
 * Sees how the numbers and days of a table are written and where each sample ends: from the whole table, which is read for it
 * when something first depends on it. Most files write every number and day in a way that has one reading.
 *
 * @param table - a table that serves
 * @param map - what a person has settled; it overrules what the file shows
 */
export function survey({ source, layout }: Table, map: ColumnMap | undefined): Survey {
  let whole: Seen | undefined;
  const seen = (): Seen => {
    whole ??= seeTable(source, layout, map);
    return whole;
  };
  const conventions: Conventions = {
    get decimal() {
      return map?.decimal ?? seen().decimal.convention;
    },
    decimalIsGiven: map?.decimal !== undefined,
    get dates() {
      return map?.dates === undefined ? seen().dates.rule : { order: map.dates, settled: true };
    },
    get open() {
      return [
        ...(map?.decimal === undefined && seen().decimal.isOpen ? (["decimal"] as const) : []),
        ...(map?.dates === undefined && seen().dates.isOpen ? (["dates"] as const) : []),
      ];
    },
    ...(map?.zone !== undefined && { zone: map.zone }),
    blanks: map?.blanks ?? [],
    resultWords: new Map(Object.entries(map?.results ?? {})),
    words: wordsOfMap(map),
    names: namesOfMap(map),
  };
  return {
    conventions,
    get lastRows() {
      return seen().lastRows;
    },
  };
}

/** What the rows of a table show. */
interface Seen {
  readonly decimal: DecimalEvidence;
  readonly dates: DateEvidence;
  readonly lastRows: Map<number, number>;
}

function seeTable(source: RowSource, layout: Layout, map: ColumnMap | undefined): Seen {
  const seen: Seen = { decimal: new DecimalEvidence(), dates: new DateEvidence(), lastRows: new Map() };
  if (layout.shape === "block") {
    for (const item of entriesOf(source, layout, map)) {
      if (!("entry" in item)) continue;
      seeEntry(item.entry, seen);
      if (hasRun(item.entry.results)) seen.lastRows.set(keyOf(item.entry), item.entry.rows[0]?.row ?? 0);
    }
    return seen;
  }
  const viewers = new Map<Section, (row: RawRow) => void>();
  for (const [row, section] of inSections(source, layout, map)) {
    if (section.obstacle !== undefined) continue;
    const view = viewers.get(section) ?? rowViewer(section.layout, seen, map);
    viewers.set(section, view);
    view(row);
  }
  return seen;
}

function seeEntry({ naming, results }: Entry, { decimal, dates }: Seen): void {
  for (const { cell, measurand } of results) {
    if (typeof cell === "string" && isInNumbers(measurand)) decimal.see(cell);
  }
  for (const kind of DATE_KINDS) {
    const cell = naming[kind]?.cell;
    if (typeof cell === "string") dates.see(cell.trim());
  }
}

/** Looks at the cells of a row without making an entry of it: every row of a file is looked at before any is read. */
function rowViewer(
  layout: Layout,
  { decimal, dates, lastRows }: Seen,
  map: ColumnMap | undefined,
): (row: RawRow) => void {
  const numbers = columnsThat(
    layout,
    (meaning) => meaning.holds === "value" || (isMeasurand(meaning) && isInNumbers(meaning)),
  );
  const days = columnsThat(layout, ({ holds }) => DATE_KINDS.some((kind) => kind === holds));
  const fixed: Partial<Record<Naming, string | undefined>> = map?.fixed ?? {};
  const key = KEY_KINDS.flatMap((kind) =>
    columnsThat(layout, ({ holds }) => holds === kind).map((index) => ({ index, fixed: fixed[kind] })),
  );
  const isJoined = layout.shape === "long" || columnsThat(layout, ({ holds }) => holds === "run").length > 0;
  const last = layout.headerRows.at(-1)?.row ?? 0;
  const least = minCells(layout);
  return ({ row, cells }) => {
    if (row <= last || cells.length < least) return;
    for (const index of numbers) {
      const cell = cells[index];
      if (typeof cell === "string") decimal.see(cell);
    }
    for (const index of days) {
      const cell = cells[index];
      if (typeof cell === "string") dates.see(cell.trim());
    }
    if (isJoined) lastRows.set(hash(key.map(({ index, fixed = "" }) => textOf(cells[index]) || fixed)), row);
  };
}

function columnsThat({ columns }: Layout, wanted: (meaning: Meaning) => boolean): number[] {
  return columns.flatMap(({ recognition }, index) =>
    recognition.kind === "known" && wanted(recognition.meaning) ? [index] : [],
  );
}

const KEY_KINDS = ["sample", "cart", "circuit", "drawn"] as const;

/**
 * A number for the sample that an entry belongs to.
 *
 * Two samples may share a number by chance. That only keeps the first of them open until the second ends; what is put
 * together is decided by the texts themselves.
 */
export function keyOf({ naming }: Entry): number {
  return hash(KEY_KINDS.flatMap((kind) => (naming[kind]?.row ? [textOf(naming[kind]?.cell)] : [])));
}

function hash(texts: readonly string[]): number {
  let a = 0x811c9dc5;
  let b = 0x1000193;
  for (const text of texts) {
    for (let index = 0; index < text.length; index += 1) {
      const code = text.charCodeAt(index);
      a = Math.imul(a ^ code, 0x01000193);
      b = Math.imul(b ^ code, 0x5bd1e995);
    }
    a = Math.imul(a ^ 10, 0x01000193);
  }
  return (a >>> 0) * 0x200000 + ((b >>> 0) & 0x1fffff);
}
