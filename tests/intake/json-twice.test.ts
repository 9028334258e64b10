import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import {
  describeIssue,
  parseCartsFile,
  parseColumnMap,
  parseRequirementsFile,
  readLabFile,
} from "../../src/intake/index.js";
import { run, runExplained, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();

const CARTS = `{"carts": [
  {"cart": "C-1", "circuits": [
    {"circuit": "main", "serves": "main system", "fluid": "MIL-PRF-83282",
     "volume": "60 L", "flow": "45 L/min",
     "element": {"position": "pressure", "betas": [{"sizeUmC": 6, "beta": 100}]},
     "events": []}
  ]}
]}`;
const REQUIREMENT = `{"document": "invented limits", "revision": "1", "systems": [
  {"system": "main system", "fluids": ["MIL-PRF-83282"], "cleanliness": ["17/15/12"],
   "waterPpmMax": 200, "acidMgKohPerGMax": 0.2, "sampleAgeDaysMax": 30}
]}`;
const MAP = `{"siltbookColumnMap": 1, "name": "invented laboratory",
 "fixed": {"cart": "C-1"},
 "columns": {"Wasser": {"holds": "water", "unit": "mg/kg"}}}`;

describe("a name given twice in a file of ours is refused with its line, its place and the name", () => {
  test.each<[string, (file: string, text: string) => unknown, string, string, string, string]>([
    ["the carts", parseCartsFile, CARTS, '"carts": [', '"carts": [], "carts": [', "line 1: (file)"],
    [
      "a fluid",
      parseCartsFile,
      CARTS,
      '"volume": "60 L"',
      '"fluid": "AS1241 Type IV", "volume": "60 L"',
      'line 4: carts.0.circuits.0: expected each name once, found "fluid" again',
    ],
    [
      "the same value both times",
      parseCartsFile,
      CARTS,
      '"flow": "45 L/min"',
      '"flow": "45 L/min", "flow": "45 L/min"',
      'line 4: carts.0.circuits.0: expected each name once, found "flow" again',
    ],
    [
      "the events, the second time none",
      parseCartsFile,
      CARTS,
      '"events": []',
      '"events": [{"on": "2026-03-05", "kind": "fluid-change"}],\n "events": []',
      'line 7: carts.0.circuits.0: expected each name once, found "events" again',
    ],
    [
      "a number deep inside",
      parseCartsFile,
      CARTS,
      '"beta": 100',
      '"beta": 5, "beta": 100',
      'line 5: carts.0.circuits.0.element.betas.0: expected each name once, found "beta" again',
    ],
    [
      "a name written with an escape",
      parseCartsFile,
      CARTS,
      '"volume": "60 L"',
      String.raw`"volume": "60 L", "vol\u0075me": "600 L"`,
      'found "volume" again',
    ],
    [
      "a hidden name",
      parseCartsFile,
      CARTS,
      '"cart": "C-1",',
      '"cart": "C-1", "__proto__": 1, "__proto__": 2,',
      'found "__proto__" again',
    ],
    [
      "a limit",
      parseRequirementsFile,
      REQUIREMENT,
      '"waterPpmMax": 200',
      '"waterPpmMax": 200, "waterPpmMax": 2000',
      'line 3: systems.0: expected each name once, found "waterPpmMax" again',
    ],
    [
      "a target",
      parseRequirementsFile,
      REQUIREMENT,
      '"waterPpmMax"',
      '"cleanliness": ["22/20/17"], "waterPpmMax"',
      'found "cleanliness" again; only one of the two can be meant (system "main system")',
    ],
    [
      "a title of a column map",
      parseColumnMap,
      MAP,
      '"Wasser": {"holds": "water", "unit": "mg/kg"}',
      '"Wasser": {"holds": "water", "unit": "mg/kg"}, "Wasser": {"holds": "nothing"}',
      'line 3: columns: expected each name once, found "Wasser" again',
    ],
    [
      "a part of a column map",
      parseColumnMap,
      MAP,
      '"fixed": {"cart": "C-1"}',
      '"fixed": {"cart": "C-1"}, "fixed": {"cart": "C-2"}',
      'found "fixed" again',
    ],
  ])("%s", (_, read, text, before, after, message) => {
    expect(() => read("file.json", text)).not.toThrow();
    expect(text).toContain(before);
    expect(() => read("file.json", text.replace(before, after))).toThrow(`file.json: line`);
    expect(() => read("file.json", text.replace(before, after))).toThrow(message);
  });

  test("the same name in two carts is not twice", () => {
    const [{ circuits }] = JSON.parse(CARTS).carts;
    const two = CARTS.replace("\n]}", `,${JSON.stringify({ cart: "C-2", circuits })}]}`);
    expect(parseCartsFile("carts.json", two).carts.map(({ cart }) => cart)).toEqual(["C-1", "C-2"]);
  });

  test("judge and import say it and do nothing", async () => {
    const folder = join(root, "ours");
    mkdirSync(folder);
    const write = (name: string, text: string) => {
      writeFileSync(join(folder, name), text);
      return join(folder, name);
    };
    const carts = write("carts.json", CARTS.replace('"flow"', '"volume": "6 L", "flow"'));
    const requirement = write("requirement.json", REQUIREMENT);
    const lab = write("lab.csv", "sample,cart,circuit,drawn on,water (mg/kg)\nS-1,C-1,main,2026-03-04,120");
    const message = 'carts.json: line 4: carts.0.circuits.0: expected each name once, found "volume" again';
    const judged = await runExplained(
      "judge",
      "--carts",
      carts,
      "--requirement",
      requirement,
      "--on",
      "2026-03-10",
      lab,
    );
    expect([judged.code, judged.err]).toEqual([2, expect.stringContaining(message)]);
    const imported = await run("import", "--book", join(folder, "b.siltbook"), "--carts", carts, lab);
    expect([imported.code, imported.err]).toEqual([2, expect.stringContaining(message)]);
  });
});

const encode = (text: string) => new TextEncoder().encode(text);
const SOUND = '{"sample":"S-2","cart":"C-1","circuit":"main","drawn on":"2026-03-05","water (mg/kg)":130}';
const rowWith = (fields: string) =>
  `{"sample":"S-1","cart":"C-1","circuit":"main","drawn on":"2026-03-04",${fields}}`;

/** The same row in every form of JSON that a laboratory may send. */
const FORMS: readonly [string, string, (row: string) => string, number][] = [
  ["a list", "lab.json", (row) => `[\n${SOUND},\n${row}]`, 3],
  [
    "an object with one list",
    "lab.json",
    (row) => `{"laboratory": "invented",\n"samples":[${SOUND},${row}]}`,
    2,
  ],
  ["JSON Lines", "lab.jsonl", (row) => `${SOUND}\n${row}\n`, 2],
];

describe.each(FORMS)("a name given twice in a row of %s", (_form, file, textOf, line) => {
  test.each([
    ["a result", '"water (mg/kg)":120,"water (mg/kg)":900', "water (mg/kg)", "900"],
    ["the same result both times", '"water (mg/kg)":120,"water (mg/kg)":120', "water (mg/kg)", "120"],
    ["nothing the second time", '"water (mg/kg)":900,"water (mg/kg)":null', "water (mg/kg)", ""],
    ["a number that is not kept", '"water (mg/kg)":900,"water (mg/kg)":1e999', "water (mg/kg)", "1e999"],
    ["an escape", String.raw`"water (mg/kg)":900,"w\u0061ter (mg/kg)":120`, "water (mg/kg)", "120"],
    ["within an object", '"water":{"(mg/kg)":900,"(mg/kg)":120}', "water (mg/kg)", "120"],
    ["a number and then an object", '"water":900,"water":{"(mg/kg)":120}', "water", ""],
    ["a column that nobody uses", '"water (mg/kg)":120,"bench":1,"bench":2', "bench", "2"],
    ["within a list", '"water (mg/kg)":120,"notes":[{"a":1,"a":2}]', "notes", '[{"a":2}]'],
  ])("%s sets the row aside, known by cart, circuit and day", async (_, fields, column, value) => {
    const row = rowWith(fields);
    const { samples, quarantine } = await readLabFile(file, encode(textOf(row)));
    expect(samples.map(({ sample }) => sample)).toEqual(["S-2"]);
    expect(quarantine).toMatchObject([
      {
        row: 2,
        text: row,
        cart: "C-1",
        circuit: "main",
        drawnOn: "2026-03-04",
        issues: [{ code: "name-given-twice", column, value }],
      },
    ]);
    expect(quarantine.flatMap(({ issues }) => issues.map(describeIssue))).toEqual([
      `${file} row 2, column "${column}": expected each name once in a row, and this one stands there again in line ${line}, found "${value}"`,
    ]);
  });

  test("of the cart leaves the cart open", async () => {
    const row = rowWith('"cart":"C-2","water (mg/kg)":120');
    const { quarantine } = await readLabFile(file, encode(textOf(row)));
    expect(quarantine[0]).not.toHaveProperty("cart");
    expect(quarantine[0]).toMatchObject({ circuit: "main", drawnOn: "2026-03-04" });
  });

  test("as an object and as the title that its names make", async () => {
    const row = rowWith('"water":{"(mg/kg)":900},"water (mg/kg)":120');
    const { samples, quarantine } = await readLabFile(file, encode(textOf(row)));
    expect(samples).toHaveLength(1);
    expect(quarantine[0]?.issues).toMatchObject([{ code: "name-given-twice", column: "water (mg/kg)" }]);
  });

  test.each([
    ["texts that look like names", String.raw`"water (mg/kg)":120,"note":"\"a\":1,\"a\":2"`],
    ["one name in two objects", '"water (mg/kg)":120,"a":{"x":1},"b":{"x":1}'],
    ["one name in two items of a list", '"water (mg/kg)":120,"a":[{"x":1},{"x":1}]'],
    ["names that differ in their letters' case", '"water (mg/kg)":120,"bench":1,"Bench":2'],
    ["a value and a name that are the same", '"water (mg/kg)":120,"bench":"bench"'],
  ])("%s are no name given twice", async (_, fields) => {
    const { samples, quarantine } = await readLabFile(file, encode(textOf(rowWith(fields))));
    expect([samples.length, quarantine]).toEqual([2, []]);
  });
});

describe("outside the rows", () => {
  test("a list of samples given twice is refused with its line", async () => {
    const text = `{"samples":[${SOUND}],\n"samples":[${rowWith('"water (mg/kg)":120')}]}`;
    await expect(readLabFile("lab.json", encode(text))).rejects.toThrow(
      'lab.json: line 2: (file): expected each name once, found "samples" again',
    );
  });

  test("a document that is one row is set aside like any other", async () => {
    const { samples, quarantine } = await readLabFile(
      "lab.json",
      encode(rowWith('"water (mg/kg)":9,"water (mg/kg)":8')),
    );
    expect([samples, quarantine.map(({ row }) => row)]).toEqual([[], [1]]);
  });

  test("a row in which everything stands twice is not taken for a blank one", async () => {
    const { notSamples, quarantine } = await readLabFile(
      "lab.jsonl",
      encode(`${SOUND}\n{"sample":"a","sample":"b"}\n`),
    );
    expect([notSamples, quarantine.map(({ row }) => row)]).toEqual([[], [2]]);
  });
});

test("a newer result that gives a count twice keeps its circuit from being fit, with files and with a book", async () => {
  const folder = join(root, "lab");
  mkdirSync(folder);
  const write = (name: string, text: string) => {
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  const sample = (number: string, day: string, counts: string) =>
    `{"sample":"${number}","cart":"C-1","circuit":"main","drawn on":"${day}","fluid":"MIL-PRF-83282",${counts},"6 µm(c) per mL":100,"14 µm(c) per mL":10,"water (mg/kg)":120,"acid number (mg KOH/g)":0.05}`;
  const lab = write(
    "lab.jsonl",
    `${sample("S-1", "2026-03-01", '"4 µm(c) per mL":500')}\n` +
      `${sample("S-2", "2026-03-05", '"4 µm(c) per mL":50000,"4 µm(c) per mL":500')}\n`,
  );
  const rest = [
    "--carts",
    write("carts.json", CARTS),
    "--requirement",
    write("requirement.json", REQUIREMENT),
  ];
  const book = join(folder, "b.siltbook");
  await run("import", "--book", book, ...rest, "--on", "2026-03-10", lab);
  for (const { json } of [
    await runJson("judge", ...rest, "--on", "2026-03-10", lab),
    await runJson("judge", "--book", book, "--on", "2026-03-10"),
  ]) {
    const [{ verdict, reasons }] = json.circuits;
    const codes = reasons.map(({ code }: { code: string }) => code);
    expect([verdict, codes]).toEqual(["resample", expect.arrayContaining(["result-in-quarantine"])]);
  }
});
