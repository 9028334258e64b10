import type { ByteSource } from "../bytes/bytes.js";
import type { IntakeIssue } from "../checks/issue.js";
import { IntakeError } from "../checks/issue.js";
import { OPEN } from "../documents/json-file.js";
import { type RawRow, textOf } from "../rows/row.js";
import type { ColumnMap } from "./column-map.js";
import { type Conventions, survey } from "./conventions.js";
import { LabelReader } from "./labels.js";
import type { Shape } from "./layout.js";
import {
  describeMeasurand,
  isMeasurand,
  kindsIn,
  type Meaning,
  NEEDED_NAMING,
  type NeededNaming,
} from "./meaning.js";
import { namer, type TitledColumn } from "./namer.js";
import { laterSections } from "./sections.js";
import { firstTwice, mayHold, mustServe } from "./serves.js";
import { findTables, type Table } from "./tables.js";

/** What was understood of one table of a file, for a person to look at and correct. */
export interface UnderstoodTable {
  readonly file: string;
  readonly sheet?: string;
  readonly readAs: string;
  readonly shape: Shape;
  /** Rows that hold the titles. */
  readonly headerRows: readonly IntakeIssue["row"][];
  readonly columns: readonly TitledColumn[];
  readonly conventions: Conventions;
  /** What a column map has to say and the titles do not ask: each with the field of the map that says it. */
  readonly open: readonly OpenQuestion[];
  /** Why the table cannot be taken in as it is; absent when it can. */
  readonly obstacle?: string;
}

/** A question about a whole table, with the words that answer it. */
export interface OpenQuestion {
  readonly field: "decimal" | "dates" | "fixed" | "which" | "columns";
  /** The name or the title that it is about. */
  readonly key?: string;
  readonly question: string;
}

/**
 * Says what is understood of a file, without taking anything from it.
 *
 * @throws IntakeError when the file cannot be read or no table is found in it
 */
export async function understand(source: ByteSource, map?: ColumnMap): Promise<UnderstoodTable[]> {
  const { tables } = await findTables(source, map);
  return tables.flatMap((table) => {
    // How numbers and days are written holds for all rows, whichever header they are below.
    const { conventions } = survey(table, map);
    const whole = understoodTable(table, firstRows(table), conventions, map);
    const later = laterSections(table, map, LOOKED_AT_ROWS);
    return [
      whole,
      ...later.map(({ layout, rows }) => understoodTable({ ...table, layout }, rows, conventions, map)),
    ];
  });
}

/**
 * Says what is understood of the rows below one header.
 *
 * @param looked - rows that show what its columns hold
 */
function understoodTable(
  table: Table,
  looked: readonly RawRow[],
  conventions: Conventions,
  map: ColumnMap | undefined,
): UnderstoodTable {
  const { source: rows, layout } = table;
  const columns =
    layout.shape === "block"
      ? labelsOf(table, map)
      : withNumbersAsked(looked, withNamesAsked(layout.columns, missingNames(table, layout.columns, map)));
  const obstacle = obstacleOf(table, map);
  return {
    file: rows.file,
    ...(rows.sheet !== undefined && { sheet: rows.sheet }),
    readAs: rows.readAs,
    shape: layout.isAcross ? "across" : layout.shape,
    headerRows: layout.headerRows.map(({ row }: RawRow) => row),
    columns,
    conventions,
    open: openQuestions(table, columns, conventions, map),
    ...(obstacle !== undefined && { obstacle }),
  };
}

/** As many rows show what a column holds. */
const LOOKED_AT_ROWS = 200;
/** From this share of its cells on a column is one of numbers. */
const MOSTLY = 0.8;
const NUMBER = /^[<>≤≥~]?\s*[+-]?\d+(?:[.,]\d+)?(?:e[+-]?\d+)?$/i;

/** The rows below the header of a table that show what its columns hold. */
function firstRows({ source, layout: { headerRows } }: Table): RawRow[] {
  const last = headerRows.at(-1)?.row ?? 0;
  const rows: RawRow[] = [];
  for (const row of source.rows()) {
    if (row.row > last) rows.push(row);
    if (rows.length === LOOKED_AT_ROWS) break;
  }
  return rows;
}

/** The columns, where those of numbers whose titles say nothing are asked about: numbers may be results. */
function withNumbersAsked(
  rows: readonly RawRow[],
  columns: readonly TitledColumn[],
): readonly TitledColumn[] {
  const isOpen = columns.map(({ title, recognition }) => recognition.kind === "unknown" && title !== "");
  if (!isOpen.includes(true)) return columns;
  const cells: string[][] = columns.map(() => []);
  for (const row of rows) {
    for (const [index, open] of isOpen.entries()) {
      const cell = open ? textOf(row.cells[index]).trim() : "";
      if (cell !== "") cells[index]?.push(cell);
    }
  }
  return columns.map((column, index) => {
    const own = cells[index] ?? [];
    const numbers = own.filter((cell) => NUMBER.test(cell));
    if (numbers.length === 0 || numbers.length < MOSTLY * own.length) return column;
    const question = `it holds numbers such as ${numbers[0]}: which result are they? Or "text", to be shown with the verdict and not judged`;
    return { title: column.title, recognition: { kind: "unsure", question } };
  });
}

const NAMES_ASKED: Readonly<Record<NeededNaming, string>> = {
  sample: "is it the number of the sample",
  cart: "is it the cart",
  circuit: "is it the circuit",
  drawn: "is it the day on which the sample was drawn",
};

/** The columns, where those are asked about that may hold a name which no other title holds. */
function withNamesAsked(
  columns: readonly TitledColumn[],
  missing: readonly NeededNaming[],
): readonly TitledColumn[] {
  return columns.map((column) => {
    const kind = mayHold(column, missing);
    if (kind === undefined) return column;
    const question = `${NAMES_ASKED[kind]} (${kind}), or something else (text)?`;
    return { title: column.title, recognition: { kind: "unsure", question } };
  });
}

/** The names that samples need and that nothing in or around a table holds. */
function missingNames(
  { names = [], isJoined }: Table,
  columns: readonly TitledColumn[],
  map: ColumnMap | undefined,
): NeededNaming[] {
  const known = [...kindsIn(columns), ...names.map(({ kind }) => kind), ...Object.keys(map?.fixed ?? {})];
  // A title such as "Date" or "System" asks for itself.
  const asked = columns.flatMap(({ recognition }) =>
    recognition.kind === "unsure" ? [recognition.question] : [],
  );
  const isAsked = (kind: NeededNaming) => asked.some((question) => WORDS_ASKED[kind].test(question));
  return isJoined ? [] : NEEDED_NAMING.filter((kind) => !known.includes(kind) && !isAsked(kind));
}

const QUESTIONS = {
  decimal: 'which is the decimal mark of numbers such as 1.500 or 1,500: "." or ","?',
  dates:
    'in which order are days such as 03/04/2026 or 03.04.26: "day-month-year", "month-day-year" or "year-month-day"?',
} as const;

/** How the question of a title shows that it may hold a name. */
const WORDS_ASKED: Readonly<Record<NeededNaming, RegExp>> = {
  sample: /\(sample\)/,
  cart: /\(cart\)/,
  circuit: /\bcircuit\b/,
  drawn: /\bdrawn\b/,
};

function openQuestions(
  table: Table,
  columns: readonly TitledColumn[],
  { open }: Conventions,
  map: ColumnMap | undefined,
): OpenQuestion[] {
  const twice = firstTwice(table.layout);
  const [first, second] = twice?.titles ?? [];
  return [
    ...open.map((field) => ({ field, question: QUESTIONS[field] })),
    ...missingNames(table, columns, map).map((kind): OpenQuestion => {
      if (kind === "cart" || kind === "circuit")
        return {
          field: "fixed",
          key: kind,
          question: `which ${kind} are all samples of? Or give its title "holds": "${kind}"`,
        };
      const says = kind === "sample" ? "the number of the sample" : "the day on which the sample was drawn";
      return {
        field: "columns",
        key: `(${kind})`,
        question: `which title holds ${says}? Give it "holds": "${kind}"`,
      };
    }),
    ...(first !== undefined && first.title === second?.title
      ? [
          {
            field: "which",
            key: first.title,
            question: `which of them counts: "${first.place}" or "${second.place}"?`,
          } as const,
        ]
      : []),
  ];
}

/** The labels of the blocks of a table, each once. */
export function labelsOf({ source }: Table, map: ColumnMap | undefined): TitledColumn[] {
  const reader = new LabelReader(namer(map));
  const labels = new Map<string, TitledColumn>();
  for (const row of source.rows()) {
    for (const { column } of reader.read(row).labels)
      if (!labels.has(column.title)) labels.set(column.title, column);
  }
  return [...labels.values()];
}

function obstacleOf({ source, layout, names = [] }: Table, map: ColumnMap | undefined): string | undefined {
  try {
    mustServe(
      source.sheet ?? source.file,
      layout,
      map,
      names.map(({ kind }) => kind),
    );
    return undefined;
  } catch (error) {
    if (!(error instanceof IntakeError)) throw error;
    return error.message;
  }
}

/** Says what a column holds in words: "count above 4 µm(c), per 100 mL", "water in ppm", "cart". */
export function describeMeaning(meaning: Meaning): string {
  if (meaning.holds === "nothing") return "not used";
  if (meaning.holds === "remarks") return "what the laboratory says";
  if (meaning.holds === "text") return "not used, shown with the verdict";
  if (meaning.holds === "counts-per") return "the volume that the counts stand for";
  if (!isMeasurand(meaning)) return meaning.holds.replace("-", " ");
  const name = describeMeasurand(meaning);
  if (meaning.holds === "count" && meaning.volumeMl !== undefined)
    return `${name}, per ${meaning.volumeMl === 1 ? "" : `${meaning.volumeMl} `}mL`;
  return "unit" in meaning && meaning.unit !== undefined ? `${name} in ${meaning.unit}` : name;
}

/**
 * Writes a column map for editing: what was recognised, and where a person has to decide, a question.
 *
 * Titles that were not recognised are listed as holding text that is shown, so that each can be given a meaning.
 *
 * @param name - whose files these are
 */
export function mapToEdit(name: string, tables: readonly UnderstoodTable[]): object {
  const [first] = tables;
  const columns = tables
    .flatMap((table) => table.columns)
    .filter(({ title }) => title !== "")
    .map(({ title, recognition }) => {
      if (recognition.kind === "known") return [title, recognition.meaning] as const;
      if (recognition.kind === "unknown") return [title, { holds: "text" }] as const;
      return [title, { holds: OPEN, question: recognition.question }] as const;
    });
  const open = tables.flatMap((table) => table.open);
  const asked = (field: OpenQuestion["field"]) => open.filter((one) => one.field === field);
  const entries = (field: "fixed" | "which") => {
    const found = asked(field).map(({ key = "", question }) => [key, `${OPEN} ${question}`]);
    return found.length > 0 && { [field]: Object.fromEntries(found) };
  };
  const missing = asked("columns").map(({ key = "", question }) => [key, { holds: OPEN, question }] as const);
  const [decimalIsOpen] = asked("decimal");
  const [datesAreOpen] = asked("dates");
  const decimal = first?.conventions.decimal;
  const dates = first?.conventions.dates.order;
  return {
    siltbookColumnMap: 1,
    name,
    ...(first && { shape: first.shape }),
    ...((decimal === "." || decimal === ",") && { decimal }),
    ...(dates?.includes("month") && { dates }),
    ...(decimalIsOpen && { decimal: `${OPEN} ${decimalIsOpen.question}` }),
    ...(datesAreOpen && { dates: `${OPEN} ${datesAreOpen.question}` }),
    ...entries("fixed"),
    ...entries("which"),
    columns: Object.fromEntries([...columns, ...missing]),
  };
}
