import { renderReport } from "../../../report/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson } from "../../io.js";
import { mustBeOther, writeWhole } from "../../whole-file.js";
import { describeFindings } from "../judge/judge-brief.js";
import { judgementAsJson } from "../judge/judge-json.js";
import { describeJudgement } from "../judge/judge-words.js";
import { exitCodeOf, type JudgeOptions, readAndJudge } from "../judge/judgement.js";

/** Options of `siltbook report`. */
export interface ReportOptions extends JudgeOptions {
  readonly out: string;
}

/** Writes the report and prints what `judge` prints. */
export async function runReport(
  sampleFiles: readonly string[],
  options: ReportOptions,
  io: Io,
): Promise<ExitCode> {
  const { out, book, carts, requirement, map } = options;
  mustBeOther("--out", out, [book, carts, requirement, map, ...sampleFiles]);
  const judgement = await readAndJudge(sampleFiles, options);
  const { quarantine, assumptions } = judgement.collection;
  const html = renderReport({ ...judgement, quarantine, assumptions });
  await writeWhole("--out", out, [html]);
  if (options.json) printJson(io, answerOf("report", { ...judgementAsJson(judgement), out }));
  else {
    const said = options.explain ? `${describeJudgement(judgement)}\n` : describeFindings(judgement);
    io.out(`${said}The report is in ${out}\n`);
  }
  return exitCodeOf(judgement);
}
