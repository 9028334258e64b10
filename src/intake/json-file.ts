import type * as z from "zod";
import { cartsFileSchema, requirementsFileSchema, sayProblem } from "../samples/index.js";
import { IntakeError, shown } from "./issue.js";
import { DEEPEST_NESTING, nestsTooDeep } from "./json-depth.js";
import { lineAt, NUMBER_NOT_KEPT, numberNotKept, quoteNumbersNotKept } from "./json-numbers.js";

/**
 * Reads a carts file.
 *
 * @param file - name for messages
 * @param text - JSON
 * @throws IntakeError naming the file, the place in it and what was expected
 */
export function readCartsFile(file: string, text: string): z.infer<typeof cartsFileSchema> {
  return readJson(file, text, cartsFileSchema);
}

/**
 * Reads a requirements file.
 *
 * @param file - name for messages
 * @param text - JSON
 * @throws IntakeError naming the file, the place in it and what was expected
 */
export function readRequirementsFile(file: string, text: string): z.infer<typeof requirementsFileSchema> {
  return readJson(file, text, requirementsFileSchema);
}

/** Reads JSON and checks it; every problem is named with its place. */
export function readJson<S extends z.ZodType>(file: string, text: string, schema: S): z.infer<S> {
  const data = parseJson(file, text);
  const hidden = placeOfHiddenName(data);
  if (hidden !== undefined) {
    throw new IntakeError(`${file}: ${hidden || "(file)"}: "${HIDDEN_NAME}" is not a name that can be used`);
  }
  const result = schema.safeParse(data);
  if (result.success) return result.data;
  const problems = result.error.issues
    .slice(0, MOST_SAID)
    .map(
      (issue) =>
        `${sayPath(issue.path)}: ${sayProblem(issue, (path) => sayFound(data, path))}${sayWhose(data, issue.path)}`,
    );
  const more = result.error.issues.length - problems.length;
  throw new IntakeError(`${file}: ${problems.join("; ")}${more > 0 ? `; and ${more} more` : ""}`);
}

function sayPath(path: readonly PropertyKey[]): string {
  return path.map(String).map(shown).join(".") || "(file)";
}

/** The names that people know a place by, such as its cart and circuit; a path counts from 0. */
function sayWhose(data: unknown, path: readonly PropertyKey[]): string {
  const names: string[] = [];
  let inside = data;
  for (const step of path) {
    inside = typeof inside === "object" && inside !== null ? Reflect.get(inside, step) : undefined;
    for (const kind of ["cart", "circuit", "system"]) {
      if (typeof inside !== "object" || inside === null || !Object.hasOwn(inside, kind)) continue;
      const name: unknown = Reflect.get(inside, kind);
      if (typeof name === "string") names.push(`${kind} "${shown(name)}"`);
    }
  }
  return names.length === 0 ? "" : ` (${names.join(", ")})`;
}

/** What stands at a place of parsed JSON; undefined where nothing does. */
function sayFound(data: unknown, path: readonly PropertyKey[]): string | undefined {
  let found = data;
  for (const name of path) {
    if (typeof found !== "object" || found === null || !Object.hasOwn(found, name)) return undefined;
    found = Reflect.get(found, name);
  }
  if (Array.isArray(found)) return "a list";
  return typeof found === "object" && found !== null ? "an object" : shown(JSON.stringify(found));
}

/** So many problems of one file are said. */
const MOST_SAID = 20;

/**
 * Parses JSON that may come from anywhere.
 *
 * @throws IntakeError when it is none, nests too deep or holds a number that would be changed
 */
export function parseJson(file: string, text: string): unknown {
  const lost = numberNotKept(text);
  if (lost !== undefined) {
    throw new IntakeError(
      `${file}: line ${lost.line}: expected ${NUMBER_NOT_KEPT}, found ${shown(lost.written)}`,
    );
  }
  return parse(file, text);
}

/**
 * The same, but a number that would be changed becomes a text, for readers that know what to make of one.
 *
 * @throws IntakeError when it is no JSON or nests too deep
 */
export function parseAsWritten(file: string, text: string): unknown {
  // Parsed as it is first: the quotation marks could make JSON of what is none.
  const data = parse(file, text);
  const quoted = quoteNumbersNotKept(text);
  return quoted === text ? data : JSON.parse(quoted);
}

function parse(file: string, text: string): unknown {
  if (nestsTooDeep(text)) {
    throw new IntakeError(
      `${file}: expected at most ${DEEPEST_NESTING} lists and objects inside each other, found more`,
    );
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new IntakeError(`${file}: expected JSON, ${sayBroken(text, (error as Error).message)}`, {
      cause: error,
    });
  }
}

/** What is no JSON about a text; a line helps more to find it than the number of a character. */
function sayBroken(text: string, message: string): string {
  if (text.trim() === "") return "found an empty file";
  const [, why, at] = /^(.*?)(?: in JSON)? at position (\d+)/s.exec(message) ?? [];
  return shown(
    (at === undefined ? message : `line ${lineAt(text, Number(at))}: ${why}`).replace(/\s+/g, " "),
  );
}

/** The name under which every object finds what it shares with others; checks by schema pass over it in silence. */
const HIDDEN_NAME = "__proto__";

function placeOfHiddenName(value: unknown): string | undefined {
  if (typeof value !== "object" || value === null) return undefined;
  if (Object.hasOwn(value, HIDDEN_NAME)) return "";
  for (const [name, inside] of Object.entries(value)) {
    const place = placeOfHiddenName(inside);
    if (place !== undefined) return place === "" ? shown(name) : `${shown(name)}.${place}`;
  }
  return undefined;
}
