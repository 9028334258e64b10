import type { CountColumns } from "../../cleanliness/index.js";
import type { CountSet } from "../../counts/index.js";
import type { Assumption } from "../../provenance/index.js";
import type { Limit, ReportedClass, Sample } from "../../samples/index.js";
import type { Described } from "../described.js";
import type { Fate } from "../fates.js";
import { type KeptPlace, keep } from "../kept.js";
import { decode } from "../readers/encoding.js";

/** Limits in the order of their numbers in {@link MeasuredColumn.limits}; 0 is no limit. */
export const LIMITS = [undefined, "below", "above", "at-most", "at-least"] as const satisfies readonly (
  | Limit
  | undefined
)[];

/** One measured quantity of many samples, in the unit its name says. */
export type MeasuredColumn = KeptPlace & {
  /** NaN where nothing was measured. */
  readonly values: Float64Array;
  /** Place in {@link LIMITS}. */
  readonly limits: Uint8Array;
};

/** A column of classes that a laboratory reported. */
export interface ReportedClassColumn {
  readonly standard: ReportedClass["standard"];
  /** Place in `classTexts`; −1 where the cell is blank. */
  readonly texts: Int32Array;
}

/** A column of what a report says in words about the bottle and how it was filled. */
export interface DescribedColumn {
  /** Place in `readings`; −1 where the cell is blank. */
  readonly places: Int32Array;
  readonly readings: readonly { readonly said: Described }[];
}

/** The columns of a {@link SampleBlock}. */
export interface BlockColumns {
  readonly file: string;
  /** Row of the file that the block begins with, as a person counts. */
  readonly firstRow: number;
  /** Rows of the file that the block covers: those of its samples and the others. */
  readonly rows: number;
  /** The samples that could be read cell by cell. */
  readonly size: number;
  /** Row of each sample in the file. */
  readonly row: Int32Array;
  /** Where the row of each sample begins and ends in `bytes`, without its line break. */
  readonly rowStart: Int32Array;
  readonly rowEnd: Int32Array;
  /** Where the number of each sample stands in `bytes`. */
  readonly numberStart: Int32Array;
  readonly numberEnd: Int32Array;
  /** Texts that the columns of numbers below point to; −1 is none. */
  readonly names: readonly string[];
  readonly cart: Int32Array;
  readonly circuit: Int32Array;
  readonly fluid: Int32Array;
  readonly times: readonly string[];
  readonly drawnTime: Int32Array;
  /** Days as year, month and day in one number, 20260314; 0 is none. */
  readonly drawnOn: Int32Array;
  readonly receivedOn: Int32Array;
  readonly reportedOn: Int32Array;
  /** Counts in µm(c), a column for each size, smallest first; absent when the file has none. NaN: not counted. */
  readonly counts?: CountColumns;
  readonly measured: readonly MeasuredColumn[];
  readonly reportedClasses: readonly ReportedClassColumn[];
  readonly classTexts: readonly { readonly text: string }[];
  readonly described: readonly DescribedColumn[];
  readonly assumptions: readonly Assumption[];
  /** What became of the rows between, which needed the ordinary reader, in the order of the file. */
  readonly others: readonly Fate[];
  /** What the file holds from `start` to `end`: the rows of the block with their line breaks. */
  readonly bytes: Uint8Array;
  readonly start: number;
  readonly end: number;
  /** Reads a row as the ordinary reader does. */
  readonly readOrdinarily: (row: number, text: string) => Fate;
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };

/**
 * Samples of a run of rows of a wide text file, in columns: nothing is made for a row until somebody asks for it.
 *
 * Every sample has passed the same checks as one that is read into an object, and {@link SampleBlock.sample} gives that
 * very object.
 */
export class SampleBlock {
  readonly kind = "block";

  constructor(readonly columns: BlockColumns) {}

  /** How many samples the block holds. */
  get size(): number {
    return this.columns.size;
  }

  /** The number of a sample, as the file writes it. */
  sampleNumber(index: number): string {
    const { bytes, numberStart, numberEnd } = this.columns;
    let text = "";
    const end = numberEnd[index] as number;
    for (let at = numberStart[index] as number; at < end; at += 1)
      text += String.fromCharCode(bytes[at] as number);
    return text;
  }

  /**
   * One sample as an object.
   *
   * @param index - 0 to `size` − 1
   */
  sample(index: number): Sample {
    const { file, row, cart, circuit, fluid, drawnTime, times, drawnOn, receivedOn, reportedOn } =
      this.columns;
    const time = times[drawnTime[index] as number];
    const fluidName = this.#name(fluid, index);
    const counts = this.#counts(index);
    // Put together step by step: spreading parts that are mostly absent takes twice as long.
    const sample = {
      sample: this.sampleNumber(index),
      cart: this.#name(cart, index) as string,
      circuit: this.#name(circuit, index) as string,
      drawnOn: dayText(drawnOn[index] as number),
    } as Writable<Sample>;
    if (fluidName !== undefined) sample.fluid = fluidName;
    if (time !== undefined) sample.drawnTime = time;
    if (receivedOn[index] !== 0) sample.receivedOn = dayText(receivedOn[index] as number);
    if (reportedOn[index] !== 0) sample.reportedOn = dayText(reportedOn[index] as number);
    this.#addMeasured(index, sample);
    this.#addReportedClasses(index, sample);
    for (const { places, readings } of this.columns.described)
      Object.assign(sample, readings[places[index] as number]?.said);
    if (counts !== undefined) sample.counts = counts;
    sample.origin = [{ file, rows: [row[index] as number] }];
    return sample;
  }

  /** What the ordinary reader says of a sample, with everything that is needed to set it aside. */
  fate(index: number): Fate {
    const { bytes, rowStart, rowEnd, row, readOrdinarily } = this.columns;
    const text = decode(bytes, rowStart[index] as number, rowEnd[index] as number);
    return readOrdinarily(row[index] as number, text);
  }

  #name(ids: Int32Array, index: number): string | undefined {
    return this.columns.names[ids[index] as number];
  }

  #addMeasured(index: number, sample: Writable<Sample>): void {
    for (const column of this.columns.measured) {
      const value = column.values[index] as number;
      if (Number.isNaN(value)) continue;
      const limit = LIMITS[column.limits[index] as number];
      keep(sample, column, limit === undefined ? { value } : { value, limit });
    }
  }

  #addReportedClasses(index: number, sample: Writable<Sample>): void {
    const { reportedClasses, classTexts } = this.columns;
    const classes: ReportedClass[] = [];
    for (const { standard, texts } of reportedClasses) {
      const stated = classTexts[texts[index] as number];
      if (stated !== undefined) classes.push({ standard, class: stated.text });
    }
    if (classes.length > 0) sample.reportedClasses = classes;
  }

  #counts(index: number): CountSet | undefined {
    const { counts } = this.columns;
    if (counts === undefined || Number.isNaN(counts.counts[0]?.[index])) return undefined;
    // The columns stand smallest size first and obey the rules of a count set; each cell was looked at.
    return {
      scale: "um(c)",
      form: "cumulative",
      volumeMl: counts.volumeMl,
      counts: counts.sizesUm.map((sizeUm, place) => ({
        sizeUm,
        count: (counts.counts[place] as Float64Array)[index] as number,
      })),
    };
  }
}

/** A day as one number, such as 20260314, written as ISO 8601. */
export function dayText(day: number): string {
  const known = DAY_TEXTS.get(day);
  if (known !== undefined) return known;
  const figures = String(day).padStart(8, "0");
  const text = `${figures.slice(0, 4)}-${figures.slice(4, 6)}-${figures.slice(6)}`;
  if (DAY_TEXTS.size > MOST_DAYS) DAY_TEXTS.clear();
  DAY_TEXTS.set(day, text);
  return text;
}

const DAY_TEXTS = new Map<number, string>();
const MOST_DAYS = 100_000;

/** The rows of a block as they stand in the file, the first row first. */
export function rowTextsOf({ columns }: SampleBlock): string[] {
  const { bytes, start, end } = columns;
  const lines = decode(bytes, start, end).split("\n");
  // Behind the last line break stands nothing.
  lines.pop();
  return lines.map((line) => (line.endsWith("\r") ? line.slice(0, -1) : line));
}
