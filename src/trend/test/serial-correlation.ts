import { median } from "../../numeric/index.js";
import { blocksOf, mustBeFinite, type Observation } from "../series/observation.js";

/** How much results resemble those before them, beyond what the trend explains. */
export type SerialCorrelation =
  | { readonly kind: "too-few"; readonly n: number; readonly needed: number }
  | {
      readonly kind: "measured";
      readonly n: number;
      /** Correlation of each residual with the next one, −1 to 1. */
      readonly lag1: number;
      /** Whether independent results would show as much in one case of twenty only. */
      readonly isLikely: boolean;
    };

/** With fewer pairs of neighbours a correlation says nothing. Common practice, no source. */
const MIN_RESULTS = 10;

/** One-sided 5 % point of the normal distribution. */
const Z = 1.645;

/**
 * Whether results close in time resemble each other, which the trend test and its interval take as not the case.
 *
 * The residuals from the slope and the median of their block are correlated with the next one of the block; n independent ones
 * scatter about −1/n with a standard deviation of 1/√n. Results that are limits take no part.
 *
 * @param slope - change of y per unit of x
 * @throws RangeError for a coordinate that is not a finite number
 * @source SERIAL-CORRELATION
 */
export function serialCorrelation(observations: readonly Observation[], slope: number): SerialCorrelation {
  mustBeFinite(observations);
  const blocks = blocksOf(observations.filter(({ limit }) => limit === undefined)).map((block) => {
    const residuals = block.map(({ x, y }) => y - slope * x);
    const middle = median(residuals);
    return residuals.map((residual) => residual - middle);
  });
  const n = blocks.flat().length;
  if (n < MIN_RESULTS) return { kind: "too-few", n, needed: MIN_RESULTS };
  const products = blocks.flatMap((block) =>
    block.slice(1).map((value, index) => value * (block[index] as number)),
  );
  const squares = blocks.flat().map((value) => value * value);
  const lag1 = sum(squares) === 0 ? 0 : sum(products) / sum(squares);
  return { kind: "measured", n, lag1, isLikely: lag1 > Z / Math.sqrt(n) - 1 / n };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
