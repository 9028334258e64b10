import { decimalPlaces, shiftDecimal } from "../units/index.js";

/**
 * The scale on which a particle's size was measured.
 *
 * - `um(c)`: ISO 11171, area-equivalent diameter
 * - `um-older`: ISO 4402 (calibrated with the older air-cleaner dust)
 * - `um-microscope`: longest dimension under the microscope
 */
export type SizeScale = "um(c)" | "um-older" | "um-microscope";

/** Whether a count stands for all particles above a size or for those between two sizes. */
export type CountForm = "cumulative" | "interval";

/** Particles larger than `sizeUm` in the set's volume. */
export interface CumulativeCount {
  readonly sizeUm: number;
  readonly count: number;
}

/** Particles between two sizes in the set's volume; without `toUm` all above `fromUm`. */
export interface IntervalCount {
  readonly fromUm: number;
  readonly toUm?: number;
  readonly count: number;
}

/**
 * Particle counts of one sample with the basis they stand on.
 *
 * Counts are kept as reported, with the volume they stand for, because converting to particles per mL and
 * back moves counts that lie exactly on a class limit.
 */
export interface CountSet<S extends SizeScale = "um(c)", F extends CountForm = "cumulative"> {
  readonly scale: S;
  readonly form: F;
  /** The volume in mL that every count stands for: 1 for particles per mL, 100 for particles per 100 mL. */
  readonly volumeMl: number;
  /** Smallest size first. */
  readonly counts: readonly (F extends "cumulative" ? CumulativeCount : IntervalCount)[];
}

/** Counts that break a rule, with the value and the rule in the message. */
export class CountError extends RangeError {
  override readonly name = "CountError";
  constructor(
    message: string,
    /** The size whose count broke the rule, where there is one. */
    readonly sizeUm?: number,
  ) {
    super(message);
  }
}

/**
 * Makes a cumulative count set and refuses counts that cannot be true.
 *
 * @param counts - particles larger than each size, in any order
 * @param volumeMl - the volume in mL that every count stands for
 * @param scale - size scale, µm(c) of ISO 11171 unless named
 * @returns the counts, smallest size first
 * @throws CountError for a count or size that is not a number, is negative, is given twice, or rises with size
 * @source ISO-11171
 * @example
 * cumulativeCounts([{ sizeUm: 6, count: 1200 }, { sizeUm: 4, count: 15000 }], 1).counts[0].sizeUm; // => 4
 */
export function cumulativeCounts<S extends SizeScale = "um(c)">(
  counts: readonly CumulativeCount[],
  volumeMl: number,
  scale: S = "um(c)" as S,
): CountSet<S> {
  if (!(volumeMl > 0 && Number.isFinite(volumeMl))) {
    throw new CountError(`the counted volume must be more than 0 mL, not ${volumeMl}`);
  }
  if (counts.length === 0) throw new CountError("a count set needs at least one count");
  // Only size and count are taken over: a caller's own fields would travel into every sample.
  const sorted = counts.map(({ sizeUm, count }) => ({ sizeUm, count })).sort((a, b) => a.sizeUm - b.sizeUm);
  for (const { sizeUm, count } of sorted) {
    if (!(sizeUm > 0 && Number.isFinite(sizeUm))) {
      throw new CountError(`a particle size must be more than 0 µm, not ${sizeUm}`, sizeUm);
    }
    if (!(count >= 0 && Number.isFinite(count))) {
      throw new CountError(`the count at ${sizeUm} µm must be 0 or more, not ${count}`, sizeUm);
    }
  }
  sorted.slice(1).forEach((larger, index) => {
    const smaller = sorted[index] as CumulativeCount;
    if (larger.sizeUm === smaller.sizeUm) {
      throw new CountError(`the size ${larger.sizeUm} µm is given twice`, larger.sizeUm);
    }
    if (larger.count > smaller.count) {
      throw new CountError(
        `cumulative counts cannot rise with size: ${larger.count} at ${larger.sizeUm} µm ` +
          `is more than ${smaller.count} at ${smaller.sizeUm} µm`,
        larger.sizeUm,
      );
    }
  });
  return { scale, form: "cumulative", volumeMl, counts: sorted };
}

/**
 * The cumulative count at one size, if that size was counted.
 *
 * @param set - cumulative counts
 * @param sizeUm - size in µm on the set's own scale
 * @returns particles larger than the size in the set's volume, or undefined when it was not counted
 */
export function countAt(set: CountSet<SizeScale>, sizeUm: number): number | undefined {
  return set.counts.find((entry) => entry.sizeUm === sizeUm)?.count;
}

/**
 * The particles between two counted sizes, by subtraction.
 *
 * @param set - cumulative counts
 * @param fromUm - lower size in µm
 * @param toUm - upper size in µm, or undefined for all particles above the lower size
 * @returns particles in the set's volume, or undefined when one of the sizes was not counted
 */
export function countBetween(
  set: CountSet<SizeScale>,
  fromUm: number,
  toUm: number | undefined,
): number | undefined {
  const above = countAt(set, fromUm);
  if (above === undefined || toUm === undefined) return above;
  const beyond = countAt(set, toUm);
  return beyond === undefined ? undefined : subtractAsWritten(above, beyond);
}

/**
 * Whether a count is within a limit that stands for another volume.
 *
 * Both sides are divided once, so a count that lies exactly on the limit is inside; NaN is outside.
 *
 * @param count - particles in `volumeMl`
 * @param volumeMl - volume of the count in mL
 * @param limit - particles allowed in `limitVolumeMl`
 * @param limitVolumeMl - volume of the limit in mL
 * @returns true when the count does not exceed the limit
 */
export function isWithin(count: number, volumeMl: number, limit: number, limitVolumeMl: number): boolean {
  return count / volumeMl <= limit / limitVolumeMl;
}

/**
 * Subtracts two decimal numbers the way a person does on paper, so that 24.32 − 4.32 is exactly 20.
 *
 * Binary subtraction can miss a class limit by the last digit. Both numbers are shifted to whole numbers
 * first, subtracted, and shifted back once.
 */
function subtractAsWritten(a: number, b: number): number {
  const places = Math.max(decimalPlaces(a), decimalPlaces(b));
  if (places === 0) return a - b;
  const difference = shiftDecimal(a, places) - shiftDecimal(b, places);
  return shiftDecimal(difference, -places);
}
