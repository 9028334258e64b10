import { assessTarget, classifyAll, confidenceOfClasses } from "../../../cleanliness/index.js";
import { DEFERENCE, joinAssumptions } from "../../../provenance/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson } from "../../io.js";
import { describeAssumptions, describeCautions, describeMore } from "../../text.js";
import { certaintyAsJson, fullClassesAsJson, targetAsJson } from "./classify-json.js";
import { type ClassifyOptions, readClassifyOptions } from "./classify-options.js";
import {
  describeCertainty,
  describeNewFluid,
  describeTargetInBrief,
  describeTargetOutcome,
  describeUnserved,
  formatClasses,
  formatClassesInBrief,
} from "./classify-words.js";

export { classesAsJson } from "./classify-json.js";
export type { ClassifyOptions } from "./classify-options.js";

/** Prints the classes of one set of counts. */
export function runClassify(options: ClassifyOptions, io: Io): ExitCode {
  const request = readClassifyOptions(options);
  const { sample } = request;
  const blank = options.blank === undefined ? null : { shares: sample.blankShares };
  if (sample.kind === "unusable") {
    if (options.json) {
      printJson(
        io,
        answerOf("classify", {
          ...NOTHING,
          blank: { usable: false, why: sample.why, ...blank },
          assumptions: request.assumptions,
        }),
      );
    } else io.out(`The sample is unusable: ${sample.why}. No class is made from it.\n`);
    return 1;
  }
  const { counts } = sample;
  const classes = classifyAll(counts, request.limits);
  const { limits, reproducibility, target } = request;
  const certainty = confidenceOfClasses(counts, classes, limits, reproducibility);
  const assessment = target && assessTarget(counts, target, reproducibility);
  const assumptions = joinAssumptions(request.assumptions, classes.assumptions);
  if (options.json) {
    printJson(
      io,
      answerOf("classify", {
        ...fullClassesAsJson(classes),
        certainty: certainty === undefined ? null : certaintyAsJson(certainty),
        target: target && assessment ? targetAsJson(target, assessment) : null,
        blank: blank && { usable: true, ...blank },
        assumptions,
      }),
    );
  } else if (!options.explain) {
    const unserved = classes.unserved.map(({ standard }) => standard).join(", ");
    io.out(
      formatClassesInBrief(counts, classes) +
        (target && assessment ? describeTargetInBrief(counts, target, assessment) : "") +
        (unserved === "" ? "" : `Sizes missing for: ${unserved}.\n`) +
        describeMore("every channel, confidence, limits of new fluid", assumptions),
    );
  } else {
    io.out(
      formatClasses(counts, classes) +
        describeUnserved(counts, classes) +
        (target && assessment ? describeTargetOutcome(counts, target, assessment) : "") +
        (certainty === undefined ? "" : describeCertainty(certainty)) +
        describeNewFluid(classes) +
        // The sizes a standard lacks are said above.
        describeAssumptions(assumptions.filter(({ code }) => code !== "sizes-cannot-serve")) +
        describeCautions([DEFERENCE]),
    );
  }
  return assessment === undefined || assessment.outcome === "inside" ? 0 : 1;
}

const NOTHING = {
  iso4406: null,
  as4059: { cumulative: null, differential: null },
  nas1638: null,
  navy: null,
  gost17216: null,
  milStd1246: null,
  newFluid: [],
  unserved: [],
  certainty: null,
  target: null,
};
