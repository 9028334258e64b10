import type { Assumption } from "../../provenance/index.js";
import { isCounterRun, type Sample } from "../../samples/index.js";
import type { Finding } from "../assessed.js";
import type { CircuitCase } from "../case.js";
import { reason } from "../reasons.js";
import { describeUnusual, type UnusualCounts, unusualAmong } from "./usual-counts.js";

/**
 * Are the counts like those of this circuit? The order in which samples came in, and events that came later, do not matter.
 *
 * @returns what to say of each of the samples; the history is gone through once for all of them
 */
export function checkCountsAreUsual({
  circuit,
  samples,
}: Pick<CircuitCase, "circuit" | "samples">): (sample: Sample) => Finding {
  // A run of a counter in the line that is unlike the bottles was set aside before.
  const unusual = unusualAmong(
    samples.filter((one) => !isCounterRun(one)),
    circuit,
  );
  return (sample) => findingOn(sample, unusual.get(sample));
}

function findingOn(sample: Sample, found: UnusualCounts | undefined): Finding {
  if (found === undefined) return { reasons: [] };
  const message =
    `sample ${sample.sample} shows ${describeUnusual(found)}; per mL and per 100 mL are easily mistaken, and nothing that was ` +
    "entered explains it. Ask the laboratory; enter a change of fluid or element, or a circulation with its minutes, if there " +
    'was one; or write factor-of-100 into a column "quarantine accepted" of its row and read it again';
  return { reasons: [reason("counts-unlike-history", message)] };
}

/** What a person accepted of the bottles that a verdict rests on. */
export function acceptedFor(used: readonly Sample[]): Finding {
  const assumptions = used.flatMap(({ sample, acceptedChecks = [] }) =>
    acceptedChecks.map((code): Assumption => {
      return {
        code: "check-accepted",
        message: `a person accepted the check "${code}" for sample ${sample}`,
      };
    }),
  );
  return { reasons: [], assumptions };
}
