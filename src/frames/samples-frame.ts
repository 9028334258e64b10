import type { DataFrame } from "danfojs";
import { describeProblem, METALS, type Sample, sampleSchema } from "../samples/index.js";
import { frameOf, isMissing } from "./columns.js";
import {
  ALWAYS,
  AS_JSON,
  COUNT_NOTES,
  MEASURED,
  metalColumn,
  sampleColumns,
  TEXTS,
} from "./sample-columns.js";

const COUNT_COLUMN = /^count(\d+(?:\.\d+)?)UmC$/;

type Row = ReadonlyMap<string, unknown>;

/**
 * Puts samples into a data frame, a row for each sample.
 *
 * Counts stand as they were reported: `count4UmC` is the number of particles larger than 4 µm(c) in `countVolumeMl` mL,
 * with a column for every size that any sample has. A measured value has its `…Limit`, "below" or "above"
 * where the laboratory gave a limit instead of a value: a mean over such a column takes "< 50" for 50. A metal that any
 * sample has is `ironPpm`. What is no single value, such as `replicates` or `origin`, is JSON text. What was not reported
 * is NaN in a column of numbers and null in a column of texts.
 *
 * @param samples - samples in the order of the frame
 * @returns a danfo DataFrame; its `sortValues` leaves rows out of order when the column has missing numbers
 * @throws FramesError when the package danfojs is not installed
 */
export function samplesFrame(samples: readonly Sample[]): DataFrame {
  return frameOf(samples, sampleColumns(samples));
}

/**
 * Takes samples back out of a data frame that {@link samplesFrame} made, filtered or corrected in between.
 *
 * Every row is checked like a sample from a file. Columns of the reader's own are left out; a column that is gone is an
 * error, so that a result is never lost by a renamed column.
 *
 * @param frame - a frame with the columns of {@link samplesFrame}; those of counts and metals may differ
 * @returns a sample for each row
 * @throws RangeError naming the row by its label in the frame, the column, what was expected and what was found
 */
export function samplesOfFrame(frame: DataFrame): Sample[] {
  const names = frame.columns as readonly string[];
  const gone = ALWAYS.filter((name) => !names.includes(name));
  if (frame.shape[0] === 0) return [];
  if (gone.length > 0) throw new RangeError(`the frame has no column ${gone.join(", ")}`);
  return (frame.values as unknown[][]).map((cells, index) => {
    const row = new Map(names.map((name, column) => [name, cells[column]]));
    return sampleOfRow(row, `row "${frame.index[index]}"`);
  });
}

function sampleOfRow(row: Row, where: string): Sample {
  const metals = METALS.flatMap((metal) => measuredOf(row, metalColumn(metal), metal));
  const result = sampleSchema.safeParse({
    ...present(row, TEXTS),
    ...present(row, ["fluidTemperatureC", "countedVolumeMl"]),
    ...countsOfRow(row),
    ...Object.fromEntries(MEASURED.flatMap((name) => measuredOf(row, name))),
    ...(metals.length > 0 && { metalsPpm: Object.fromEntries(metals) }),
    ...present(row, AS_JSON, readJson),
  });
  if (result.success) return result.data;
  const problems = result.error.issues.map((issue) => {
    const column = columnOf(issue.path, row);
    if (column === undefined) return describeProblem(issue, () => undefined);
    return `column "${column}": ${describeProblem(issue, () => formatCell(row.get(column)))}`;
  });
  throw new RangeError(`${where}, ${problems.join("; ")}`);
}

/** A cell that was refused; what is not there is nothing, whichever way the frame writes it. */
function formatCell(cell: unknown): string {
  if (isMissing(cell)) return "nothing";
  return typeof cell === "number" ? String(cell) : JSON.stringify(cell);
}

/** The cells of these columns that hold something, by the name of the column. */
function present(row: Row, names: readonly string[], read = (cell: unknown) => cell): object {
  return Object.fromEntries(
    names.filter((name) => !isMissing(row.get(name))).map((name) => [name, read(row.get(name))]),
  );
}

/** The column that a place in a sample is written in; none for a rule that the counts break together. */
function columnOf(path: readonly PropertyKey[], row: Row): string | undefined {
  const [field, part, index, note] = path;
  if (field === "metalsPpm") return `${String(part)}Ppm${index === "limit" ? "Limit" : ""}`;
  if (field !== "counts") return part === "limit" ? `${String(field)}Limit` : String(field);
  if (part === "volumeMl") return "countVolumeMl";
  if (part === "counting") return index === "dilution" ? "countDilution" : "countedMl";
  if (typeof index !== "number") return undefined;
  return COUNT_NOTES[note as keyof typeof COUNT_NOTES] ?? countColumns(row)[index]?.column;
}

/** The columns of counts that hold something in this row, in the order of the frame. */
function countColumns(row: Row) {
  return [...row].flatMap(([column, count]) => {
    const size = COUNT_COLUMN.exec(column)?.[1];
    return size === undefined || isMissing(count) ? [] : [{ column, size, count }];
  });
}

function countsOfRow(row: Row): { counts?: object } {
  const notes = Object.entries(COUNT_NOTES).map(([part, column]) => ({
    part,
    of: readJson(row.get(column)),
  }));
  const counts = countColumns(row).map(({ size, count }) => ({
    sizeUm: Number(size),
    count,
    ...Object.fromEntries(notes.flatMap(({ part, of }) => noteAt(of, size).map((note) => [part, note]))),
  }));
  const [volumeMl, countedMl, dilution] = ["countVolumeMl", "countedMl", "countDilution"].map((name) =>
    row.get(name),
  );
  const counted = !isMissing(countedMl) || !isMissing(dilution);
  if (counts.length === 0 && isMissing(volumeMl) && !counted) return {};
  const counting = { countedMl, ...(!isMissing(dilution) && { dilution }) };
  return { counts: { scale: "um(c)", form: "cumulative", volumeMl, ...(counted && { counting }), counts } };
}

/** What is noted for a size, if anything is; a cell that is no JSON object is noted everywhere, to be refused. */
function noteAt(notes: unknown, size: string): unknown[] {
  if (isMissing(notes)) return [];
  if (typeof notes !== "object") return [notes];
  return Object.entries(notes).flatMap(([at, note]) => (Number(at) === Number(size) ? [note] : []));
}

function measuredOf(row: Row, column: string, field = column): [string, object][] {
  const value = row.get(column);
  const limit = row.get(`${column}Limit`);
  if (isMissing(value) && isMissing(limit)) return [];
  return [[field, { value, ...(!isMissing(limit) && { limit }) }]];
}

/** The cell as data, or unchanged when it is not JSON, for the schema to refuse. */
function readJson(cell: unknown): unknown {
  if (isMissing(cell)) return undefined;
  try {
    return JSON.parse(String(cell));
  } catch {
    return cell;
  }
}
