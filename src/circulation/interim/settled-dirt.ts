import { STIRRED_PER_PASS, stirredShare } from "../model/settled.js";
import type { CirculationPlan, PlannedChannel } from "../plan/plan.js";
import type { CountObservation } from "./count-likelihood.js";
import type { DecayPoint } from "./decay-fit.js";

/**
 * The counts of one channel as what they say of the fall after all settled dirt is stirred up.
 *
 * With settled dirt of S per mL the level is F(n) − S·k/(k − r)·e^(−k·n), where F falls as if all of it had been in the fluid
 * from the start. So each count is the least that F was, and with the most that may have been settled the most: the start
 * and the first pass leave it open upwards, later samples hardly at all. A slow fall from the start shows no fault by itself;
 * a fast one is as good as ever, and what is drawn after the first pass shows a faulty circuit as before.
 *
 * @param settled - the most that may lie settled, as a multiple of the highest count
 * @source MASS-BALANCE
 */
export function withSettled(
  plan: CirculationPlan,
  channel: PlannedChannel,
  points: readonly DecayPoint[],
  settled: number,
): DecayPoint[] {
  const highest = Math.max(...points.map(({ observed, countedMl }) => observed.count / countedMl));
  // A channel that falls nearly as fast as dirt is stirred up leaves no more than twice of it.
  const times = stirredShare(Math.min(channel.removal, STIRRED_PER_PASS / 2));
  return points.map((point) => {
    const passes = point.minutes / plan.minutesPerPass;
    const morePerMl = settled * highest * times * Math.exp(-STIRRED_PER_PASS * passes);
    return { ...point, observed: atLeast(point.observed, morePerMl * point.countedMl) };
  });
}

function atLeast(observed: CountObservation, more: number): CountObservation {
  switch (observed.kind) {
    case "exact":
      return { ...observed, settled: more };
    case "at-least":
      return observed;
    default:
      return { ...observed, count: observed.count + more };
  }
}
