import { TYPICAL_UNCERTAINTY } from "../confidence/uncertainty.js";
import type { RequiredConfidence } from "../go-by/customary.js";
import { describeGoBy, minutesSinceStart, type TimeToGoBy } from "../go-by/time-to-go-by.js";
import { mostInformativeMinutes } from "../interim/interim-time.js";
import type { CirculationPlan } from "../plan/plan.js";
import type { InterimAnswer } from "./interim-answer.js";

/**
 * What to do next at the cart. Minutes count from the moment at which the start was sampled, those that were run since included,
 * and never lie in the past.
 */
export type NextAtCart =
  /** Circulate until then and draw the verifying bottle; on the way an interim sample where one tells something. */
  | { readonly kind: "verify"; readonly minutes: number; readonly interimMinutes?: number }
  /** Circulate until then and draw another interim sample; no verifying bottle is ordered yet. */
  | { readonly kind: "sample-again"; readonly minutes: number }
  | { readonly kind: "stop"; readonly why: string };

/** What the next step is chosen from. */
export interface NextInput {
  readonly plan: CirculationPlan;
  readonly goBy: TimeToGoBy;
  /** The first moment at which a bottle may be drawn, by published rules and what was run. */
  readonly leastMinutes: number;
  readonly interim: InterimAnswer | undefined;
  readonly required: RequiredConfidence;
}

/**
 * Chooses the next step: by the time to go by until interim samples show something, then by the samples, at the far end of
 * their interval. A time without an upper end asks for another sample.
 */
export function nextAtCart(input: NextInput): NextAtCart {
  const { goBy, interim, leastMinutes, plan } = input;
  const planned = goBy.kind === "minutes" ? minutesSinceStart(goBy) : undefined;
  if (interim === undefined) {
    return planned === undefined ? { kind: "stop", why: describeGoBy(goBy) } : verify(planned, 0, input);
  }
  const { diagnosis, remaining, meaning, slowerSoFar, lastIsInside } = interim.assessment;
  if (diagnosis === "not-falling" || diagnosis === "levelling-off-above-target") {
    return { kind: "stop", why: meaning };
  }
  const last = Math.max(...interim.drawnMinutes);
  const bySamples = remaining.kind === "minutes" ? Math.max(leastMinutes, last + remaining.high) : undefined;
  const until = {
    // The plan is one for a circuit that works as rated.
    "cannot-tell-yet": slowerSoFar ? undefined : planned,
    "as-rated": bySamples ?? planned,
    "slower-than-rated": bySamples,
  }[diagnosis];
  if (lastIsInside) return verify(Math.max(last, leastMinutes), last, input);
  // A bottle at once, while the last sample is not inside, would only show that again.
  if (until !== undefined && until > last) return verify(until, last, input);
  const more = remaining.kind === "at-least" ? remaining.minutes : plan.minutesPerPass;
  // A time twice as long as what has been seen is as far ahead as the samples are trusted.
  const furthest = Math.max(last, plan.minutesPerPass);
  const another = last + Math.min(furthest, Math.max(plan.minutesPerPass, more));
  return { kind: "sample-again", minutes: Math.max(leastMinutes, another) };
}

function verify(minutes: number, last: number, input: NextInput): NextAtCart {
  const { plan, interim, required, leastMinutes } = input;
  const isTold =
    interim !== undefined &&
    interim.assessment.diagnosis !== "cannot-tell-yet" &&
    interim.assessment.remaining.kind === "minutes";
  // No bottle is drawn before the rules allow one, and none on the way where there is no way left.
  if (isTold || !(minutes > Math.max(last, leastMinutes))) return { kind: "verify", minutes };
  const { uncertainty } = required;
  const interimMinutes = mostInformativeMinutes({
    plan,
    untilMinutes: minutes,
    drawnMinutes: interim?.drawnMinutes ?? [],
    notBeforeMinutes: leastMinutes,
    countedMl: uncertainty.countedMl ?? TYPICAL_UNCERTAINTY.countedMl,
    laboratory: uncertainty.laboratory ?? TYPICAL_UNCERTAINTY.laboratory,
  });
  return { kind: "verify", minutes, interimMinutes };
}
