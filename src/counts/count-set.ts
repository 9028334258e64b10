/**
 * The scale on which a particle's size was measured.
 *
 * - `um(c)`: ISO 11171, area-equivalent diameter
 * - `um(b)`: ISO 11171:2016, the second designation, which the 2020 edition no longer allows
 * - `um-older`: ISO 4402 (calibrated with the older air-cleaner dust)
 * - `um-microscope`: longest dimension under the microscope
 */
export type SizeScale = "um(c)" | "um(b)" | "um-older" | "um-microscope";

/** Whether a count stands for all particles above a size or for those between two sizes. */
export type CountForm = "cumulative" | "interval";

/**
 * How a count came to stand at its size: `measured` there, `converted` from another size scale, or `estimated`
 * between two measured sizes.
 */
export type CountBasis = "measured" | "converted" | "estimated";

export interface CountDetail {
  readonly count: number;
  /** Measured, when absent. */
  readonly basis?: CountBasis;
  /** Particles of a bottle blank that were subtracted to get the count, in the set's volume. */
  readonly blank?: number;
}

/** Particles larger than `sizeUm` in the set's volume. */
export interface CumulativeCount extends CountDetail {
  readonly sizeUm: number;
}

/** Particles between two sizes in the set's volume; without `toUm` all above `fromUm`. */
export interface IntervalCount extends CountDetail {
  readonly fromUm: number;
  readonly toUm?: number;
}

/** How the counts were made. */
export interface Counting {
  /** Volume in mL that went through the counter, dilution included. */
  readonly countedMl: number;
  /** Parts of mixture for one part of sample: 1 is undiluted, 10 is one part in ten. 1 when absent. */
  readonly dilution?: number;
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
  /** How much was counted; absent when the report does not say, and then nothing is known of the raw counts. */
  readonly counting?: Counting;
  /** Smallest size first. */
  readonly counts: readonly (F extends "cumulative" ? CumulativeCount : IntervalCount)[];
}

/**
 * The scale of another argument: the compiler takes S from that one and does not widen it to let a second scale in.
 *
 * Spelled out instead of `NoInfer`, which compilers before 5.4, such as the one notebooks run on, do not know.
 */
export type SameScale<S extends SizeScale> = [S][S extends SizeScale ? 0 : never];

/** Counts in either form. */
export type AnyCountSet<S extends SizeScale = SizeScale> =
  | CountSet<S, "cumulative">
  | CountSet<S, "interval">;

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
 * @param counting - the volume that was counted, where it is known
 * @returns the counts, smallest size first
 * @throws CountError for a count or size that is not a number, is negative, is given twice, or rises with size, and for
 *   more particles or a larger volume than can have been counted
 * @source ISO-11171
 * @example
 * cumulativeCounts([{ sizeUm: 6, count: 1200 }, { sizeUm: 4, count: 15000 }], 1).counts[0].sizeUm; // => 4
 */
export function cumulativeCounts<S extends SizeScale = "um(c)">(
  counts: readonly CumulativeCount[],
  volumeMl: number,
  scale: S = "um(c)" as S,
  counting?: Counting,
): CountSet<S> {
  checkVolumes(volumeMl, counting, counts.length);
  const sorted = [...counts].sort((a, b) => a.sizeUm - b.sizeUm);
  for (const detail of sorted) {
    const { sizeUm } = detail;
    checkSize(sizeUm);
    checkCount(detail, sizeUm, () => `at ${sizeUm} µm`);
    checkCounted(detail, volumeMl, counting, sizeUm);
  }
  for (let place = 1; place < sorted.length; place += 1) {
    const [smaller, larger] = [sorted[place - 1], sorted[place]] as [CumulativeCount, CumulativeCount];
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
  }
  // Checked here once and relied on everywhere: nothing of it may be changed afterwards.
  return Object.freeze({
    scale,
    form: "cumulative",
    volumeMl,
    ...(counting && { counting: Object.freeze({ ...counting }) }),
    counts: Object.freeze(
      sorted.map(({ sizeUm, count, basis, blank }): CumulativeCount => {
        if (basis === undefined && blank === undefined) return Object.freeze({ sizeUm, count });
        return Object.freeze({
          sizeUm,
          count,
          ...(basis && { basis }),
          ...(blank !== undefined && { blank }),
        });
      }),
    ),
  });
}

/**
 * Makes an interval count set (differential counts) and refuses counts that cannot be true.
 *
 * Ranges may leave gaps; what lies in a gap is not known, and no class is made from it.
 *
 * @param counts - particles between two sizes, in any order; without `toUm` all above `fromUm`
 * @param volumeMl - the volume in mL that every count stands for
 * @param scale - size scale, µm(c) of ISO 11171 unless named
 * @param counting - the volume that was counted, where it is known
 * @returns the counts, smallest size first
 * @throws CountError for a count or size that is not a number or is negative, a range without width, ranges that overlap,
 *   and for more particles or a larger volume than can have been counted
 * @example
 * intervalCounts([{ fromUm: 70, count: 5 }, { fromUm: 38, toUm: 70, count: 50 }], 100).counts[0].count; // => 50
 */
export function intervalCounts<S extends SizeScale = "um(c)">(
  counts: readonly IntervalCount[],
  volumeMl: number,
  scale: S = "um(c)" as S,
  counting?: Counting,
): CountSet<S, "interval"> {
  checkVolumes(volumeMl, counting, counts.length);
  const sorted = [...counts].sort((a, b) => a.fromUm - b.fromUm);
  for (const range of sorted) {
    checkSize(range.fromUm);
    if (range.toUm !== undefined && !(range.toUm > range.fromUm && Number.isFinite(range.toUm))) {
      throw new CountError(
        `a size range must end above its start, not ${formatRange(range)} µm`,
        range.fromUm,
      );
    }
    checkCount(range, range.fromUm, () => `in ${formatRange(range)} µm`);
    checkCounted(range, volumeMl, counting, range.fromUm);
  }
  sorted.slice(1).forEach((next, index) => {
    const range = sorted[index] as IntervalCount;
    if (next.fromUm === range.fromUm && next.toUm === range.toUm) {
      throw new CountError(`the range ${formatRange(next)} µm is given twice`, next.fromUm);
    }
    if (range.toUm === undefined || next.fromUm < range.toUm) {
      throw new CountError(
        `size ranges cannot overlap: ${formatRange(range)} µm and ${formatRange(next)} µm`,
        next.fromUm,
      );
    }
  });
  return Object.freeze({
    scale,
    form: "interval",
    volumeMl,
    ...(counting && { counting: Object.freeze({ ...counting }) }),
    counts: Object.freeze(
      sorted.map(({ fromUm, toUm, count, basis, blank }) =>
        Object.freeze({
          fromUm,
          ...(toUm !== undefined && { toUm }),
          count,
          ...(basis !== undefined && { basis }),
          ...(blank !== undefined && { blank }),
        }),
      ),
    ),
  });
}

/** Writes a size range as the standards do: "6-14" or ">70". */
export function formatRange({ fromUm, toUm }: Pick<IntervalCount, "fromUm" | "toUm">): string {
  return toUm === undefined ? `>${fromUm}` : `${fromUm}-${toUm}`;
}

/** A centimetre: what is larger is no particle of a fluid. */
export const MAX_SIZE_UM = 10_000;

/** A thousand litres: nothing that is counted comes from more. */
export const MAX_VOLUME_ML = 1e6;

function checkVolumes(volumeMl: number, counting: Counting | undefined, counts: number): void {
  if (!(typeof volumeMl === "number" && volumeMl > 0 && volumeMl <= MAX_VOLUME_ML)) {
    throw new CountError(
      `the volume that counts stand for must be more than 0 mL and at most ${MAX_VOLUME_ML} mL, not ${volumeMl}`,
    );
  }
  if (counts === 0) throw new CountError("a count set needs at least one count");
  if (counting === undefined) return;
  const { countedMl, dilution = 1 } = counting;
  if (!(typeof countedMl === "number" && countedMl > 0 && countedMl <= MAX_VOLUME_ML)) {
    throw new CountError(
      `the counted volume must be more than 0 mL and at most ${MAX_VOLUME_ML} mL, not ${countedMl}`,
    );
  }
  if (!(dilution >= 1 && Number.isFinite(dilution))) {
    throw new CountError(`the dilution must be 1 or more parts for one part of sample, not ${dilution}`);
  }
}

function checkSize(sizeUm: number): void {
  if (!(sizeUm > 0 && Number.isFinite(sizeUm))) {
    throw new CountError(`a particle size must be more than 0 µm, not ${sizeUm}`, sizeUm);
  }
}

function checkCount({ count, blank = 0 }: CountDetail, sizeUm: number, where: () => string): void {
  if (!(count >= 0 && Number.isFinite(count))) {
    throw new CountError(`the count ${where()} must be 0 or more, not ${count}`, sizeUm);
  }
  if (!(blank >= 0 && Number.isFinite(blank))) {
    throw new CountError(`the blank ${where()} must be 0 or more, not ${blank}`, sizeUm);
  }
}

/** Far more than any counter counts; tails of larger numbers would take minutes. */
export const MAX_COUNTED = 1e9;

function checkCounted(
  { count, blank = 0 }: CountDetail,
  volumeMl: number,
  counting: Counting | undefined,
  sizeUm: number,
): void {
  if (counting === undefined) return;
  const { countedMl, dilution = 1 } = counting;
  const counted = ((count + blank) / volumeMl) * (countedMl / dilution);
  if (!(counted <= MAX_COUNTED)) {
    throw new CountError(
      `at most ${MAX_COUNTED} particles can have been counted, and ${count} in ${volumeMl} mL at ${sizeUm} µm are more in the ${countedMl} mL counted`,
      sizeUm,
    );
  }
}
