import { median } from "../../numeric/index.js";

/** A robust middle of values and what each of them weighs in it. */
export interface RobustLevel {
  readonly level: number;
  /** Standard deviation of ordinary values, from the median distance to the median. */
  readonly scatter: number;
  /** How far each value lies from the level, cut off where it would pull more than its share. */
  readonly pulls: readonly number[];
  /** Which values were not cut off. */
  readonly whole: readonly boolean[];
}

/** Cut-off in scatters; on normal values it gives away 5 per cent. */
const CUT_OFF = 1.345;
const MAX_ROUNDS = 100;
/** Median distance to the median of normal values, as a share of their standard deviation, turned round. */
export const MEDIAN_DISTANCE_TO_SCATTER = 1.4826;

/**
 * Huber's robust mean: like the mean for ordinary values, like the median for odd ones.
 *
 * @param values - at least one
 * @param scatter - known scatter; from the values themselves when absent
 * @source HUBER
 */
export function huberLevel(values: readonly number[], scatter = scatterOf(values)): RobustLevel {
  let level = median(values);
  const limit = CUT_OFF * scatter;
  const cut = (value: number) => Math.max(-limit, Math.min(limit, value - level));
  for (let round = 0; round < MAX_ROUNDS; round += 1) {
    let [inside, pulled] = [0, 0];
    for (const value of values) {
      if (Math.abs(value - level) <= limit) inside += 1;
      pulled += cut(value);
    }
    const step = pulled / Math.max(1, inside);
    level += step;
    if (Math.abs(step) <= 1e-12 * (limit + Math.abs(level))) break;
  }
  return {
    level,
    scatter,
    pulls: values.map(cut),
    whole: values.map((value) => Math.abs(value - level) <= limit),
  };
}

/**
 * Robust standard deviation: 1.4826 times the median distance to the median.
 *
 * When more than half of the values are equal, 1.2533 times the mean distance instead, as Iglewicz and Hoaglin advise.
 *
 * @source IGLEWICZ-HOAGLIN
 */
export function scatterOf(values: readonly number[]): number {
  const middle = median(values);
  const distances = values.map((value) => Math.abs(value - middle));
  const byMedian = MEDIAN_DISTANCE_TO_SCATTER * median(distances);
  if (byMedian > 0) return byMedian;
  return (Math.sqrt(Math.PI / 2) * distances.reduce((sum, value) => sum + value, 0)) / values.length;
}
