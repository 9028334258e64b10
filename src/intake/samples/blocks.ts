import { isNotMeasured } from "../cells/cells.js";
import type { NotSampleRow } from "../checks/issue.js";
import type { ColumnMap } from "../layout/column-map.js";
import { plainTitle } from "../layout/columns.js";
import { type Label, LabelReader } from "../layout/labels.js";
import { holdsOf, isMeasurand, type Meaning, NAMING, type Naming, textIn } from "../layout/meaning.js";
import { namer } from "../layout/namer.js";
import { isBlankRow, type RawRow, type RowSource, textOf } from "../rows/row.js";
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
  unreadEntry,
} from "./entry.js";
import { saysSomethingIsWrong } from "./text-lines.js";

/** Goes through a table of blocks: one entry for each sample. A label that is there already begins the next block. */
export function* blockEntries(source: RowSource, map: ColumnMap | undefined): Generator<EntryOrSkipped> {
  const reader = new LabelReader(namer(map));
  let block = new Block(map);
  let isBelowTable = false;
  for (const row of source.rows()) {
    if (row.broken !== undefined) {
      yield { entry: unreadEntry(row, fixedNaming(map), rowFault(row, 0)) };
      continue;
    }
    const { kind, labels } = reader.read(row);
    if (kind === "table") isBelowTable = true;
    else if (labels.some(({ column }) => holdsOf(column) === "sample")) isBelowTable = false;
    if (isBelowTable && !isBlankRow(row)) {
      yield { entry: unreadEntry(row, fixedNaming(map), faultOfRow(row, BELOW_TABLE)) };
      continue;
    }
    const known = labels.filter(({ column }) => column.recognition.kind !== "unknown");
    if (known.length === 0) {
      block.addTexts(row, labels);
      const why = isBlankRow(row) ? "blank" : kind === "titles" ? "header" : "label not known";
      yield { skipped: { row, why } };
      continue;
    }
    if (block.hasOther(known) || block.rows.length >= MAX_BLOCK_LENGTH) {
      yield* block.entries();
      block = new Block(map);
    }
    block.add(row, known);
  }
  yield* block.entries();
}

const BELOW_TABLE = "a sample in rows of labels; a table below them needs a file of its own";

function withoutVolume(recognition: Label["column"]["recognition"]): Meaning | undefined {
  return recognition.kind === "unsure" ? recognition.withoutVolume : undefined;
}

/** The rows of one sample while they are read. */
class Block {
  readonly rows: RawRow[] = [];
  readonly #labels = new Map<string, { meaning?: Meaning; cell: PlacedCell }>();
  readonly #faults: RowFault[] = [];
  readonly #texts: PlacedText[] = [];

  constructor(private readonly map: ColumnMap | undefined) {}

  /** Whether a label is there already; one of a cover that says the same before any result is not a second one. */
  hasOther(labels: readonly Label[]): boolean {
    const isCover =
      this.#faults.length === 0 && [...this.#labels.values()].every(({ meaning }) => !isMeasurand(meaning));
    return labels.some(({ column, value }) => {
      const before = this.#labels.get(plainTitle(column.title));
      return before !== undefined && !(isCover && textOf(before.cell.cell) === textOf(value));
    });
  }

  add(row: RawRow, labels: readonly Label[]): void {
    this.rows.push(row);
    for (const { column, value, expected } of labels) {
      const { title, recognition } = column;
      const cell = { cell: value, row: row.row, column: title };
      const question =
        expected ??
        (recognition.kind === "unsure" && recognition.withoutVolume === undefined
          ? `a column map that settles: ${recognition.question}`
          : undefined);
      const meaning = recognition.kind === "known" ? recognition.meaning : withoutVolume(recognition);
      this.#labels.set(plainTitle(title), {
        cell,
        ...(question === undefined && meaning && { meaning }),
      });
      if (question === undefined) continue;
      const code = "measurand-not-known";
      this.#faults.push({ code, row: row.row, column: title, value: textOf(value), expected: question });
    }
  }

  /** What stands after a label that is not known: it belongs to the block that has begun, or to the first. */
  addTexts(row: RawRow, labels: readonly Label[]): void {
    for (const { column, value } of labels)
      this.#texts.push({ holds: "text", cell: value, row: row.row, column: column.title });
    const [line, more] = row.cells.filter((cell) => textOf(cell) !== "");
    if (labels.length === 0 && line !== undefined && more === undefined && saysSomethingIsWrong(row))
      this.#texts.push({ holds: "remarks", cell: line, row: row.row, column: "" });
  }

  /** A block without any result is no sample: where it names one, a person has to say what became of it. */
  *entries(): Generator<EntryOrSkipped> {
    const [first] = this.rows;
    if (first === undefined) return;
    const entry = this.#entry();
    const { naming, results, faults } = entry;
    if (faults.length > 0 || results.some(({ cell }) => !isNotMeasured(textOf(cell)))) {
      yield { entry };
      return;
    }
    const named = [naming.sample, naming.drawn].some((cell) => textOf(cell?.cell) !== "");
    if (named) {
      const { row, text } = first;
      const expected = "a result of the sample; the rows name one and hold none";
      yield {
        entry: {
          ...entry,
          faults: [{ code: "cell-missing", row, column: "(block)", value: text, expected }],
        },
      };
      return;
    }
    const why: NotSampleRow["why"] = "above the table";
    for (const row of this.rows) yield { skipped: { row, why } };
  }

  #entry(): Entry {
    const naming: Entry["naming"] = fixedNaming(this.map);
    const results: ReportedResult[] = [];
    const texts = [...this.#texts];
    const faults = [...this.#faults];
    const said = new Map<Meaning["holds"], PlacedCell>();
    for (const { meaning, cell } of this.#labels.values()) {
      if (meaning === undefined) continue;
      const { holds } = meaning;
      const text = textIn({ kind: "known", meaning }, false);
      if (text !== undefined) texts.push({ holds: text, ...cell });
      if (isMeasurand(meaning)) results.push({ measurand: meaning, ...cell });
      else if (holds === "counts-per" || NAMING.includes(holds as Naming)) {
        const before = said.get(holds);
        if (before === undefined || textOf(before.cell) === "") said.set(holds, cell);
        else if (textOf(cell.cell) !== "" && textOf(cell.cell) !== textOf(before.cell)) {
          faults.push(otherwise(cell, before));
          // Whose rows they are is not known; one of the two names would block its own circuit alone.
          said.set(holds, { ...before, cell: "" });
        }
      }
    }
    for (const kind of NAMING) {
      const cell = said.get(kind);
      if (cell !== undefined) naming[kind] = cell;
    }
    const countsPer = said.get("counts-per");
    return {
      ...{ rows: this.rows, naming, texts, faults, accepted: "", place: "" },
      results: results.map((one) =>
        countsPer !== undefined && one.measurand.holds === "count" ? { ...one, countsPer } : one,
      ),
    };
  }
}

/** Two labels of a sample mean the same thing and say two. */
function otherwise({ row, column, cell }: PlacedCell, before: PlacedCell): RowFault {
  const expected = `${textOf(before.cell)}, as "${before.column}" says`;
  return { code: "cell-not-read", row, column, value: textOf(cell), expected };
}

/** A block of more rows is not one sample. */
const MAX_BLOCK_LENGTH = 200;
