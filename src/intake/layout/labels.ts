import { isDeepStrictEqual } from "node:util";
import { type RawCell, type RawRow, textOf } from "../rows/row.js";
import { isOnlyMean } from "./bottle-titles.js";
import { holdsOf, holdsResult, NAMING, type Naming, NEEDED_NAMING } from "./meaning.js";
import { joinTitles, MAX_TITLE_LENGTH, type Namer, type TitledColumn } from "./namer.js";
import { type Columns, valueColumns } from "./value-columns.js";

/** A label of a block with the value that belongs to it. */
export interface Label {
  readonly column: TitledColumn;
  readonly value: RawCell;
  /** Why the value cannot be taken, although the label is known. */
  readonly expected?: string;
}

/** What a row of a block is. */
export interface LabelRow {
  readonly kind: "labels" | "titles" | "line" | "table";
  readonly labels: readonly Label[];
}

/**
 * Reads the rows of blocks one after the other: labels with values, rows of titles above such labels, and lines of text.
 *
 * Without a row of titles a label is followed by its value and a unit at most; two labels may share a row.
 */
export class LabelReader {
  readonly #name: Namer;
  #columns: Columns | undefined;
  /** A line of text that stands above labels, such as "Limits". */
  #heading = "";

  constructor(name: Namer) {
    this.#name = name;
  }

  read(row: RawRow): LabelRow {
    const written = row.cells.filter((cell) => textOf(cell) !== "");
    if (written.length === 1) {
      const [inOne] = this.#inOneCell(textOf(written[0]));
      if (inOne !== undefined) return this.#labels([inOne]);
      const heading = textOf(written[0]);
      // The mean of runs is the result of the sample.
      if (isHeading(heading)) this.#heading = isOnlyMean(heading.toLowerCase()) ? "" : heading;
      return LINE;
    }
    const kinds = row.cells.map((cell) => this.#kindOf(textOf(cell)));
    if (NEEDED_NAMING.filter((kind) => kinds.includes(kind)).length > 2 && kinds[1] !== undefined)
      return TABLE;
    const columns = valueColumns(row, kinds);
    if (columns !== undefined) {
      this.#columns = columns;
      return TITLES;
    }
    return this.#labels(
      this.#byColumns(row) ?? this.#pairs(betweenBlanks(row)) ?? this.#pairs(written) ?? this.#single(row),
    );
  }

  #labels(labels: readonly Label[]): LabelRow {
    const names = labels.some(({ column }) => isNaming(column));
    if (names) {
      this.#heading = "";
      if (labels.some(({ column }) => holdsOf(column) === "sample")) this.#columns = undefined;
    }
    return { kind: "labels", labels };
  }

  #inOneCell(text: string): Label[] {
    if (text.length > MAX_TITLE_LENGTH) return [];
    const [, label = "", value = ""] = /^([^:]{1,60}):\s*([^\s;|][^;|]*)$/.exec(text) ?? [];
    const column = this.#name(label.trim());
    const isAsked = column.recognition.kind === "unsure" && A_NUMBER.test(value);
    return isNaming(column) || holdsResult(column) || isAsked ? [{ column, value }] : [];
  }

  #byColumns({ cells, inOrder }: RawRow): Label[] | undefined {
    if (this.#columns === undefined) return undefined;
    const { label, values, unit, width, expected } = this.#columns;
    const title = cells[label];
    if (textOf(title) === "" || typeof title !== "string" || title.length > MAX_TITLE_LENGTH)
      return undefined;
    if (isNaming(this.#name(title.trim()))) return undefined;
    const missing = inOrder && cells.length !== width ? ONE_EACH : undefined;
    const why = missing ?? expected;
    return values.map(({ index, title: above }) => ({
      column: this.#titled(title, textOf(cells[unit]), above) as TitledColumn,
      value: cells[index] ?? "",
      ...(why !== undefined && { expected: why }),
    }));
  }

  /** "Sample no. | S-1 | Cart | C-1"; a label without a value says nothing. */
  #pairs(cells: readonly RawCell[]): Label[] | undefined {
    if (cells.length < 4 || cells.length % 2 !== 0) return undefined;
    const labels = cells.flatMap((cell, index): Label[] => {
      const column = index % 2 === 0 ? this.#titled(cell) : undefined;
      return column === undefined || column.recognition.kind === "unknown"
        ? []
        : [{ column, value: cells[index + 1] ?? "" }];
    });
    return labels.length * 2 === cells.length
      ? labels.filter(({ value }) => textOf(value) !== "")
      : undefined;
  }

  #single({ cells }: RawRow): Label[] {
    const [at = 0, next] = cells.flatMap((cell, index) => (textOf(cell) === "" ? [] : [index]));
    const [label, value = "", unit, ...more] = cells.filter((cell) => textOf(cell) !== "");
    const column = this.#titled(label, textOf(unit));
    if (column === undefined) return [];
    const alone = more.length === 0 ? column : this.#titled(label);
    if (next !== at + 1 && unit === undefined && this.#isNoValue(column, value)) return [];
    if (alone === undefined || more.length === 0) return [{ column, value }];
    const isResult = alone.recognition.kind === "unsure" || holdsResult(alone) || holdsResult(column);
    if (isResult) return [{ column: alone, value, expected: ONE_VALUE }];
    return [{ column: { ...alone, recognition: { kind: "unknown" } }, value }];
  }

  /** Whether what follows a label after blank cells is another label, or the unit of a value that was left out. */
  #isNoValue({ title, recognition }: TitledColumn, value: RawCell): boolean {
    const text = textOf(value);
    const withUnit = this.#name(title, text).recognition;
    return (
      this.#name(text).recognition.kind !== "unknown" ||
      (withUnit.kind === "known" && !isDeepStrictEqual(withUnit, recognition))
    );
  }

  #titled(label: RawCell | undefined, unit = "", above = ""): TitledColumn | undefined {
    if (typeof label !== "string" || label.length > MAX_TITLE_LENGTH) return undefined;
    const group = `${this.#heading} ${above}`.trim();
    const title = label.trim().replace(/\s*:$/, "");
    return group === "" ? this.#name(title, unit) : joinTitles(group, title, unit, this.#name);
  }

  #kindOf(text: string): string | undefined {
    return holdsOf(this.#name(text));
  }
}

/** The cells of a row in their places, from the first to the last that is written. */
export function betweenBlanks({ cells }: RawRow): readonly RawCell[] {
  const isWritten = (cell: RawCell) => textOf(cell) !== "";
  return cells.slice(cells.findIndex(isWritten), cells.findLastIndex(isWritten) + 1);
}

const A_NUMBER = /^[<>≤≥]? ?\d+(?:[.,]\d+)?$/;
const LINE: LabelRow = { kind: "line", labels: [] };
const TITLES: LabelRow = { kind: "titles", labels: [] };
const TABLE: LabelRow = { kind: "table", labels: [] };
const ONE_EACH = "a value for each title above";
const ONE_VALUE =
  'one value with its unit after the label, or a row of titles above, such as "Parameter, Result, Unit, Limit"';

/** A line that may be the title of what stands below it, and no sentence. */
export function isHeading(text: string): boolean {
  return text.length <= 40 && !/[.!?]$|:./.test(text);
}

function isNaming(column: TitledColumn): boolean {
  return NAMING.includes(holdsOf(column) as Naming);
}
