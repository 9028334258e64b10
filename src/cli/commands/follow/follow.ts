import { readFileSync } from "node:fs";
import { type OnlineEvent, OnlineStream } from "../../../online/index.js";
import { type ExitCode, type Io, UsageError } from "../../io.js";
import { describeWhy, mustBeOther } from "../../whole-file.js";
import { describeBeginning, describeEnd, describeEvent } from "./follow-text.js";
import { openKept } from "./kept-lines.js";
import { readBeginning } from "./settings.js";

/** Options of `siltbook follow`. */
export interface FollowOptions {
  readonly target?: string;
  readonly book?: string;
  readonly carts?: string;
  readonly requirement?: string;
  readonly cart?: string;
  readonly circuit?: string;
  readonly port?: string;
  readonly on?: string;
  readonly log?: string;
  readonly keep?: string;
  readonly confidence?: string;
  readonly counted?: string;
  readonly repeatability?: string;
  readonly bias?: string;
  readonly json?: boolean;
}

/** Follows a counter in the line, and says after each minute what to go by. */
export async function runFollow(files: readonly string[], options: FollowOptions, io: Io): Promise<ExitCode> {
  const { keep, log, json, book, carts, requirement } = options;
  const beginning = await readBeginning(files, options);
  const { settings, assumptions, target, ofCart } = beginning;
  const stream = new OnlineStream(settings);
  if (keep !== undefined) mustBeOther("--keep", keep, [log, book, carts, requirement, ...files]);
  const kept = keep === undefined ? undefined : openKept(keep);
  const lines = linesOf(options, io);
  let last: OnlineEvent | undefined;
  const print = (events: readonly OnlineEvent[]) => {
    for (const event of events) {
      if (event.kind === "answer") last = event;
      io.out(json ? asLine(event) : describeEvent(event, settings.confidence));
    }
  };
  io.out(
    json
      ? asLine({ kind: "settings", target, ...settings, ...(ofCart && { ofCart }), assumptions })
      : describeBeginning(beginning),
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
  const isAll = stream.unused.notRead === 0 && (ofCart?.besides ?? []).length === 0;
  return isClean && isAll ? 0 : 1;
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
