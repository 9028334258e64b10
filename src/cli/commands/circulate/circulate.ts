import { type ExitCode, type Io, printJson } from "../../io.js";
import { answerCirculate } from "./circulate-answer.js";
import { circulationAsJson } from "./circulate-json.js";
import type { CirculateOptions } from "./circulate-options.js";
import { describeCirculation } from "./circulate-text.js";

/** Prints how long to self-circulate, how sure that is, and how to go about it. */
export function runCirculate(options: CirculateOptions, io: Io): ExitCode {
  const answer = answerCirculate(options);
  if (options.json) printJson(io, circulationAsJson(answer));
  else io.out(describeCirculation(answer));
  return answer.allWell ? 0 : 1;
}
