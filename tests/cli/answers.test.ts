import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import { type AnswerName, idOfAnswer } from "../../src/cli/answer.js";
import { ANSWERS } from "../../src/cli/answers/index.js";
import { MEANING_OF_NAME } from "../../src/cli/answers/names.js";
import { ANSWER_NAMES, partsOf, schemaOfAnswer } from "../../src/cli/answers/schemas.js";
import { checkCall } from "../fuzz/calls.js";
import { callsOf } from "../fuzz/command-words.js";
import { COMMANDS } from "../fuzz/grammar.js";
import { mustBeAsDescribed, validatorOf } from "../support/answers.js";
import { callsOverDemo } from "../support/calls-over-demo.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const { calls: CALLS, write } = callsOverDemo(temporaryFolder());
const COUNTS = ["--counts", "4=15000 6=1200 14=75"];

/** The documents that a call prints: one, or one a line. */
async function answersTo([command, ...words]: (typeof CALLS)[number]): Promise<object[]> {
  const { out, err } = await run(command, ...words, "--json");
  if (out === "") throw new Error(`${command} ${words.join(" ")}: ${err}`);
  return (command === "follow" ? out.trim().split("\n") : [out]).map((text) => JSON.parse(text));
}

/** The command whose answer it is: the open rows of a book are listed by that of the quarantine. */
function answering([command, what]: (typeof CALLS)[number]): AnswerName {
  return command === "list" && what === "rows" ? "quarantine" : command;
}

const answers = new Map<AnswerName, object[]>(ANSWER_NAMES.map((name) => [name, []]));

beforeAll(async () => {
  write();
  for (const call of CALLS) answers.get(answering(call))?.push(...(await answersTo(call)));
});

describe("the published schemas of answers", () => {
  test("are what the descriptions say; `npm run schemas` writes them", () => {
    const published = readdirSync("docs/answers").map((file) => [
      file,
      JSON.parse(readFileSync(join("docs/answers", file), "utf8")),
    ]);
    const made = ANSWER_NAMES.map((name) => [basename(idOfAnswer(name)), schemaOfAnswer(name)] as const);
    expect(Object.fromEntries(published)).toEqual(Object.fromEntries(made));
  });

  test("describe every command that has --json, and no other", async () => {
    const withJson: string[] = [];
    for (const name of Object.keys(COMMANDS))
      if (/^ {2}--json /m.test((await run(name, "--help")).out)) withJson.push(name);
    // merge answers as fleet does, to the last byte.
    expect([...ANSWER_NAMES, "merge"].sort()).toEqual(withJson.sort());
  });

  test("are all in the table of docs/answers.md", () => {
    const rows = [
      ...readFileSync("docs/answers.md", "utf8").matchAll(/^\| `(\w+)` .*\(answers\/(.+)\) \|$/gm),
    ];
    expect(rows.map(([, name, file]) => [name, file]).sort()).toEqual(
      ANSWER_NAMES.map((name) => [name, basename(idOfAnswer(name))]).sort(),
    );
  });

  test.each(ANSWER_NAMES)("%s: every field says what it means", (name) => {
    expect(silentFields(schemaOfAnswer(name) as Part)).toEqual([]);
  });

  test("a name has a common meaning only where it is used without one of its own", () => {
    const used = new Set(
      ANSWER_NAMES.flatMap((name) => fieldsOf(schemaOfAnswer(name) as Part)).flatMap(([name, field]) =>
        field.description === MEANING_OF_NAME[name] ? [name] : [],
      ),
    );
    expect(Object.keys(MEANING_OF_NAME).filter((name) => !used.has(name))).toEqual([]);
  });
});

type Part = Parameters<typeof partsOf>[0];

/** Every field of a schema with what is said of it, wherever it lies. */
function fieldsOf(schema: Part): [name: string, field: Part][] {
  return [...Object.entries(schema.properties ?? {}), ...partsOf(schema).flatMap(fieldsOf)];
}

function silentFields(schema: Part): string[] {
  const named = schema.$defs as Record<string, Part>;
  const says = (part: Part): boolean =>
    part.description !== undefined ||
    (typeof part.$ref === "string" && says(named[part.$ref.slice("#/$defs/".length)] ?? {})) ||
    [part.items, ...[part.anyOf ?? []].flat()].some((inner) => inner !== undefined && says(inner as Part));
  return fieldsOf(schema).flatMap(([name, field]) =>
    says(field) || field.const !== undefined ? [] : [name],
  );
}

describe("over the demonstration data", () => {
  test.each(ANSWER_NAMES)("every answer of %s is as described, and names its description", (name) => {
    const all = answers.get(name) ?? [];
    expect(all.length).toBeGreaterThan(0);
    for (const answer of all) {
      expect(answer).toHaveProperty("schema", idOfAnswer(name));
      mustBeAsDescribed(name, answer);
    }
  });

  test.each(ANSWER_NAMES)("every form of the answer of %s is given once at least", (name) => {
    const [, ...forms] = ANSWERS[name];
    const all = answers.get(name) ?? [];
    const given = forms.map((form) =>
      all.some((answer) => {
        const keys = Object.keys(answer).filter((key) => key !== "schema");
        return keys.every((key) => key in form.shape) && form.safeParse(answer).success;
      }),
    );
    expect(given).toEqual(forms.map(() => true));
  });

  test.each(ANSWER_NAMES)(
    "of %s, a field that nobody described is found, and let through by the published schema",
    (name) => {
      const [answer] = answers.get(name) ?? [];
      const more = { ...answer, notDescribed: 1 };
      expect(() => mustBeAsDescribed(name, more)).toThrow("notDescribed");
      expect(validatorOf(name, false)(more)).toBe(true);
    },
  );

  test("a field that is missing, of another kind or not a day is found, at whatever depth", async () => {
    const [judged] = answers.get("judge") as { circuits: { reasons: object[] }[] }[];
    const changed = (edit: (copy: typeof judged & Record<string, unknown>) => void) => {
      const copy = structuredClone(judged) as typeof judged & Record<string, unknown>;
      edit(copy);
      return () => mustBeAsDescribed("judge", copy);
    };
    expect(changed(() => {})).not.toThrow();
    expect(
      changed((copy) => {
        delete copy.cautions;
      }),
    ).toThrow("'cautions'");
    expect(
      changed((copy) => {
        copy.on = "20 November";
      }),
    ).toThrow("/on must match format");
    expect(
      changed((copy) => {
        copy.repeatedSamples = "2";
      }),
    ).toThrow("/repeatedSamples must be number");
    const [reason] = judged?.circuits[0]?.reasons ?? [];
    expect(reason).toBeDefined();
    expect(
      changed((copy) => {
        copy.circuits[0]?.reasons.push({ ...reason, code: "no-such-reason" });
      }),
    ).toThrow("/code must be equal");
    expect(
      changed((copy) => {
        copy.circuits[0]?.reasons.push({ ...reason, because: "" });
      }),
    ).toThrow("because");
  });

  test("a code that came later passes the published schema and not the closed one", async () => {
    const { json } = await runJson("classify", ...COUNTS);
    json.assumptions.push({ code: "new", message: "new", source: "A-LATER-SOURCE" });
    expect(validatorOf("classify", true)(json)).toBe(false);
    expect(validatorOf("classify", false)(json)).toBe(true);
  });
});

describe("however a command is called, its answer is as described", () => {
  test.each(ANSWER_NAMES)("%s", async (name) => {
    const calls = callsOf(name).map((words) => [...words.filter((word) => word !== "--explain"), "--json"]);
    for (const words of fc.sample(calls, { seed: 25, numRuns: 3 })) await checkCall(words);
  });
});
