import { type Assumption, frozen, shown } from "../../provenance/index.js";
import { type ClassName, readClassName } from "../class-table.js";
import { AS4059_CUMULATIVE, type SizeCode } from "./as4059-cumulative.js";

/** Revisions of AS4059 whose reading of a class is known here. */
export const AS4059_REVISIONS = frozen(["A", "B", "C", "D", "E", "F"] as const);

/** See {@link AS4059_REVISIONS}. */
export type As4059Revision = (typeof AS4059_REVISIONS)[number];

/** A class of AS4059 as it is written. */
export type As4059Code =
  | { readonly kind: "by-size"; readonly bySize: readonly SizedClass[] }
  /** One class for all ranges of table 1. */
  | { readonly kind: "differential"; readonly class: ClassName };

/** A cumulative class at one size code. */
export interface SizedClass {
  readonly size: SizeCode;
  readonly class: ClassName;
}

/** A class as read, with what the reading rests on. */
export interface ReadAs4059 {
  readonly code: As4059Code;
  readonly assumptions: readonly Assumption[];
}

const SIZE_CODES = AS4059_CUMULATIVE.channels.map((channel) => channel.name);

/**
 * Reads a class of AS4059.
 *
 * Classes with size codes mean the same in every revision. A class without a letter does not: it is read only together
 * with its revision, as size B of table 2 up to D (from memory) and as table 1 in E (from memory) and F.
 *
 * @param text - "6B", "7B/6C/5D", "6B-F" or "6A-C/5D-F", or a class without a letter
 * @param revision - the revision the class was written by; needed for a class without a letter
 * @returns the class, and what had to be assumed
 * @throws RangeError naming the text and what was expected
 * @source AS4059-NOTATION
 * @source AS4059-WITHOUT-LETTER
 * @source AS4059-WITHOUT-LETTER-EARLIER
 * @example
 * formatAs4059(parseAs4059("7B/6C/6D").code); // => "7B/6C-D"
 */
export function parseAs4059(text: string, revision?: As4059Revision): ReadAs4059 {
  const name = readClassName(text);
  if (name === undefined) {
    return { code: { kind: "by-size", bySize: readSizedClasses(text) }, assumptions: [] };
  }
  switch (revision) {
    case undefined:
      throw new RangeError(
        `"${shown(text)}" has no size code, and a class without one means different things in different revisions of AS4059: ` +
          "say the revision (A to F), or write the size codes, such as 6B-F",
      );
    case "F":
      return { code: differential(name, text), assumptions: [] };
    case "E":
      return { code: differential(name, text), assumptions: [fromMemory(text, revision, "table 1")] };
    default:
      return {
        code: { kind: "by-size", bySize: [{ size: "B", class: name }] },
        assumptions: [fromMemory(text, revision, "size B of table 2")],
      };
  }
}

function differential(name: ClassName, text: string): As4059Code {
  if (name === "000") throw new RangeError(`"${shown(text)}" is not a class of table 1, which begins at 00`);
  return { kind: "differential", class: name };
}

function fromMemory(text: string, revision: As4059Revision, meaning: string): Assumption {
  return {
    code: "as4059-without-letter",
    message: `class ${text.trim()} without a letter was read as ${meaning}, which revision ${revision} means from memory`,
    source: "AS4059-WITHOUT-LETTER-EARLIER",
  };
}

/**
 * Reads classes with size codes.
 *
 * @param text - "6B", "7B/6C/5D", "6B-F"
 * @returns one entry for each size, in the order of the text
 * @throws RangeError naming the text and what was expected
 * @source AS4059-NOTATION
 */
export function readSizedClasses(text: string): SizedClass[] {
  const parts = text.split("/").flatMap((part) => {
    const match = /^(\d{1,3})([A-F])(?:-([A-F]))?$/.exec(part.trim());
    const name = readClassName(match?.[1] ?? "");
    const first = SIZE_CODES.indexOf(match?.[2] as SizeCode);
    const last = match?.[3] === undefined ? first : SIZE_CODES.indexOf(match[3] as SizeCode);
    if (name === undefined || first === -1 || last < first) {
      throw new RangeError(
        `"${shown(text)}" is not a class of AS4059 with size codes: expected such as 6B, 7B/6C/5D or 6B-F`,
      );
    }
    return SIZE_CODES.slice(first, last + 1).map((size) => ({ size, class: name }));
  });
  const twice = parts.find((part, index) => parts.findIndex((other) => other.size === part.size) !== index);
  if (twice !== undefined) throw new RangeError(`"${shown(text)}" gives the size ${twice.size} twice`);
  return parts;
}

/**
 * Writes a class of AS4059. Neighbouring sizes of one class are drawn together.
 *
 * @returns "6B-F", "7B/6C-D" or, for table 1, the class alone
 * @source AS4059-NOTATION
 */
export function formatAs4059(code: As4059Code): string {
  if (code.kind === "differential") return code.class;
  const runs: { class: ClassName; first: SizeCode; last: SizeCode }[] = [];
  for (const part of code.bySize) {
    const run = runs.at(-1);
    const follows = run !== undefined && SIZE_CODES.indexOf(part.size) === SIZE_CODES.indexOf(run.last) + 1;
    if (follows && run.class === part.class) run.last = part.size;
    else runs.push({ class: part.class, first: part.size, last: part.size });
  }
  return runs
    .map((run) => run.class + (run.first === run.last ? run.first : `${run.first}-${run.last}`))
    .join("/");
}
