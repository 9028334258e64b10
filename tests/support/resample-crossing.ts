import { levelLine, type Observation, theilSen } from "../../src/trend/index.js";
import { blocksOf } from "../../src/trend/series/observation.js";
import { stepQuantile } from "../../src/trend/series/turnbull.js";

/** A window of crossings by drawing the observations again. */
export interface ResampledWindow {
  readonly earliest: number;
  /** ∞ when that part of the drawn lines never crosses. */
  readonly latest: number;
  /** How many of the drawn sets had a line. */
  readonly lines: number;
}

/**
 * The interval of a crossing by the bootstrap: observations are drawn again with repeats, block by block, and the line of
 * each set is carried to the limit.
 *
 * An independent check of the window that the trend gives; slower, and itself scattered. After B. Efron, Bootstrap methods
 * (1979), from memory.
 *
 * @param random - gives numbers from 0 to less than 1; seeded, so that the answer can be had again
 * @param rounds - how many sets are drawn
 * @param level - of the interval
 */
export function resampleCrossing(
  observations: readonly Observation[],
  limit: number,
  {
    random,
    rounds,
    level,
  }: { readonly random: () => number; readonly rounds: number; readonly level: number },
): ResampledWindow {
  const blocks = blocksOf(observations);
  const crossings: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    const drawn = blocks.flatMap((block) =>
      block.map(() => block[Math.floor(random() * block.length)] as Observation),
    );
    const fit = theilSen(drawn);
    const line = fit.kind === "slope" ? levelLine(drawn, fit) : undefined;
    if (line === undefined) continue;
    const x = line.centreX + (limit - line.centre) / line.slope;
    // A line that runs the other way met the limit in the past: it never crosses it from here.
    const ahead = (limit - line.centre) * line.slope > 0;
    crossings.push(ahead ? x : Number.POSITIVE_INFINITY);
  }
  crossings.sort((a, b) => a - b);
  const steps = { values: crossings, probabilities: crossings.map(() => 1 / crossings.length) };
  return {
    earliest: stepQuantile(steps, (1 - level) / 2),
    latest: stepQuantile(steps, (1 + level) / 2),
    lines: crossings.length,
  };
}
