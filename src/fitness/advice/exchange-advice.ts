import { AIMED_BELOW, type ExchangePlan, exchangeAim, planExchange } from "../../circulation/index.js";
import { conditionLimitsOf } from "../../fluids/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import type { Circuit, Requirement } from "../../samples/index.js";
import type { ShownIn } from "../../units/index.js";
import type { Assessed } from "../assessed.js";
import { intervalOf } from "../evidence/results.js";
import { QUANTITIES, type Quantity } from "../quantities.js";
import { resultOfMeasure } from "../trends/measures.js";
import type { Rise } from "../trends/outlook.js";

/** How much fluid to exchange for one quantity that is outside. */
export interface Exchange {
  readonly quantity: Quantity;
  readonly present: number;
  /** What the exchange is to reach: where a result would be accepted and stays so. */
  readonly aim: number;
  /** Value of the fresh fluid. */
  readonly fresh: number;
  readonly plan: ExchangePlan;
  /** Days until it is at its limit again by the circuit's own trend; absent where no trend shows a rise. */
  readonly lastsDays?: number;
  /** The units in which the circuit is answered; metric when absent. */
  readonly shownIn?: ShownIn;
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
  rises: readonly Rise[] = [],
): Exchange[] {
  return assessed.flatMap((entry) => {
    if (!("measured" in entry) || entry.outcome !== "outside" || entry.measured?.limit !== undefined)
      return [];
    const { quantity, limits, measured, conformance } = entry;
    const fresh = freshOf(quantity, circuit, requirement);
    if (limits.max === undefined || measured === undefined || fresh === undefined) return [];
    if (!Number.isFinite(measured.value)) return [];
    const { result } = QUANTITIES[quantity];
    const perYear = rises.find(({ measure }) => resultOfMeasure(measure) === result)?.perYear;
    const needed = perYear === undefined ? 0 : (perYear / DAYS_PER_YEAR) * intervalOf(result, requirement);
    const aim = exchangeAim({
      limit: limits.max,
      fresh: fresh.value,
      guarded: conformance?.acceptance?.max,
      rise: needed,
    });
    const plan = planExchange({
      volumeL: circuit.volumeL,
      present: measured.value,
      limit: aim,
      fresh: fresh.value,
      ...(circuit.drained !== undefined && { drainFraction: circuit.drained }),
    });
    const assumptions = joinAssumptions(fresh.assumptions, [AIMED_BELOW], plan.assumptions);
    return [
      {
        quantity,
        present: measured.value,
        aim,
        fresh: fresh.value,
        plan,
        ...(perYear !== undefined && {
          lastsDays: Math.floor(((limits.max - aim) / perYear) * DAYS_PER_YEAR),
        }),
        ...(circuit.shownIn && { shownIn: circuit.shownIn }),
        assumptions,
      },
    ];
  });
}

const DAYS_PER_YEAR = 365.25;

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
