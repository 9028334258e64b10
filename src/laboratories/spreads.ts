import type { Bottle, Run } from "./results.js";
import { pooledSpread, relativeSd, type Spread } from "./spread.js";

/** A spread; of counts relative, as a fraction. */
export type ComparedSpread = Spread & {
  /** The part of it that counting few particles explains; absent where a counted volume is not known. */
  readonly countingSd?: number;
};

/** The spread of one laboratory's bottles of a fluid, and of its counts of a bottle. */
export function spreadsOf(bottles: readonly Bottle[], confidence: number, isRatio: boolean) {
  const byMaterial = new Map<string, Run[]>();
  for (const bottle of bottles)
    byMaterial.set(bottle.material, [...(byMaterial.get(bottle.material) ?? []), bottle]);
  const runs = bottles.map((bottle) => bottle.runs);
  return {
    bottles: spreadOf([...byMaterial.values()], confidence, isRatio),
    ...(runs.some((counts) => counts.length > 1) && { runs: spreadOf(runs, confidence, isRatio) }),
  };
}

function spreadOf(groups: readonly (readonly Run[])[], confidence: number, isRatio: boolean): ComparedSpread {
  const repeated = groups.filter((group) => group.length > 1);
  const spread = relative(
    pooledSpread(
      repeated.map((group) => group.map(({ value }) => value)),
      confidence,
    ),
    isRatio,
  );
  const variances = repeated.map((group) => meanVariance(group));
  if (spread.kind === "too-few" || !isRatio || variances.includes(undefined)) return spread;
  const sum = repeated.reduce(
    (total, group, index) => total + (group.length - 1) * (variances[index] as number),
    0,
  );
  return { ...spread, countingSd: relativeSd(Math.sqrt(sum / spread.degreesOfFreedom)) };
}

function meanVariance(group: readonly Run[]): number | undefined {
  const known = group.flatMap(({ countingVariance }) => countingVariance ?? []);
  return known.length === group.length ? known.reduce((sum, one) => sum + one, 0) / known.length : undefined;
}

/** A spread of logarithms as a relative one. */
export function relative(spread: Spread, isRatio: boolean): Spread {
  if (!isRatio || spread.kind !== "measured") return spread;
  const { sd, low, high } = spread;
  return { ...spread, sd: relativeSd(sd), low: relativeSd(low), high: relativeSd(high) };
}
