import { gammaTails, simpsonNodes } from "../numeric/index.js";
import { type CountObservation, logSdOf, type Reproducibility } from "./level.js";

/** One channel's raw count, with the limits that the level is to lie between, in particles per mL. */
export interface BoundedObservation extends Omit<CountObservation, "reproducibility"> {
  /** Exclusive; absent where nothing bounds the level from below. */
  readonly abovePerMl?: number;
  /** Inclusive; absent where nothing bounds the level from above. */
  readonly upToPerMl?: number;
}

/**
 * Averages, over one laboratory factor that all channels share, something made of the channels' probabilities.
 *
 * For a given factor each channel's level is gamma distributed as in {@link levelOf}. The factor is integrated by
 * Simpson's rule on panels that are fine where a probability turns from 0 to 1.
 *
 * @param channels - raw counts with the bounds of each level
 * @param reproducibility - of counter and laboratory together; none when absent
 * @param combine - makes one value, 0 to 1, from the probabilities of the channels for one factor
 * @source JEFFREYS
 */
export function averageOverLaboratory(
  channels: readonly BoundedObservation[],
  reproducibility: Reproducibility | undefined,
  combine: (probabilities: readonly number[]) => number,
): number {
  const logSd = logSdOf(reproducibility);
  const probabilities = (z: number) =>
    channels.map((channel) => {
      const factor = Math.exp(logSd * z);
      const upTo = below(channel, channel.upToPerMl, factor);
      return channel.abovePerMl === undefined ? upTo : upTo - below(channel, channel.abovePerMl, factor);
    });
  if (logSd === 0) return combine(probabilities(0));
  const ends = panelEnds(channels, logSd);
  let sum = 0;
  let weights = 0;
  for (let panel = 1; panel < ends.length; panel += 1) {
    for (const { at: z, weight: width } of simpsonNodes(
      ends[panel - 1] as number,
      ends[panel] as number,
      STEPS,
    )) {
      const weight = width * Math.exp((-z * z) / 2);
      weights += weight;
      sum += weight * combine(probabilities(z));
    }
  }
  return sum / weights;
}

const EDGE = 8.5;
const STEPS = 8;

/** Ends of panels: even ones, and narrow ones where the probability of a channel turns. */
function panelEnds(channels: readonly BoundedObservation[], logSd: number): number[] {
  const ends = Array.from({ length: 4 * 2 * EDGE + 1 }, (_, index) => index / 4 - EDGE);
  for (const { raw, seenMl, blankPerMl = 0, abovePerMl, upToPerMl } of channels) {
    const width = 1 / (logSd * Math.sqrt(raw + 0.5));
    for (const limit of [abovePerMl, upToPerMl]) {
      if (limit === undefined || width > 0.5) continue;
      const turn = Math.log((raw + 0.5) / ((limit + blankPerMl) * seenMl)) / logSd;
      for (let half = -16; half <= 16; half += 1) ends.push(turn + (half * width) / 2);
    }
  }
  return ends.filter((z) => Math.abs(z) <= EDGE).sort((a, b) => a - b);
}

function below(
  { raw, seenMl, blankPerMl = 0 }: BoundedObservation,
  limit: number | undefined,
  factor: number,
) {
  if (limit === undefined) return 1;
  return gammaTails(raw + 0.5, (limit + blankPerMl) * seenMl * factor).lower;
}
