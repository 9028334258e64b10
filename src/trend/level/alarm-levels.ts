import { quantile } from "simple-statistics";
import { median } from "../../numeric/index.js";
import { scatterOf } from "./huber.js";

/** Alarm levels of a population of like circuits, in the unit of the values. */
export type AlarmLevels =
  | {
      readonly kind: "levels";
      readonly n: number;
      readonly median: number;
      /** Values that 80, 90 and 98 of 100 results stay within. */
      readonly percentiles: { readonly attention: number; readonly alert: number; readonly alarm: number };
      /** Median and 1, 2 and 3 robust standard deviations. */
      readonly robust: { readonly attention: number; readonly alert: number; readonly alarm: number };
    }
  | { readonly kind: "cannot-tell"; readonly n: number; readonly needed: number };

/** Two results of a hundred lie beyond the outermost percentile, so fewer than fifty cannot show it. */
const FEWEST = 50;

const SHARES = { attention: 0.8, alert: 0.9, alarm: 0.98 } as const;
const WIDTHS = { attention: 1, alert: 2, alarm: 3 } as const;

/**
 * Alarm levels from what the population of one family does, for results of which high values are bad.
 *
 * Percentiles hold for any distribution; the robust levels (median and multiples of a robust standard deviation) suit a
 * steady population with few odd values and are not moved by them. Which shares and widths to take is common practice.
 * The levels say what is unusual, not what is allowed: the requirement's limits apply as well.
 * Levels closer together than the test repeats mean nothing.
 *
 * @param values - one result of each circuit, or all of them
 * @returns levels, or "cannot-tell" for fewer than 50 values
 * @throws RangeError for a value that is not finite
 * @source ASTM-D7720
 * @source ASTM-D7669
 */
export function alarmLevels(values: readonly number[]): AlarmLevels {
  for (const value of values) {
    if (!Number.isFinite(value)) throw new RangeError(`a value must be a finite number, not ${value}`);
  }
  const n = values.length;
  if (n < FEWEST) return { kind: "cannot-tell", n, needed: FEWEST };
  const middle = median(values);
  const scatter = scatterOf(values);
  const percentile = (share: number) => quantile([...values], share);
  return {
    kind: "levels",
    n,
    median: middle,
    percentiles: {
      attention: percentile(SHARES.attention),
      alert: percentile(SHARES.alert),
      alarm: percentile(SHARES.alarm),
    },
    robust: {
      attention: middle + WIDTHS.attention * scatter,
      alert: middle + WIDTHS.alert * scatter,
      alarm: middle + WIDTHS.alarm * scatter,
    },
  };
}
