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
import { type LeastTime, leastTimes, longestLeft } from "./least-times.js";
import type { MinutesDone } from "./minutes-done.js";

/** What a time to go by is found from. */
export interface GoByInput {
  /** The circuit as it is stated, with the limits of the requirement. */
  readonly circuit: CirculationInput;
  /** The plan by the stated values. */
  readonly plan: CirculationPlan;
  /** Minutes that a requirement still asks for after an event. */
  readonly dueMin?: number;
  /** What was circulated since the start was sampled; nothing when absent. */
  readonly done?: MinutesDone;
  /** Where the verifying bottle is accepted; at the limits when absent. */
  readonly acceptance?: Acceptance;
  /** What is stated of the confidence; the rest is customary, and said. */
  readonly confidence?: Partial<RequiredConfidence>;
}

/** What a crew does where no time is long enough. */
export type InsteadOfTime = "finer-element" | "less-ingress" | "fresh-fluid";

/** The minutes a crew can go by, or that no time is long enough. */
export type TimeToGoBy =
  | {
      readonly kind: "minutes";
      /** From now on; those of `done` have been run. */
      readonly minutes: number;
      readonly passes: number;
      /** Minutes that were run since the start was sampled; absent where none were. */
      readonly done?: {
        readonly minutes: number;
        /** Whether they are all that was to be run, so that only the bottle is left. */
        readonly isEnough: boolean;
      };
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
      /** What to do in place of circulating, where that was looked for; see {@link insteadOfTime}. */
      readonly instead?: InsteadOfTime;
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
 * the moment from which a bottle drawn at random is within what is accepted. The time is never below {@link leastTimes}. Minutes
 * that were run since the start are taken off; what a rule asks for just before a bottle stays. The same circuit, sample and
 * requirement always give the same minutes.
 *
 * @param input - see {@link GoByInput}
 * @returns minutes to go by, or why no time is long enough
 * @throws RangeError for what {@link planConfidence} refuses
 * @source JCGM-101
 * @source MASS-BALANCE
 */
export function timeToGoBy(asked: GoByInput): FoundTime {
  const { circuit, plan, dueMin, done, acceptance, confidence: given } = asked;
  const doneMin = done?.minutes ?? 0;
  checkNumbers("notNegative", { "done.minutes": doneMin });
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
      atLeastMinutes: longestLeft(rules, 0).minutes,
    },
  );
  const assumptions = joinAssumptions(customary, sure.assumptions, done?.assumptions ?? []);
  const found = sure.minutesFor.find(({ probability }) => probability === confidence);
  if (found?.kind !== "minutes") {
    // Rounded down, so that it never reads as the required share.
    const most = formatShare(Math.floor(1000 * (found?.highest ?? 0)) / 1000);
    const why = `a bottle is accepted in at most ${most} of the cases; ${formatShare(confidence)} is required`;
    return { required, sure, goBy: { kind: "no-time", confidence, why, assumptions } };
  }
  const left = found.minutes - doneMin;
  const longest = longestLeft(rules, doneMin);
  const governs = left > longest.minutes ? "acceptance" : longest.rule;
  const minutes = Math.max(left, longest.minutes);
  return {
    required,
    sure,
    goBy: {
      kind: "minutes",
      minutes,
      passes: minutes / plan.minutesPerPass,
      ...(doneMin > 0 && {
        done: { minutes: doneMin, isEnough: left <= 0 && governs !== "requirement" },
      }),
      confidence,
      governs,
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
  const { done } = input;
  return smallestEnough(
    stated / MAX_TIMES,
    stated * MAX_TIMES,
    (flowLpm) => {
      const circuit = { ...input.circuit, flowLpm };
      const { goBy } = timeToGoBy({
        ...input,
        circuit,
        plan: planCirculation(circuit),
        // What passed the element stays as it is.
        ...(done && { done: { minutes: (done.minutes * stated) / flowLpm } }),
      });
      return goBy.kind === "minutes" && goBy.minutes <= minutes;
    },
    (low, high) => high / low < 1 + NEAR_FLOW,
  );
}

/** Minutes at the end of a time to go by, counted from the moment at which the start was sampled. */
export function minutesSinceStart({
  minutes,
  done,
}: Extract<TimeToGoBy, { readonly kind: "minutes" }>): number {
  return minutes + (done?.minutes ?? 0);
}

/** Says a time to go by in one phrase, such as "circulate 24 min (6.1 passes)"; without one, that no minutes are known. */
export function describeGoBy(goBy: TimeToGoBy): string {
  if (goBy.kind === "no-time") return `no time of circulating is known to be long enough: ${goBy.why}`;
  const more = goBy.done === undefined ? "" : " more";
  return `circulate ${formatMinutes(goBy.minutes)} (${formatPasses(goBy.passes)})${more}`;
}

/** The same with the bottle that ends it, which comes first where enough has been circulated. */
export function describeGoByThenDraw(goBy: TimeToGoBy, bottle: string): string {
  return isOnlyBottleLeft(goBy)
    ? `draw ${bottle} now, after ${formatMinutes(goBy.minutes)} at full flow`
    : `${describeGoBy(goBy)}, then draw ${bottle}`;
}

/** Whether what was run is long enough, so that only the bottle is left. */
export function isOnlyBottleLeft(
  goBy: TimeToGoBy,
): goBy is Extract<TimeToGoBy, { readonly kind: "minutes" }> {
  return goBy.kind === "minutes" && goBy.done?.isEnough === true;
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
