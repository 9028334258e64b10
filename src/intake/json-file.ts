import type * as z from "zod";
import { cartsFileSchema, HELD_NUMBER, requirementsFileSchema, sayProblem } from "../samples/index.js";
import { IntakeError, shown } from "./issue.js";
import { DEEPEST_NESTING, nestsTooDeep } from "./json-depth.js";
import { endlessNumbers, quoteNumbersNotHeld } from "./json-numbers.js";

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
  const endless = [...endlessNumbers(data, parseAsWritten(file, text))];
  const result = schema.safeParse(data);
  if (result.success && endless.length === 0) return result.data;
  const places = new Set(endless.map(({ path }) => sayPath(path)));
  const problems = [
    ...endless.map(
      ({ path, written }) => `${sayPath(path)}: expected ${HELD_NUMBER}, found ${shown(written)}`,
    ),
    ...(result.error?.issues ?? [])
      .filter(({ path }) => !places.has(sayPath(path)))
      .map((issue) => `${sayPath(issue.path)}: ${sayProblem(issue, (path) => sayFound(data, path))}`),
  ];
  const more = problems.length - MOST_SAID;
  const said = problems.slice(0, MOST_SAID).join("; ");
  throw new IntakeError(`${file}: ${said}${more > 0 ? `; and ${more} more` : ""}`);
}

function sayPath(path: readonly PropertyKey[]): string {
  return path.map(String).map(shown).join(".") || "(file)";
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
 * @throws IntakeError when it is none or nests too deep
 */
export function parseJson(file: string, text: string): unknown {
  if (nestsTooDeep(text)) {
    throw new IntakeError(
      `${file}: expected at most ${DEEPEST_NESTING} lists and objects inside each other, found more`,
    );
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new IntakeError(`${file}: expected JSON, ${(error as Error).message}`, { cause: error });
  }
}

/**
 * Parses JSON and keeps as a text what a number would not hold as it is written.
 *
 * @throws IntakeError as {@link parseJson}
 */
export function parseAsWritten(file: string, text: string): unknown {
  // Parsed unquoted first: quotation marks could make JSON of what is none.
  const parsed = parseJson(file, text);
  const quoted = quoteNumbersNotHeld(text);
  return quoted === text ? parsed : JSON.parse(quoted);
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
