import { checkNumbers } from "../numeric/index.js";
import type { Assumption } from "../provenance/index.js";
import { type CountSet, type CumulativeCount, cumulativeCounts, type SizeScale } from "./count-set.js";
import { countAt } from "./reading.js";

/** A count at a size that may or may not have been counted. */
export type EstimatedCount =
  | { readonly kind: "counted"; readonly count: number }
  | {
      readonly kind: "estimated";
      readonly count: number;
      /** The counted sizes on both sides, in µm. */
      readonly betweenUm: readonly [number, number];
    }
  /** Outside the counted sizes, or next to a count of zero, which has no logarithm. */
  | { readonly kind: "cannot-tell"; readonly why: string };

/**
 * Estimates the particles larger than a size that was not counted, from its two counted neighbours.
 *
 * The logarithm of the count is drawn straight against the square of the logarithm of the size, which is the shape of
 * the MIL-STD-1246 level formula. Left out one at a time and estimated back, the limits of AS4059 and of the navy
 * classes are met more closely this way than with the plain logarithm of the size; `docs/standards.md` has the numbers.
 * Never outside the counted sizes.
 *
 * @param set - cumulative counts
 * @param sizeUm - size in µm on the set's own scale
 * @returns the count in the set's volume: counted, estimated, or why it is not known
 * @source MIL-STD-1246
 * @source ISO-TR-4808
 * @example
 * estimateAt(cumulativeCounts([{ sizeUm: 5, count: 1785 }, { sizeUm: 25, count: 78 }], 100), 15).count; // => 264
 */
export function estimateAt(set: CountSet<SizeScale>, sizeUm: number): EstimatedCount {
  checkNumbers("positive", { sizeUm });
  const counted = countAt(set, sizeUm);
  if (counted !== undefined) return { kind: "counted", count: counted };
  const above = set.counts.findIndex((entry) => entry.sizeUm > sizeUm);
  const smaller = set.counts[above - 1];
  const larger = set.counts[above];
  if (smaller === undefined || larger === undefined) {
    const sizes = `${set.counts[0]?.sizeUm} to ${set.counts.at(-1)?.sizeUm} µm`;
    return { kind: "cannot-tell", why: `${sizeUm} µm is outside the counted sizes, ${sizes}` };
  }
  const betweenUm = [smaller.sizeUm, larger.sizeUm] as const;
  if (smaller.count === larger.count) return { kind: "estimated", count: smaller.count, betweenUm };
  if (larger.count === 0) {
    return { kind: "cannot-tell", why: `the count at ${larger.sizeUm} µm is zero and has no logarithm` };
  }
  const place = (size: number) => Math.log(size) ** 2 * Math.sign(Math.log(size));
  const along = (place(sizeUm) - place(smaller.sizeUm)) / (place(larger.sizeUm) - place(smaller.sizeUm));
  const logCount = Math.log(smaller.count) * (1 - along) + Math.log(larger.count) * along;
  return { kind: "estimated", count: Math.exp(logCount), betweenUm };
}

/**
 * Adds estimated counts at sizes that were not counted. Each is marked as estimated, and classes made from it say so.
 *
 * @param set - cumulative counts
 * @param sizesUm - the sizes that are wanted; those that were counted, or cannot be estimated, stay as they are
 * @returns the counts with what was estimated
 * @source MIL-STD-1246
 */
export function withEstimates<S extends SizeScale>(
  set: CountSet<S>,
  sizesUm: readonly number[],
): { readonly counts: CountSet<S>; readonly assumptions: readonly Assumption[] } {
  const added: CumulativeCount[] = [];
  const assumptions: Assumption[] = [];
  for (const sizeUm of sizesUm) {
    const estimate = estimateAt(set, sizeUm);
    if (estimate.kind !== "estimated") continue;
    added.push({ sizeUm, count: estimate.count, basis: "estimated" });
    assumptions.push({
      code: "count-estimated",
      message:
        `the count at ${sizeUm} µm was not measured; ${Number(estimate.count.toPrecision(3))} was estimated ` +
        `between ${estimate.betweenUm[0]} and ${estimate.betweenUm[1]} µm`,
      source: "MIL-STD-1246",
    });
  }
  return {
    counts: cumulativeCounts([...set.counts, ...added], set.volumeMl, set.scale, set.counting),
    assumptions,
  };
}
