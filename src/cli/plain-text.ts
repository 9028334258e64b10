import { shown, visible } from "../provenance/index.js";
import type { Io, Terminal } from "./io.js";
import { fitToTerminal } from "./wrap.js";

/**
 * Characters that do something to a terminal instead of being seen: controls and marks that turn the direction of the
 * text. A line feed ends a line and a tab keeps columns apart; those stay.
 */
const NOT_SEEN = /[^\P{Cc}\n\t]|[\p{Cs}\u202a-\u202e\u2066-\u2069]/gu;

/**
 * A text from a file as it may go to a terminal. What would do something is written as `\u001b`, which in a JSON document
 * means the same as before.
 *
 * @example
 * asPlainText("C-1\u001b[2J"); // => "C-1\\u001b[2J"
 */
export function asPlainText(text: string): string {
  return text.replace(NOT_SEEN, (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`);
}

/** The same places to print to, for plain text only, and for people in lines that fit. */
export function plainIo({ out, err, progress, redraw, input }: Terminal): Io {
  return {
    out: (text) => out(fitToTerminal(asPlainText(text))),
    document: (text) => out(asPlainText(text)),
    err: (text) => err(asPlainText(text)),
    ...(progress && { progress: (text: string) => progress(asPlainText(text)) }),
    ...(redraw && { redraw: (block: string) => redraw(asPlainText(block)) }),
    ...(input && { input }),
  };
}

/** Longer errors are cut: a person reads the beginning. */
const MAX_ERROR = 2000;
/** Between the parts of an option that are read by themselves, and so quoted by themselves. */
const BETWEEN_PARTS = /[\s,;:=/\\]+/;

/**
 * An error as one line, in which what was typed is quoted as a piece and its length.
 *
 * @param typed - the words of the command
 */
export function asErrorLine(message: string, typed: readonly string[]): string {
  const parts = typed.flatMap((word) => [word, ...word.split(BETWEEN_PARTS)]);
  const long = parts.filter((part) => shown(part).length < part.length).sort((a, b) => b.length - a.length);
  const short = long.reduce((text, part) => text.replaceAll(part, () => shown(part)), message.trimEnd());
  const line = visible(short.replace(/\s*\n\s*/g, " "));
  return line.length > MAX_ERROR ? `${line.slice(0, MAX_ERROR)}… (${line.length} characters)\n` : `${line}\n`;
}

/** The same places to print to, with errors of one line. */
export function withShortErrors(io: Io, typed: readonly string[]): Io {
  const isError = (text: string) => /^(siltbook|error): /.test(text);
  return { ...io, err: (text) => io.err(isError(text) ? asErrorLine(text, typed) : text) };
}

/**
 * A word of a command that siltbook asks a person to type, in quotes where the shell would take it for something else.
 *
 * @example
 * asShellWord("march 1.csv"); // => "'march 1.csv'"
 */
export function asShellWord(word: string): string {
  return /^[\p{L}\p{N}_@%+=:,./\\-]+$/u.test(word) ? word : `'${word.replaceAll("'", "'\\''")}'`;
}
