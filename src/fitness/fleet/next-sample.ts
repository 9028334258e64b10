import { type ValidUntil, validUntil } from "../checks/able-to-speak.js";
import type { VerdictOnCircuit } from "./fleet.js";

/** The last day for the next sample: that of the outlook, or the earlier one on which the last sample ceased to speak. */
export function nextSampleBy({ circuit, verdict, requirement }: VerdictOnCircuit): string | undefined {
  const { outlook, sample, otherSamples = [] } = verdict;
  if (outlook === undefined || requirement === undefined || sample === undefined)
    return outlook?.nextSampleBy;
  const { on, because } = validUntil(circuit, requirement, [sample, ...otherSamples]);
  return because !== "age" && on < outlook.nextSampleBy ? on : outlook.nextSampleBy;
}

/**
 * How long the samples of a judged circuit may represent it, and what ends it.
 *
 * @returns undefined where there is no sample or no requirement
 */
export function validUntilOf({ circuit, verdict, requirement }: VerdictOnCircuit): ValidUntil | undefined {
  const { outlook, sample, otherSamples = [] } = verdict;
  if (requirement === undefined || sample === undefined) return undefined;
  return validUntil(circuit, requirement, [sample, ...otherSamples], outlook);
}
