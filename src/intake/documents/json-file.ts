import type * as z from "zod";
import { cartsFileSchema, describeProblem, requirementsFileSchema } from "../../samples/index.js";
import { IntakeError, shown } from "../checks/issue.js";
import { type JsonText, MAX_NESTING, NestsTooDeep, readJsonText } from "../rows/json-text.js";

/**
 * Parses a carts file.
 *
 * @param file - name for messages
 * @param text - JSON
 * @throws IntakeError naming the file, the place in it and what was expected
 */
export function parseCartsFile(file: string, text: string): z.infer<typeof cartsFileSchema> {
  mustNotBe(file, text, "systems", 'a requirements file (its list is "systems")', "a carts file");
  return readJson(file, text, cartsFileSchema);
}

/**
 * Parses a requirements file.
 *
 * @param file - name for messages
 * @param text - JSON
 * @throws IntakeError naming the file, the place in it and what was expected
 */
export function parseRequirementsFile(file: string, text: string): z.infer<typeof requirementsFileSchema> {
  mustNotBe(file, text, "carts", 'a carts file (its list is "carts")', "a requirements file");
  return readJson(file, text, requirementsFileSchema);
}

/** Two files given in each other's place are named as such; every field of them would be a problem otherwise. */
function mustNotBe(file: string, text: string, list: string, found: string, expected: string): void {
  const data = parseJson(file, text);
  if (typeof data === "object" && data !== null && Object.hasOwn(data, list)) {
    const own = expected === "a carts file" ? "carts" : "systems";
    if (!Object.hasOwn(data, own)) throw new IntakeError(`${file}: expected ${expected}, found ${found}`);
  }
  mustBeFilledIn(file, data);
}

/** Reads JSON and checks it; every problem is named with its place. */
export function readJson<S extends z.ZodType>(file: string, text: string, schema: S): z.infer<S> {
  const data = parseJson(file, text);
  const hidden = placeOfHiddenName(data);
  if (hidden !== undefined) {
    throw new IntakeError(`${file}: ${hidden || "(file)"}: "${HIDDEN_NAME}" is not a name that can be used`);
  }
  const few = beginningOf(data);
  const ofFew = few === undefined ? undefined : schema.safeParse(few);
  const result = ofFew?.success === false ? ofFew : schema.safeParse(data);
  if (result.success) return result.data;
  const problems = result.error.issues
    .slice(0, MAX_SAID)
    .map(
      (issue) =>
        `${formatPath(issue.path)}: ${describeProblem(issue, (path) => describeFound(data, path))}${describeWhose(data, issue.path)}`,
    );
  const more = result.error.issues.length - problems.length;
  const where = result === ofFew ? ` among the first ${MAX_TRIED}` : "";
  throw new IntakeError(`${file}: ${problems.join("; ")}${more > 0 ? `; and ${more} more${where}` : ""}`);
}

/** Millions of faults are more work than a file; what is wrong shows in so many carts or systems. */
const MAX_TRIED = 10_000;

/** The same with the beginning of a list that is longer than {@link MAX_TRIED}: what is wrong with it is wrong with the whole. */
function beginningOf(data: unknown): object | undefined {
  if (typeof data !== "object" || data === null || Array.isArray(data)) return undefined;
  const [long] = Object.entries(data).filter(([, value]) => Array.isArray(value) && value.length > MAX_TRIED);
  if (long === undefined) return undefined;
  const [name, list] = long as [string, readonly unknown[]];
  return { ...data, [name]: list.slice(0, MAX_TRIED) };
}

/** What a file that is written to be filled in holds where a person has to say something, with the question after it. */
export const OPEN = "?";

function mustBeFilledIn(file: string, data: unknown): void {
  const open = openPlaces(data, []);
  if (open.length === 0) return;
  const said = open.slice(0, MAX_SAID).map(({ path, asks }) => `${formatPath(path)}: still open: ${asks}`);
  const more = open.length > said.length ? `; and ${open.length - said.length} more` : "";
  throw new IntakeError(`${file}: ${said.join("; ")}${more}`);
}

function openPlaces(
  value: unknown,
  path: readonly (string | number)[],
): { path: PropertyKey[]; asks: string }[] {
  if (typeof value === "string") {
    return value.startsWith(OPEN) ? [{ path: [...path], asks: value.slice(OPEN.length).trim() }] : [];
  }
  if (Array.isArray(value)) return value.flatMap((one, index) => openPlaces(one, [...path, index]));
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([name, one]) => openPlaces(one, [...path, name]));
}

function formatPath(path: readonly PropertyKey[]): string {
  return path.map(String).map(shown).join(".") || "(file)";
}

/** The names that people know a place by, such as its cart and circuit; a path counts from 0. */
function describeWhose(data: unknown, path: readonly PropertyKey[]): string {
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
function describeFound(data: unknown, path: readonly PropertyKey[]): string | undefined {
  let found = data;
  for (const name of path) {
    if (typeof found !== "object" || found === null || !Object.hasOwn(found, name)) return undefined;
    found = Reflect.get(found, name);
  }
  if (Array.isArray(found)) return "a list";
  return typeof found === "object" && found !== null ? "an object" : shown(JSON.stringify(found));
}

/** So many problems of one file are said. */
const MAX_SAID = 20;

/**
 * Parses JSON of ours that may come from anywhere.
 *
 * @throws IntakeError when it is not JSON, nests too deep, gives a name twice or holds a number that would be changed
 */
export function parseJson(file: string, text: string): unknown {
  const { data, namesTwice, numbersNotKept } = parseAsWritten(file, text);
  const [twice] = namesTwice;
  if (twice !== undefined)
    throw new IntakeError(`${file}: ${describeNameTwice(twice)}${describeWhose(data, twice.path)}`);
  const [lost] = numbersNotKept;
  if (lost !== undefined) {
    throw new IntakeError(
      `${file}: line ${lost.line}: expected ${NUMBER_NOT_KEPT}, found ${shown(lost.written)}`,
    );
  }
  return data;
}

/** Where a name stands again, and what to do about it. */
export function describeNameTwice({ name, path, line }: JsonText["namesTwice"][number]): string {
  return `line ${line}: ${formatPath(path)}: expected each name once, found "${shown(name)}" again; only one of the two can be meant`;
}

/** What to do about a number that plain data cannot keep. */
const NUMBER_NOT_KEPT =
  "numbers that can be kept as they are written; a name of many figures in quotation marks";

/**
 * Parses the JSON of a laboratory, for readers that know what to make of a number as text and of a name given twice.
 *
 * @throws IntakeError when it is no JSON or nests too deep
 */
export function parseAsWritten(file: string, text: string): JsonText {
  try {
    return readJsonText(text);
  } catch (error) {
    if (error instanceof NestsTooDeep) {
      throw new IntakeError(
        `${file}: expected at most ${MAX_NESTING} lists and objects inside each other, found more`,
      );
    }
    throw new IntakeError(`${file}: expected JSON, ${describeBroken(text, (error as Error).message)}`, {
      cause: error,
    });
  }
}

/** What is no JSON about a text; a line helps more to find it than the number of a character. */
function describeBroken(text: string, message: string): string {
  if (text.trim() === "") return "found an empty file";
  const [, why, at] = /^(.*?)(?: in JSON)? at position (\d+)/s.exec(message) ?? [];
  return shown(
    (at === undefined ? message : `line ${lineAt(text, Number(at))}: ${why}`).replace(/\s+/g, " "),
  );
}

function lineAt(text: string, at: number): number {
  return text.slice(0, at).split("\n").length;
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
