import { saysPlainly } from "../../samples/index.js";
import type { ColumnMap } from "../layout/column-map.js";
import { plainTitle } from "../layout/columns.js";
import { labelOf, namer } from "../layout/layout.js";
import { isMeasurand, type Meaning, NAMING, type Naming, textIn } from "../layout/meaning.js";
import { isBlankRow, type RawRow, type RowSource, textOf } from "../rows/row.js";
import {
  type Entry,
  type EntryOrSkipped,
  fixedNaming,
  type PlacedCell,
  type PlacedText,
  type ReportedResult,
  type RowFault,
  rowFault,
} from "./entry.js";

/** Goes through a table of blocks: one entry for each sample. A label that is there already begins the next block. */
export function* blockEntries(source: RowSource, map: ColumnMap | undefined): Generator<EntryOrSkipped> {
  const name = namer(map);
  let block: {
    rows: RawRow[];
    labels: Map<string, { meaning: Meaning; cell: PlacedCell }>;
    faults: RowFault[];
    texts: PlacedText[];
  } = { rows: [], labels: new Map(), faults: [], texts: [] };
  const entry = (): Entry => {
    const naming: Entry["naming"] = fixedNaming(map);
    const results: ReportedResult[] = [];
    const texts = [...block.texts];
    for (const { meaning, cell } of block.labels.values()) {
      const holds = textIn({ kind: "known", meaning }, false);
      if (holds !== undefined) texts.push({ holds, ...cell });
      if (isMeasurand(meaning)) results.push({ measurand: meaning, ...cell });
      else if (NAMING.includes(meaning.holds as Naming)) naming[meaning.holds as Naming] = cell;
    }
    return { rows: block.rows, naming, results, texts, faults: block.faults, accepted: "", place: "" };
  };
  for (const row of source.rows()) {
    const label = row.broken === undefined ? labelOf(row, name) : undefined;
    if (label === undefined) {
      const why = isBlankRow(row) ? "blank" : "label not known";
      if (row.broken === undefined) {
        block.texts.push(...unknownLabel(row));
        yield { skipped: { row, why } };
      } else {
        const fault = rowFault(row, 0);
        yield {
          entry: {
            rows: [row],
            naming: fixedNaming(map),
            results: [],
            faults: fault ? [fault] : [],
            accepted: "",
            place: "",
          },
        };
      }
      continue;
    }
    const { title, recognition } = label.column;
    const key = plainTitle(title);
    if (block.labels.has(key) || block.rows.length >= MAX_BLOCK_LENGTH) {
      yield { entry: entry() };
      block = { rows: [], labels: new Map(), faults: [], texts: [] };
    }
    block.rows.push(row);
    const cell = { cell: label.value, row: row.row, column: title };
    if (recognition.kind === "known") block.labels.set(key, { meaning: recognition.meaning, cell });
    else if (recognition.kind === "unsure") {
      block.faults.push({
        code: "measurand-not-known",
        row: row.row,
        column: title,
        value: textOf(label.value),
        expected: `a column map that settles: ${recognition.question}`,
      });
    }
  }
  if (block.rows.length > 0) yield { entry: entry() };
}

/** What stands behind a label that is not known: it belongs to the block that has begun, or to the first. */
function unknownLabel(row: RawRow): PlacedText[] {
  const [label, value] = row.cells.filter((cell) => textOf(cell) !== "");
  if (typeof label !== "string") return [];
  if (value === undefined)
    return saysPlainly("", label) ? [{ holds: "text", cell: label, row: row.row, column: "" }] : [];
  return [{ holds: "text", cell: value, row: row.row, column: label.trim().replace(/:$/, "").trimEnd() }];
}

/** A block of more rows is not one sample. */
const MAX_BLOCK_LENGTH = 200;
