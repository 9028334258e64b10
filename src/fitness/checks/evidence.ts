import { METALS, maximumOf, type Requirement, type Sample } from "../../samples/index.js";
import type { Assessed, Finding } from "../assessed.js";
import type { Evidence } from "../evidence/evidence.js";
import type { Quantity } from "../quantities.js";
import { reason } from "../reasons.js";

/**
 * The rule above all rules: `fit` rests on a positive result for every quantity that the requirement limits, measured in a
 * sample of the fluid that is in the circuit now.
 *
 * A quantity that was assessed and is not inside has a reason of its own. What is left is a quantity that nobody looked at,
 * in this fluid, for whatever cause; no requirement can waive that.
 *
 * @param samples - all of the circuit
 * @param assessed - what the samples of the present fluid showed
 */
export function checkEvidence(
  requirement: Requirement,
  samples: readonly Sample[],
  { former, newest }: Evidence,
  assessed: readonly Assessed[],
): Finding {
  if (samples.length === 0) {
    return { reasons: [reason("no-sample", "no sample of this circuit was given")] };
  }
  const known = new Set<Quantity>(assessed.map(({ quantity }) => quantity));
  const missing = limitedQuantities(requirement).filter((quantity) => !known.has(quantity));
  if (missing.length === 0) return { reasons: [] };
  const because =
    former === undefined
      ? `in sample ${newest[0]?.sample} of ${newest[0]?.drawnOn}`
      : `in the fluid that is in the circuit now: sample ${former.sample.sample} was drawn on ${former.sample.drawnOn}, and the ` +
        `fluid was changed on ${former.change.on}${former.change.note === undefined ? "" : ` (${former.change.note})`}`;
  return { reasons: [reason("no-evidence", `nothing shows ${missing.join(", ")} ${because}`)] };
}

/** The quantities that a requirement sets a limit to, by their names in {@link Assessed}. */
export function limitedQuantities(requirement: Requirement): Quantity[] {
  const { waterSaturation, viscosity40Mm2PerS, chlorinePpmMax, metalsPpmMax = {} } = requirement;
  return [
    ...(requirement.cleanliness.length === 0 ? [] : (["particles"] as const)),
    ...(requirement.patchTest === undefined ? [] : (["class of the patch"] as const)),
    ...(maximumOf(requirement.waterPpmMax) === undefined ? [] : (["water"] as const)),
    ...(waterSaturation === undefined ? [] : (["water of saturation"] as const)),
    ...(maximumOf(requirement.acidMgKohPerGMax) === undefined ? [] : (["acid number"] as const)),
    ...(viscosity40Mm2PerS === undefined ? [] : (["viscosity at 40 °C"] as const)),
    ...(chlorinePpmMax === undefined ? [] : (["chlorine"] as const)),
    ...METALS.filter((metal) => metalsPpmMax[metal] !== undefined),
  ];
}
