import {
  CountError,
  type CountSet,
  cumulativeCounts,
  poolReplicates,
  readBetween,
  USUAL_COUNTED_ML,
} from "../../counts/index.js";
import type { Sample } from "../../samples/index.js";

/** Replicate counts put together, or why they cannot be. */
export type Pooled =
  | { readonly kind: "pooled"; readonly pooled: ReturnType<typeof poolReplicates<"um(c)">> }
  | { readonly kind: "none" }
  | { readonly kind: "unusable"; readonly why: string };

/** Pools the replicates of a sample. */
export function poolOf({ replicates }: Sample): Pooled {
  const [first, ...others] = replicates ?? [];
  if (first === undefined || others.length === 0) return { kind: "none" };
  try {
    if ([first, ...others].every(({ counting }) => counting === undefined))
      return { kind: "pooled", pooled: pooledAsUsual(first, others) };
    return { kind: "pooled", pooled: poolReplicates(first, ...others) };
  } catch (error) {
    if (!(error instanceof CountError)) throw error;
    return { kind: "unusable", why: error.message };
  }
}

/** Where no run says how much was counted, their scatter is judged as that of the usual volume, and the volume stays unknown. */
function pooledAsUsual(first: CountSet, others: readonly CountSet[]) {
  const asUsual = (set: CountSet): CountSet => ({ ...set, counting: { countedMl: USUAL_COUNTED_ML } });
  const { counts, scatter } = poolReplicates(asUsual(first), ...others.map(asUsual));
  const { counting: _counting, ...mean } = counts;
  return { counts: mean, scatter };
}

/**
 * The counts that are compared with limits: those reported, or at each size the mean of the replicates where that is more.
 *
 * So neither of the two can hide what the other shows.
 */
export function countsToHold(sample: Sample, reported: CountSet): CountSet {
  const pool = poolOf(sample);
  if (pool.kind !== "pooled") return reported;
  const { counts: mean } = pool.pooled;
  let more = false;
  const counts = reported.counts.map((entry) => {
    const other = readBetween(mean, entry.sizeUm, undefined)?.count;
    const brought = other === undefined ? 0 : (other / mean.volumeMl) * reported.volumeMl;
    if (!(brought > entry.count)) return entry;
    more = true;
    return { ...entry, count: brought };
  });
  return more ? rising(counts, reported) : reported;
}

/** A larger count at a larger size lifts the smaller sizes with it. */
function rising(counts: CountSet["counts"], reported: CountSet): CountSet {
  let most = 0;
  const lifted = [...counts].reverse().map((entry) => {
    most = Math.max(most, entry.count);
    return { ...entry, count: most };
  });
  return cumulativeCounts(lifted, reported.volumeMl, "um(c)", reported.counting);
}
