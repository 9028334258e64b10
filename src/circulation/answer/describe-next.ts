import { describeElementTaken } from "../../cleanliness/index.js";
import { describeFlowRegime } from "../equipment/flow-regime.js";
import { describeMinutesDone } from "../go-by/minutes-done.js";
import {
  describeGoBy,
  describeGoByThenDraw,
  describeWhyThatTime,
  isOnlyBottleLeft,
} from "../go-by/time-to-go-by.js";
import { formatMinutes, momentUp } from "../plan/format-minutes.js";
import type { CirculationAnswer } from "./answer.js";
import type { NextAtCart } from "./next-at-cart.js";

/**
 * Says what to do next, the answer first; it never says minutes that something in the answer speaks against.
 *
 * @returns sentences without their full stops
 */
export function describeNext(answer: CirculationAnswer): string[] {
  const { before, flow, next } = answer;
  const warns = flow !== undefined && flow.kind !== "flushes" && next.kind !== "stop";
  return [
    ...before.map(({ text }) => text),
    ...stepOf(answer),
    ...describeMinutesDone(answer.assumptions),
    ...describeElementTaken(answer.assumptions),
    ...(warns ? [describeFlowRegime(flow, answer.shownIn)] : []),
  ].map((text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`);
}

function stepOf(answer: CirculationAnswer): string[] {
  const { plan, goBy, next, interim, lastDrawnMinutes = 0, doneMinutes } = answer;
  const run = Math.max(lastDrawnMinutes, doneMinutes);
  switch (next.kind) {
    case "stop":
      if (interim !== undefined) return [`no minutes are given: ${withoutStop(interim.meaning)}`];
      return plan.reachable
        ? [`${describeGoBy(goBy)}. No minutes are given`]
        : [`circulating cannot get there: ${firstOf(plan.obstacle)}`];
    case "verify":
      if (interim === undefined) {
        const why = goBy.kind === "minutes" ? [describeWhyThatTime(goBy)] : [];
        return isOnlyBottleLeft(goBy)
          ? [describeGoByThenDraw(goBy, "the verifying sample"), ...why]
          : [`${describeGoBy(goBy)}; channel ${plan.governing} decides`, ...why];
      }
      return next.minutes > run
        ? [`${goOn(answer, next.minutes)}${onTheWay(answer, next)}, then draw the verifying sample`]
        : [
            "draw the verifying sample now, while the fluid is flowing: the last sample is inside every limit",
          ];
    case "sample-again": {
      const least =
        interim?.remaining.kind === "at-least" && interim.remaining.minutes > 0
          ? `by these samples it takes at least ${formatMinutes(interim.remaining.minutes)} more`
          : "these samples do not show yet how much longer it takes";
      return [`${goOn(answer, next.minutes)}, and draw another sample: ${least}`];
    }
  }
}

/** The channel that is named first, and how many more there are. */
function firstOf(obstacle: string): string {
  const [first, ...others] = obstacle.split(/; (?=channel )/);
  const many = others.length;
  return many === 0 ? obstacle : `${first} (and ${many} more channel${many === 1 ? "" : "s"})`;
}

/** Samples that do not tell yet ask for another one before the verifying sample. */
function onTheWay(
  { doneMinutes }: CirculationAnswer,
  { interimMinutes }: Extract<NextAtCart, { kind: "verify" }>,
): string {
  return interimMinutes === undefined
    ? ""
    : `, draw another sample at minute ${momentUp(interimMinutes, doneMinutes)}`;
}

/** Both numbers are of the minute that is said. */
function goOn({ doneMinutes, lastDrawnMinutes = 0 }: CirculationAnswer, until: number): string {
  const said = momentUp(until, doneMinutes);
  return `circulate on until minute ${said}, ${formatMinutes(said - Math.max(lastDrawnMinutes, doneMinutes))} more`;
}

function withoutStop(sentence: string): string {
  return sentence.replace(/\.$/, "");
}
