import jsonc from "jsonc-parser";
import { hasFigure } from "../cells/numbers.js";

/** Objects and lists inside each other; no file of ours or of a laboratory comes near. */
export const MAX_NESTING = 100;

/** A JSON text as it was written, and what reading it into plain data would change without a word. */
export interface JsonText {
  /** The data. A number that reading would change is a text here, as it is written. */
  readonly data: unknown;
  readonly numbersNotKept: readonly WrittenNumber[];
  readonly namesTwice: readonly NameTwice[];
  /** The objects with such a name in them, however deep, as they are written. */
  readonly objectsTwice: readonly { readonly path: JsonPath; readonly text: string }[];
}

/** A place in JSON: names, and places in lists from 0. */
export type JsonPath = readonly (string | number)[];

/** A number as a JSON text writes it. */
export interface WrittenNumber {
  readonly written: string;
  /** Line of the text, the first being 1. */
  readonly line: number;
}

/** A name that is in an object again. */
export interface NameTwice {
  readonly name: string;
  /** The place of the object. */
  readonly path: JsonPath;
  /** Line of the text in which the name stands again, the first being 1. */
  readonly line: number;
}

/** A text that holds lists and objects deeper inside each other than {@link MAX_NESTING}. */
export class NestsTooDeep extends Error {
  override readonly name = "NestsTooDeep";
}

/**
 * Reads a JSON text, and says which of its numbers and names plain data cannot keep.
 *
 * Of a name given twice, plain data keep the last value; a number too large or too small for any becomes infinite or 0, and a
 * whole number of more figures than are exact is rounded, such as a long sample number without quotation marks.
 *
 * @throws SyntaxError for what is no JSON
 * @throws NestsTooDeep because reading goes to any depth and nothing that is done afterwards does
 * @example
 * readJsonText('{"water": 1, "water": 2}').namesTwice; // => [{ name: "water", path: [], line: 1 }]
 */
export function readJsonText(text: string): JsonText {
  const numbersNotKept: (WrittenNumber & { readonly at: number })[] = [];
  const namesTwice: NameTwice[] = [];
  const objectsTwice: JsonText["objectsTwice"][number][] = [];
  const open: OpenObject[] = [];
  let depth = 0;
  const enter = () => {
    depth += 1;
    if (depth > MAX_NESTING) throw new NestsTooDeep();
  };
  const leave = () => {
    depth -= 1;
  };
  jsonc.visit(text, {
    onObjectBegin: (at) => {
      enter();
      open.push({ names: new Set(), at, depth });
    },
    onObjectProperty: (name, _at, _length, line, _character, pathOf) => {
      const { names } = open.at(-1) as OpenObject;
      if (!names.has(name)) {
        names.add(name);
        return;
      }
      const path = pathOf();
      namesTwice.push({ name, path, line: line + 1 });
      for (const object of open) object.path ??= path.slice(0, object.depth - 1);
    },
    onObjectEnd: (at, length) => {
      leave();
      const { path, at: begin } = open.pop() as OpenObject;
      if (path !== undefined) objectsTwice.push({ path, text: text.slice(begin, at + length) });
    },
    onArrayBegin: enter,
    onArrayEnd: leave,
    onLiteralValue: (value, at, length, line) => {
      if (typeof value !== "number") return;
      const written = text.slice(at, at + length);
      if (!isKept(written, value)) numbersNotKept.push({ written, at, line: line + 1 });
    },
  });
  // Afterwards, because it would go to any depth and fill the memory with it.
  const data: unknown = JSON.parse(text);
  return {
    data: numbersNotKept.length === 0 ? data : JSON.parse(quoted(text, numbersNotKept)),
    numbersNotKept: numbersNotKept.map(({ written, line }) => ({ written, line })),
    namesTwice,
    objectsTwice,
  };
}

interface OpenObject {
  readonly names: Set<string>;
  readonly at: number;
  /** How many lists and objects are open with it. */
  readonly depth: number;
  /** Its place, once a name was given twice in it. */
  path?: JsonPath;
}

/** Puts quotation marks around numbers, so that they are kept as text. */
function quoted(text: string, numbers: readonly { readonly written: string; readonly at: number }[]): string {
  const pieces: string[] = [];
  let taken = 0;
  for (const { written, at } of numbers) {
    pieces.push(text.slice(taken, at), `"${written}"`);
    taken = at + written.length;
  }
  return pieces.join("") + text.slice(taken);
}

/** Whole numbers of this many figures are exact. */
const EXACT_FIGURES = 15;

function isKept(written: string, value: number): boolean {
  if (!Number.isFinite(value)) return false;
  if (value === 0) return !hasFigure(written);
  if (written.length <= EXACT_FIGURES || /[.eE]/.test(written)) return true;
  return BigInt(value) === BigInt(written);
}
