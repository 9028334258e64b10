import { type CirculationPlan, describeWhyThatTime, type TimeToGoBy } from "../../../circulation/index.js";

/** The time to go by; null where no time is long enough; `goBy` in the text says why. */
export function goByAsJson(goBy: TimeToGoBy | undefined) {
  if (goBy?.kind !== "minutes") return null;
  const { minutes, passes, done, confidence, governs, leastTimes } = goBy;
  const basis = describeWhyThatTime(goBy);
  const run = done && { doneMinutes: done.minutes };
  return { minutes, passes, ...run, confidence, basis, governs, leastTimes };
}

/** A plan as the command line prints it: what has no answer is null. */
export function planAsJson(plan: CirculationPlan) {
  return {
    reachable: plan.reachable,
    passes: plan.reachable ? plan.passes : null,
    minutes: plan.reachable ? plan.minutes : null,
    governing: plan.governing,
    obstacle: plan.reachable ? null : plan.obstacle,
    mixing: plan.mixing.kind,
    leavesAfterMinutes: plan.reachable ? (plan.leavesAfterMinutes ?? null) : null,
    channels: plan.channels.map(({ channel, sizeUmC, toUmC, start, limit, floor, removal, outcome }) => ({
      channel,
      sizeUmC,
      toUmC: toUmC ?? null,
      start,
      limit,
      floor: floor ?? null,
      removal,
      passes: outcome.kind === "reached" ? outcome.passes : null,
      minutes: outcome.kind === "reached" ? outcome.minutes : null,
    })),
  };
}
