import {
  assessInterim,
  bracketOf,
  type CirculationInput,
  type CirculationPlan,
  circulationFloor,
  circulationSteps,
  expectAfter,
  flowNeeded,
  type InterimAssessment,
  minutesUp,
  mostInformativeMinutes,
  type PlanConfidence,
  planCirculation,
  planConfidence,
  QUOTED_PROBABILITIES,
  reboundOf,
  remediesFor,
  rulesOfThumb,
  TYPICAL_UNCERTAINTY,
} from "../../../circulation/index.js";
import { seededRandom } from "../../../numeric/index.js";
import { joinAssumptions } from "../../../provenance/index.js";
import { readQuantityOption } from "../../arguments.js";
import { UsageError } from "../../io.js";
import { heatFrom, indicatorFrom, loadingFrom } from "./circulate-extras.js";
import { readInterim } from "./circulate-interim.js";
import {
  type CirculateOptions,
  type Read,
  type RequiredConfidence,
  readConfidence,
  readInput,
} from "./circulate-options.js";

/** The time to go by. */
export interface QuotedTime {
  readonly minutes: number;
  readonly passes: number;
  /** Probability of being at the target then; absent for the time by the stated values alone. */
  readonly confidence?: number;
}

/** Everything that one call answers. */
export type CirculationAnswer = ReturnType<typeof answerCirculate>;

/** Reads the options and works out everything they ask for. */
export function answerCirculate(options: CirculateOptions) {
  const read = readInput(options);
  const input = read.value;
  const plan = planCirculation(input);
  const required = readConfidence(options);
  const sure = required && confidenceOfPlan(input, required.value);
  const quoted = quote(plan, required?.value.confidence, sure);
  const interim = askInterim(options, input, plan, required);
  const remedies = plan.reachable ? undefined : remediesFor(input);
  const drawnMinutes = interim?.drawnMinutes ?? [];
  const finish = finishMinutes(quoted, interim?.value, drawnMinutes);
  const running = finish ?? quoted?.minutes;
  // The fluid warms for as long as the steps say.
  const heat =
    options.heat === undefined || running === undefined
      ? undefined
      : heatFrom(options.heat, input, minutesUp(running));
  const indicator = options.indicator === undefined ? undefined : indicatorFrom(options.indicator, input);
  const loading =
    options.element === undefined || quoted === undefined
      ? undefined
      : loadingFrom(options.element, input, quoted.passes);
  const after =
    options.after === undefined
      ? undefined
      : expectAfter(input, readQuantityOption("--after", options.after, "time").value);
  const withinMinutes =
    options.within === undefined ? undefined : readQuantityOption("--within", options.within, "time").value;
  const atEnd = quoted && expectAfter(input, quoted.minutes);
  const interimMinutes =
    finish === undefined ? undefined : nextInterim(plan, finish, interim, drawnMinutes, required);
  return {
    plan,
    bracket: bracketOf(input),
    rules: rulesOfThumb(plan),
    floor: circulationFloor(input),
    required: required?.value,
    sure,
    quoted,
    interim: interim?.value,
    remedies,
    heat: heat?.value,
    indicator: indicator?.value,
    loading,
    after,
    within:
      withinMinutes === undefined
        ? undefined
        : { minutes: withinMinutes, flow: flowNeeded(input, withinMinutes) },
    atEnd,
    rebound:
      quoted && plan.mixing.kind === "two-zone"
        ? plan.channels.map((channel) => reboundOf(plan, channel, quoted.minutes))
        : undefined,
    interimMinutes,
    steps:
      finish === undefined
        ? undefined
        : circulationSteps({
            plan,
            minutes: finish,
            ...(interimMinutes !== undefined && { interimMinutes }),
            ...(heat && { heat: heat.value }),
          }),
    allWell:
      plan.reachable &&
      quoted !== undefined &&
      heat?.value.kind !== "refused" &&
      (interim === undefined || ["as-rated", "cannot-tell-yet"].includes(interim.value.diagnosis)),
    assumptions: joinAssumptions(
      read.assumptions,
      plan.assumptions,
      required?.assumptions ?? [],
      sure?.assumptions ?? [],
      interim?.assumptions ?? [],
      heat?.assumptions ?? [],
      indicator?.assumptions ?? [],
      loading?.assumptions ?? [],
      after?.assumptions ?? [],
    ),
  };
}

function confidenceOfPlan(input: CirculationInput, required: RequiredConfidence): PlanConfidence {
  return planConfidence(input, required.uncertainty, seededRandom(required.seed), {
    draws: required.draws,
    probabilities: [...new Set([...QUOTED_PROBABILITIES, required.confidence])].sort((a, b) => a - b),
  });
}

/** The time for the confidence where one was asked for, else the time by the stated values; undefined when there is none. */
function quote(
  plan: CirculationPlan,
  confidence: number | undefined,
  sure: PlanConfidence | undefined,
): QuotedTime | undefined {
  if (sure === undefined || confidence === undefined) {
    return plan.reachable ? { minutes: plan.minutes, passes: plan.passes } : undefined;
  }
  const found = sure.minutesFor.find((entry) => entry.probability === confidence);
  return found?.kind === "minutes" ? { minutes: found.minutes, passes: found.passes, confidence } : undefined;
}

function askInterim(
  options: CirculateOptions,
  input: CirculationInput,
  plan: CirculationPlan,
  required: Read<RequiredConfidence> | undefined,
): (Read<InterimAssessment> & { readonly drawnMinutes: readonly number[] }) | undefined {
  if (options.interim === undefined || options.interim.length === 0) {
    if (options.counted === undefined || options.uncertainty !== undefined) return undefined;
    throw new UsageError("--counted: it goes with --interim or --uncertainty only");
  }
  const read = readInterim(options);
  const laboratory = required?.value.uncertainty.laboratory ?? 0;
  const assessment = assessInterim({
    plan,
    laboratory,
    samples: [
      {
        minutes: 0,
        countedMl: read.value[0]?.countedMl as number,
        counts: input.start.counts.map(({ sizeUm, count }) => ({
          sizeUmC: sizeUm,
          // A code gives no counts, only what they are not above.
          perMl: {
            value: count / input.start.volumeMl,
            ...(options.start.includes("/") && { limit: "below" as const }),
          },
        })),
      },
      ...read.value,
    ],
  });
  return {
    value: assessment,
    drawnMinutes: read.value.map((sample) => sample.minutes),
    assumptions: joinAssumptions(
      read.assumptions,
      assessment.assumptions,
      laboratory > 0
        ? []
        : [
            {
              code: "interim-counting-only",
              message:
                "the intervals of the interim samples hold chance in counting only; give lab= in --uncertainty to let the laboratory's reproducibility widen them",
              source: "ISO-TS-19036",
            },
          ],
    ),
  };
}

/** Minutes to the verifying sample: by the interim samples once they tell, at the far end of their interval. */
function finishMinutes(
  quoted: QuotedTime | undefined,
  interim: InterimAssessment | undefined,
  drawnMinutes: readonly number[],
): number | undefined {
  if (interim === undefined || interim.diagnosis === "cannot-tell-yet") return quoted?.minutes;
  if (interim.diagnosis === "not-falling") return undefined;
  if (interim.remaining.kind === "not-reached") {
    // Working as rated, yet the best guess of the floor lies above the limit: too early to leave the plan.
    return interim.diagnosis === "as-rated" ? quoted?.minutes : undefined;
  }
  return Math.max(...drawnMinutes) + (interim.remaining.high ?? interim.remaining.estimate);
}

/** When to draw the next interim sample; none once the samples tell, or when it would come after the last one. */
function nextInterim(
  plan: CirculationPlan,
  untilMinutes: number,
  interim: Read<InterimAssessment> | undefined,
  drawnMinutes: readonly number[],
  required: Read<RequiredConfidence> | undefined,
): number | undefined {
  if (interim !== undefined && interim.value.diagnosis !== "cannot-tell-yet") return undefined;
  if (!(untilMinutes > Math.max(0, ...drawnMinutes))) return undefined;
  return mostInformativeMinutes({
    plan,
    untilMinutes,
    drawnMinutes,
    countedMl: required?.value.uncertainty.countedMl ?? TYPICAL_UNCERTAINTY.countedMl,
    laboratory: required?.value.uncertainty.laboratory ?? TYPICAL_UNCERTAINTY.laboratory,
  });
}
