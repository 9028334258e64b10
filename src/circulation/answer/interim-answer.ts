import type { Acceptance } from "../../cleanliness/index.js";
import { CountError, cumulativeCounts } from "../../counts/index.js";
import { type Assumption, frozen, joinAssumptions } from "../../provenance/index.js";
import { TYPICAL_UNCERTAINTY } from "../confidence/uncertainty.js";
import { acceptedLevels } from "../go-by/accepted-level.js";
import type { RequiredConfidence } from "../go-by/customary.js";
import { assessInterim, type InterimAssessment, type InterimSample } from "../interim/interim.js";
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

/** Assesses the samples with the start of the circulation as the first of them, until a verifying bottle is accepted. */
export function answerInterim(
  { samples, countedMl }: InterimQuestion,
  plan: CirculationPlan,
  { counts: start, lowerEdges }: Pick<CirculationStart, "counts" | "lowerEdges">,
  required: RequiredConfidence,
  acceptance?: Acceptance,
  /** Times as many particles as were counted that a count stands for, by size; 1 unless it was converted. */
  times: (sizeUmC: number) => number = () => 1,
): InterimAnswer {
  const counted = countedMl ?? USUAL_COUNTED_ML;
  const laboratory = required.uncertainty.laboratory ?? TYPICAL_UNCERTAINTY.laboratory;
  const bottle = {
    countedMl: acceptance?.countedMl ?? required.uncertainty.countedMl ?? TYPICAL_UNCERTAINTY.countedMl,
    laboratory,
  };
  const atStart = start.counts.map(({ sizeUm, count }) => {
    const edge = lowerEdges?.find((entry) => entry.sizeUm === sizeUm);
    return {
      sizeUmC: sizeUm,
      perMl: { value: count / start.volumeMl },
      ...(edge && { moreThanPerMl: edge.moreThanPerMl }),
    };
  });
  const assessment = assessInterim({
    plan,
    laboratory,
    aims: acceptedLevels(plan, bottle, required.confidence, acceptance),
    samples: [{ minutes: 0, counts: atStart }, ...samples].map((sample) => ({
      ...sample,
      counts: sample.counts.map((entry) => ({ ...entry, countedMl: counted / times(entry.sizeUmC) })),
      countedMl: counted,
    })),
  });
  return {
    assessment,
    drawnMinutes: samples.map(({ minutes }) => minutes),
    assumptions: joinAssumptions(countedMl === undefined ? [COUNTED] : [], assessment.assumptions),
  };
}

const COUNTED: Assumption = frozen({
  code: "counted-volume",
  message: `${USUAL_COUNTED_ML} mL were taken as counted in each sample, the least of one method; the intervals rest on it`,
  source: "FED-STD-791D",
});

/**
 * Counts of particles larger than each size can only fall with it; limit values and the intervals of a class say nothing of that.
 *
 * @param samples - as they were counted, before any conversion to another port
 * @throws RangeError naming the sample and the two sizes
 */
export function mustFallWithSize(samples: InterimQuestion["samples"]): void {
  for (const { minutes, counts } of samples) {
    const exact = counts.filter(
      (entry) => entry.perMl.limit === undefined && entry.moreThanPerMl === undefined,
    );
    if (exact.length === 0) continue;
    try {
      cumulativeCounts(
        exact.map(({ sizeUmC, perMl }) => ({ sizeUm: sizeUmC, count: perMl.value })),
        1,
      );
    } catch (error) {
      if (!(error instanceof CountError)) throw error;
      throw new RangeError(`the sample drawn after ${minutes} min, in particles per mL: ${error.message}`);
    }
  }
}

/** Whether the samples, if there are any, let the circulation go on as planned. */
export function letsGoOn(interim: InterimAnswer | undefined): boolean {
  if (interim === undefined) return true;
  const { diagnosis, slowerSoFar } = interim.assessment;
  return diagnosis === "as-rated" || (diagnosis === "cannot-tell-yet" && !slowerSoFar);
}
