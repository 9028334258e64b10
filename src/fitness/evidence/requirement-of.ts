import { COUNTED_MINUTES, type Requirement, type Sample } from "../../samples/index.js";
import { ageMaxOf } from "./results.js";

/** What a requirement asks of one sample: of a run of a counter in the line with the precision and the age of its own. */
export function requirementOf(requirement: Requirement, { counterRun }: Sample): Requirement {
  const { counterInLine, confidence, sampling } = requirement;
  if (counterRun === undefined || counterInLine === undefined) return requirement;
  const { repeatability, bias, ageDaysMax } = counterInLine;
  const rsd = Math.hypot(bias, repeatability / Math.sqrt(Math.min(counterRun.minutes, COUNTED_MINUTES)));
  // There is no bottle to have a blank or a label, and each minute is a count of its own.
  const { blank: _blank, replicatesMin: _replicates, labelled: _labelled, ...others } = sampling ?? {};
  return {
    ...requirement,
    sampling: others,
    resultAgeDaysMax: {
      ...requirement.resultAgeDaysMax,
      particles: Math.min(ageDaysMax, ageMaxOf("particles", requirement)),
    },
    ...(confidence && {
      confidence: { ...confidence, counts: { reproducibility: { kind: "relative", rsd } } },
    }),
  };
}
