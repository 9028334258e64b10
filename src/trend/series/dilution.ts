import { checkNumbers } from "../../numeric/index.js";
import type { Observation } from "./observation.js";

/** New fluid that took the place of a share of the old. */
export interface Dilution {
  readonly x: number;
  /** Volume added over the volume of the whole afterwards, above 0 and below 1. */
  readonly share: number;
}

/**
 * Tells what is generated apart from what new fluid dilutes.
 *
 * Between two top-ups the value rises by the generation rate g; a top-up of the share f moves it that share of the way to
 * the value of the new fluid. With P the product of (1 − f) over the top-ups so far, and u the sum of each stretch of x
 * divided by the P that held in it,
 *
 *   (y − new) / P = (y₀ − new) + g · u,
 *
 * so the observations come back as a straight line in u whose slope is the generation rate. An observation at the x of a
 * top-up was taken before it.
 *
 * @param observations - in any order
 * @param newValue - value of the new fluid, in the unit of y
 * @returns the observations with u for x, from the first one on, and (y − new) / P + new for y, in the order of x; limit
 *   values stay limit values
 * @throws RangeError for a share that is not above 0 and below 1
 * @source DILUTION-BALANCE
 */
export function undoDilution(
  observations: readonly Observation[],
  dilutions: readonly Dilution[],
  newValue: number,
): Observation[] {
  checkNumbers("finite", { newValue });
  for (const { x, share } of dilutions) {
    checkNumbers("finite", { "the x of a top-up": x, "the share of a top-up": share });
    if (!(share > 0 && share < 1))
      throw new RangeError(`the share of a top-up must lie between 0 and 1, not ${share}`);
  }
  const sorted = [...observations].sort((a, b) => a.x - b.x);
  const pending = [...dilutions].sort((a, b) => a.x - b.x);
  let at = sorted[0]?.x ?? 0;
  let [kept, u] = [1, at];
  return sorted.map((entry) => {
    for (let next = pending[0]; next !== undefined && next.x < entry.x; next = pending[0]) {
      pending.shift();
      // What was added before the first observation is in it already.
      if (next.x < (sorted[0] as Observation).x) continue;
      u += (next.x - at) / kept;
      at = next.x;
      kept *= 1 - next.share;
    }
    u += (entry.x - at) / kept;
    at = entry.x;
    return { ...entry, x: u, y: (entry.y - newValue) / kept + newValue };
  });
}
