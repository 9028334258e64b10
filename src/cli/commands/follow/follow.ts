import { readFileSync } from "node:fs";
import { parseTarget } from "../../../cleanliness/index.js";
import {
  codeOfMinute,
  describeOnline,
  describeRemark,
  followingSettings,
  type OnlineEvent,
  OnlineStream,
} from "../../../online/index.js";
import { SHORT_DEFERENCE } from "../../../provenance/index.js";
import { answerOf, type NamedAnswer } from "../../answer.js";
import { readFraction, readQuantityOption } from "../../arguments.js";
import { type ExitCode, type Io, UsageError } from "../../io.js";
import { drawLines, drawList, formatHowMany } from "../../text.js";
import { describeWhy, mustBeOther } from "../../whole-file.js";
import { openKept } from "./kept-lines.js";

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
  const { keep, log, json } = options;
  const { settings, target, assumptions } = readSettings(options);
  const stream = new OnlineStream(settings);
  if (keep !== undefined) mustBeOther("--keep", keep, [log]);
  const kept = keep === undefined ? undefined : openKept(keep);
  const lines = linesOf(options, io);
  let last: OnlineEvent | undefined;
  const print = (events: readonly OnlineEvent[]) => {
    for (const event of events) {
      if (event.kind === "answer") last = event;
      io.out(json ? asLine(answerOf("follow", event)) : formatEvent(event, settings.confidence));
    }
  };
  io.out(
    json
      ? asLine(answerOf("follow", { kind: "settings" as const, target, ...settings, assumptions }))
      : drawLines([`Towards ${target}; times are UTC.`, ...assumptions.map(({ message }) => `${message}.`)]),
  );
  // What came before a restart is taken first, and is seen only in what follows.
  for (const { line, at } of kept?.lines ?? []) stream.take(line, at, false);
  for await (const line of lines) {
    const now = { line, at: Date.now() };
    kept?.add(now);
    print(stream.take(now.line, now.at));
  }
  print(stream.end());
  io.out(
    json
      ? asLine(answerOf("follow", { kind: "end" as const, unused: stream.unused }))
      : describeEnd(stream.unused, last === undefined),
  );
  const isClean = last?.kind === "answer" && last.answer.state === "clean";
  return isClean && stream.unused.notRead === 0 ? 0 : 1;
}

function readSettings({ target, confidence, counted, repeatability, bias }: FollowOptions) {
  return followingSettings(parseTarget(target), {
    ...(confidence !== undefined && { confidence: readFraction("--confidence", confidence) }),
    ...(counted !== undefined && {
      countedMlPerMin: 1000 * readQuantityOption("--counted", counted, "volume").value,
    }),
    ...(repeatability !== undefined && { repeatability: readFraction("--repeatability", repeatability) }),
    ...(bias !== undefined && { bias: readFraction("--bias", bias) }),
  });
}

function linesOf({ log }: FollowOptions, io: Io): AsyncIterable<string> | Iterable<string> {
  if (log !== undefined) {
    try {
      return readFileSync(log, "utf8").split("\n");
    } catch (error) {
      throw new UsageError(`--log: ${log} cannot be read: ${describeWhy(error as NodeJS.ErrnoException)}`);
    }
  }
  if (io.input === undefined) throw new UsageError("--log: expected a file, or lines on the standard input");
  return io.input();
}

/** A document of a stream of them. */
function asLine(document: NamedAnswer): string {
  return `${JSON.stringify(document)}\n`;
}

function formatEvent(event: OnlineEvent, confidence: number): string {
  if (event.kind === "not-read") {
    return drawLines([`line ${event.line}: expected ${event.expected}; found ${event.found}`]);
  }
  if (event.kind === "clock-set-back") {
    return drawLines([`the clock of the instrument was set back by ${event.minutes} minutes; begins again`]);
  }
  const { answer, outlook } = event;
  const time = new Date(answer.minute.minute * 60_000).toISOString().slice(11, 16);
  const code = answer.remarks.some((remark) => remark.code === "counts-break-a-rule")
    ? undefined
    : codeOfMinute(answer.minute);
  const lines = [describeOnline(answer, outlook, confidence), ...answer.remarks.map(describeRemark)];
  return drawList([[`${time}  ${code ?? "–"}`, lines]]);
}

function describeEnd({ repeated, late }: OnlineStream["unused"], isNothing: boolean): string {
  return drawLines([
    ...(isNothing ? ["No reading came."] : []),
    ...(repeated === 0 ? [] : [`Not used: ${formatHowMany(repeated, "line")} that came again.`]),
    ...(late === 0 ? [] : [`Not used: ${formatHowMany(late, "line")} that came after the minute was over.`]),
    SHORT_DEFERENCE,
  ]);
}
