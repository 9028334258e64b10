import type { Acceptance } from "../../cleanliness/index.js";
import { bisect } from "../../numeric/index.js";
import type { VerifyingBottle } from "../confidence/uncertainty.js";
import { logLikelihood } from "../interim/count-likelihood.js";
import type { CirculationPlan, PlannedChannel } from "../plan/plan.js";

/** No laboratory sees this fraction of a level, and a limit of whole particles stays whole. */
const NEAR = 1e-6;

/**
 * The level in each channel of a plan down to which a verifying bottle is accepted in that share of the cases.
 *
 * The bottle scatters by counting and by its laboratory, so the level lies below what is accepted.
 *
 * @param acceptance - where the bottle is accepted; at the limits when absent
 * @returns particles per mL, in the order of the channels
 */
export function acceptedLevels(
  { channels }: CirculationPlan,
  bottle: VerifyingBottle,
  confidence: number,
  acceptance?: Acceptance,
): number[] {
  return channels.map((channel) => {
    const perMl = acceptedPerMl(channel, acceptance);
    const count = Math.floor(perMl * bottle.countedMl * (1 + NEAR));
    const isAccepted = (level: number) =>
      Math.exp(logLikelihood({ kind: "at-most", count }, level * bottle.countedMl, bottle.laboratory ** 2)) >=
      confidence;
    return bisect(isAccepted, 0, Number.POSITIVE_INFINITY, {
      isNear: (low, high) => high - low <= NEAR * low,
    }).holds;
  });
}

function acceptedPerMl(
  { sizeUmC, toUmC, limit }: PlannedChannel,
  acceptance: Acceptance | undefined,
): number {
  const accepted = acceptance?.limits.find(({ fromUm, toUm }) => fromUm === sizeUmC && toUm === toUmC);
  return accepted === undefined ? limit : accepted.limit / accepted.volumeMl;
}
