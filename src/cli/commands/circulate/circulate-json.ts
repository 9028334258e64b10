import type {
  BracketEnd,
  CirculationAnswer,
  FittedValue,
  InterimAssessment,
  MinutesFor,
  Need,
  PlanConfidence,
} from "../../../circulation/index.js";
import type { Classification } from "../../../cleanliness/index.js";
import type { CountSet } from "../../../counts/index.js";
import { CART_CAUTIONS } from "../../../provenance/index.js";
import { classesAsJson } from "../classify/classify.js";
import { goByAsJson, planAsJson } from "./plan-json.js";

/** The answer of `circulate` as one JSON document: what was not wanted or has no answer is null. */
export function circulationAsJson(answer: CirculationAnswer) {
  const { plan, required, sure, goBy, remedies, within, after, atEnd, floor } = answer;
  return {
    ...planAsJson(plan),
    port: answer.port,
    quoted: goByAsJson(goBy),
    whyNoTime: goBy.kind === "no-time" ? goBy.why : null,
    bracket: {
      plug: endAsJson(answer.bracket.plug),
      wellMixed: endAsJson(answer.bracket.wellMixed),
      twoZone: answer.bracket.twoZone === undefined ? null : endAsJson(answer.bracket.twoZone),
    },
    rulesOfThumb: answer.rules,
    floor:
      floor.kind === "rises"
        ? { risesAboveUmC: floor.sizesUmC, perMl: null, classes: null }
        : { risesAboveUmC: null, ...fluidAsJson(floor.counts, floor.classes) },
    confidence: sure === undefined ? null : sureAsJson(sure, required.seed),
    atEnd: atEnd === undefined ? null : fluidAsJson(atEnd.circuit, atEnd.classes),
    rebound: answer.rebound ?? null,
    after:
      after === undefined
        ? null
        : { minutes: after.minutes, passes: after.passes, ...fluidAsJson(after.circuit, after.classes) },
    within: within === undefined ? null : { minutes: within.minutes, flowLpm: needAsJson(within.flow) },
    remedies:
      remedies === undefined
        ? null
        : {
            withinMinutes: remedies.withinMinutes,
            beta: needAsJson(remedies.beta),
            betaFromUmC: remedies.fromUmC,
            flowLpm: needAsJson(remedies.flowLpm),
            ingressFraction: needAsJson(remedies.ingressFraction),
          },
    interim: answer.interim === undefined ? null : interimAsJson(answer.interim),
    next: answer.next,
    before: answer.before,
    loading: answer.loading ?? null,
    indicator: answer.indicator ?? null,
    heat: answer.heat ?? null,
    flow: answer.flow ?? null,
    steps: answer.steps ?? null,
    assumptions: answer.assumptions,
    cautions: CART_CAUTIONS,
  };
}

function endAsJson(end: BracketEnd) {
  return end.kind === "reached"
    ? { passes: end.passes, minutes: end.minutes }
    : { passes: null, minutes: null };
}

function needAsJson(need: Need): number | null {
  return need.kind === "enough" ? need.value : null;
}

function fluidAsJson(counts: CountSet, classes: Classification) {
  return {
    perMl: counts.counts.map(({ sizeUm, count }) => ({ sizeUmC: sizeUm, perMl: count / counts.volumeMl })),
    classes: classesAsJson(classes),
  };
}

function sureAsJson(sure: PlanConfidence, seed: number) {
  return {
    seed,
    draws: sure.draws,
    minutesFor: sure.minutesFor.map((entry: MinutesFor) => ({
      probability: entry.probability,
      minutes: entry.kind === "minutes" ? entry.minutes : null,
      passes: entry.kind === "minutes" ? entry.passes : null,
    })),
    curve: sure.curve,
    everReached: sure.everReached,
    firstOrder: sure.firstOrder,
    agreement: sure.agreement,
  };
}

function interimAsJson(interim: InterimAssessment) {
  const { diagnosis, meaning, slowerSoFar, governing, remaining } = interim;
  return {
    diagnosis,
    meaning,
    slowerSoFar,
    governing,
    remaining,
    channels: interim.channels.map(({ fit, ...channel }) => ({
      ...channel,
      ratePerMin: fittedAsJson(fit.rate),
      netRatePerMin: fittedAsJson(fit.netRate),
      floorPerMl: fittedAsJson(fit.floor),
    })),
  };
}

/** Where the interval is open above there is no estimate. */
function fittedAsJson({ low, estimate, high }: FittedValue) {
  return { low, estimate: estimate ?? null, high: high ?? null };
}
