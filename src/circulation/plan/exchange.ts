import { checkNumbers } from "../../numeric/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";

/** One thing dissolved in the fluid that filters do not remove, such as water in ppm or acid in mg KOH/g. */
export interface ExchangeInput {
  readonly volumeL: number;
  readonly present: number;
  readonly limit: number;
  /** Value of the fresh fluid, in the same unit. */
  readonly fresh: number;
  /** Fraction of the circuit that one drain takes out, more than 0 to 1; all of it when absent, which is said. */
  readonly drainFraction?: number;
}

/** What one drain takes out where nobody says what stays: all of it. */
export const WHOLE_CIRCUIT = 1;

/** Fresh fluid that one way of exchanging needs. */
export type ExchangeNeed =
  | {
      readonly kind: "litres";
      readonly litres: number;
      /** Drain-and-fills of the given fraction; absent for the ways that have no repeats. */
      readonly times?: number;
      /** Value that is left. */
      readonly leaves: number;
    }
  | { readonly kind: "out-of-reach"; readonly why: string };

/** The ways of exchanging fluid, each by itself. */
export interface ExchangePlan {
  /** One drain of just enough, filled up with fresh fluid. */
  readonly once: ExchangeNeed;
  /** Drains of the given fraction, each filled up and mixed. */
  readonly repeated: ExchangeNeed;
  /** Fresh fluid fed in while mixed fluid runs out. */
  readonly feedAndBleed: ExchangeNeed;
  readonly assumptions: readonly Assumption[];
}

/**
 * Fresh fluid needed to bring a dissolved contaminant to its limit.
 *
 * One drain of a fraction f leaves fresh + (present − fresh)(1 − f); n of them (1 − f)ⁿ of the difference; feeding
 * and bleeding a volume v leaves e^(−v/V) of it.
 *
 * @param input - see {@link ExchangeInput}
 * @returns litres for each way, or why it cannot get there
 * @throws RangeError naming a value that cannot be
 * @source FIRST-ORDER
 * @example
 * planExchange({ volumeL: 60, present: 900, limit: 500, fresh: 100, drainFraction: 0.8 }).once.litres; // => 30
 */
export function planExchange(input: ExchangeInput): ExchangePlan {
  check(input);
  const { volumeL, present, limit, fresh, drainFraction = WHOLE_CIRCUIT } = input;
  const assumptions = input.drainFraction === undefined ? [DRAINED, MIXED] : [MIXED];
  if (present <= limit) {
    const none: ExchangeNeed = { kind: "litres", litres: 0, leaves: present };
    return { once: none, repeated: { ...none, times: 0 }, feedAndBleed: none, assumptions };
  }
  if (!(fresh < limit)) {
    const why = `the fresh fluid is at ${fresh}, not below the limit of ${limit}`;
    const never: ExchangeNeed = { kind: "out-of-reach", why };
    return { once: never, repeated: never, feedAndBleed: never, assumptions };
  }
  const share = (limit - fresh) / (present - fresh);
  const times = drainsNeeded(share, drainFraction);
  return {
    once:
      times === 1
        ? { kind: "litres", litres: (1 - share) * volumeL, leaves: limit }
        : {
            kind: "out-of-reach",
            why: `one drain takes out ${(100 * drainFraction).toPrecision(3)} % of the circuit and ${(100 * (1 - share)).toPrecision(3)} % would be needed`,
          },
    repeated: {
      kind: "litres",
      litres: times * drainFraction * volumeL,
      times,
      leaves: fresh + (present - fresh) * (1 - drainFraction) ** times,
    },
    feedAndBleed: { kind: "litres", litres: -Math.log(share) * volumeL, leaves: limit },
    assumptions,
  };
}

/** Whether some way brings the contaminant to its limit. */
export function isWithinReach(plan: ExchangePlan, drying?: DryingNeed): boolean {
  return plan.repeated.kind === "litres" || drying?.kind === "hours";
}

/** Whether fresh fluid gets there, and any is needed: nobody drains a circuit for nothing. */
export function needsFluid({ repeated }: ExchangePlan): boolean {
  return repeated.kind === "litres" && repeated.litres > 0;
}

/** How fluid is exchanged, in order. Common practice; the cart's instructions and the aircraft manual come first. */
export const EXCHANGE_STEPS: readonly string[] = frozen([
  "Relieve the pressure, discharge stored energy, drain with the unit off.",
  "Fill with fresh fluid of the placarded specification from sealed cans; drained fluid is not reused.",
  "Circulate so that the fluid mixes, each circuit by itself, then draw a sample while the fluid is flowing.",
  "Repeat until the sample is inside; go by the sample, not by the litres.",
]);

/** Logarithms and decimals are not exact: nobody drains once more for less than this part of a drain. */
const NO_DRAIN = 1e-9;

/** Whole drains until no more than `share` of the difference is left. */
function drainsNeeded(share: number, drainFraction: number): number {
  return Math.max(1, Math.ceil(Math.log(share) / Math.log(1 - drainFraction) - NO_DRAIN));
}

const DRAINED: Assumption = frozen({
  code: "drains-completely",
  message:
    "a drain was taken to empty the whole circuit; what stays in hoses and corners makes it more fluid",
});

const MIXED: Assumption = frozen({
  code: "exchange-mixed",
  message:
    "the fluid was taken as mixed before each drain and throughout feeding; fluid left in hoses, cylinders and dead ends must be in the volume",
  source: "FIRST-ORDER",
});

/** First-order drying by a dehydrator. */
export interface DryingInput {
  readonly present: number;
  readonly limit: number;
  /** Fraction of the water above the driest level that goes per hour, as a rate: dC/dt = −rate·(C − driest). */
  readonly ratePerHour: number;
  /** Level the dehydrator cannot get below; 0 when absent. */
  readonly driest?: number;
}

/** Hours of drying, or why it cannot get there. */
export type DryingNeed =
  | { readonly kind: "hours"; readonly hours: number }
  | { readonly kind: "out-of-reach"; readonly why: string };

/**
 * Hours that a dehydrator needs to bring water to its limit. It takes out water; acid stays.
 *
 * @throws RangeError naming a value that cannot be
 * @source FIRST-ORDER
 * @example
 * planDrying({ present: 900, limit: 450, ratePerHour: 0.5 }).hours; // => 1.386
 */
export function planDrying(input: DryingInput): DryingNeed {
  const driest = input.driest ?? 0;
  mustNotBeBelowZero({ present: input.present, limit: input.limit, driest });
  if (!(input.ratePerHour > 0 && Number.isFinite(input.ratePerHour))) {
    throw new RangeError(`ratePerHour must be more than 0, not ${input.ratePerHour}`);
  }
  if (input.present <= input.limit) return { kind: "hours", hours: 0 };
  if (!(driest < input.limit)) {
    return {
      kind: "out-of-reach",
      why: `the dehydrator gets down to ${driest}, not below the limit of ${input.limit}`,
    };
  }
  return {
    kind: "hours",
    hours: Math.log((input.present - driest) / (input.limit - driest)) / input.ratePerHour,
  };
}

function check(input: ExchangeInput): void {
  checkNumbers("positive", { volumeL: input.volumeL });
  const { drainFraction = WHOLE_CIRCUIT } = input;
  checkNumbers("number", { drainFraction });
  if (!(drainFraction > 0 && drainFraction <= 1)) {
    throw new RangeError(`drainFraction must be more than 0 and at most 1, not ${drainFraction}`);
  }
  mustNotBeBelowZero({ present: input.present, limit: input.limit, fresh: input.fresh });
}

function mustNotBeBelowZero(values: Record<string, number>): void {
  checkNumbers("notNegative", values);
}
