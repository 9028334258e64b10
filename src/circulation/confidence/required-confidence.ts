import { seededRandom } from "../../numeric/index.js";
import type { Assumption } from "../../provenance/index.js";
import { formatShare } from "../../units/index.js";
import type { CirculationInput } from "../model/circuit.js";
import {
  DEFAULT_DRAWS,
  type PlanConfidence,
  planConfidence,
  QUOTED_PROBABILITIES,
} from "./plan-confidence.js";
import { TYPICAL_UNCERTAINTY, type Uncertainty } from "./uncertainty.js";

/** The confidence that a time is to have, and what it is computed from. */
export interface RequiredConfidence {
  /** Probability of being at the target, above 0 and below 1. */
  readonly confidence: number;
  readonly uncertainty: Uncertainty;
  readonly seed: number;
  readonly draws: number;
}

/** Confidence of a time when none is named. */
const DEFAULT_CONFIDENCE = 0.95;

const DEFAULT_SEED = 1;

/**
 * Completes what a person says of the confidence with the values that are usual.
 *
 * @param given - what is known; where no uncertainty is given {@link TYPICAL_UNCERTAINTY} is taken, and said
 */
export function requiredConfidence(given: Partial<RequiredConfidence>): {
  readonly required: RequiredConfidence;
  readonly assumptions: readonly Assumption[];
} {
  return {
    required: {
      confidence: given.confidence ?? DEFAULT_CONFIDENCE,
      uncertainty: given.uncertainty ?? TYPICAL_UNCERTAINTY,
      seed: given.seed ?? DEFAULT_SEED,
      draws: given.draws ?? DEFAULT_DRAWS,
    },
    assumptions: given.uncertainty === undefined ? [TYPICAL] : [],
  };
}

const TYPICAL: Assumption = {
  code: "typical-uncertainty",
  message: `no uncertainties were given; usual values were taken: ${describeTypical()}`,
  source: "PRACTICE",
};

function describeTypical(): string {
  const { volume, flow, beta, ingress, slowZone, laboratory, countedMl } = TYPICAL_UNCERTAINTY;
  const shares = { volume, flow, β: beta, ingress, "slow zone": slowZone, laboratory };
  const texts = Object.entries(shares).map(([name, share]) => `${name} ${formatShare(share)}`);
  return [...texts, `${countedMl} mL counted`].join(", ");
}

/** {@link planConfidence} of the quoted probabilities and the required one. */
export function confidenceOfPlan(input: CirculationInput, required: RequiredConfidence): PlanConfidence {
  return planConfidence(input, required.uncertainty, seededRandom(required.seed), {
    draws: required.draws,
    probabilities: [...new Set([...QUOTED_PROBABILITIES, required.confidence])].sort((a, b) => a - b),
  });
}
