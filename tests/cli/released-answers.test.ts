import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type AnswerName, idOfAnswer } from "../../src/cli/answer.js";
import { ANSWER_NAMES, schemaOfAnswer } from "../../src/cli/answers/schemas.js";
import { brokenPromises, RELEASED, type Schema } from "../support/answers-compatible.js";

const { release, answers } = JSON.parse(readFileSync(RELEASED, "utf8")) as {
  readonly release: string;
  readonly answers: Readonly<Record<string, Schema>>;
};

const today = (command: string) => schemaOfAnswer(command as AnswerName) as Schema;
const versionOf = (id: unknown) => Number(/\.v(\d+)\.schema\.json$/.exec(String(id))?.[1]);

describe("the answers keep what the newest release promised, or have a higher version", () => {
  test.each(Object.entries(answers))("%s", (command, promised) => {
    expect(ANSWER_NAMES).toContain(command);
    const id = idOfAnswer(command as AnswerName);
    if (id !== promised.$id) expect(versionOf(id)).toBeGreaterThan(versionOf(promised.$id));
    else expect(brokenPromises(promised, today(command))).toEqual([]);
  });

  test("which is the newest of the changelog; 0.1.0 described no answers, so 0.2.0 is the first", () => {
    const [newest, isPending] = headings();
    expect(release).toBe(newest === "0.2.0" || !isPending ? newest : headings(1)[0]);
  });

  /** The version of the changelog at a place, and whether it is yet to be released. */
  function headings(place = 0): [version: string | undefined, isPending: boolean] {
    const found = [...readFileSync("CHANGELOG.md", "utf8").matchAll(/^## (\S+)(.*)$/gm)][place];
    return [found?.[1], found?.[2]?.includes("not yet released") ?? false];
  }
});

describe("a promise that is broken is found, and named with its place", () => {
  /** The description of an answer as it would be after an edit. */
  const edited = (command: string, edit: (schema: Any) => void): Any => {
    const schema = structuredClone(answers[command]) as Any;
    edit(schema);
    return schema;
  };

  const broken: [why: string, command: string, edit: (schema: Any) => void, says: RegExp][] = [
    ["a field that is gone", "page", ({ properties }) => delete properties.out, /out: is gone/],
    [
      "a field of a list that is gone",
      "labels",
      ({ properties }) => delete properties.labels.items.properties.cart,
      /\/labels\/\*\/cart: is gone/,
    ],
    [
      "a field that may be absent",
      "page",
      (schema) => schema.required.splice(schema.required.indexOf("out"), 1),
      /\/out: may be absent/,
    ],
    [
      "a field of another kind",
      "page",
      ({ properties }) => Object.assign(properties.out, { type: "number" }),
      /type was "string", is "number"/,
    ],
    [
      "a code that is gone",
      "judge",
      ({ $defs, properties }) => codesIn({ $defs, properties }).enum.pop(),
      /the code .* is gone/,
    ],
    [
      "a code that nobody expects",
      "judge",
      ({ $defs, properties }) => codesIn({ $defs, properties }).enum.push("maybe"),
      /"maybe" is new/,
    ],
    [
      "a list of codes that became any text",
      "judge",
      ({ $defs, properties }) => delete codesIn({ $defs, properties }).enum,
      /any text/,
    ],
    [
      "a form that nobody expects",
      "verify",
      (schema) => schema.anyOf.push({ type: "object", properties: {} }),
      /is gone/,
    ],
    ["a form that is gone", "verify", (schema) => schema.anyOf.pop(), /./],
  ];

  test.each(broken)("%s", (_, command, edit, says) => {
    const lines = brokenPromises(answers[command] as Schema, edited(command, edit));
    expect(lines.join("\n")).toMatch(says);
  });

  const kept: [why: string, command: string, edit: (schema: Any) => void][] = [
    ["nothing", "judge", () => {}],
    ["a new field", "page", ({ properties }) => Object.assign(properties, { more: { type: "string" } })],
    ["a code in a list that grows", "classify", (schema) => growing(schema).examples.push("A-LATER-SOURCE")],
    [
      "what a field means, said better",
      "page",
      ({ properties }) => Object.assign(properties.out, { description: "?" }),
    ],
  ];

  test.each(kept)("%s breaks none", (_, command, edit) => {
    expect(brokenPromises(answers[command] as Schema, edited(command, edit))).toEqual([]);
  });
});

// biome-ignore lint/suspicious/noExplicitAny: a schema is edited at places that the test knows
type Any = any;

/** The first part, however deep, for which a thing is true. */
function find(part: Any, isIt: (part: Any) => boolean): Any {
  if (typeof part !== "object" || part === null) return undefined;
  if (isIt(part)) return part;
  return Object.values(part).reduce((found: Any, inner) => found ?? find(inner, isIt), undefined);
}

const codesIn = (schema: Any) => find(schema, ({ enum: codes }) => Array.isArray(codes));
const growing = (schema: Any) => find(schema, ({ examples }) => Array.isArray(examples));
