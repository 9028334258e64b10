import { checkNumbers } from "../numeric/index.js";
import type { AnyCountSet, CountBasis, CumulativeCount, IntervalCount } from "./count-set.js";
import { addAsWritten, subtractAsWritten } from "./decimal.js";

/** Particles above a size or between two sizes, with what the number rests on. */
export interface CountReading {
  /** Particles in the set's volume. */
  readonly count: number;
  /** The least direct of the counts it was formed from. */
  readonly basis: CountBasis;
  /** Blank that was subtracted, in the set's volume. */
  readonly blank: number;
}

/**
 * Reads the particles between two sizes from a count set in either form.
 *
 * Cumulative counts are subtracted, interval counts are added up; both exactly.
 *
 * @param set - counts
 * @param fromUm - lower size in µm on the set's own scale
 * @param toUm - upper size in µm, or undefined for all particles above the lower size
 * @returns the reading, or undefined when the sizes that were counted cannot form it
 */
export function readBetween(
  set: AnyCountSet,
  fromUm: number,
  toUm: number | undefined,
): CountReading | undefined {
  if (set.form === "interval") return sumOfRanges(set.counts, fromUm, toUm);
  const above = entryAt(set.counts, fromUm);
  if (above === undefined) return undefined;
  const { count, basis = "measured", blank = 0 } = above;
  if (toUm === undefined) return { count, basis, blank };
  const beyond = entryAt(set.counts, toUm);
  if (beyond === undefined) return undefined;
  return {
    count: subtractAsWritten(count, beyond.count),
    basis: leastDirect(basis, beyond.basis ?? "measured"),
    blank: subtractAsWritten(blank, beyond.blank ?? 0),
  };
}

/** The engine finds things in a frozen list four times as slowly, and every class of every sample comes through here. */
function entryAt(counts: readonly CumulativeCount[], sizeUm: number): CumulativeCount | undefined {
  for (let place = 0; place < counts.length; place += 1) {
    if (counts[place]?.sizeUm === sizeUm) return counts[place];
  }
  return undefined;
}

/** Adds up ranges that follow one another without a gap from one size to another. */
function sumOfRanges(
  ranges: readonly IntervalCount[],
  fromUm: number,
  toUm: number | undefined,
): CountReading | undefined {
  let sum: CountReading = { count: 0, basis: "measured", blank: 0 };
  let reached = fromUm;
  for (const range of ranges.filter((entry) => entry.fromUm >= fromUm)) {
    if (range.fromUm !== reached) return undefined;
    sum = {
      count: addAsWritten(sum.count, range.count),
      basis: leastDirect(sum.basis, range.basis ?? "measured"),
      blank: addAsWritten(sum.blank, range.blank ?? 0),
    };
    if (range.toUm === toUm) return sum;
    if (range.toUm === undefined) return undefined;
    reached = range.toUm;
  }
  return undefined;
}

const DIRECTNESS: readonly CountBasis[] = ["measured", "converted", "estimated"];

/** The less direct of two ways a count came about. */
export function leastDirect(a: CountBasis, b: CountBasis): CountBasis {
  return DIRECTNESS.indexOf(a) >= DIRECTNESS.indexOf(b) ? a : b;
}

/**
 * The particles larger than one size, if they are known.
 *
 * @param set - counts in either form
 * @param sizeUm - size in µm on the set's own scale
 * @returns particles larger than the size in the set's volume, or undefined when it was not counted
 * @example
 * const counts = cumulativeCounts([{ sizeUm: 4, count: 15000 }, { sizeUm: 6, count: 1200 }], 1);
 * countAt(counts, 6); // => 1200
 * countAt(counts, 14); // => undefined
 */
export function countAt(set: AnyCountSet, sizeUm: number): number | undefined {
  checkNumbers("positive", { sizeUm });
  return readBetween(set, sizeUm, undefined)?.count;
}

/**
 * The particles between two counted sizes.
 *
 * @param set - counts in either form
 * @param fromUm - lower size in µm
 * @param toUm - upper size in µm, or undefined for all particles above the lower size
 * @returns particles in the set's volume, or undefined when one of the sizes was not counted
 */
export function countBetween(set: AnyCountSet, fromUm: number, toUm: number | undefined): number | undefined {
  checkNumbers("positive", { fromUm, toUm });
  return readBetween(set, fromUm, toUm)?.count;
}

/**
 * Whether a count is within a limit that stands for another volume.
 *
 * A count that lies exactly on the limit is inside, as it is written: see {@link highestWithin}. NaN is outside.
 *
 * @param count - particles in `volumeMl`
 * @param volumeMl - volume of the count in mL
 * @param limit - particles allowed in `limitVolumeMl`
 * @param limitVolumeMl - volume of the limit in mL
 * @returns true when the count does not exceed the limit
 */
export function isWithin(count: number, volumeMl: number, limit: number, limitVolumeMl: number): boolean {
  return count / volumeMl <= highestWithin(limit, limitVolumeMl);
}

/**
 * The highest level that is within a limit, in particles per mL.
 *
 * It lies above the quotient by what two numbers and two divisions are rounded by: 3918.4 in 10 mL are 39184 in 100 mL, and
 * yet the quotients differ in the last digit. No report has enough digits for another count to lie between.
 *
 * @param limit - particles allowed in `volumeMl`
 * @param volumeMl - volume of the limit in mL
 */
export function highestWithin(limit: number, volumeMl: number): number {
  return (limit / volumeMl) * (1 + 4 * Number.EPSILON);
}

/** What is counted of a bottle where a report does not say it, in mL. Common practice, no source. */
export const USUAL_COUNTED_ML = 10;

/**
 * The volume of undiluted sample in mL that the counter saw.
 *
 * @returns counted volume divided by the dilution, or undefined when the counted volume is not known
 */
export function sampleSeenMl(set: AnyCountSet): number | undefined {
  return set.counting && set.counting.countedMl / (set.counting.dilution ?? 1);
}

/**
 * The particles the counter itself counted for a reading, the blank included.
 *
 * Reported counts are means over the counted volume, so the number can miss a whole number by rounding of the report.
 *
 * @param set - counts with the volume that was counted
 * @param reading - a reading of the same set
 * @returns raw particles, or undefined when the counted volume is not known
 */
export function rawParticles(
  set: AnyCountSet,
  reading: Pick<CountReading, "count" | "blank">,
): number | undefined {
  const seenMl = sampleSeenMl(set);
  if (seenMl === undefined) return undefined;
  return (addAsWritten(reading.count, reading.blank) * seenMl) / set.volumeMl;
}
