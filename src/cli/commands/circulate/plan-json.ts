import type { CirculationPlan } from "../../../circulation/index.js";

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
