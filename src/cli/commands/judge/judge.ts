import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson } from "../../io.js";
import { describeJudgementInBrief } from "./judge-brief.js";
import { judgementAsJson } from "./judge-json.js";
import { describeJudgement } from "./judge-words.js";
import { exitCodeOf, type JudgeOptions, readAndJudge } from "./judgement.js";

/** Prints a verdict for every circuit of every cart. */
export async function runJudge(
  sampleFiles: readonly string[],
  options: JudgeOptions,
  io: Io,
): Promise<ExitCode> {
  const judgement = await readAndJudge(sampleFiles, options);
  if (options.json) printJson(io, answerOf("judge", judgementAsJson(judgement)));
  else io.out(options.explain ? describeJudgement(judgement) : describeJudgementInBrief(judgement));
  return exitCodeOf(judgement);
}
