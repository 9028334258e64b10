import { isWithin } from "../counts/index.js";
import { readChannel, type TableCounts } from "./size-pairs.js";

/** The most particles that a class or code allows in one channel. */
export interface ParticleLimit {
  /** Name of the channel as the standard writes it: "4", "B", "6-14", ">70". */
  readonly channel: string;
  /** Lower size in µm(c). */
  readonly fromUm: number;
  /** Upper size in µm(c); absent when the limit holds for all particles above `fromUm`. */
  readonly toUm?: number;
  /** Particles allowed in `volumeMl`. */
  readonly limit: number;
  readonly volumeMl: number;
}

/** One channel of a sample compared with one limit. */
export type ComparedLimit =
  | { readonly limit: ParticleLimit; readonly outcome: "not-measured" }
  | {
      readonly limit: ParticleLimit;
      readonly outcome: "inside" | "outside";
      /** Particles as reported, in the volume of the count set. */
      readonly count: number;
      /** Count divided by limit, both per mL; 1 is exactly at the limit. */
      readonly share: number;
    };

/**
 * Compares the counts of a sample with limits.
 *
 * @param counts - counts on a scale that the tables know
 * @param limits - limits of a class or code
 * @returns one entry for every limit, in the same order; a channel that was not counted is never "inside"
 * @example
 * const counts = cumulativeCounts([{ sizeUm: 4, count: 1300 }, { sizeUm: 6, count: 321 }], 1);
 * const compared = compareWithLimits(counts, limitsOfTarget(parseTarget("17/15/12")));
 * compared.map(({ outcome }) => outcome); // => ["inside", "outside", "not-measured"]
 */
export function compareWithLimits(counts: TableCounts, limits: readonly ParticleLimit[]): ComparedLimit[] {
  return limits.map((limit) => {
    const count = readChannel(counts, limit.fromUm, limit.toUm)?.count;
    if (count === undefined) return { limit, outcome: "not-measured" };
    const inside = isWithin(count, counts.volumeMl, limit.limit, limit.volumeMl);
    return {
      limit,
      outcome: inside ? "inside" : "outside",
      count,
      share: shareOfLimit(count, counts.volumeMl, limit.limit, limit.volumeMl),
    };
  });
}

/**
 * Names the channel that decides: the one that uses the most of its limit.
 *
 * When several use the same share, the first is named; lists run from the smallest size.
 *
 * @param entries - channels with the share of their limit
 * @returns the governing entry, or undefined for an empty list
 */
export function mostUsed<T extends { readonly share: number }>(entries: readonly T[]): T | undefined {
  return entries.reduce<T | undefined>(
    (worst, entry) => (worst === undefined || entry.share > worst.share ? entry : worst),
    undefined,
  );
}

/**
 * Count divided by limit, both per mL: 1 is exactly at the limit. A limit of zero is unused by no particles
 * and exceeded without bound by any.
 */
export function shareOfLimit(count: number, volumeMl: number, limit: number, limitVolumeMl: number): number {
  return count === 0 ? 0 : count / volumeMl / (limit / limitVolumeMl);
}
