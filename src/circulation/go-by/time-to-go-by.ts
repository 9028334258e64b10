import type { Acceptance } from "../../cleanliness/index.js";
import { checkNumbers, seededRandom } from "../../numeric/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import { formatShare } from "../../units/index.js";
import { type PlanConfidence, planConfidence, QUOTED_PROBABILITIES } from "../confidence/plan-confidence.js";
import { TYPICAL_UNCERTAINTY } from "../confidence/uncertainty.js";
import type { CirculationInput } from "../model/circuit.js";
import { formatMinutes, formatPasses } from "../plan/format-minutes.js";
import { type Need, smallestEnough } from "../plan/needs.js";
import { type CirculationPlan, planCirculation } from "../plan/plan.js";
import { type RequiredConfidence, withCustomaryValues } from "./customary.js";
import { type LeastTime, leastTimes } from "./least-times.js";

/** What a time to go by is found from. */
export interface GoByInput {
  /** The circuit as it is stated, with the limits of the requirement. */
  readonly circuit: CirculationInput;
  /** The plan by the stated values. */
  readonly plan: CirculationPlan;
  /** Minutes that a requirement still asks for after an event. */
  readonly dueMin?: number;
  /** Where the verifying bottle is accepted; at the limits when absent. */
  readonly acceptance?: Acceptance;
  /** What is stated of the confidence; the rest is customary, and said. */
  readonly confidence?: Partial<RequiredConfidence>;
}

/** The minutes a crew can go by, or that no time is long enough. */
export type TimeToGoBy =
  | {
      readonly kind: "minutes";
      readonly minutes: number;
      readonly passes: number;
      /** Probability that a verifying bottle drawn then is accepted. */
      readonly confidence: number;
      /** What makes it as long as it is: the bottle that is to be accepted, or a least time. */
      readonly governs: "acceptance" | LeastTime["rule"];
      /** The times of rules that it is never below. */
      readonly leastTimes: readonly LeastTime[];
      readonly assumptions: readonly Assumption[];
    }
  | {
      readonly kind: "no-time";
      readonly confidence: number;
      readonly why: string;
      readonly assumptions: readonly Assumption[];
    };

/** A time to go by, with the drawn cases that it comes from; those are absent where the stated values already end out of reach. */
export interface FoundTime {
  readonly goBy: TimeToGoBy;
  readonly required: RequiredConfidence;
  readonly sure?: PlanConfidence;
}

/**
 * The time after which a verifying bottle will be accepted, with the required confidence.
 *
 * The stated values are completed with customary ones ({@link withCustomaryValues}), many cases are drawn, and each is solved for
 * the moment from which a bottle drawn at random is within what is accepted. The time is never below {@link leastTimes}. The same
 * circuit, sample and requirement always give the same minutes.
 *
 * @param input - see {@link GoByInput}
 * @returns minutes to go by, or why no time is long enough
 * @throws RangeError for what {@link planConfidence} refuses
 * @source JCGM-101
 * @source MASS-BALANCE
 */
export function timeToGoBy({ circuit, plan, dueMin, acceptance, confidence: given }: GoByInput): FoundTime {
  checkNumbers("number", {
    dueMin,
    ...{ confidence: given?.confidence, draws: given?.draws, seed: given?.seed },
  });
  const { input, required, assumptions: customary } = withCustomaryValues(circuit, given);
  const { confidence, uncertainty, seed, draws } = required;
  if (!plan.reachable) {
    const why = `the stated values alone do not get there: ${plan.obstacle}`;
    return { required, goBy: { kind: "no-time", confidence, why, assumptions: customary } };
  }
  const rules = leastTimes({ ...circuit, ...(dueMin !== undefined && { dueMin }) });
  const longest = rules.reduce((one, other) => (other.minutes > one.minutes ? other : one));
  const sure = planConfidence(
    acceptance === undefined ? input : { ...input, limits: acceptance.limits },
    uncertainty,
    seededRandom(seed),
    {
      draws,
      probabilities: [...new Set([...QUOTED_PROBABILITIES, confidence])].sort((a, b) => a - b),
      bottle: {
        countedMl: acceptance?.countedMl ?? uncertainty.countedMl ?? TYPICAL_UNCERTAINTY.countedMl,
        laboratory: uncertainty.laboratory ?? TYPICAL_UNCERTAINTY.laboratory,
      },
      atLeastMinutes: longest.minutes,
    },
  );
  const assumptions = joinAssumptions(customary, sure.assumptions);
  const found = sure.minutesFor.find(({ probability }) => probability === confidence);
  if (found?.kind !== "minutes") {
    // Rounded down, so that it never reads as the required share.
    const most = formatShare(Math.floor(1000 * (found?.highest ?? 0)) / 1000);
    const why = `a bottle is accepted in at most ${most} of the cases; ${formatShare(confidence)} is required`;
    return { required, sure, goBy: { kind: "no-time", confidence, why, assumptions } };
  }
  const { minutes, passes } = found;
  return {
    required,
    sure,
    goBy: {
      kind: "minutes",
      minutes,
      passes,
      confidence,
      governs: minutes > longest.minutes ? "acceptance" : longest.rule,
      leastTimes: rules,
      assumptions,
    },
  };
}

/** No flow meter shows this fraction of a flow. */
const NEAR_FLOW = 1e-3;

/** The most that is looked at, as a multiple of the stated flow. */
const MAX_TIMES = 1000;

/**
 * The flow with which the time to go by is no longer than some minutes.
 *
 * @throws RangeError for minutes that are not above 0
 */
export function flowToGoBy(input: GoByInput, minutes: number): Need {
  checkNumbers("positive", { minutes });
  const stated = input.circuit.flowLpm;
  return smallestEnough(
    stated / MAX_TIMES,
    stated * MAX_TIMES,
    (flowLpm) => {
      const circuit = { ...input.circuit, flowLpm };
      const { goBy } = timeToGoBy({ ...input, circuit, plan: planCirculation(circuit) });
      return goBy.kind === "minutes" && goBy.minutes <= minutes;
    },
    (low, high) => high / low < 1 + NEAR_FLOW,
  );
}

/** Says a time to go by in one phrase, such as "circulate 24 min (6.1 passes)"; without one, that no minutes are known. */
export function describeGoBy(goBy: TimeToGoBy): string {
  return goBy.kind === "minutes"
    ? `circulate ${formatMinutes(goBy.minutes)} (${formatPasses(goBy.passes)})`
    : `no time of circulating is known to be long enough: ${goBy.why}`;
}

/** Says why it is that time. */
export function describeWhyThatTime(goBy: Extract<TimeToGoBy, { readonly kind: "minutes" }>): string {
  const rule = goBy.leastTimes.find((least) => least.rule === goBy.governs);
  return rule === undefined
    ? `a verifying bottle drawn then is accepted in ${formatShare(goBy.confidence)} of the cases`
    : `the least that a rule asks for: ${rule.meaning}`;
}

/** Says the time by the stated values alone, which is no time to go by. */
export function describeStatedTime(plan: Extract<CirculationPlan, { readonly reachable: true }>): string {
  if (plan.minutes === 0)
    return "by the stated values alone the start is within the target already, and a verifying bottle has to show it";
  return (
    `by the stated values alone ${formatMinutes(plan.minutes)} (${formatPasses(plan.passes)}), which is enough in about half of the ` +
    "cases at best: do not go by it"
  );
}
