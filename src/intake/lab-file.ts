import { type Assumption, joinAssumptions } from "../provenance/index.js";
import type { Sample } from "../samples/index.js";
import { readDrawn } from "./cells.js";
import { type ColumnMeaning, type Measurand, recogniseColumn, recogniseMeasurand } from "./columns.js";
import { type DecimalMark, decimalMarkOf } from "./decimal-mark.js";
import { type DelimitedFile, type DelimitedRow, splitDelimited } from "./delimited.js";
import { IntakeError, type IntakeIssue, type QuarantinedRow } from "./issue.js";
import { gatherResults, type RefusedResult, type ReportedResult } from "./results.js";

/** What a laboratory file held. Every row with text ends in a sample or in quarantine. */
export interface LabFile {
  readonly file: string;
  /** A row for each sample, or a row for each measurand. */
  readonly shape: "wide" | "long";
  /** Rows with text below the header. */
  readonly rows: number;
  readonly samples: readonly Sample[];
  readonly quarantine: readonly QuarantinedRow[];
  /** Columns whose header was not recognised; what they hold was not used. */
  readonly unusedColumns: readonly string[];
  readonly assumptions: readonly Assumption[];
}

/** A row after its naming columns have been read. */
interface NamedRow {
  readonly row: DelimitedRow;
  readonly naming: Partial<Pick<Sample, "sample" | "cart" | "circuit" | "fluid" | "drawnOn" | "drawnTime">>;
  readonly reported: readonly ReportedResult[];
  readonly issues: readonly IntakeIssue[];
}

interface Columns {
  readonly file: string;
  readonly header: readonly string[];
  readonly meanings: readonly (ColumnMeaning | undefined)[];
  readonly mark: DecimalMark | "unclear";
}

const NAMING = ["sample", "cart", "circuit", "drawn"] as const;

/**
 * Reads a delimited laboratory file, a row for each sample or a row for each measurand.
 *
 * @param file - name for messages and for the origin of every sample
 * @param bytes - the file's content
 * @returns samples, quarantined rows and what was assumed
 * @throws IntakeError when the file cannot be split or lacks a column that names the sample
 */
export function readLabFile(file: string, bytes: Uint8Array): LabFile {
  const split = splitDelimited(file, bytes);
  const meanings = split.header.map(recogniseColumn);
  const shape = shapeOf(file, split, meanings);
  const columns: Columns = {
    file,
    header: split.header,
    meanings,
    mark: decimalMarkOf(numberCells(split, meanings)),
  };
  const named = split.rows.map((row) => nameRow(columns, row, shape));
  const groups = shape === "wide" ? named.map((row) => [row]) : groupBySample(named);
  const taken = groups.map((group) => takeSample(columns, group));
  return {
    file,
    shape,
    rows: split.rows.length,
    samples: taken.flatMap((entry) => (entry.sample === undefined ? [] : [entry.sample])),
    quarantine: taken.flatMap((entry) => entry.quarantine).sort((a, b) => a.row - b.row),
    unusedColumns: split.header.filter((_, index) => meanings[index] === undefined),
    assumptions: joinAssumptions(...taken.map((entry) => entry.assumptions)),
  };
}

function shapeOf(
  file: string,
  split: DelimitedFile,
  meanings: readonly (ColumnMeaning | undefined)[],
): LabFile["shape"] {
  const kinds = meanings.map((meaning) => meaning?.kind);
  const missing = NAMING.filter((kind) => !kinds.includes(kind));
  if (missing.length > 0) {
    throw new IntakeError(
      `${file} row 1: expected columns for sample, cart, circuit and day drawn; ` +
        `missing ${missing.join(", ")}; found "${split.header.join('", "')}"`,
    );
  }
  const twice = meanings.find(
    (meaning, index) =>
      meaning !== undefined &&
      meanings.findIndex((other) => JSON.stringify(other) === JSON.stringify(meaning)) !== index,
  );
  if (twice !== undefined)
    throw new IntakeError(`${file} row 1: two columns hold the same thing: ${twice.kind}`);
  if (kinds.includes("measurand") && kinds.includes("value")) return "long";
  if (
    kinds.some((kind) => kind === "count" || kind === "water" || kind === "acid" || kind === "viscosity40")
  ) {
    return "wide";
  }
  throw new IntakeError(
    `${file} row 1: expected columns of results, such as "4 µm(c) per mL" or "water (mg/kg)", ` +
      `or columns for measurand and value; found "${split.header.join('", "')}"`,
  );
}

/** The texts of all columns that hold numbers, for deciding the decimal mark. */
function* numberCells(
  split: DelimitedFile,
  meanings: readonly (ColumnMeaning | undefined)[],
): Generator<string> {
  const kinds = ["count", "water", "acid", "viscosity40", "value"];
  for (const { cells } of split.rows) {
    for (const [index, meaning] of meanings.entries()) {
      if (meaning !== undefined && kinds.includes(meaning.kind)) yield cells[index] ?? "";
    }
  }
}

function nameRow(columns: Columns, row: DelimitedRow, shape: LabFile["shape"]): NamedRow {
  const { file, header, meanings } = columns;
  const cellOf = (kind: ColumnMeaning["kind"]) => {
    const index = meanings.findIndex((meaning) => meaning?.kind === kind);
    return { column: header[index] ?? kind, value: row.cells[index] ?? "" };
  };
  const issues: IntakeIssue[] = [];
  const refuse = (code: IntakeIssue["code"], cell: { column: string; value: string }, expected: string) => {
    issues.push({ code, file, row: row.row, ...cell, expected });
  };

  const naming: { -readonly [K in keyof NamedRow["naming"]]: NamedRow["naming"][K] } = {};
  for (const kind of ["sample", "cart", "circuit"] as const) {
    const cell = cellOf(kind);
    if (cell.value === "") refuse("cell-missing", cell, `the ${kind}`);
    else naming[kind] = cell.value;
  }
  const drawn = readDrawn(cellOf("drawn").value);
  if (drawn.kind === "read") Object.assign(naming, drawn.value);
  else if (drawn.kind === "blank") refuse("cell-missing", cellOf("drawn"), "the day the sample was drawn");
  else if (drawn.kind === "refused") refuse("cell-not-read", cellOf("drawn"), drawn.expected);
  const fluid = cellOf("fluid").value;
  if (fluid !== "") naming.fluid = fluid;

  if (row.cells.length !== header.length) {
    const found = { column: "(row)", value: `${row.cells.length} cells` };
    const expected = `${header.length} cells, as in the header`;
    const issue = { code: "row-of-wrong-length", file, row: row.row, ...found, expected } as const;
    // What the naming cells say may be shifted; it only serves to warn the circuit that it seems to name.
    return { row, naming, reported: [], issues: [issue] };
  }
  if (shape === "wide") {
    const reported = meanings.flatMap((meaning, index) =>
      isMeasurand(meaning)
        ? [{ measurand: meaning, text: row.cells[index] ?? "", row: row.row, column: header[index] ?? "" }]
        : [],
    );
    return { row, naming, reported, issues };
  }
  const name = cellOf("measurand");
  const measurand = recogniseMeasurand(name.value, cellOf("unit").value);
  if (measurand === undefined) {
    refuse("measurand-not-known", name, `a measurand with its unit, such as "4 µm(c)" with "1/mL"`);
    return { row, naming, reported: [], issues };
  }
  const value = cellOf("value");
  return {
    row,
    naming,
    reported: [{ measurand, text: value.value, row: row.row, column: value.column }],
    issues,
  };
}

function isMeasurand(meaning: ColumnMeaning | undefined): meaning is Measurand {
  return meaning !== undefined && ["count", "water", "acid", "viscosity40"].includes(meaning.kind);
}

/** Rows of one sample together; a row that does not name its sample stays by itself. */
function groupBySample(rows: readonly NamedRow[]): NamedRow[][] {
  const groups = new Map<string, NamedRow[]>();
  for (const row of rows) {
    const { sample, cart, circuit, drawnOn, drawnTime, fluid } = row.naming;
    const named =
      sample !== undefined && cart !== undefined && circuit !== undefined && drawnOn !== undefined;
    const key = JSON.stringify(named ? [sample, cart, circuit, drawnOn, drawnTime, fluid] : row.row.row);
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups.values()];
}

function takeSample(
  columns: Columns,
  group: readonly NamedRow[],
): { sample?: Sample; quarantine: QuarantinedRow[]; assumptions: readonly Assumption[] } {
  const sound = group.filter((row) => row.issues.length === 0);
  const gathered = gatherResults(
    sound.flatMap((row) => row.reported),
    columns.mark,
  );
  const refusedIn = (row: NamedRow) => gathered.refused.filter((entry) => entry.result.row === row.row.row);
  const quarantine = group.flatMap((row) => {
    const issues = [...row.issues, ...refusedIn(row).map((entry) => issueOf(columns.file, entry))];
    return issues.length === 0 ? [] : [quarantined(columns.file, row, issues)];
  });
  const kept = sound.filter((row) => refusedIn(row).length === 0);
  const { sample, cart, circuit, drawnOn, ...rest } = kept[0]?.naming ?? {};
  if (sample === undefined || cart === undefined || circuit === undefined || drawnOn === undefined) {
    return { quarantine, assumptions: [] };
  }
  const origin = [{ file: columns.file, rows: kept.map((row) => row.row.row) }];
  return {
    sample: { sample, cart, circuit, drawnOn, ...rest, ...gathered.results, origin },
    quarantine,
    assumptions: gathered.assumptions,
  };
}

function issueOf(file: string, { result, code, expected }: RefusedResult): IntakeIssue {
  return { code, file, row: result.row, column: result.column, value: result.text, expected };
}

function quarantined(file: string, row: NamedRow, issues: readonly IntakeIssue[]): QuarantinedRow {
  const { cart, circuit, drawnOn } = row.naming;
  return {
    file,
    row: row.row.row,
    text: row.row.text,
    issues,
    ...(cart !== undefined && { cart }),
    ...(circuit !== undefined && { circuit }),
    ...(drawnOn !== undefined && { drawnOn }),
  };
}
