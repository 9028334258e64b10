import { checkNumbers } from "../../numeric/index.js";
import type { CirculationPlan, PlannedChannel } from "../plan/plan.js";
import { levelOver, plugInflowFactor } from "./mixing.js";
import type { Mode } from "./modes.js";
import { stirredUp } from "./settled.js";

/**
 * Particles of a channel that the elements have taken out since the start, per mL of circuit.
 *
 * It is the integral of what the elements hold back, not what is missing in the fluid, so that start + ingress =
 * in the fluid + retained is a check and not a definition. Of settled dirt what has been stirred up is added.
 *
 * @param plan - the plan that the channel belongs to
 * @param channel - one of its channels
 * @param passes - 0 or more
 * @returns particles per mL of circuit volume
 * @source MASS-BALANCE
 */
export function retainedAfter(plan: CirculationPlan, channel: PlannedChannel, passes: number): number {
  checkNumbers("notNegative", { passes });
  const held = plan.mixing.kind === "plug" ? retainedInWholePasses : retainedByMode;
  const settled = (plan.settled ?? 0) * channel.start;
  return levelOver(plan.mixing, passes, (at) =>
    channel.modes.reduce((sum, mode) => sum + held(mode, at), settled * stirredUp(at)),
  );
}

/** rate · ∫ level over the passes. */
function retainedByMode({ start, inflow, rate }: Mode, passes: number): number {
  if (rate === 0) return 0;
  const gone = -Math.expm1(-rate * passes);
  return start * gone + inflow * (passes - gone / rate);
}

/**
 * Each pass brings the fluid to the element once. What arrives in pass k carries a_k = T·a_{k−1} + g, beginning with
 * a_1 = start + g/2 because the first to arrive were on their way for half a pass on average.
 */
function retainedInWholePasses({ start, inflow, rate }: Mode, whole: number): number {
  if (rate === 0) return 0;
  const perPass = inflow / plugInflowFactor(rate);
  const heldBack = -Math.expm1(-rate);
  const arrivesAtLast = perPass / heldBack;
  const gone = -Math.expm1(-rate * whole);
  return whole * perPass + (start + perPass / 2 - arrivesAtLast) * gone;
}
