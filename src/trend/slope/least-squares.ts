import { linearRegression, mean } from "simple-statistics";
import { studentQuantile } from "../../numeric/index.js";
import { mustBeFinite } from "../series/observation.js";

/** The straight line of least squares, to compare with the robust one. */
export interface LeastSquaresLine {
  readonly n: number;
  readonly slope: number;
  readonly intercept: number;
  readonly slopeError: number;
  readonly interceptError: number;
  /** Standard deviation about the line, with n − 2 degrees of freedom. */
  readonly scatter: number;
  readonly meanX: number;
  /** Sum of (x − mean x)². */
  readonly spreadX: number;
}

/**
 * The straight line of least squares with the standard errors of its coefficients.
 *
 * @param points - at least three, at two different x or more
 * @throws RangeError for fewer, or for a coordinate that is not a finite number
 * @source NIST-STRD-NORRIS
 */
export function leastSquares(
  points: readonly { readonly x: number; readonly y: number }[],
): LeastSquaresLine {
  mustBeFinite(points);
  const n = points.length;
  const meanX = n === 0 ? 0 : mean(points.map((point) => point.x));
  const spreadX = points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  if (n < 3 || spreadX === 0) {
    throw new RangeError(`a line of least squares needs three points at different x, not ${n}`);
  }
  const meanY = mean(points.map((point) => point.y));
  // About the means, so that no digits are lost when x or y are far from 0.
  const { m: slope } = linearRegression(points.map(({ x, y }) => [x - meanX, y - meanY]));
  const residuals = points.map(({ x, y }) => y - meanY - slope * (x - meanX));
  const scatter = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / (n - 2));
  return {
    n,
    slope,
    intercept: meanY - slope * meanX,
    slopeError: scatter / Math.sqrt(spreadX),
    interceptError: scatter * Math.sqrt(1 / n + meanX ** 2 / spreadX),
    scatter,
    meanX,
    spreadX,
  };
}

/**
 * The interval in which one more observation at an x lies with a probability.
 *
 * @param level - such as 0.95
 * @example
 * predictionInterval(leastSquares([{ x: 0, y: 1 }, { x: 1, y: 2 }, { x: 2, y: 4 }]), 3, 0.9).value; // => 5.33333
 */
export function predictionInterval(
  line: LeastSquaresLine,
  x: number,
  level: number,
): { readonly value: number; readonly low: number; readonly high: number } {
  const value = line.intercept + line.slope * x;
  const error = line.scatter * Math.sqrt(1 + 1 / line.n + (x - line.meanX) ** 2 / line.spreadX);
  const half = studentQuantile((1 + level) / 2, line.n - 2) * error;
  return { value, low: value - half, high: value + half };
}
