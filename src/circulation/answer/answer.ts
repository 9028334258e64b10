import type { Acceptance } from "../../cleanliness/index.js";
import { type Assumption, frozen, joinAssumptions } from "../../provenance/index.js";
import type { ShownIn } from "../../units/index.js";
import type { PlanConfidence } from "../confidence/plan-confidence.js";
import type { FlowRegime } from "../equipment/flow-regime.js";
import type { HeatPlan } from "../equipment/heat.js";
import type { ElementLoading } from "../equipment/loading.js";
import type { IndicatorReading } from "../equipment/pressure-drop.js";
import { type FlowSettings, flowIn } from "../go-by/circuit-of-cart.js";
import type { RequiredConfidence } from "../go-by/customary.js";
import { leastTimes, longestLeft } from "../go-by/least-times.js";
import { MINUTES_COUNTED, type MinutesDone } from "../go-by/minutes-done.js";
import { type Remedies, remediesFor } from "../go-by/remedies.js";
import { flowToGoBy, type TimeToGoBy, timeToGoBy } from "../go-by/time-to-go-by.js";
import type { InterimAssessment } from "../interim/interim.js";
import { bracketOf, type MixingBracket, type RuleOfThumb, rulesOfThumb } from "../model/bracket.js";
import type { CirculationInput } from "../model/circuit.js";
import {
  type CirculationFloor,
  circulationFloor,
  type ExpectedFluid,
  expectAfter,
} from "../model/expected.js";
import type { CirculationStart } from "../model/start.js";
import { countsUpstream, deliveredModes } from "../model/upstream.js";
import { upstreamTimes } from "../model/upstream-times.js";
import { minutesUp } from "../plan/format-minutes.js";
import type { Need } from "../plan/needs.js";
import { type CirculationPlan, planCirculation } from "../plan/plan.js";
import { type CirculationStep, circulationSteps, reboundOf } from "../plan/steps.js";
import { type BeforeCirculating, beforeCirculating, minutesCountFromC } from "./before-circulating.js";
import {
  type ElementSettings,
  type HeatSettings,
  heatOfCirculation,
  type IndicatorSettings,
  indicatorOfCirculation,
  loadingOfCirculation,
} from "./equipment.js";
import { answerInterim, type InterimQuestion, letsGoOn, mustFallWithSize } from "./interim-answer.js";
import { type NextAtCart, nextAtCart } from "./next-at-cart.js";

/** A circulation, and all that a person wants to know of it. */
export interface CirculationQuestion {
  readonly circuit: Omit<CirculationInput, "start" | "startDrawn">;
  readonly start: CirculationStart;
  /** Where start and interim samples are drawn; upstream of the element, or anywhere else in its line, when absent. */
  readonly port?: "upstream" | "downstream";
  /** What is known of the confidence and the uncertainties; what is absent takes its usual value. */
  readonly confidence?: Partial<RequiredConfidence>;
  /** Where a verifying bottle is accepted; at the limits when absent. */
  readonly acceptance?: Acceptance;
  readonly interim?: InterimQuestion;
  readonly heat?: HeatSettings;
  readonly element?: ElementSettings;
  readonly indicator?: IndicatorSettings;
  /** The hoses of the loop, which the volume of the circuit holds as well. */
  readonly flow?: FlowSettings;
  /** Minutes that a requirement still asks for after an event. */
  readonly dueMin?: number;
  /** What was circulated since the start was sampled; the minutes of interim samples count from there too. */
  readonly done?: MinutesDone;
  /** The units in which it is answered; metric when absent. */
  readonly shownIn?: ShownIn;
  /** Minutes, from now on, after which the fluid to expect is wanted. */
  readonly afterMinutes?: number;
  /** The flow with which the time to go by is no longer than this. */
  readonly withinMinutes?: number;
}

/** Everything that a {@link CirculationQuestion} asks for; undefined is what was not requested or has no answer. */
export interface CirculationAnswer {
  readonly plan: CirculationPlan;
  /** Where samples are drawn; the counts to expect in `steps` are those of this port, all others those of the circuit. */
  readonly port: "upstream" | "downstream";
  readonly bracket: MixingBracket;
  readonly rules: readonly RuleOfThumb[];
  readonly floor: CirculationFloor;
  readonly required: RequiredConfidence;
  /** The drawn cases that the time to go by comes from; absent where the stated values already end out of reach. */
  readonly sure: PlanConfidence | undefined;
  /** The time to go by, or why there is none. */
  readonly goBy: TimeToGoBy;
  /** What the equipment asks for before the minutes; empty where nothing speaks against circulating. */
  readonly before: readonly BeforeCirculating[];
  /** Minutes that were run since the start was sampled. */
  readonly doneMinutes: number;
  /** The next step, by the samples drawn so far. */
  readonly next: NextAtCart;
  readonly interim: InterimAssessment | undefined;
  /** When the latest of the interim samples was drawn. */
  readonly lastDrawnMinutes: number | undefined;
  readonly remedies: Remedies | undefined;
  readonly heat: HeatPlan | undefined;
  readonly indicator: IndicatorReading | undefined;
  readonly loading: ElementLoading | undefined;
  /** How the fluid flows in the hoses. */
  readonly flow: FlowRegime | undefined;
  readonly after: ExpectedFluid | undefined;
  readonly within: { readonly minutes: number; readonly flow: Need } | undefined;
  readonly atEnd: ExpectedFluid | undefined;
  readonly rebound: readonly ReturnType<typeof reboundOf>[] | undefined;
  readonly steps: readonly CirculationStep[] | undefined;
  /** The units in which a person reads the answer; metric when absent. */
  readonly shownIn: ShownIn | undefined;
  /** Whether the target is reached, and nothing speaks against circulating. */
  readonly allWell: boolean;
  readonly assumptions: readonly Assumption[];
}

/**
 * Answers how long to self-circulate, with what confidence, and how to go about it.
 *
 * The time to go by is that of {@link timeToGoBy}; interim samples that show something take its place. Heat and steps are
 * those of the time that is gone by.
 *
 * @throws RangeError for what {@link planCirculation}, {@link assessInterim} and the equipment refuse
 */
export function answerCirculation(asked: CirculationQuestion): CirculationAnswer {
  mustFallWithSize(asked.interim?.samples ?? []);
  const isDownstream = asked.port === "downstream";
  const question = isDownstream ? seenUpstream(asked) : asked;
  const { start, afterMinutes, withinMinutes, done } = question;
  const doneMinutes = done?.minutes ?? 0;
  const input: CirculationInput = {
    ...question.circuit,
    start: start.counts,
    ...(isDownstream && { startDrawn: asked.start.counts }),
  };
  const plan = planCirculation(input);
  const conditions = {
    ...(question.acceptance && { acceptance: question.acceptance }),
    ...(question.dueMin !== undefined && { dueMin: question.dueMin }),
    confidence: {
      ...question.confidence,
      uncertainty: { ...(question.flow && { hoses: 0 }), ...question.confidence?.uncertainty },
    },
  };
  const { goBy, sure, required } = timeToGoBy({
    ...{ circuit: input, plan, ...conditions },
    ...(done && { done }),
  });
  const times = (sizeUm: number) => (isDownstream ? upstreamTimes(input, sizeUm) : 1);
  const interim =
    question.interim && answerInterim(question.interim, plan, start, required, question.acceptance, times);
  const leastMinutes =
    doneMinutes + longestLeft(leastTimes({ ...input, ...conditions }), doneMinutes).minutes;
  const next = nextAtCart({ plan, goBy, leastMinutes, interim, required });
  const until = next.kind === "stop" ? undefined : next.minutes;
  const equipment = equipmentOf(question, input, until, plan.minutesPerPass);
  const lastDrawnMinutes = interim && Math.max(...interim.drawnMinutes);
  const { shownIn } = question;
  const regime = question.flow && flowIn({ ...input, ...question.flow, shownIn });
  const before = beforeCirculating({ ...equipment, shownIn });
  const expectFromNow = (minutes: number): ExpectedFluid => ({
    ...expectAfter(input, doneMinutes + minutes),
    ...{ minutes, passes: minutes / plan.minutesPerPass },
  });
  const after = afterMinutes === undefined ? undefined : expectFromNow(afterMinutes);
  return {
    plan,
    port: isDownstream ? "downstream" : "upstream",
    bracket: bracketOf(input),
    rules: rulesOfThumb(plan),
    floor: circulationFloor(input),
    required,
    sure,
    goBy,
    before,
    doneMinutes,
    next,
    interim: interim?.assessment,
    lastDrawnMinutes,
    remedies:
      goBy.kind === "minutes" ? undefined : remediesFor({ circuit: input, ...conditions }, withinMinutes),
    ...equipment,
    flow: regime?.flow,
    after,
    within:
      withinMinutes === undefined
        ? undefined
        : {
            minutes: withinMinutes,
            flow: flowToGoBy({ circuit: input, plan, ...conditions, ...(done && { done }) }, withinMinutes),
          },
    atEnd: next.kind === "verify" ? expectFromNow(next.minutes - doneMinutes) : undefined,
    rebound:
      next.kind === "verify" && plan.mixing.kind === "two-zone"
        ? plan.channels.map((channel) => reboundOf(plan, channel, next.minutes))
        : undefined,
    steps:
      next.kind === "stop"
        ? undefined
        : circulationSteps({
            plan,
            before,
            countFromC: minutesCountFromC(equipment.indicator),
            shownIn,
            doneMinutes,
            ...(lastDrawnMinutes !== undefined && { lastDrawnMinutes }),
            ...(isDownstream && { delivered: deliveredModes(input) }),
            ...(next.kind === "verify"
              ? { minutes: next.minutes, interimMinutes: next.interimMinutes }
              : { interimMinutes: next.minutes }),
            ...(equipment.heat && { heat: equipment.heat }),
          }),
    shownIn,
    allWell: goBy.kind === "minutes" && before.length === 0 && letsGoOn(interim),
    assumptions: joinAssumptions(
      start.assumptions,
      plan.assumptions,
      goBy.assumptions,
      interim?.assumptions ?? [],
      interim !== undefined && doneMinutes > 0 ? [ONE_COUNT] : [],
      equipment.heat?.assumptions ?? [],
      equipment.indicator?.assumptions ?? [],
      equipment.loading?.assumptions ?? [],
      regime?.assumptions ?? [],
      after?.assumptions ?? [],
    ),
  };
}

const ONE_COUNT: Assumption = frozen({
  code: MINUTES_COUNTED,
  message:
    "the minutes of the samples drawn while circulating were taken to include what was circulated before; where the watch was started again, add what was circulated before",
});

/** The question with its samples as a port upstream of the element would show them. */
function seenUpstream(question: CirculationQuestion): CirculationQuestion {
  const { circuit, start, interim } = question;
  const { counts, assumptions } = countsUpstream(start.counts, circuit);
  const times = (sizeUm: number) => upstreamTimes(circuit, sizeUm);
  return {
    ...question,
    start: {
      counts,
      assumptions: joinAssumptions(start.assumptions, assumptions),
      ...(start.lowerEdges && {
        lowerEdges: start.lowerEdges.map(({ sizeUm, moreThanPerMl }) => ({
          sizeUm,
          moreThanPerMl: moreThanPerMl * times(sizeUm),
        })),
      }),
    },
    ...(interim && {
      interim: {
        ...interim,
        samples: interim.samples.map(({ minutes, counts: drawn }) => ({
          minutes,
          counts: drawn.map(({ sizeUmC, perMl, moreThanPerMl }) => ({
            sizeUmC,
            perMl: { ...perMl, value: perMl.value * times(sizeUmC) },
            ...(moreThanPerMl !== undefined && { moreThanPerMl: moreThanPerMl * times(sizeUmC) }),
          })),
        })),
      },
    }),
  };
}

function equipmentOf(
  { heat, indicator, element, shownIn, done }: CirculationQuestion,
  input: CirculationInput,
  minutes: number | undefined,
  minutesPerPass: number,
) {
  return {
    // The fluid warms for as long as the steps say.
    heat:
      heat && minutes !== undefined
        ? heatOfCirculation(input, { ...heat, shownIn }, minutesUp(minutes - (done?.minutes ?? 0)))
        : undefined,
    indicator: indicator && indicatorOfCirculation(input, indicator),
    loading:
      element && minutes !== undefined
        ? loadingOfCirculation(input, element, minutes / minutesPerPass)
        : undefined,
  };
}
