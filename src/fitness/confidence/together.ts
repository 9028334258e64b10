import { formatPercent } from "../../units/index.js";
import type { Assessed, Conformance } from "../assessed.js";
import { QUANTITIES, type Quantity } from "../quantities.js";
import { type Reason, reason } from "../reasons.js";

/** How sure it is that every quantity conforms at once. */
export interface Together {
  readonly conformance?: Conformance;
  readonly reasons: readonly Reason[];
}

/**
 * How sure it is that all quantities conform together.
 *
 * Results of different methods err independently, so the probabilities multiply. Several quantities, each of them sure
 * enough, may together leave more doubt than the requirement allows; then the least sure one is named. Of two limits on
 * one result, as water has, the stricter counts.
 *
 * @source JCGM-106
 */
export function togetherOf(assessed: readonly Assessed[]): Together {
  const known = assessed.flatMap(({ quantity, conformance }) =>
    conformance === undefined ? [] : [{ quantity, conformance }],
  );
  const counted = leastOfEachResult(known);
  const first = counted[0];
  if (first === undefined) return { reasons: [] };
  const { required } = first.conformance;
  const probability = counted.reduce((product, { conformance }) => product * conformance.probability, 1);
  const least = counted.reduce((least, one) =>
    one.conformance.probability < least.conformance.probability ? one : least,
  );
  const conformance = { probability, required, consumerRisk: 1 - probability, producerRisk: probability };
  const eachIsSure = counted.every((one) => one.conformance.probability >= required);
  const allInside = assessed.every(({ outcome }) => outcome === "inside");
  if (!allInside || !eachIsSure || probability >= required) return { conformance, reasons: [] };
  return {
    conformance,
    reasons: [
      reason(
        "together-not-sure",
        `each quantity is measured inside, but the chance that all conform together is ${formatPercent(probability)}, and ` +
          `${formatPercent(required)} is required; ${least.quantity} is the least sure`,
      ),
    ],
  };
}

interface Known {
  readonly quantity: Quantity;
  readonly conformance: Conformance;
}

function leastOfEachResult(known: readonly Known[]): Known[] {
  const byResult = new Map<string, Known>();
  for (const one of known) {
    const { result } = QUANTITIES[one.quantity];
    const other = byResult.get(result);
    if (other === undefined || one.conformance.probability < other.conformance.probability)
      byResult.set(result, one);
  }
  return [...byResult.values()];
}
