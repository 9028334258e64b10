import { validUntil } from "../checks/able-to-speak.js";
import type { VerdictOnCircuit } from "./fleet.js";

/** The last day for the next sample: that of the outlook, or the earlier one on which the last sample ceased to speak. */
export function nextSampleBy({ circuit, verdict, requirement }: VerdictOnCircuit): string | undefined {
  const { outlook, sample, otherSamples = [] } = verdict;
  if (outlook === undefined || requirement === undefined || sample === undefined)
    return outlook?.nextSampleBy;
  const { on, because } = validUntil(circuit, requirement, [sample, ...otherSamples]);
  return because !== "age" && on < outlook.nextSampleBy ? on : outlook.nextSampleBy;
}
