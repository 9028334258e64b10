import type { NamedAnswer } from "./answer.js";

/** What the command line is connected to. */
export interface Terminal {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Shows how far a long step has come, on a terminal; "" takes it away. Absent where nobody watches. */
  readonly progress?: (text: string) => void;
  /** Draws a block in the place of the one that was drawn last, below all that was printed. Absent where the output is no terminal. */
  readonly redraw?: (block: string) => void;
  /** Lines of the standard input, as they come. Absent when nothing is connected to it. */
  readonly input?: () => AsyncIterable<string>;
}

/** Where a command prints. */
export interface Io extends Terminal {
  /** Prints text for people: a line that is wider than a terminal is wrapped. */
  readonly out: (text: string) => void;
  /** Prints what a program reads, or what is shown as it is in a file: no line is changed. */
  readonly document: (text: string) => void;
}

/** 0: done; 1: done, and not all is well; 2: something could not be done. */
export type ExitCode = 0 | 1 | 2;

/** A command could not be done because of how it was called. */
export class UsageError extends Error {
  override readonly name = "UsageError";
}

/** What the option `--explain` does, in every command that has it. */
export const EXPLAIN = "all there is to say: every reason, assumption, source and caution";

/** Prints an answer as one JSON document. */
export function printJson(io: Io, answer: NamedAnswer): void {
  io.document(`${JSON.stringify(answer, null, 2)}\n`);
}
