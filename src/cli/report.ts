import { writeFile } from "node:fs/promises";
import { renderReport } from "../report/index.js";
import { type ExitCode, type Io, printJson, UsageError } from "./io.js";
import { judgementAsJson } from "./judge-json.js";
import { sayJudgement } from "./judge-words.js";
import { exitCodeOf, type Judgement, type JudgeOptions, readAndJudge } from "./judgement.js";

/** Options of `siltbook report`. */
export interface ReportOptions extends JudgeOptions {
  readonly out: string;
  readonly cart?: string;
}

/** Writes the report and prints what `judge` prints. */
export async function runReport(
  sampleFiles: readonly string[],
  options: ReportOptions,
  io: Io,
): Promise<ExitCode> {
  const judgement = onlyCart(await readAndJudge(sampleFiles, options), options.cart);
  const html = renderReport({ ...judgement, quarantine: judgement.collection.quarantine });
  try {
    await writeFile(options.out, html);
  } catch (error) {
    throw new UsageError(`--out: ${options.out} cannot be written: ${(error as Error).message}`, {
      cause: error,
    });
  }
  if (options.json) printJson(io, { ...judgementAsJson(judgement), out: options.out });
  else io.out(`${sayJudgement(judgement)}\nThe report is in ${options.out}\n`);
  return exitCodeOf(judgement);
}

/** Keeps the circuits of one cart. Rows in quarantine all stay: any of them may hold a result of this cart. */
function onlyCart(judgement: Judgement, cart: string | undefined): Judgement {
  if (cart === undefined) return judgement;
  const circuits = judgement.circuits.filter(({ verdict }) => verdict.cart === cart);
  if (circuits.length > 0) return { ...judgement, circuits };
  const known = [...new Set(judgement.circuits.map(({ verdict }) => verdict.cart))];
  throw new UsageError(`--cart: expected one of ${known.join(", ")}, found "${cart}"`);
}
