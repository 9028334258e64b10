import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import { TYPICAL_UNCERTAINTY } from "../confidence/uncertainty.js";
import type { RequiredConfidence } from "../go-by/customary.js";
import { assessInterim, type InterimAssessment, type InterimSample } from "../interim/interim.js";
import { mostInformativeMinutes } from "../interim/interim-time.js";
import type { CirculationStart } from "../model/start.js";
import type { CirculationPlan } from "../plan/plan.js";

/** The samples drawn while circulating. */
export interface InterimQuestion {
  readonly samples: readonly Omit<InterimSample, "countedMl">[];
  /** Volume in mL that was counted in each of them; one run of the method when absent, and the answer says so. */
  readonly countedMl?: number;
}

/** What they say, and what that rests on. */
export interface InterimAnswer {
  readonly assessment: InterimAssessment;
  readonly drawnMinutes: readonly number[];
  readonly assumptions: readonly Assumption[];
}

/** One run of FED-STD-791D method 3012. */
const USUAL_COUNTED_ML = 20;

/** Assesses the samples with the start of the circulation as the first of them. */
export function answerInterim(
  { samples, countedMl }: InterimQuestion,
  plan: CirculationPlan,
  { counts: start, isUpperEnd }: Pick<CirculationStart, "counts" | "isUpperEnd">,
  laboratory = 0,
): InterimAnswer {
  const counted = countedMl ?? USUAL_COUNTED_ML;
  const atStart = start.counts.map(({ sizeUm, count }) => ({
    sizeUmC: sizeUm,
    perMl: { value: count / start.volumeMl, ...(isUpperEnd && { limit: "below" as const }) },
  }));
  const assessment = assessInterim({
    plan,
    laboratory,
    samples: [{ minutes: 0, counts: atStart }, ...samples].map((sample) => ({
      ...sample,
      countedMl: counted,
    })),
  });
  return {
    assessment,
    drawnMinutes: samples.map(({ minutes }) => minutes),
    assumptions: joinAssumptions(
      countedMl === undefined ? [COUNTED] : [],
      assessment.assumptions,
      laboratory > 0 ? [] : [COUNTING_ONLY],
    ),
  };
}

const COUNTED: Assumption = {
  code: "counted-volume",
  message: `${USUAL_COUNTED_ML} mL were taken as counted in each sample, the least of one method; the intervals rest on it`,
  source: "FED-STD-791D",
};

const COUNTING_ONLY: Assumption = {
  code: "interim-counting-only",
  message:
    "the intervals of the interim samples hold chance in counting only; the reproducibility of the laboratory, when it is given, widens them",
  source: "ISO-TS-19036",
};

/**
 * Minutes to the verifying sample: those of the plan until the interim samples show something, then by the samples, at the
 * far end of their interval.
 *
 * @param plannedMinutes - the time to go by without interim samples; undefined when there is none
 * @returns undefined when there is no such time
 */
export function finishMinutes(
  plannedMinutes: number | undefined,
  interim: InterimAnswer | undefined,
): number | undefined {
  if (interim === undefined) return plannedMinutes;
  const { assessment, drawnMinutes } = interim;
  const { diagnosis, remaining } = assessment;
  if (diagnosis === "cannot-tell-yet") return plannedMinutes;
  if (diagnosis === "not-falling") return undefined;
  if (remaining.kind === "not-reached") {
    // Working as rated, yet the best guess of the floor lies above the limit: too early to leave the plan.
    return diagnosis === "as-rated" ? plannedMinutes : undefined;
  }
  return Math.max(...drawnMinutes) + (remaining.high ?? remaining.estimate);
}

/**
 * When to draw the next interim sample.
 *
 * @returns undefined once the samples show something, or when the verifying sample comes before
 */
export function nextInterimMinutes(
  plan: CirculationPlan,
  untilMinutes: number,
  interim: InterimAnswer | undefined,
  { uncertainty }: RequiredConfidence,
): number | undefined {
  if (interim !== undefined && interim.assessment.diagnosis !== "cannot-tell-yet") return undefined;
  const drawnMinutes = interim?.drawnMinutes ?? [];
  if (!(untilMinutes > Math.max(0, ...drawnMinutes))) return undefined;
  return mostInformativeMinutes({
    plan,
    untilMinutes,
    drawnMinutes,
    countedMl: uncertainty.countedMl ?? TYPICAL_UNCERTAINTY.countedMl,
    laboratory: uncertainty.laboratory ?? TYPICAL_UNCERTAINTY.laboratory,
  });
}

/** Whether the samples, if there are any, let the circulation go on as planned. */
export function letsGoOn(interim: InterimAnswer | undefined): boolean {
  if (interim === undefined) return true;
  const { diagnosis } = interim.assessment;
  return diagnosis === "as-rated" || diagnosis === "cannot-tell-yet";
}
