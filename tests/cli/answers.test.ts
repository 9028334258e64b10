import { readdirSync, readFileSync, writeFileSync } from "node:fs";
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
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const at = (name: string) => join(folder, name);
const DEMO = ["--carts", "datasets/demo/carts.json", "--requirement", "datasets/demo/requirement.json"];
const TIDY = "datasets/demo/lab-tidy.csv";
const LONG = "datasets/demo/lab-long.csv";
const DAMAGED = "datasets/demo/lab-damaged.csv";
const ON = ["--on", "2026-11-20"];
const BOOK = ["--book", at("demo.siltbook")];
const FORE = ["--cart", "QB-01", "--circuit", "fore"];
const COUNTS = ["--counts", "4=15000 6=1200 14=75"];
const CIRCUIT = [
  ...["--volume", "60 L", "--flow", "15 L/min", "--beta", "4=20 6=100 14=1000"],
  ...["--start", "4=20000 6=5000 14=640", "--target", "17/15/12"],
];
const BY = ["--person", "A. Person", "--reason", "bottle was found open"];

const LOG = [900, 800, "damp", 700].map((v, minute) =>
  [4, 6, 14].map((size) =>
    JSON.stringify({ n: `particles > ${size} µm(c)`, u: "1/mL", v, t: 1_773_500_000 + 60 * minute }),
  ),
);
const SET_BACK = JSON.stringify({ n: "particles > 4 µm(c)", u: "1/mL", v: 1, t: 1_773_400_000 });

const TABLE = `Time,> 4 µm(c) /mL,> 6 µm(c) /mL,> 14 µm(c) /mL,Operator
2026-11-20 08:00,15000,4000,500,A
2026-11-20 08:01,damp,3500,440,A
2026-11-20 08:02,12000,3000,400,A
`;

/** Calls over the demonstration data, in their order; of each command at least one for each form of its answer. */
const CALLS: readonly (readonly [AnswerName, ...string[]])[] = [
  ["classify", ...COUNTS],
  ["classify", ...COUNTS, "--raw-volume", "25 mL", "--lab-rsd", "15 %", "--target", "18/16/13"],
  [
    "classify",
    "--counts",
    "5=16000 15=2000 25=300 50=40 100=5",
    "--scale",
    "um-microscope",
    "--per",
    "100mL",
  ],
  ["classify", ...COUNTS, "--blank", "4=15000 6=1200 14=75"],
  ["circulate", ...CIRCUIT],
  ["circulate", ...CIRCUIT, "--after", "10 min", "--within", "5 min", "--ingress", "4=1e6 6=2e5 14=1e4"],
  [
    "circulate",
    ...CIRCUIT,
    "--interim",
    "4 min: 4=7800 6=1900 14=240",
    "--interim",
    "8 min: 4=3000 6=700 14=88",
  ],
  [
    ...(["circulate", ...CIRCUIT, "--element", "capacity=80 g held=10 g"] as const),
    ...["--indicator", "drop=1 bar viscosity=14 mm2/s trips=5 bar at=5 °C fluid=MIL-PRF-83282"],
    ...["--heat", "drop=200 bar efficiency=85 % cooling=2 kW start=20 °C limit=70 °C fluid=MIL-PRF-83282"],
    ...["--hoses", "25 mm x 8 m x 2", "--fluid", "MIL-PRF-83282"],
  ],
  [
    "exchange",
    "--volume",
    "60 L",
    "--water",
    "900 ppm",
    "--water-limit",
    "500 ppm",
    "--fresh-water",
    "150 ppm",
  ],
  [
    ...(["exchange", "--volume", "60 L", "--water", "900 ppm", "--water-limit", "500 ppm"] as const),
    ...["--fresh-water", "600 ppm", "--dry", "30 % per hour"],
  ],
  ["follow", "--target", "17/15/12", "--log", at("counter.jsonl")],
  ["judge", ...DEMO, ...ON, TIDY, DAMAGED],
  ["trend", ...DEMO.slice(0, 2), ...FORE, ...ON, TIDY],
  ["trend", ...DEMO, ...FORE, "--measure", "particles", ...ON, TIDY],
  ["columns", TIDY],
  ["columns", LONG],
  ["init", "--to", at("new"), TIDY],
  ["import", ...BOOK, ...DEMO, ...ON, "--quarantine", at("quarantine"), TIDY, DAMAGED],
  ["import", ...BOOK, "--by", "A. Person", "datasets/demo/lab-semicolon.csv", LONG],
  ["list", "files", ...BOOK],
  ["list", "carts", ...BOOK],
  ["list", "rows", ...BOOK],
  ["quarantine", ...BOOK, "--all"],
  ["rows", basename(DAMAGED), ...BOOK],
  ["judge", ...BOOK, ...ON],
  ["judge", ...BOOK, ...ON, "--since", "2026-11-20"],
  ["fleet", ...BOOK, ...ON],
  ["fleet", ...BOOK, ...ON, "--shard", "1/2", "--out", at("shard-1.jsonl")],
  ["report", ...BOOK, ...ON, "--out", at("report.html")],
  ["page", ...BOOK, ...ON, "--out", at("page.html")],
  ["labels", ...BOOK, "--first", "99-0001", "--point", "drain", "--out", at("labels.html")],
  ["override", ...BOOK, ...FORE, ...BY, "--decision", "do-not-connect"],
  ["fleet", ...BOOK, ...ON],
  ["history", ...BOOK, ...FORE],
  ["override", ...BOOK, ...FORE, ...BY, "--lift"],
  ["circulate", ...BOOK, ...FORE, ...ON],
  ["circulate", ...BOOK, "--cart", "QB-02", "--circuit", "fore", ...ON],
  ["trace", ...BOOK, "--cart", "QB-01", ...ON],
  ["trace", ...BOOK, "--aircraft", "L-204", ...ON],
  ["export", ...BOOK, "--to", at("samples.csv")],
  ["export", ...BOOK, "--to", at("all.xlsx"), ...ON],
  ["export", ...BOOK, "--to", at("lake"), "--base", "North field"],
  ["backup", ...BOOK, "--to", at("copy.siltbook")],
  ["restore", "--from", at("copy.siltbook"), "--to", at("back.siltbook")],
  ["salvage", ...BOOK, "--to", at("saved.siltbook")],
  ["verify", ...BOOK],
  ["verify", ...BOOK, "--against", "0123456789ab"],
  ["evidence", ...BOOK, ...FORE, "--out", at("pack")],
  ["verify", "--evidence", at("pack"), ...BOOK, "--against", "0123456789ab"],
  ["follow", ...BOOK, "--cart", "QB-02", "--circuit", "fore", ...ON, "--log", at("counter.csv")],
  ["import", "--book", at("round.siltbook"), "datasets/demo/round-robin.csv"],
  ["laboratories", "--book", at("round.siltbook")],
  ["withdraw", basename(TIDY), ...BOOK, "--by", "A. Person", "--reason", "report of another base"],
  ["history", ...BOOK, ...FORE],
];

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
  writeFileSync(at("counter.jsonl"), `${[...LOG.flat(), "no line", SET_BACK].join("\n")}\n`);
  writeFileSync(at("counter.csv"), TABLE);
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
