import type { Assumption } from "../../provenance/index.js";
import type { Confidence, LimitRange, Measured, Precision } from "../../samples/index.js";
import type { Conformance, Outcome } from "../assessed.js";
import { acceptanceLimits, conformanceProbability } from "./conformity.js";
import { type LaboratoryScatter, scatterAt } from "./laboratory.js";
import { settleByMeasuring } from "./settle.js";

/** How sure it is that a quantity conforms, as far as it is known. */
export interface ResultConformance {
  /** Absent where the requirement asks for no confidence or gives no precision. */
  readonly conformance?: Conformance;
  readonly assumptions: readonly Assumption[];
}

/**
 * How sure it is that one result conforms, from the precision of its laboratory.
 *
 * A limit value such as "< 50" is taken at its end, at 50. Between two limits the wider scatter of the two is taken.
 *
 * @source JCGM-106
 */
export function conformanceOfResult(
  quantity: string,
  measured: Measured,
  limits: LimitRange,
  outcome: Outcome,
  { confidence, precision }: { confidence: Confidence | undefined; precision: Precision | undefined },
): ResultConformance {
  if (confidence === undefined) return { assumptions: [] };
  if (precision === undefined) {
    const message = `no precision of ${quantity} was given, so its result was taken as it is; its confidence is not known`;
    return { assumptions: [{ code: "precision-not-given", message }] };
  }
  const required = confidence.probability;
  const scatter = widestOf(precision, limits);
  const { standardUncertainty } = scatter;
  const probability = conformanceProbability({ value: measured.value, standardUncertainty, ...limits });
  const settles = outcome === "inside" && !(probability >= required);
  return {
    conformance: {
      probability,
      required,
      consumerRisk: 1 - probability,
      producerRisk: probability,
      standardUncertainty,
      acceptance: acceptanceLimits(limits, standardUncertainty, required),
      ...(settles && { settlement: settleByMeasuring(measured, limits, scatter, required) }),
    },
    assumptions: scatter.assumptions,
  };
}

function widestOf(precision: Precision, { min, max }: LimitRange): LaboratoryScatter {
  const ends = [min, max].filter((limit) => limit !== undefined).map((limit) => scatterAt(precision, limit));
  return ends.reduce((widest, end) => (end.standardUncertainty > widest.standardUncertainty ? end : widest));
}
