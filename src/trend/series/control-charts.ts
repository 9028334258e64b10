import { mean } from "simple-statistics";

/** Control limits and the places, counted from 0, where the chart signals. */
export interface ControlChart {
  readonly centre: number;
  readonly lower: number;
  readonly upper: number;
  /** What is drawn. */
  readonly values: readonly number[];
  readonly signals: readonly number[];
}

/**
 * Constants for the range of two values from a normal distribution: its mean in standard deviations (d₂), and the upper
 * limit of the moving range in mean ranges (D₄).
 *
 * @source CHART-CONSTANTS
 */
export const RANGE_OF_TWO = { d2: 1.128, D4: 3.267 } as const;

/**
 * Chart of individuals and moving ranges, for a method that measures the same check fluid again and again.
 *
 * Limits are three standard deviations from the mean, the standard deviation being the mean moving range over d₂.
 *
 * @param values - in order of time, at least two
 * @throws RangeError for fewer, or a value that is not finite
 * @source NIST-CHARTS
 * @source CHART-CONSTANTS
 * @example
 * individualsChart([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]).individuals.upper; // => 55.8041
 */
export function individualsChart(values: readonly number[]): {
  readonly individuals: ControlChart;
  readonly movingRanges: ControlChart;
} {
  mustBeSeries(values, 2);
  const centre = mean([...values]);
  const ranges = values.slice(1).map((value, index) => Math.abs(value - (values[index] as number)));
  const meanRange = mean(ranges);
  const reach = (3 * meanRange) / RANGE_OF_TWO.d2;
  return {
    individuals: chart(values, centre, centre - reach, centre + reach),
    movingRanges: chart(ranges, meanRange, 0, RANGE_OF_TWO.D4 * meanRange),
  };
}

/** What an EWMA chart is drawn with. */
export interface EwmaSettings {
  readonly target: number;
  readonly standardDeviation: number;
  /** Weight of the newest value, above 0 and at most 1. */
  readonly weight: number;
  /** Width of the limits in standard deviations of the average. */
  readonly width: number;
}

/**
 * Chart of exponentially weighted averages, which sees small lasting shifts that single values hide.
 *
 * z = weight · value + (1 − weight) · z before, from the target on; the limits are those that it settles at.
 *
 * @param values - in order of time
 * @throws RangeError for a weight or a standard deviation out of range, or a value that is not finite
 * @source NIST-CHARTS
 */
export function ewmaChart(values: readonly number[], settings: EwmaSettings): ControlChart {
  mustBeSeries(values, 1);
  const { target, standardDeviation, weight, width } = settings;
  if (!(weight > 0 && weight <= 1))
    throw new RangeError(`weight must be above 0 and at most 1, not ${weight}`);
  mustBeAboveZero("standardDeviation", standardDeviation);
  let average = target;
  const averages = values.map((value) => {
    average = weight * value + (1 - weight) * average;
    return average;
  });
  const reach = width * standardDeviation * Math.sqrt(weight / (2 - weight));
  return chart(averages, target, target - reach, target + reach);
}

/** What a CUSUM is kept with, in the unit of the values. */
export interface CusumSettings {
  readonly target: number;
  /** Half of the shift that is to be seen: smaller differences from the target do not add up. */
  readonly allowance: number;
  /** The sum at which it signals. */
  readonly decision: number;
}

/** Sums of what lies above and below the target, and the places, counted from 0, where one passes the decision value. */
export interface Cusum {
  readonly above: readonly number[];
  readonly below: readonly number[];
  readonly signals: readonly number[];
}

/**
 * Tabular CUSUM: two sums of what lies further from the target than the allowance, neither ever below 0.
 *
 * @param values - in order of time
 * @throws RangeError for an allowance or decision value that is not above 0, or a value that is not finite
 * @source NIST-CHARTS
 * @source MONTGOMERY-RUNGER
 */
export function cusum(values: readonly number[], settings: CusumSettings): Cusum {
  mustBeSeries(values, 1);
  const { target, allowance, decision } = settings;
  mustBeAboveZero("allowance", allowance);
  mustBeAboveZero("decision", decision);
  let [up, down] = [0, 0];
  const sums = values.map((value) => {
    up = Math.max(0, up + value - (target + allowance));
    down = Math.max(0, down + (target - allowance) - value);
    return { up, down };
  });
  return {
    above: sums.map((sum) => sum.up),
    below: sums.map((sum) => sum.down),
    signals: sums.flatMap((sum, index) => (sum.up > decision || sum.down > decision ? [index] : [])),
  };
}

function chart(values: readonly number[], centre: number, lower: number, upper: number): ControlChart {
  const signals = values.flatMap((value, index) => (value >= lower && value <= upper ? [] : [index]));
  return { centre, lower, upper, values, signals };
}

function mustBeSeries(values: readonly number[], fewest: number): void {
  if (values.length < fewest)
    throw new RangeError(`at least ${fewest} values are needed, not ${values.length}`);
  for (const value of values) {
    if (!Number.isFinite(value)) throw new RangeError(`a value must be a finite number, not ${value}`);
  }
}

function mustBeAboveZero(name: string, value: number): void {
  if (!(value > 0)) throw new RangeError(`${name} must be more than 0, not ${value}`);
}
