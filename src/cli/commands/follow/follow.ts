import { appendFileSync, existsSync, readFileSync } from "node:fs";
import { limitsOfTarget, parseTarget } from "../../../cleanliness/index.js";
import {
  codeOfMinute,
  describeOnline,
  describeRemark,
  type OnlineEvent,
  OnlineStream,
} from "../../../online/index.js";
import { SHORT_DEFERENCE } from "../../../provenance/index.js";
import { readFraction, readQuantityOption } from "../../arguments.js";
import { type ExitCode, type Io, UsageError } from "../../io.js";

/** Options of `siltbook follow`. */
export interface FollowOptions {
  readonly target: string;
  readonly log?: string;
  readonly keep?: string;
  readonly confidence?: string;
  readonly counted?: string;
  readonly repeatability?: string;
  readonly bias?: string;
  readonly json?: boolean;
}

/** Follows a counter in the line, and says after each minute what to go by. */
export async function runFollow(options: FollowOptions, io: Io): Promise<ExitCode> {
  const confidence = readFraction("--confidence", options.confidence ?? "95 %");
  const stream = new OnlineStream({
    limits: limitsOfTarget(parseTarget(options.target)),
    confidence,
    countedMlPerMin: 1000 * readQuantityOption("--counted", options.counted ?? "10 mL", "volume").value,
    repeatability: readFraction("--repeatability", options.repeatability ?? "10 %"),
    bias: readFraction("--bias", options.bias ?? "20 %"),
  });
  let last: OnlineEvent | undefined;
  const print = (events: readonly OnlineEvent[]) => {
    for (const event of events) {
      if (event.kind === "answer") last = event;
      io.out(options.json ? `${JSON.stringify(event)}\n` : formatEvent(event, confidence));
    }
  };
  // What came before a restart is taken first, and said once more only in its result.
  for (const line of keptLines(options.keep)) stream.take(line, Date.now(), false);
  for await (const line of linesOf(options, io)) {
    if (options.keep !== undefined) appendFileSync(options.keep, `${line}\n`);
    print(stream.take(line, Date.now()));
  }
  print(stream.end());
  const { repeated, late, notRead } = stream.unused;
  if (!options.json) {
    if (last === undefined) io.out("No reading came.\n");
    if (repeated + late > 0) io.out(`Not used: ${repeated} lines that came again, ${late} that came late.\n`);
    io.out(`${SHORT_DEFERENCE}\n`);
  }
  return last?.kind === "answer" && last.answer.state === "clean" && notRead === 0 ? 0 : 1;
}

function keptLines(path: string | undefined): string[] {
  return path === undefined || !existsSync(path) ? [] : readFileSync(path, "utf8").split("\n");
}

function linesOf({ log }: FollowOptions, io: Io): AsyncIterable<string> | Iterable<string> {
  if (log !== undefined) {
    try {
      return readFileSync(log, "utf8").split("\n");
    } catch (error) {
      throw new UsageError(`--log: ${log} cannot be read: ${(error as Error).message}`);
    }
  }
  if (io.input === undefined) throw new UsageError("--log: expected a file, or lines on the standard input");
  return io.input();
}

function formatEvent(event: OnlineEvent, confidence: number): string {
  if (event.kind === "not-read")
    return `line ${event.line}: expected ${event.expected}; found ${event.found}\n`;
  if (event.kind === "clock-set-back") {
    return `the clock of the instrument was set back by ${event.minutes} minutes; begins again\n`;
  }
  const { answer, outlook } = event;
  const time = new Date(answer.minute.minute * 60_000).toISOString().slice(11, 16);
  const code = answer.remarks.some(({ code }) => code === "counts-break-a-rule")
    ? undefined
    : codeOfMinute(answer.minute);
  const head = `${time}  ${code ?? "–"}  ${describeOnline(answer, outlook, confidence)}\n`;
  return head + answer.remarks.map((remark) => `       ${describeRemark(remark)}\n`).join("");
}
