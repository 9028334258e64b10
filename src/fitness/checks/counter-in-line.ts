import { formatCountFrom, WATCHED_FROM_C } from "../../circulation/index.js";
import { limitsOfTarget } from "../../cleanliness/index.js";
import { STATED_FLOW_SHARE, USUAL_COUNTER } from "../../online/index.js";
import type { Assumption } from "../../provenance/index.js";
import {
  type Circuit,
  type CounterRun,
  circulates,
  isCounterRun,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import { inFourDigits } from "../../units/index.js";
import type { CaseOnDay } from "../case.js";
import { changeAfter } from "../evidence/evidence.js";
import { requirementOf } from "../evidence/requirement-of.js";
import { ageMaxOf } from "../evidence/results.js";
import type { JudgingDay } from "../judging-day.js";
import { checkDrawn } from "./drawing.js";
import { checkParticles } from "./particles.js";
import { describeUnusual, type UnusualCounts, unusualAmong } from "./usual-counts.js";

/** A sample that was counted in the line. */
type Run = Sample & { readonly counterRun: CounterRun };

/** The samples that a verdict takes, with what is to be said of those that it does not. */
export interface TakenSamples {
  readonly bottles: readonly Sample[];
  /** Bottles, and the runs of a counter in the line that show particles. */
  readonly taken: readonly Sample[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Sets aside the runs of a counter in the line that show nothing for a verdict, and names them.
 *
 * A run is taken for particles where the requirement has a field for it, upstream of the elements, where it showed the circuit
 * clean in warm flowing fluid for as long as is asked, with no better precision than the document gives it. A run that counted
 * more than is allowed is taken whatever else it lacks: it speaks against the fluid. Either needs a bottle of the fluid that is
 * in the circuit now, which says what the counter does not see. A run that is set aside leaves the verdict to the bottles.
 */
export function takenSamples({
  circuit,
  requirement,
  samples,
  day,
}: Pick<CaseOnDay, "circuit" | "requirement" | "samples" | "day">): TakenSamples {
  const runs = samples.filter(isCounterRun);
  if (runs.length === 0) return { bottles: samples, taken: samples, assumptions: [] };
  const bottles = samples.filter((sample) => !isCounterRun(sample));
  const why = new Map<Sample, string>();
  for (const run of runs) {
    const lacks = requirement === undefined ? NO_FIELD : whyNot(run, circuit, requirement, bottles, day);
    if (lacks !== undefined) why.set(run, lacks);
  }
  return {
    bottles,
    taken: samples.filter((sample) => !why.has(sample)),
    assumptions: runs.map((run): Assumption => {
      const lacks = why.get(run);
      return lacks === undefined
        ? {
            code: "counter-in-line-taken",
            message: `sample "${run.sample}" was counted in the line: ${TAKEN}`,
          }
        : {
            code: "counter-in-line-set-aside",
            message: `sample "${run.sample}" was counted in the line and set aside: ${lacks}`,
          };
    }),
  };
}

const NO_FIELD = "the requirement has no counterInLine, so particles are shown by bottles only";
const TAKEN = "as the requirement allows, for particles only; water, acid and all else are those of bottles";

/** Why a run shows nothing for a verdict; undefined where it is taken. */
function whyNot(
  run: Run,
  circuit: Circuit,
  requirement: Requirement,
  bottles: readonly Sample[],
  day: JudgingDay,
): string | undefined {
  const { counterInLine } = requirement;
  if (counterInLine === undefined) return NO_FIELD;
  if (bottles.every((bottle) => changeAfter(circuit, bottle) !== undefined))
    return "there is no bottle of the fluid that is in the circuit now";
  const own = requirementOf(requirement, run);
  const shown = checkParticles(circuit, own, run);
  if (shown.assessed?.some(({ outcome }) => outcome === "outside")) return undefined;
  const unusual = unusualAmong([...bottles, run], circuit).get(run);
  const [lack] = [
    ...lacksOf(run, circuit, { requirement, own, asked: counterInLine, day }),
    ...(unusual === undefined ? [] : [describeUnlike(unusual)]),
    ...[...shown.reasons, ...checkDrawn(circuit, own, run, true).reasons].flatMap(({ callsFor, message }) =>
      callsFor === "fit" ? [] : [message],
    ),
  ];
  return lack;
}

function describeUnlike(unusual: UnusualCounts): string {
  const remedy = unusual.side === "fewer" ? "; if circulating did that, enter it with its minutes" : "";
  return `it shows ${describeUnusual(unusual)}${remedy}`;
}

/** What a run lacks to show the circuit clean, the gravest first. */
function lacksOf(
  { counterRun, samplePoint, drawnOn }: Run,
  circuit: Circuit,
  {
    requirement,
    own,
    asked,
    day,
  }: {
    readonly requirement: Requirement;
    /** What the requirement asks of this run. */
    readonly own: Requirement;
    readonly asked: NonNullable<Requirement["counterInLine"]>;
    readonly day: JudgingDay;
  },
): string[] {
  const { isClean, minutes, lowestTemperatureC, lowestFlowLpm, highestFlowLpm } = counterRun;
  const confidence = requirement.confidence?.probability ?? USUAL_COUNTER.confidence;
  const oldest = ageMaxOf("particles", own);
  const lacks: [boolean, string][] = [
    [
      samplePoint === "upstream-of-element" || samplePoint === "main-flow-line",
      "it was not counted upstream of the elements or in the return, so it does not show what the circuit holds",
    ],
    [isClean, "it did not show the circuit to be clean"],
    [minutes >= asked.minutesMin, `it was clean for ${minutes} minutes; ${asked.minutesMin} are required`],
    [
      lowestTemperatureC >= WATCHED_FROM_C,
      `the fluid was at ${inFourDigits(lowestTemperatureC)} °C; minutes count from ${formatCountFrom(WATCHED_FROM_C)}`,
    ],
    [day.isWithin(drawnOn, oldest), `it is of ${drawnOn}; it may be at most ${oldest} days old`],
    [
      counterRun.confidence >= confidence,
      `it was followed with ${counterRun.confidence} confidence; ${confidence} is required`,
    ],
    [
      counterRun.repeatability >= asked.repeatability && counterRun.bias >= asked.bias,
      `it was followed as if the counter were better than the requirement has it: scatter ${counterRun.repeatability}, lasting error ${counterRun.bias}; ${asked.repeatability} and ${asked.bias} are required`,
    ],
    [
      coversAll(counterRun, requirement),
      "it was followed towards other limits than those of the requirement",
    ],
  ];
  if (!circulates(circuit)) lacks.push([false, "the circuit does not circulate by itself"]);
  else {
    const { flowLpm } = circuit;
    // A flow further off is that of another circuit, or of a pump that fails.
    const isOwn =
      lowestFlowLpm >= STATED_FLOW_SHARE * flowLpm && highestFlowLpm <= flowLpm / STATED_FLOW_SHARE;
    lacks.push([
      isOwn,
      `its flow was ${inFourDigits(lowestFlowLpm)} to ${inFourDigits(highestFlowLpm)} L/min, and the circuit is stated to have ${inFourDigits(flowLpm)}: is it the log of this circuit?`,
    ]);
  }
  return lacks.flatMap(([holds, lack]) => (holds ? [] : [lack]));
}

/** Whether each limit of the requirement was followed, or a lower one. */
function coversAll({ limits }: CounterRun, { cleanliness }: Requirement): boolean {
  return cleanliness
    .flatMap(limitsOfTarget)
    .every(({ fromUm, toUm, limit, volumeMl }) =>
      limits.some((one) => one.fromUm === fromUm && one.toUm === toUm && one.perMl <= limit / volumeMl),
    );
}
