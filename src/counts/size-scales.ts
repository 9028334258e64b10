import { type Assumption, frozen } from "../provenance/index.js";
import { CountError, type CountSet, cumulativeCounts, type SizeScale } from "./count-set.js";
import { leastDirect } from "./reading.js";

/**
 * Size by ISO 4402 calibration → size by ISO 11171, in µm, for the same particle.
 *
 * Every row stands on a printed page. A printed row for 2.7 µm is left out: it gives the same 5.1 µm(c) as the row for
 * 3.0 µm, which cannot both be right. A printed "below 1.0 µm is 4.0 µm(c)" is no number and is left out too. Sizes
 * between the rows are not interpolated.
 *
 * @source ISO-11171-OLDER-SIZES
 */
export const OLDER_TO_UM_C = [
  [1.0, 4.2],
  [2.0, 4.6],
  [3.0, 5.1],
  [4.3, 6.0],
  [5.0, 6.4],
  [7.0, 7.7],
  [10.0, 9.8],
  [12.0, 11.3],
  [15.0, 13.6],
  [15.5, 14.0],
  [20.0, 17.5],
  [25.0, 21.2],
  [30.0, 24.9],
  [40.0, 31.7],
  [50.0, 38.2],
  [100.0, 70.0],
] as const;

/**
 * Size in µm(c) for a size of 1 µm(b).
 *
 * @source ISO-11171-UM-B
 */
const UM_C_PER_UM_B = 0.898;

/** Counts whose sizes were brought to another scale, with what that rests on. */
export interface ConvertedCounts<S extends SizeScale> {
  readonly counts: CountSet<S>;
  readonly assumptions: readonly Assumption[];
}

/**
 * Brings the sizes of counts to µm(c). The counts stay as they are: the particles are the same, only the name of their
 * size changes, so 5 µm on the older scale becomes 6.4 µm(c) and not 6.
 *
 * @param set - cumulative counts on the older scale or in µm(b)
 * @returns the counts, each marked as converted
 * @throws CountError for a size that is not in the published table, or counts by microscope, which measure another thing
 * @source ISO-11171-OLDER-SIZES
 * @source ISO-11171-UM-B
 * @example
 * toUmC(cumulativeCounts([{ sizeUm: 5, count: 900 }], 1, "um-older")).counts.counts[0].sizeUm; // => 6.4
 */
export function toUmC(set: CountSet<SizeScale>): ConvertedCounts<"um(c)"> {
  switch (set.scale) {
    case "um(c)":
      return { counts: { ...set, scale: "um(c)" }, assumptions: [] };
    case "um(b)":
      return {
        counts: convert(set, "um(c)", (sizeUm) => roundTo2(sizeUm * UM_C_PER_UM_B)),
        assumptions: [FROM_UM_B],
      };
    case "um-older":
      return { counts: convert(set, "um(c)", (size) => fromRow(size, 0, 1)), assumptions: [BY_SIZE_TABLE] };
    case "um-microscope":
      throw new CountError(
        "counts by microscope go by the longest dimension and cannot be converted to µm(c), which goes by area",
      );
  }
}

/**
 * Brings the sizes of µm(c) counts to the older scale, by the rows of the published table.
 *
 * @throws CountError for a size that is not in the table
 * @source ISO-11171-OLDER-SIZES
 * @example
 * toOlder(cumulativeCounts([{ sizeUm: 14, count: 75 }], 1)).counts.counts[0].sizeUm; // => 15.5
 */
export function toOlder(set: CountSet): ConvertedCounts<"um-older"> {
  return { counts: convert(set, "um-older", (size) => fromRow(size, 1, 0)), assumptions: [BY_SIZE_TABLE] };
}

const BY_SIZE_TABLE: Assumption = frozen({
  code: "sizes-converted",
  message:
    "sizes were converted between the older scale and µm(c) by the rows of a published table; they are not round sizes",
  source: "ISO-11171-OLDER-SIZES",
});

const FROM_UM_B: Assumption = frozen({
  code: "um-b-from-memory",
  message: `sizes in µm(b) were multiplied by ${UM_C_PER_UM_B} to give µm(c); the factor is from memory and unconfirmed`,
  source: "ISO-11171-UM-B",
});

function convert<S extends SizeScale>(
  set: CountSet<SizeScale>,
  scale: S,
  sizeOf: (sizeUm: number) => number,
): CountSet<S> {
  const counts = set.counts.map((entry) => ({
    ...entry,
    sizeUm: sizeOf(entry.sizeUm),
    basis: leastDirect(entry.basis ?? "measured", "converted"),
  }));
  return cumulativeCounts(counts, set.volumeMl, scale, set.counting);
}

function fromRow(sizeUm: number, given: 0 | 1, wanted: 0 | 1): number {
  const row = OLDER_TO_UM_C.find((entry) => entry[given] === sizeUm);
  if (row !== undefined) return row[wanted];
  const sizes = OLDER_TO_UM_C.map((entry) => entry[given]).join(", ");
  throw new CountError(
    `${sizeUm} µm${given === 1 ? "(c)" : " on the older scale"} is not in the published size table, which has ${sizes}`,
    sizeUm,
  );
}

function roundTo2(value: number): number {
  return Math.round(value * 100) / 100;
}
