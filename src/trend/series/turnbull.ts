import type { Known } from "./observation.js";

/** A distribution as steps: the probability of each value. Limits that reach beyond all values put some at ±Infinity. */
export interface StepDistribution {
  readonly values: readonly number[];
  readonly probabilities: readonly number[];
}

const MAX_ROUNDS = 2000;
const SETTLED = 1e-10;

/**
 * The distribution of values of which some are known only to lie below or above a limit.
 *
 * Turnbull's self-consistent estimate: each limit value is shared out among the values it may have, in proportion to how
 * probable they are, until nothing changes. For "below" alone it is the Kaplan–Meier estimate turned round.
 *
 * @param known - measured values and limit values
 * @source TURNBULL
 */
export function turnbull(known: readonly Known[]): StepDistribution {
  const measured = known.filter(({ low, high }) => low === high).map((entry) => entry.low);
  const values = [
    Number.NEGATIVE_INFINITY,
    ...new Set(measured.sort((a, b) => a - b)),
    Number.POSITIVE_INFINITY,
  ];
  const place = new Map(values.map((value, index) => [value, index]));
  const own = new Array<number>(values.length).fill(0);
  for (const value of measured) own[place.get(value) as number] = (own[place.get(value) as number] ?? 0) + 1;
  // A value below a limit is one of the first ranks; a value above it, one of the last.
  const below = countedBy(
    known.filter(({ low, high }) => low !== high && high !== Number.POSITIVE_INFINITY),
    ({ high }) => values.findIndex((value) => value >= high),
  );
  const above = countedBy(
    known.filter(({ low, high }) => low !== high && high === Number.POSITIVE_INFINITY),
    ({ low }) => values.findIndex((value) => value > low),
  );
  let probabilities = new Array<number>(values.length).fill(1 / values.length);
  if (below.size === 0) probabilities[0] = 0;
  if (above.size === 0) probabilities[values.length - 1] = 0;
  for (let round = 0; round < MAX_ROUNDS; round += 1) {
    const next = shareOut(probabilities, own, below, above, known.length);
    const change = next.reduce(
      (most, value, index) => Math.max(most, Math.abs(value - (probabilities[index] ?? 0))),
      0,
    );
    probabilities = next;
    if (change < SETTLED) break;
  }
  return { values, probabilities };
}

function countedBy(entries: readonly Known[], placeOf: (entry: Known) => number): Map<number, number> {
  const counts = new Map<number, number>();
  for (const entry of entries) counts.set(placeOf(entry), (counts.get(placeOf(entry)) ?? 0) + 1);
  return counts;
}

function shareOut(
  probabilities: readonly number[],
  own: readonly number[],
  below: ReadonlyMap<number, number>,
  above: ReadonlyMap<number, number>,
  n: number,
): number[] {
  const upTo = [0];
  for (const probability of probabilities) upTo.push((upTo.at(-1) as number) + probability);
  const all = upTo.at(-1) as number;
  // Weight with which each place takes part: the sum over the limit values that may lie there of count / their probability.
  const weight = new Array<number>(probabilities.length + 1).fill(0);
  for (const [end, count] of below) {
    const share = count / ((upTo[end] as number) || Number.MIN_VALUE);
    weight[0] = (weight[0] as number) + share;
    weight[end] = (weight[end] as number) - share;
  }
  for (const [start, count] of above) {
    const share = count / (all - (upTo[start] as number) || Number.MIN_VALUE);
    weight[start] = (weight[start] as number) + share;
  }
  let running = 0;
  return probabilities.map((probability, index) => {
    running += weight[index] as number;
    return ((own[index] as number) + probability * running) / n;
  });
}

/**
 * A quantile of a step distribution; between two values where the steps meet it exactly, halfway, as for a median.
 *
 * @returns ±Infinity when the quantile lies among values known only as limits
 */
export function stepQuantile({ values, probabilities }: StepDistribution, probability: number): number {
  let sum = 0;
  for (const [index, value] of values.entries()) {
    sum += probabilities[index] as number;
    if (sum > probability + QUANTILE_SLACK) return value;
    if (sum >= probability - QUANTILE_SLACK) {
      const next = values.findIndex(
        (_, place) => place > index && (probabilities[place] as number) > QUANTILE_SLACK,
      );
      return next === -1 ? value : (value + (values[next] as number)) / 2;
    }
  }
  return values.at(-1) as number;
}

/** Probabilities add up with rounding. */
const QUANTILE_SLACK = 1e-9;
