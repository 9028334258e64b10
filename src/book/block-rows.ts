import { dayText, LIMITS, type SampleBlock } from "../intake/index.js";
import type { Origin } from "../samples/index.js";
import type { Sql } from "./database.js";
import type { CircuitFinder } from "./fleet.js";
import { valuesOf } from "./sample-row.js";
import type { Levels } from "./usual-counts.js";

/** More names than any file has; the numbers of two names make one number with it. */
const MOST_NAMES = 2 ** 24;

/** What the book knows of a circuit that a block names. */
interface BookCircuit {
  readonly isStranger: boolean;
  readonly id: () => number;
}

/**
 * Makes the rows of a block as the book keeps them from the columns of the block, without an object for each sample.
 *
 * What comes out is what {@link valuesOf} makes of the object.
 */
export class BlockRows {
  readonly #circuits = new Map<number, BookCircuit>();

  constructor(
    private readonly finder: CircuitFinder,
    private readonly fileId: number,
  ) {}

  /** The circuit of a sample. A name stands for the same number in every block of a file. */
  circuitOf({ columns }: SampleBlock, index: number): BookCircuit {
    const [cart, circuit] = [columns.cart[index] as number, columns.circuit[index] as number];
    const key = cart * MOST_NAMES + circuit;
    const known = this.#circuits.get(key);
    if (known !== undefined) return known;
    const names = [columns.names[cart] as string, columns.names[circuit] as string] as const;
    let id: number | undefined;
    const found = {
      isStranger: this.finder.knowsCarts && !this.finder.isKnown(...names),
      // Asking for it makes a circuit that the book has not met.
      id: () => {
        id ??= this.finder.idOf(...names);
        return id;
      },
    };
    this.#circuits.set(key, found);
    return found;
  }

  /** Makes the values of a block's samples, in the order of `RESULT_COLUMNS`. */
  valuesIn(block: SampleBlock): (index: number) => Sql[] {
    const { names, fluid, times, drawnTime, drawnOn, row, counts, measured } = block.columns;
    if (!hasColumnsForAll(block)) {
      return (index) => {
        const sample = block.sample(index);
        return valuesOf(sample, this.fileId, sample.origin[0] as Origin);
      };
    }
    const sizes = counts?.sizesUm.map((size, place) => `${place === 0 ? "{" : ","}"${size}":`) ?? [];
    const column = (field: string) => measured.find((place) => place.field === field);
    const [water, acid, viscosity] = ["waterPpm", "acidMgKohPerG", "viscosity40Mm2PerS"].map(column);
    const valueIn = (place: typeof water, index: number) => {
      const value = place?.values[index] ?? Number.NaN;
      return Number.isNaN(value) ? null : value;
    };
    const limitIn = (place: typeof water, index: number) => {
      const limit = place?.limits[index] ?? 0;
      return limit === 0 ? null : (LIMITS[limit] as string);
    };
    return (index) => {
      const isCounted = counts !== undefined && !Number.isNaN(counts.counts[0]?.[index]);
      let text = "";
      if (isCounted) {
        for (let size = 0; size < sizes.length; size += 1)
          text += `${sizes[size]}${(counts.counts[size] as Float64Array)[index]}`;
      }
      return [
        dayText(drawnOn[index] as number),
        times[drawnTime[index] as number] ?? null,
        names[fluid[index] as number] ?? null,
        isCounted ? counts.volumeMl : null,
        isCounted ? `${text}}` : null,
        valueIn(water, index),
        limitIn(water, index),
        valueIn(acid, index),
        limitIn(acid, index),
        valueIn(viscosity, index),
        limitIn(viscosity, index),
        null,
        this.fileId,
        null,
        `[${row[index]}]`,
      ];
    };
  }
}

/** Whether the samples of a block hold nothing but what has a column of its own in the book. */
function hasColumnsForAll({ columns }: SampleBlock): boolean {
  const { receivedOn, reportedOn, measured, reportedClasses } = columns;
  return (
    reportedClasses.length === 0 &&
    measured.every(({ field }) => field !== "fluidTemperatureC") &&
    receivedOn.every((day) => day === 0) &&
    reportedOn.every((day) => day === 0)
  );
}

/** Tells the levels of a block's samples, one after the other in the same place; undefined for one that is not counted. */
export function levelsIn({ columns: { counts } }: SampleBlock): (index: number) => Levels | undefined {
  if (counts === undefined) return () => undefined;
  const { sizesUm, volumeMl, counts: columns } = counts;
  const levels = { sizesUm, perMl: new Float64Array(sizesUm.length) };
  return (index) => {
    if (Number.isNaN(columns[0]?.[index])) return undefined;
    for (let size = 0; size < columns.length; size += 1)
      levels.perMl[size] = ((columns[size] as Float64Array)[index] as number) / volumeMl;
    return levels;
  };
}
