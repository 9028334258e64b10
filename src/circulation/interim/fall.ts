import { levelAfter } from "../model/modes.js";
import { afterStirring, CUSTOMARY_SETTLED } from "../model/settled.js";
import type { CirculationPlan, PlannedChannel } from "../plan/plan.js";
import { type DecayFit, type DecayPoint, fitDecay } from "./decay-fit.js";
import { withSettled } from "./settled-dirt.js";

/** What the samples of one channel support. */
export type Diagnosis =
  | "as-rated"
  | "slower-than-rated"
  | "levelling-off-above-target"
  | "not-falling"
  | "cannot-tell-yet";

/** Diagnoses from the mildest to the gravest; where several channels can tell, the gravest stands for the circuit. */
export const DIAGNOSES = [
  "cannot-tell-yet",
  "as-rated",
  "slower-than-rated",
  "levelling-off-above-target",
  "not-falling",
] as const satisfies readonly Diagnosis[];

/** How one channel falls. */
interface Fall {
  readonly fit: DecayFit;
  /** Rate per minute that the elements are rated for, over the same moments and as the port sees it. */
  readonly ratedRate: number;
  readonly diagnosis: Diagnosis;
}

/**
 * A rate within a fifth of the rated one counts as working as rated: flow meters, volumes and ratings are not known
 * better. Common practice, no source.
 */
const WITHIN = 0.2;

/**
 * Reads how the counts of one channel fall, a fall that is too slow once more with dirt that lay settled.
 *
 * @param points - two or more, each of another moment, in their order
 * @returns the fall with the counts as it reads them, and whether settled dirt explains what is too slow in them
 */
export function readFall(
  plan: CirculationPlan,
  channel: PlannedChannel,
  points: readonly DecayPoint[],
  { laboratory, settled = settledIn(plan) }: { readonly laboratory: number; readonly settled?: number },
): Fall & { readonly read: readonly DecayPoint[]; readonly bySettledDirt: boolean } {
  const ratedRate = ratedRateOf(plan, channel, points.at(-1)?.minutes ?? 0);
  const reading = (read: readonly DecayPoint[], bySettledDirt: boolean) => {
    const fit = fitDecay(read, laboratory ** 2);
    return { fit, ratedRate, diagnosis: diagnose(fit, ratedRate, channel.limit), read, bySettledDirt };
  };
  const asDrawn = reading(points, false);
  if (settled === 0 || !isTooSlow(asDrawn)) return asDrawn;
  const allowing = reading(withSettled(plan, channel, points, settled), true);
  return isTooSlow(allowing) ? asDrawn : allowing;
}

/** The most that may lie settled, as a multiple of the highest count. */
export function settledIn(plan: CirculationPlan): number {
  return plan.settled ?? CUSTOMARY_SETTLED;
}

function diagnose(fit: DecayFit, ratedRate: number, limit: number): Diagnosis {
  if (below(fit.netRate.high, WITHIN * ratedRate)) return "not-falling";
  if (fit.netRate.low > 0 && fit.floor.low > limit) return "levelling-off-above-target";
  if (below(fit.rate.high, (1 - WITHIN) * ratedRate)) return "slower-than-rated";
  return fit.rate.low >= (1 - WITHIN) * ratedRate ? "as-rated" : "cannot-tell-yet";
}

/** Whether a channel falls too slowly for what the elements are rated for, whatever the reason. */
function isTooSlow(fall: Fall): boolean {
  const { diagnosis } = fall;
  return (diagnosis !== "as-rated" && diagnosis !== "cannot-tell-yet") || fallsTooSlowly(fall);
}

/** Whether the net fall is surely slower than rated. */
export function fallsTooSlowly({ fit, ratedRate }: Fall): boolean {
  return below(fit.netRate.high, (1 - WITHIN) * ratedRate);
}

function below(high: number | undefined, bound: number): boolean {
  return high !== undefined && high < bound;
}

/** Rate per minute at which the port would see the start fall, without ingress, up to the last sample. */
function ratedRateOf(plan: CirculationPlan, channel: PlannedChannel, minutes: number): number {
  const dry = afterStirring(channel.portModes).map((mode) => ({ ...mode, inflow: 0 }));
  const passes = minutes / plan.minutesPerPass;
  return Math.log(levelAfter(dry, 0) / levelAfter(dry, passes)) / minutes;
}
