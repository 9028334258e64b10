import type { DataFrame } from "danfojs";
import { countAt } from "../counts/index.js";
import { type Sample, sampleSchema } from "../samples/index.js";
import { type FrameColumn, frameOf, isMissing } from "./columns.js";

const NAMING = ["sample", "cart", "circuit", "drawnOn", "drawnTime", "fluid"] as const;
const MEASURED = ["waterPpm", "acidMgKohPerG", "viscosity40Mm2PerS"] as const;
const COUNT_COLUMN = /^count(\d+(?:\.\d+)?)UmC$/;

/**
 * Puts samples into a data frame, a row for each sample.
 *
 * Counts stand as they were reported: `count4UmC` is the number of particles larger than 4 µm(c) in `countVolumeMl` mL,
 * with a column for every size that any sample has. A measured value stands beside its `…Limit`, "below" or "above"
 * where the laboratory gave a limit instead of a value: a mean over such a column takes "< 50" for 50. `origin` holds
 * the files and rows as JSON text. What was not reported is NaN in a column of numbers and null in a column of texts.
 *
 * @param samples - samples in the order of the frame
 * @returns a danfo DataFrame; its `sortValues` leaves rows out of order when the column has missing numbers
 * @throws FramesError when the package danfojs is not installed
 */
export function samplesFrame(samples: readonly Sample[]): DataFrame {
  const sizesUm = [
    ...new Set(samples.flatMap(({ counts }) => counts?.counts.map((entry) => entry.sizeUm) ?? [])),
  ].sort((a, b) => a - b);
  const columns: FrameColumn<Sample>[] = [
    ...NAMING.map((name) => ({ name, type: "string" as const, of: (sample: Sample) => sample[name] })),
    { name: "countVolumeMl", type: "number", of: (sample) => sample.counts?.volumeMl },
    ...sizesUm.map((sizeUm) => ({
      name: `count${sizeUm}UmC`,
      type: "number" as const,
      of: ({ counts }: Sample) => counts && countAt(counts, sizeUm),
    })),
    ...MEASURED.flatMap((name): FrameColumn<Sample>[] => [
      { name, type: "number", of: (sample) => sample[name]?.value },
      { name: `${name}Limit`, type: "string", of: (sample) => sample[name]?.limit },
    ]),
    { name: "origin", type: "string", of: (sample) => JSON.stringify(sample.origin) },
  ];
  return frameOf(samples, columns);
}

/**
 * Takes samples back out of a data frame that {@link samplesFrame} made, filtered or corrected in between.
 *
 * Every row is checked like a sample from a file. Columns of the reader's own are left out; a column that is gone is an
 * error, so that a result is never lost by a renamed column.
 *
 * @param frame - a frame with the columns of {@link samplesFrame}; those of counts may differ
 * @returns a sample for each row
 * @throws RangeError naming the row by its label in the frame, the column, what was expected and what was found
 */
export function samplesOfFrame(frame: DataFrame): Sample[] {
  const names = frame.columns as readonly string[];
  const needed = [
    ...NAMING,
    "countVolumeMl",
    ...MEASURED.flatMap((name) => [name, `${name}Limit`]),
    "origin",
  ];
  const gone = needed.filter((name) => !names.includes(name));
  if (frame.shape[0] === 0) return [];
  if (gone.length > 0) throw new RangeError(`the frame has no column ${gone.join(", ")}`);
  return (frame.values as unknown[][]).map((cells, index) => {
    const row = new Map(names.map((name, column) => [name, cells[column]]));
    return sampleOfRow(row, `row "${frame.index[index]}"`);
  });
}

function sampleOfRow(row: ReadonlyMap<string, unknown>, where: string): Sample {
  const result = sampleSchema.safeParse({
    ...Object.fromEntries(
      NAMING.filter((name) => !isMissing(row.get(name))).map((name) => [name, row.get(name)]),
    ),
    ...countsOfRow(row),
    ...Object.fromEntries(MEASURED.flatMap((name) => measuredOfRow(row, name))),
    origin: readOrigin(row.get("origin")),
  });
  if (result.success) return result.data;
  const problems = result.error.issues.map(({ path, message }) => {
    const column = columnOf(path, row);
    if (column === undefined) return message;
    return `column "${column}": ${message}, found ${JSON.stringify(row.get(column)) ?? "nothing"}`;
  });
  throw new RangeError(`${where}, ${problems.join("; ")}`);
}

/** The column that a place in a sample is written in; none for a rule that the counts break together. */
function columnOf(path: readonly PropertyKey[], row: ReadonlyMap<string, unknown>): string | undefined {
  const [field, part, index] = path;
  if (field !== "counts") return part === "limit" ? `${String(field)}Limit` : String(field);
  if (part === "volumeMl") return "countVolumeMl";
  return typeof index === "number" ? countColumns(row)[index]?.column : undefined;
}

/** The columns of counts that hold something in this row, in the order of the frame. */
function countColumns(row: ReadonlyMap<string, unknown>) {
  return [...row].flatMap(([column, count]) => {
    const size = COUNT_COLUMN.exec(column)?.[1];
    return size === undefined || isMissing(count) ? [] : [{ column, sizeUm: Number(size), count }];
  });
}

function countsOfRow(row: ReadonlyMap<string, unknown>): { counts?: object } {
  const counts = countColumns(row).map(({ sizeUm, count }) => ({ sizeUm, count }));
  const volumeMl = row.get("countVolumeMl");
  if (counts.length === 0 && isMissing(volumeMl)) return {};
  return { counts: { scale: "um(c)", form: "cumulative", volumeMl, counts } };
}

function measuredOfRow(row: ReadonlyMap<string, unknown>, name: string): [string, object][] {
  const value = row.get(name);
  const limit = row.get(`${name}Limit`);
  if (isMissing(value) && isMissing(limit)) return [];
  return [[name, { value, ...(!isMissing(limit) && { limit }) }]];
}

/** The origin as data, or the cell as it stands when it is not JSON, for the schema to refuse. */
function readOrigin(cell: unknown): unknown {
  try {
    return JSON.parse(String(cell));
  } catch {
    return cell;
  }
}
