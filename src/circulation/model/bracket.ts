import type { SourceKey } from "../../provenance/index.js";
import { formatPasses } from "../plan/format-minutes.js";
import { type CirculationPlan, type PlannedChannel, planCirculation } from "../plan/plan.js";
import type { CirculationInput } from "./circuit.js";
import { levelAfter } from "./modes.js";

/** Passes and minutes under one way of mixing. */
export type BracketEnd =
  | { readonly kind: "reached"; readonly passes: number; readonly minutes: number }
  | { readonly kind: "out-of-reach" };

/** The same circulation under each way of mixing. */
export interface MixingBracket {
  /** No circuit is faster. */
  readonly plug: BracketEnd;
  readonly wellMixed: BracketEnd;
  /** Absent when no slow zone was given. */
  readonly twoZone?: BracketEnd;
}

/**
 * The time under each way of mixing, so that the plan is seen between its bounds.
 *
 * @param input - see {@link CirculationInput}; a slow zone is taken from its mixing
 */
export function bracketOf(input: CirculationInput): MixingBracket {
  const end = (mixing: CirculationInput["mixing"]): BracketEnd => {
    const plan = planCirculation({ ...input, ...(mixing && { mixing }) });
    return plan.reachable
      ? { kind: "reached", passes: plan.passes, minutes: plan.minutes }
      : { kind: "out-of-reach" };
  };
  return {
    plug: end({ kind: "plug" }),
    wellMixed: end({ kind: "well-mixed" }),
    ...(input.mixing?.kind === "two-zone" && { twoZone: end(input.mixing) }),
  };
}

/** A rule of thumb compared with the model. */
export interface RuleOfThumb {
  readonly rule: string;
  readonly source: SourceKey;
  readonly passes: number;
  readonly minutes: number;
  /** Fraction of the governing channel's particles that is left in the circuit after that many passes, by the model. */
  readonly modelLeaves: number;
  /** What the comparison means. */
  readonly meaning: string;
}

/**
 * Holds a plan against the rules of thumb that people go by, so that neither hides the other.
 *
 * @source NAVEDTRA-14018-CIRCULATION
 * @source RULE-OF-SEVEN
 */
export function rulesOfThumb(plan: CirculationPlan): RuleOfThumb[] {
  const channel = plan.channels.find((entry) => entry.channel === plan.governing) as PlannedChannel;
  return RULES.map(({ rule, source, passes }): RuleOfThumb => {
    const start = levelAfter(channel.modes, 0);
    const modelLeaves = start > 0 ? levelAfter(channel.modes, passes) / start : 0;
    const left = `${(100 * modelLeaves).toPrecision(3)} % of the particles in channel ${plan.governing}`;
    const verdict = !plan.reachable
      ? "The model does not reach the target at all."
      : plan.passes > passes
        ? `The model asks for more: ${formatPasses(plan.passes)}.`
        : `The model asks for no more than ${formatPasses(plan.passes)}; where the rule binds you, it is the longer of the two.`;
    return {
      rule,
      source,
      passes,
      minutes: passes * plan.minutesPerPass,
      modelLeaves,
      meaning: `By the model ${rule} leaves ${left}. ${verdict}`,
    };
  });
}

const RULES = [
  {
    rule: "one circuit volume through the filters (a handbook's minimum before hookup)",
    source: "NAVEDTRA-14018-CIRCULATION",
    passes: 1,
  },
  {
    rule: "seven volumes through the filter (a rule of thumb for cleaning a tank)",
    source: "RULE-OF-SEVEN",
    passes: 7,
  },
] as const;
