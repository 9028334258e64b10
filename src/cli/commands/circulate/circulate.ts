import { answerCirculation } from "../../../circulation/index.js";
import { joinAssumptions } from "../../../provenance/index.js";
import { type ExitCode, type Io, printJson } from "../../io.js";
import { circulationAsJson } from "./circulate-json.js";
import { type CirculateOptions, readQuestion } from "./circulate-options.js";
import { describeCirculation, describeCirculationInBrief } from "./circulate-text.js";

/** Prints how long to self-circulate, with what confidence, and how to go about it. */
export function runCirculate(options: CirculateOptions, io: Io): ExitCode {
  const question = readQuestion(options);
  const found = answerCirculation(question.value);
  const answer = { ...found, assumptions: joinAssumptions(question.assumptions, found.assumptions) };
  if (options.json) printJson(io, circulationAsJson(answer));
  else io.out(options.explain ? describeCirculation(answer) : describeCirculationInBrief(answer));
  return answer.allWell ? 0 : 1;
}
