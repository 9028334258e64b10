import { type ExchangePlan, planExchange } from "../../circulation/index.js";
import { conditionLimitsOf } from "../../fluids/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import type { Circuit, Requirement } from "../../samples/index.js";
import type { Assessed } from "../assessed.js";
import { QUANTITIES, type Quantity } from "../quantities.js";

/** How much fluid to exchange for one quantity that is outside. */
export interface Exchange {
  readonly quantity: Quantity;
  readonly present: number;
  /** What the exchange is to reach: where a result would be accepted and stays so. */
  readonly aim: number;
  /** Value of the fresh fluid. */
  readonly fresh: number;
  readonly plan: ExchangePlan;
  readonly assumptions: readonly Assumption[];
}

/**
 * Litres of fresh fluid that bring what is outside an upper limit to where it would be accepted, and stays so.
 *
 * There is no answer for viscosity, which does not mix in proportion, nor for a result that is no number or only known as
 * "above".
 */
export function exchangesFor(
  circuit: Circuit,
  requirement: Requirement,
  assessed: readonly Assessed[],
): Exchange[] {
  return assessed.flatMap((entry) => {
    if (!("measured" in entry) || entry.outcome !== "outside" || entry.measured?.limit !== undefined)
      return [];
    const { quantity, limits, measured, conformance } = entry;
    const fresh = freshOf(quantity, circuit, requirement);
    if (limits.max === undefined || measured === undefined || fresh === undefined) return [];
    if (!Number.isFinite(measured.value)) return [];
    const aim = aimOf(limits.max, conformance?.acceptance?.max, fresh.value);
    const plan = planExchange({
      volumeL: circuit.volumeL,
      present: measured.value,
      limit: aim,
      fresh: fresh.value,
      ...(circuit.drained !== undefined && { drainFraction: circuit.drained }),
    });
    const assumptions = joinAssumptions(fresh.assumptions, [AIMED_BELOW], plan.assumptions);
    return [{ quantity, present: measured.value, aim, fresh: fresh.value, plan, assumptions }];
  });
}

/** A result at its limit is out again with the next drop. Common practice, no source. */
const LASTING_SHARE = 0.8;

const AIMED_BELOW: Assumption = {
  code: "exchange-to-last",
  message:
    "an exchange aims a fifth below the limit, so that it lasts (common practice, no source), but no further than halfway to the fresh fluid",
};

/** Where a result would be accepted, and so far below the limit that it stays there; fresh fluid bounds what is within reach. */
function aimOf(limit: number, guarded: number | undefined, fresh: number): number {
  const lasting = fresh < limit ? Math.max(LASTING_SHARE * limit, (limit + fresh) / 2) : limit;
  return guarded !== undefined && guarded > fresh ? Math.min(guarded, lasting) : lasting;
}

interface Fresh {
  readonly value: number;
  readonly assumptions: readonly Assumption[];
}

function freshOf(quantity: Quantity, { fluid }: Circuit, { freshFluid }: Requirement): Fresh | undefined {
  const measure = QUANTITIES[quantity].inFreshFluid;
  if (measure === "no-answer") return undefined;
  if (measure === "nothing") return { value: 0, assumptions: [freeOf(quantity)] };
  const given = measure === "acid" ? freshFluid?.acidMgKohPerG : freshFluid?.waterPpm;
  if (given !== undefined) return { value: given, assumptions: [] };
  const recalled = conditionLimitsOf(fluid).find(
    (limit) => limit.measure === measure && limit.state === "new",
  );
  if (recalled?.maximum === undefined) return undefined;
  const message = `the fresh fluid was taken at ${recalled.maximum} ${recalled.unit}, the recalled limit of new ${fluid}; have it measured`;
  return {
    value: recalled.maximum,
    assumptions: [{ code: "fresh-fluid-from-memory", message, source: recalled.source }],
  };
}

function freeOf(quantity: Quantity): Assumption {
  return {
    code: "fresh-fluid-free-of-it",
    message: `the fresh fluid was taken as free of ${quantity}; have it measured`,
  };
}
