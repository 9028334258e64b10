import { checkNumbers } from "../../numeric/index.js";
import { levelAfter } from "../model/modes.js";
import { afterStirring } from "../model/settled.js";
import type { CirculationPlan, PlannedChannel } from "../plan/plan.js";

/** What the moment of an interim sample is chosen from. */
export interface InterimTimeInput {
  readonly plan: CirculationPlan;
  /** Minutes at which the verifying sample will be drawn. */
  readonly untilMinutes: number;
  /** Volume in mL that the laboratory counts. */
  readonly countedMl: number;
  /** Relative reproducibility of the laboratory. */
  readonly laboratory: number;
  /** Moments of samples drawn already, apart from the start. */
  readonly drawnMinutes?: readonly number[];
  /** Minutes before which no bottle is drawn; 0 when absent. */
  readonly notBeforeMinutes?: number;
}

/**
 * The moment at which an interim sample tells most.
 *
 * Together with the start and the verifying sample it has to fix three things in the governing channel: start, rate
 * and floor. The moment chosen is the one at which they are fixed best, by the determinant of the information that
 * the samples hold on them (a locally D-optimal design), with the noise of counting and of the laboratory.
 *
 * @param input - see {@link InterimTimeInput}
 * @returns minutes from the start, between the last sample drawn, or the earliest moment, and `untilMinutes`
 * @throws RangeError for a time that is not later than both
 */
export function mostInformativeMinutes(input: InterimTimeInput): number {
  const { plan, untilMinutes, countedMl, laboratory, drawnMinutes = [], notBeforeMinutes = 0 } = input;
  checkNumbers("positive", { untilMinutes, countedMl });
  checkNumbers("notNegative", { laboratory, notBeforeMinutes });
  for (const minutes of drawnMinutes) checkNumbers("notNegative", { drawnMinutes: minutes });
  const channel = plan.channels.find((entry) => entry.channel === plan.governing) as PlannedChannel;
  const modes = afterStirring(channel.portModes);
  const start = levelAfter(modes, 0);
  const end = levelAfter(modes, untilMinutes / plan.minutesPerPass);
  const floor = Math.min(channel.floor ?? 0, start / 2, end / 2);
  const rate = Math.log((start - floor) / (end - floor)) / untilMinutes;
  const informationAt = (minutes: number): number[] => {
    const left = Math.exp(-rate * minutes);
    const level = floor + (start - floor) * left;
    const variance = level / countedMl + (laboratory * level) ** 2;
    const slopes = [left, -(start - floor) * minutes * left, 1 - left];
    return slopes.flatMap((a) => slopes.map((b) => (a * b) / variance));
  };
  const fixed = [0, ...drawnMinutes, untilMinutes].map(informationAt).reduce(add);
  const last = Math.max(notBeforeMinutes, ...drawnMinutes);
  if (!(last < untilMinutes)) {
    throw new RangeError(
      `untilMinutes must be later than the ${last} minutes before it, not ${untilMinutes}`,
    );
  }
  const moments = Array.from(
    { length: STEPS - 1 },
    (_, step) => last + ((untilMinutes - last) * (step + 1)) / STEPS,
  );
  const scored = moments.map((minutes) => ({
    minutes,
    score: determinant(add(fixed, informationAt(minutes))),
  }));
  return scored.reduce((best, entry) => (entry.score > best.score ? entry : best)).minutes;
}

/** A sample is not drawn to the second. */
const STEPS = 100;

function add(a: readonly number[], b: readonly number[]): number[] {
  return a.map((value, index) => value + (b[index] as number));
}

function determinant(m: readonly number[]): number {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 0] = m;
  return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
}
