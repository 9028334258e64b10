import {
  type CirculationInput,
  type CirculationPlan,
  type GoByInput,
  type MinutesDone,
  statedCirculation,
  TYPICAL_UNCERTAINTY,
  type Uncertainty,
} from "../../circulation/index.js";
import { type Acceptance, acceptedCounts } from "../../cleanliness/index.js";
import { sampleSeenMl } from "../../counts/index.js";
import type { CirculatingCircuit, Confidence, Requirement } from "../../samples/index.js";
import type { Assessed } from "../assessed.js";
import { relativeSd } from "../confidence/counting-conformance.js";
import { togetherOf } from "../confidence/together.js";

/**
 * What the time to go by is found from, so that the verifying bottle is judged fit with the confidence that the requirement
 * asks for, 95 % where it asks for none.
 *
 * @param circulation - what is planned, the minutes that are still due after an event, and those that were run
 */
export function goByInputOf(
  requirement: Requirement,
  circulation: {
    readonly circuit: CirculatingCircuit;
    readonly planned: CirculationInput;
    readonly plan: CirculationPlan;
    readonly dueMin: number;
    readonly done: MinutesDone;
  },
  assessed: readonly Assessed[],
): GoByInput {
  const { confidence } = requirement;
  const { circuit, planned, plan, dueMin, done } = circulation;
  const reproducibility = confidence?.counts?.reproducibility;
  const seenMl = sampleSeenMl(planned.start);
  const requiredMl = requirement.sampling?.countedMlMin;
  const bottleMl = Math.max(seenMl ?? TYPICAL_UNCERTAINTY.countedMl, requiredMl ?? 0);
  const uncertainty: Uncertainty = {
    ...statedCirculation(circuit).uncertainty,
    ...(seenMl !== undefined && { countedMl: seenMl }),
    ...(reproducibility && { laboratory: relativeSd(reproducibility) }),
  };
  const acceptance = confidence && acceptanceOf(confidence, planned, bottleMl, assessed);
  return {
    circuit: planned,
    plan,
    ...(dueMin > 0 && { dueMin }),
    done,
    ...(acceptance && { acceptance }),
    confidence: { uncertainty, ...(confidence && { confidence: confidence.probability }) },
  };
}

/** Where the verifying bottle is accepted, with the doubt that the other quantities of the sample leave for particles. */
function acceptanceOf(
  { probability, counts }: Confidence,
  { limits }: Pick<CirculationInput, "limits">,
  countedMl: number,
  assessed: readonly Assessed[],
): Acceptance | undefined {
  const others = togetherOf(assessed.filter(({ quantity }) => quantity !== "particles"));
  const left = others.conformance?.probability ?? 1;
  return acceptedCounts(limits, {
    probability: left > probability ? probability / left : probability,
    countedMl,
    ...(counts?.reproducibility && { reproducibility: counts.reproducibility }),
  });
}
