import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { answerTo } from "./answer-to.js";
import type { CirculateOptions } from "./asked.js";
import { circulationAsJson } from "./circulate-json.js";
import { readQuestion } from "./circulate-options.js";
import { describeCirculation, describeCirculationInBrief } from "./circulate-text.js";

/** Prints how long to self-circulate, with what confidence, and how to go about it. */
export async function runCirculate(
  files: readonly string[],
  options: CirculateOptions,
  io: Io,
): Promise<ExitCode> {
  if (options.book !== undefined || options.carts !== undefined) {
    return (await import("./circulate-of-cart.js")).runOfCart(files, options, io);
  }
  if (files.length > 0) throw new UsageError("laboratory files go with --carts and --requirement");
  for (const name of ["cart", "circuit", "sheet"] as const) {
    if (options[name] !== undefined) throw new UsageError(`--${name}: it goes with --book or --carts only`);
  }
  const answer = answerTo(readQuestion(options));
  if (options.json) printJson(io, answerOf("circulate", circulationAsJson(answer)));
  else io.out(options.explain ? describeCirculation(answer) : describeCirculationInBrief(answer));
  return answer.allWell ? 0 : 1;
}
