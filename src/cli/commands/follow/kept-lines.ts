import { appendFileSync, existsSync, readFileSync, truncateSync } from "node:fs";
import { shown } from "../../../provenance/index.js";
import { UsageError } from "../../io.js";
import { describeWhy } from "../../whole-file.js";

/** A line of an instrument, and when it came. */
export interface KeptLine {
  /** Milliseconds since 1970; a line may give its own moment as a number of seconds before it. */
  readonly at: number;
  readonly line: string;
}

const KEPT = /^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)\t(.*)$/;

/**
 * The lines that a file has kept, and how to add one.
 *
 * @throws UsageError naming the line, when the file holds anything else: nothing is added to a file of another kind
 */
export function openKept(path: string): {
  readonly lines: readonly KeptLine[];
  readonly add: (kept: KeptLine) => void;
} {
  const text = reading(path, () => (existsSync(path) ? readFileSync(path, "utf8") : ""));
  const written = text.split("\n");
  // A program that was stopped may have left half a line at the end, which it had not taken.
  const half = written.pop() ?? "";
  const lines = written.map((one, index): KeptLine => {
    const [, at, line] = KEPT.exec(one) ?? [];
    if (at === undefined || line === undefined) throw new UsageError(refusal(path, index + 1, one));
    return { at: Date.parse(at), line };
  });
  if (half !== "") {
    if (lines.length === 0) throw new UsageError(refusal(path, 1, half));
    reading(path, () => truncateSync(path, Buffer.byteLength(text) - Buffer.byteLength(half)));
  }
  const add = ({ at, line }: KeptLine) =>
    reading(path, () => appendFileSync(path, `${new Date(at).toISOString()}\t${line}\n`));
  return { lines, add };
}

function refusal(path: string, line: number, found: string): string {
  return `--keep: ${path} line ${line}: expected a moment and a line, as this command keeps them, found "${shown(found)}"; name another file`;
}

function reading<T>(path: string, act: () => T): T {
  try {
    return act();
  } catch (error) {
    throw new UsageError(`--keep: ${path} cannot be used: ${describeWhy(error as NodeJS.ErrnoException)}`, {
      cause: error,
    });
  }
}
