import { median } from "simple-statistics";

/** One observation: any unit on either axis. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A robust line through points, or why there is none. */
export type RobustSlope =
  | {
      readonly kind: "slope";
      readonly n: number;
      /** Change of y per unit of x. */
      readonly slope: number;
      /** y at x = 0. */
      readonly intercept: number;
    }
  | { readonly kind: "cannot-tell"; readonly n: number; readonly needed: number };

/** With fewer points a single odd result could set the slope. */
const FEWEST_POINTS = 4;

/**
 * The Theil–Sen line: the median of the slopes between all pairs of points, so that one odd result does not turn it.
 *
 * The intercept is the median of y − slope · x. Pairs with the same x have no slope and are left out.
 *
 * @param points - observations in any order
 * @returns slope and intercept, or "cannot-tell" for fewer than four distinct x
 * @throws RangeError for a coordinate that is not a finite number
 * @source SEN
 * @example
 * theilSen([1, 2, 3, 4, 5, 16, 7].map((y, index) => ({ x: index + 1, y }))).slope; // => 1
 */
export function theilSen(points: readonly Point[]): RobustSlope {
  for (const { x, y } of points) {
    if (!(Number.isFinite(x) && Number.isFinite(y))) {
      throw new RangeError(`a point must be two finite numbers, not (${x}, ${y})`);
    }
  }
  if (new Set(points.map((point) => point.x)).size < FEWEST_POINTS) {
    return { kind: "cannot-tell", n: points.length, needed: FEWEST_POINTS };
  }
  const slopes = points.flatMap((a, index) =>
    points
      .slice(index + 1)
      .filter((b) => b.x !== a.x)
      .map((b) => (b.y - a.y) / (b.x - a.x)),
  );
  const slope = median(slopes);
  const intercept = median(points.map(({ x, y }) => y - slope * x));
  return { kind: "slope", n: points.length, slope, intercept };
}
