import { checkNumbers } from "../../numeric/index.js";
import { blocksOf, membersOf, mustBeFinite, type Observation } from "../series/observation.js";
import { scatterOf } from "./huber.js";
import { aboutTheirMedian } from "./level-line.js";

/** An observation far from the line of the others. It is flagged, never removed. */
export interface Outlier {
  readonly x: number;
  readonly y: number;
  /** Distance from the line in robust standard deviations. */
  readonly score: number;
}

/** Beyond this many robust standard deviations a value is called an outlier. */
const FAR = 3.5;

/**
 * Flags observations that lie further from a line than ordinary scatter takes them.
 *
 * The modified z-score: the residual about the median residual of its block over a robust standard deviation, flagged
 * beyond 3.5. Limit values are not flagged: how far out they lie is not known.
 *
 * @param observations - in any order
 * @param slope - of the line; 0 for a level
 * @returns the outliers by x
 * @source IGLEWICZ-HOAGLIN
 */
export function findOutliers(observations: readonly Observation[], slope: number): Outlier[] {
  mustBeFinite(observations);
  checkNumbers("finite", { slope });
  const blocks = blocksOf(observations.filter((entry) => entry.limit === undefined));
  const distances = membersOf(
    blocks.map((block) => aboutTheirMedian(block.map(({ x, y }) => y - slope * x))),
  );
  const scatter = distances.length === 0 ? 0 : scatterOf(distances);
  if (scatter === 0) return [];
  const found: Outlier[] = [];
  for (const [index, { x, y }] of membersOf(blocks).entries()) {
    const score = (distances[index] as number) / scatter;
    if (Math.abs(score) > FAR) found.push({ x, y, score });
  }
  return found.sort((a, b) => a.x - b.x);
}
