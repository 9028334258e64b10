import {
  type AnyCountSet,
  CountError,
  type CountSet,
  cumulativeCounts,
  formatRange,
  intervalCounts,
  type SizeScale,
} from "./count-set.js";
import { bringToVolume } from "./decimal.js";
import { readBetween } from "./reading.js";

/**
 * Turns cumulative counts into interval counts: between neighbouring sizes, and above the largest.
 *
 * @returns the same particles by range, by exact subtraction
 * @example
 * toIntervals(cumulativeCounts([{ sizeUm: 6, count: 20 }, { sizeUm: 14, count: 5 }], 1)).counts[0].count; // => 15
 */
export function toIntervals<S extends SizeScale>(set: CountSet<S>): CountSet<S, "interval"> {
  const ranges = set.counts.map(({ sizeUm }, index) => {
    const toUm = set.counts[index + 1]?.sizeUm;
    const reading = readBetween(set, sizeUm, toUm);
    return { fromUm: sizeUm, ...(toUm !== undefined && { toUm }), ...keep(reading) };
  });
  return intervalCounts(ranges, set.volumeMl, set.scale, set.counting);
}

/**
 * Turns interval counts into cumulative counts by adding up from the largest range.
 *
 * @returns the same particles by lower size
 * @throws CountError when the top range is not open, or when ranges leave a gap: what lies there is not known
 * @example
 * toCumulative(intervalCounts([{ fromUm: 6, toUm: 14, count: 15 }, { fromUm: 14, count: 5 }], 1)).counts[0].count; // => 20
 */
export function toCumulative<S extends SizeScale>(set: CountSet<S, "interval">): CountSet<S> {
  const top = set.counts.at(-1);
  if (top?.toUm !== undefined) {
    throw new CountError(
      `cumulative counts need a range that is open above, such as >${top.toUm}; the largest given is ${formatRange(top)} µm`,
      top.fromUm,
    );
  }
  set.counts.slice(1).forEach((next, index) => {
    const range = set.counts[index];
    if (range !== undefined && range.toUm !== next.fromUm) {
      throw new CountError(
        `cumulative counts need ranges without a gap: none is given from ${range.toUm} to ${next.fromUm} µm`,
        next.fromUm,
      );
    }
  });
  const counts = set.counts.map(({ fromUm }) => ({
    sizeUm: fromUm,
    ...keep(readBetween(set, fromUm, undefined)),
  }));
  return cumulativeCounts(counts, set.volumeMl, set.scale, set.counting);
}

/**
 * The same counts for another volume, for example particles per mL as particles per 100 mL.
 *
 * For showing only: classes are taken from the counts as reported.
 *
 * @param set - counts
 * @param volumeMl - the volume in mL that the new counts stand for
 * @throws CountError for a volume that is not above 0
 * @example
 * inVolume(cumulativeCounts([{ sizeUm: 4, count: 0.29 }], 1), 100).counts[0].count; // => 29
 */
export function inVolume<T extends AnyCountSet>(set: T, volumeMl: number): T {
  if (!(volumeMl > 0 && Number.isFinite(volumeMl))) {
    throw new CountError(`the volume that counts stand for must be more than 0 mL, not ${volumeMl}`);
  }
  const counts = set.counts.map((entry) => ({
    ...entry,
    count: bringToVolume(entry.count, set.volumeMl, volumeMl),
    ...(entry.blank !== undefined && { blank: bringToVolume(entry.blank, set.volumeMl, volumeMl) }),
  }));
  return { ...set, volumeMl, counts };
}

function keep(reading: ReturnType<typeof readBetween>) {
  const { count, basis, blank } = reading ?? { count: Number.NaN, basis: "measured", blank: 0 };
  return { count, ...(basis !== "measured" && { basis }), ...(blank !== 0 && { blank }) };
}
