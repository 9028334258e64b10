import type { CountColumns } from "../cleanliness/index.js";
import { dayText, LIMITS, type MeasuredColumn, NONE, type SampleBlock } from "../intake/index.js";
import type { Sql } from "./database.js";
import type { RowsToInsert } from "./sample-inserter.js";
import { writeMore } from "./sample-row.js";

/** Columns of the book for what was measured; of all else the number stands with what has no column. */
const MEASURED = {
  waterPpm: { value: "water_ppm", limit: "water_limit" },
  acidMgKohPerG: { value: "acid_mg_koh_per_g", limit: "acid_limit" },
  viscosity40Mm2PerS: { value: "viscosity_40_mm2_per_s", limit: "viscosity_40_limit" },
} as const;

/** A column of the book with the value of one sample of the block. */
interface Filled {
  readonly column: string;
  readonly of: (index: number) => Sql;
}

/** A column of the book that has the same value in all samples of the block. */
interface Shared {
  readonly column: string;
  readonly value: Sql;
}

/**
 * The samples of a block as rows of the book, made from the columns of the block without an object for each.
 *
 * They hold what `valuesOf` makes of the same samples.
 */
export class BlockRows {
  readonly #filled: Filled[] = [];
  readonly #shared: Shared[] = [];

  /** @param circuitIds - the circuit of each sample of the block, by its place */
  constructor(block: SampleBlock, circuitIds: Int32Array, fileId: number) {
    const { drawnOn, row, measured } = block.columns;
    this.#shared.push({ column: "file_id", value: fileId });
    this.#filled.push(
      { column: "circuit_id", of: (index) => circuitIds[index] as number },
      { column: "sample", of: (index) => block.sampleNumber(index) },
      { column: "drawn_on", of: (index) => dayText(drawnOn[index] as number) },
      { column: "rows", of: (index) => `[${row[index]}]` },
    );
    this.#addTimesAndFluids(block);
    this.#addCounts(block);
    for (const column of measured) this.#addMeasured(column);
    if (hasMore(block)) this.#filled.push({ column: "more", of: (index) => writeMore(block.sample(index)) });
  }

  /** Some of the samples, by their places in the block, in this order. */
  at(places: ArrayLike<number>): RowsToInsert {
    return {
      size: places.length,
      columns: this.#filled.map(({ column }) => column),
      shared: this.#shared,
      fill: (place, rows, into, at) => {
        const step = this.#filled.length;
        for (let column = 0; column < step; column += 1) {
          const { of } = this.#filled[column] as Filled;
          for (let row = 0; row < rows; row += 1)
            into[at + column + row * step] = of(places[place + row] as number);
        }
      },
    };
  }

  #addTimesAndFluids({ columns: { names, fluid, times, drawnTime } }: SampleBlock): void {
    if (drawnTime.some(isSome))
      this.#filled.push({ column: "drawn_time", of: (index) => times[drawnTime[index] as number] ?? null });
    // Most files of a laboratory have one fluid, over long stretches at least.
    if (fluid.every((id) => id === fluid[0]))
      this.#shared.push({ column: "fluid", value: names[fluid[0] as number] ?? null });
    else this.#filled.push({ column: "fluid", of: (index) => names[fluid[index] as number] ?? null });
  }

  #addCounts({ columns: { counts } }: SampleBlock): void {
    if (counts === undefined) return;
    const { volumeMl } = counts;
    const [smallest] = counts.counts as [Float64Array];
    const text = countsText(counts);
    if (!smallest.some(Number.isNaN)) {
      this.#shared.push({ column: "count_volume_ml", value: volumeMl });
      this.#filled.push({ column: "counts", of: text });
      return;
    }
    const isCounted = (index: number) => !Number.isNaN(smallest[index]);
    this.#filled.push(
      { column: "count_volume_ml", of: (index) => (isCounted(index) ? volumeMl : null) },
      { column: "counts", of: (index) => (isCounted(index) ? text(index) : null) },
    );
  }

  #addMeasured({ field, values, limits }: MeasuredColumn): void {
    if (!hasColumn(field)) return;
    const { value, limit } = MEASURED[field];
    this.#filled.push({
      column: value,
      of: (index) => (Number.isNaN(values[index]) ? null : (values[index] as number)),
    });
    if (limits.some((kind) => kind !== 0))
      this.#filled.push({ column: limit, of: (index) => LIMITS[limits[index] as number] ?? null });
  }
}

function hasColumn(field: MeasuredColumn["field"]): field is keyof typeof MEASURED {
  return field in MEASURED;
}

function isSome(id: number): boolean {
  return id !== NONE;
}

/** Whether samples of a block have something that has no column. */
function hasMore({ columns }: SampleBlock): boolean {
  const { receivedOn, reportedOn, reportedClasses, described, measured } = columns;
  return (
    reportedClasses.length > 0 ||
    described.some(({ places }) => places.some(isSome)) ||
    measured.some(({ field, values }) => !hasColumn(field) && !values.every(Number.isNaN)) ||
    receivedOn.some((day) => day !== 0) ||
    reportedOn.some((day) => day !== 0)
  );
}

/** Writes the counts of a sample as `writeCounts` does. */
function countsText({ sizesUm, counts }: CountColumns): (index: number) => string {
  const titles = sizesUm.map((sizeUm, place) => `${place === 0 ? "{" : ","}"${sizeUm}":`);
  return (index) => {
    let text = "";
    for (let place = 0; place < titles.length; place += 1)
      text += `${titles[place]}${(counts[place] as Float64Array)[index]}`;
    return `${text}}`;
  };
}
