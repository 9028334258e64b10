import { type Bound, nextSampleDue } from "../../trend/index.js";
import { dayAfter } from "../days.js";
import { DAYS_PER_YEAR, dayOf, yearsBetween } from "./segments.js";
import type { Heading } from "./trend-case.js";

/** Chance of having crossed a limit at which the next sample is due. */
export const RISK = 0.05;
/** From this chance on a result inside is no answer to its trend. */
const AS_LIKELY_AS_NOT = 0.5;
/** The largest chance that values without a trend rise, or fall, as surely; four readings in order have 1 in 24. */
const NO_TREND_MAX = 0.05;

/**
 * When a trend calls for the next sample; without a trend towards a limit, when the longest interval ends.
 *
 * The line through a few scattered readings leaves a chance of being beyond a limit soon, however far away the limit is. That
 * is no finding: only values that surely move towards the limit call for a sample before the interval ends.
 *
 * What a sample showed is judged by the limit, even where its trend left a chance on its day that the level was beyond it
 * already. From then on it is the chance that has been added since that calls for the next one; otherwise every sample near
 * a limit would call for another on the day after it.
 */
export function dueOf(heading: Heading, everyDays: number): Heading["nextSample"] {
  const { nextSample, forecast, segments, test, bounds } = heading;
  const { because } = nextSample;
  const readings = segments.at(-1)?.readings ?? [];
  const [first, last] = [readings[0]?.drawnOn, readings.at(-1)?.drawnOn];
  if (first === undefined || last === undefined) return nextSample;
  const byInterval = { on: dayAfter(last, everyDays), because: "longest-interval" as const };
  if (because === "risk") return bounds.some((bound) => movesTowards(test, bound)) ? nextSample : byInterval;
  if (because !== "risk-already-reached") return nextSample;
  if (forecast.kind !== "crosses") return byInterval;
  return dueAgain(heading, first, last, everyDays);
}

/** After a sample on whose day the risk was reached; at once where by then the level is more likely beyond the limit than not. */
function dueAgain(
  { nextSample, line, bound }: Heading,
  first: string,
  last: string,
  everyDays: number,
): Heading["nextSample"] {
  const { chance = 1 } = nextSample;
  if (line === undefined || bound === undefined || !(chance < AS_LIKELY_AS_NOT)) return nextSample;
  const longest = everyDays / DAYS_PER_YEAR;
  const next = nextSampleDue(line, bound, { lastX: yearsBetween(first, last), risk: chance + RISK, longest });
  return { on: dayOf(next.x, first), because: next.because, chance: next.chance };
}

/** A limit has one side, so the chance is that of a score as far on this side when there is no trend. */
function movesTowards({ score, pValue }: Heading["test"], { towards }: Bound): boolean {
  return Math.sign(score) === (towards === "above" ? 1 : -1) && pValue / 2 <= NO_TREND_MAX;
}
