import { type Circuit, METALS, maximumOf, type Requirement, type Sample } from "../../samples/index.js";
import type { Assessed, Finding } from "../assessed.js";
import type { Quantity } from "../quantities.js";
import { reason } from "../reasons.js";

/**
 * The rule above all rules: `fit` rests on a positive result for every quantity that the requirement limits, measured in a
 * sample of the fluid that is in the circuit now.
 *
 * A quantity that was assessed and is not inside has a reason of its own. What is left is a quantity that nobody looked at,
 * in this fluid, for whatever cause; no requirement can waive that.
 *
 * @param sample - the latest sample; undefined when there is none
 * @param former - whether its fluid is gone; see {@link changeAfter}
 * @param assessed - what the sample showed, if it is of the present fluid
 */
export function checkEvidence(
  requirement: Requirement,
  sample: Sample | undefined,
  former: Circuit["events"][number] | undefined,
  assessed: readonly Assessed[],
): Finding {
  if (sample === undefined) {
    return { reasons: [reason("no-sample", "no sample of this circuit was given")] };
  }
  const known = new Set<Quantity>(former === undefined ? assessed.map(({ quantity }) => quantity) : []);
  const missing = limitedQuantities(requirement).filter((quantity) => !known.has(quantity));
  if (missing.length === 0) return { reasons: [] };
  const because =
    former === undefined
      ? `in sample ${sample.sample} of ${sample.drawnOn}`
      : `in the fluid that is in the circuit now: sample ${sample.sample} was drawn on ${sample.drawnOn}, and the fluid ` +
        `was changed on ${former.on}${former.note === undefined ? "" : ` (${former.note})`}`;
  return { reasons: [reason("no-evidence", `nothing shows ${missing.join(", ")} ${because}`)] };
}

/** The quantities that a requirement sets a limit to, by their names in {@link Assessed}. */
export function limitedQuantities(requirement: Requirement): Quantity[] {
  const { waterSaturation, viscosity40Mm2PerS, chlorinePpmMax, metalsPpmMax = {} } = requirement;
  return [
    "particles",
    ...(maximumOf(requirement.waterPpmMax) === undefined ? [] : (["water"] as const)),
    ...(waterSaturation === undefined ? [] : (["water of saturation"] as const)),
    ...(maximumOf(requirement.acidMgKohPerGMax) === undefined ? [] : (["acid number"] as const)),
    ...(viscosity40Mm2PerS === undefined ? [] : (["viscosity at 40 °C"] as const)),
    ...(chlorinePpmMax === undefined ? [] : (["chlorine"] as const)),
    ...METALS.filter((metal) => metalsPpmMax[metal] !== undefined),
  ];
}

/** The change that took the fluid of a sample out of the circuit: on the day of the sample, whose order is not known, or later. */
export function changeAfter(
  circuit: Circuit,
  { drawnOn }: Pick<Sample, "drawnOn">,
): Circuit["events"][number] | undefined {
  return circuit.events
    .filter(({ kind, on }) => kind === "fluid-change" && on >= drawnOn)
    .sort((a, b) => a.on.localeCompare(b.on))[0];
}
