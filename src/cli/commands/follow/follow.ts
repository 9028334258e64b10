import { basename } from "node:path";
import { verdictWithRun } from "../../../fitness/index.js";
import {
  elementLife,
  type FollowedSample,
  followedSample,
  type OnlineAnswer,
  type OnlineEvent,
  OnlineStream,
} from "../../../online/index.js";
import { answerOf, type NamedAnswer } from "../../answer.js";
import { type ExitCode, type Io, UsageError } from "../../io.js";
import { mustBeOther } from "../../whole-file.js";
import type { FollowOptions } from "./asked.js";
import {
  describeBeginning,
  describeChart,
  describeEnd,
  describeEvent,
  describeLog,
  describeSetAside,
} from "./follow-text.js";
import { openKept } from "./kept-lines.js";
import { type Log, readLog } from "./log.js";
import { type Beginning, readBeginning } from "./settings.js";

/** Follows a counter in the line, and says after each minute what to go by. */
export async function runFollow(files: readonly string[], options: FollowOptions, io: Io): Promise<ExitCode> {
  const { keep, log: path, map, json, book, carts, requirement } = options;
  const beginning = await readBeginning(files, options);
  const { settings, ofCart, element } = beginning;
  if (map !== undefined && path === undefined) throw new UsageError("--map: it goes with --log only");
  const log = path === undefined ? undefined : await readLog(path, map);
  const stream = new OnlineStream(settings);
  if (keep !== undefined && log?.kind === "table")
    throw new UsageError("--keep: it goes with lines, and the log is a table");
  if (keep !== undefined) mustBeOther("--keep", keep, [path, book, carts, requirement, ...files]);
  const kept = keep === undefined ? undefined : openKept(keep);
  const lines = linesOf(log, io);
  const answers: OnlineAnswer[] = [];
  // With those of before a restart, which are not shown again.
  const all: OnlineAnswer[] = [];
  const say = (answer: NamedAnswer, inWords: () => string) =>
    json ? io.document(asLine(answer)) : io.out(inWords());
  const print = (events: readonly OnlineEvent[]) => {
    for (const event of events) {
      if (event.kind === "answer") {
        answers.push(event.answer);
        all.push(event.answer);
      }
      say(answerOf("follow", event), () => describeEvent(event, settings.confidence));
    }
    if (!json && events.length > 0) io.redraw?.(describeChart(answers));
  };
  say(answerOf("follow", asJson(beginning)), () => describeBeginning(beginning));
  if (log?.kind === "table") {
    const { rows, ...read } = log.log;
    say(answerOf("follow", { kind: "log" as const, ...read }), () => describeLog(log.log));
  }
  let setAside = 0;
  for (const row of log?.kind === "table" ? log.log.rows : []) {
    if (row.kind === "readings") print(stream.takeReadings(row.readings));
    else {
      setAside += 1;
      const { issue } = row;
      say(answerOf("follow", { kind: "row-set-aside" as const, issue }), () => describeSetAside(issue));
    }
  }
  // What came before a restart is taken first, and is seen only in what follows.
  for (const { line, at } of kept?.lines ?? []) {
    for (const event of stream.take(line, at, false)) if (event.kind === "answer") all.push(event.answer);
  }
  for await (const line of lines) {
    const now = { line, at: Date.now() };
    kept?.add(now);
    print(stream.take(now.line, now.at));
  }
  print(stream.end());
  // The last chart stays.
  if (!json && io.redraw !== undefined) io.out(describeChart(answers));
  const unused = { ...stream.unused, ...(log?.kind === "table" && { setAside }) };
  const life =
    element &&
    elementLife(
      all.map(({ minute }) => minute),
      element,
    );
  const withRun =
    beginning.input && verdictWithRun(beginning.input, sampleOf(all, beginning, log && options.log));
  const end = { kind: "end" as const, ...(life && { element: life }), ...(withRun && { withRun }), unused };
  say(answerOf("follow", end), () => describeEnd(unused, answers.length === 0, life, withRun));
  const isClean = answers.at(-1)?.state === "clean";
  const isAll = unused.notRead + setAside === 0 && (ofCart?.besides ?? []).length === 0;
  return isClean && isAll ? 0 : 1;
}

/** The sample that the run ends with, by the local day of this machine. */
function sampleOf(
  answers: readonly OnlineAnswer[],
  { settings, input, calibrationDueOn }: Beginning,
  log: string | undefined,
): FollowedSample {
  const last = answers.at(-1)?.minute.minute ?? 0;
  return followedSample(answers, settings, {
    cart: input?.cart ?? "",
    circuit: input?.circuit.circuit ?? "",
    ...(log !== undefined && { file: basename(log) }),
    aheadOfUtcMin: -new Date(60_000 * last).getTimezoneOffset(),
    ...(calibrationDueOn !== undefined && { calibrationDueOn }),
  });
}

function asJson({ settings: { circuit, ...settings }, target, ofCart, assumptions }: Beginning) {
  return {
    kind: "settings" as const,
    target,
    ...settings,
    ...(circuit && { port: circuit.port }),
    ...(ofCart && { ofCart }),
    assumptions,
  };
}

function linesOf(log: Log | undefined, io: Io): AsyncIterable<string> | Iterable<string> {
  if (log !== undefined) return log.kind === "lines" ? log.lines : [];
  if (io.input === undefined) throw new UsageError("--log: expected a file, or lines on the standard input");
  return io.input();
}

/** A document of a stream of them. */
function asLine(document: NamedAnswer): string {
  return `${JSON.stringify(document)}\n`;
}
