import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Database from "libsql";
import { beforeAll, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { canonicalJson, judgeCircuit, recompute, recordOf } from "../../src/fitness/index.js";
import { parseCartsFile, parseRequirementsFile } from "../../src/intake/index.js";
import { dropChain } from "../support/drop-chain.js";
import { caseOf } from "../support/fitness/bases.js";
import { EVIDENCE_CASES } from "../support/fitness/evidence-cases.js";
import { run, runExplained, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const circuit = (name: string, more: object = {}) => ({
  circuit: name,
  serves: "main",
  fluid: "MIL-PRF-83282",
  volume: "60 L",
  flow: "45 L/min",
  element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
  ...more,
});
const event = (kind: string, on: string, more: object = {}) => ({ kind, on, ...more });

/** Each circuit with the counts above 4, 6 and 14 µm(c) of its sample of 4 March, and the verdict of 12 March. */
const CIRCUITS = [
  ["sound", {}, "600,150,10", "fit"],
  [
    "changed",
    { events: [event("fluid-change", "2026-03-08", { circulatedMinutes: 60 })] },
    "611,151,11",
    "resample",
  ],
  [
    "topped",
    {
      events: [
        event("top-up", "2026-03-08", { added: "4 L" }),
        event("top-up", "2026-03-09", { added: "3 L" }),
      ],
    },
    "600,150,10",
    "resample",
  ],
  ["topped-little", { events: [event("top-up", "2026-03-08", { added: "4 L" })] }, "600,150,10", "fit"],
  ["topped-unknown", { events: [event("top-up", "2026-03-08")] }, "600,150,10", "resample"],
  ["loaded", { state: { on: "2026-03-10", elementUsed: 1 } }, "600,150,10", "do-not-connect"],
  ["near", { state: { on: "2026-03-10", elementUsed: 0.95 } }, "600,150,10", "fit"],
  ["no-plan", { ingress: [{ sizeUmC: 6, particlesPerMin: 1e6 }] }, "20000,5000,640", "do-not-connect"],
  ["dirty", {}, "20000,300,", "circulate"],
] as const;

const CARTS = {
  carts: CIRCUITS.map(([name, more]) => ({ cart: `Q-${name}`, circuits: [circuit("A", more)] })),
};
const REQUIREMENT = {
  document: "limits",
  revision: "1",
  systems: [
    {
      system: "main",
      fluids: ["MIL-PRF-83282"],
      cleanliness: ["17/15/12"],
      waterPpmMax: 200,
      acidMgKohPerGMax: 0.2,
      sampleAgeDaysMax: 30,
      after: [{ event: "fluid-change", sample: false, circulatedMinutesMin: 30 }],
    },
  ],
};
const HEADER =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";
const LAB = [
  HEADER,
  ...CIRCUITS.map(([name, , counts]) => `S-${name},Q-${name},A,2026-03-04,MIL-PRF-83282,${counts},117,0.123`),
];

const folder = temporaryFolder();
const at = (name: string) => join(folder, name);
const FILES = ["--carts", at("carts.json"), "--requirement", at("requirement.json")];
const ON = ["--on", "2026-03-12"];

beforeAll(async () => {
  writeFileSync(at("carts.json"), JSON.stringify(CARTS));
  writeFileSync(at("requirement.json"), JSON.stringify(REQUIREMENT));
  writeFileSync(at("lab.csv"), `${LAB.join("\n")}\n`);
  await run("import", "--book", at("a.siltbook"), ...FILES, at("lab.csv"));
});

describe("a fleet with one circuit of every kind", () => {
  test.each(CIRCUITS)("%s, judged from files and from a book", async (name, _more, _counts, verdict) => {
    for (const from of [
      [...FILES, at("lab.csv")],
      ["--book", at("a.siltbook")],
    ]) {
      const { json } = await runJson("judge", ...ON, ...from);
      const found = json.circuits.find(({ cart }: { cart: string }) => cart === `Q-${name}`);
      expect([from[0], found?.verdict]).toEqual([from[0], verdict]);
    }
  });

  test("the numbers of the former fluid stand nowhere with the verdict; the reason names their sample and its day", async () => {
    const { json } = await runJson("judge", ...FILES, ...ON, at("lab.csv"));
    const found = json.circuits.find(({ cart }: { cart: string }) => cart === "Q-changed");
    expect(found).toMatchObject({ sample: null, classes: null, assessed: [], circulation: null });
    expect(JSON.stringify(found)).not.toMatch(/611|151|117|0\.123/);
    expect(found.reasons[0].message).toContain("sample S-changed was drawn on 2026-03-04");
    const { out } = await runExplained("judge", ...FILES, ...ON, at("lab.csv"));
    const rows = out.split("\n").filter((line) => line.startsWith("│ Q-changed "));
    const cells = rows.flatMap((row) => row.split("│").map((cell) => cell.trim()));
    expect(cells.filter((cell) => !["", "Q-changed", "A"].includes(cell))).toEqual(["none", "take a new"]);
    await runExplained("report", ...FILES, ...ON, at("lab.csv"), "--out", at("report.html"));
    const page = readFileSync(at("report.html"), "utf8");
    const overview = /<tr><th scope="row"><a [^>]*aria-label="[^"]*Q-changed.*?<\/tr>/.exec(page)?.[0];
    expect(overview).toContain("take a new sample");
    expect(overview).not.toMatch(/117|0\.123|S-changed|2026-03-04/);
  });

  test("fleet says that the sample of a changed fluid is overdue since the day of the change", async () => {
    const { json } = await runJson("fleet", "--book", at("a.siltbook"), ...ON);
    const found = json.circuits.find(({ cart }: { cart: string }) => cart === "Q-changed");
    expect(found).toMatchObject({ verdict: "resample", nextSampleBy: "2026-03-08", daysToSample: -4 });
  });

  test("a circuit that cannot be computed with says so in judge, report and fleet, and the others are judged", async () => {
    const says = /cannot be judged\s+with: ingress is needed at 4 µm\(c\) or below/;
    for (const command of [
      ["judge", ...FILES, at("lab.csv")],
      ["report", ...FILES, at("lab.csv"), "--out", at("other.html")],
      ["fleet", "--book", at("a.siltbook")],
    ]) {
      const { code, out, err } = await run(...command, ...ON);
      expect([command[0], code, err]).toEqual([command[0], 1, ""]);
      if (command[0] !== "report") expect(out).toContain("Q-sound");
      const said = command[0] === "report" ? readFileSync(at("other.html"), "utf8") : out;
      expect(said).toMatch(says);
    }
  });

  test("dirty fluid is circulated, and the steps say which size the verifying sample must show", async () => {
    const { json } = await runJson("judge", ...FILES, ...ON, at("lab.csv"));
    const found = json.circuits.find(({ cart }: { cart: string }) => cart === "Q-dirty");
    const texts: string[] = found.next.steps.map(({ text }: { text: string }) => text);
    const verify = texts.findIndex((text) => text.startsWith("draw a verifying sample"));
    expect(texts[verify + 1]).toMatch(
      /asks for 14, which was not counted; have it counted in the verifying sample/,
    );
    await runExplained("report", ...FILES, ...ON, at("lab.csv"), "--out", at("dirty.html"));
    expect(readFileSync(at("dirty.html"), "utf8")).toContain(
      "Ask the laboratory for all sizes: ISO 4406 17/15/12",
    );
  });

  test("what the default of topping up let pass is returned as an assumption, and a share of the document is not", async () => {
    const of = async (requirement: object) => {
      writeFileSync(at("share.json"), JSON.stringify(requirement));
      const files = ["--carts", at("carts.json"), "--requirement", at("share.json")];
      const { json } = await runJson("judge", ...files, ...ON, at("lab.csv"));
      return json.circuits
        .find(({ cart }: { cart: string }) => cart === "Q-topped-little")
        .assumptions.filter(({ code }: { code: string }) => code === "top-up-share");
    };
    expect(await of(REQUIREMENT)).toMatchObject([
      {
        message: expect.stringContaining("4 L of 60 L were added since sample S-topped-little; up to 10 %"),
      },
    ]);
    const [system] = REQUIREMENT.systems;
    expect(await of({ ...REQUIREMENT, systems: [{ ...system, topUpShareMax: 0.2 }] })).toEqual([]);
  });
});

describe("a carts file is refused, with cart, circuit and place, for", () => {
  const read = (more: object) =>
    parseCartsFile(
      "carts.json",
      JSON.stringify({ carts: [{ cart: "Q-1", circuits: [circuit("A", more)] }] }),
    );
  const whose = ' (cart "Q-1", circuit "A")';

  test.each([
    [85, "expected a fraction such as 0.8 for 80 %; a number above 2 is taken for per cent, found 85"],
    [2.01, "expected a fraction such as 0.8 for 80 %; a number above 2 is taken for per cent, found 2.01"],
    [-0.1, "expected a number of 0 or more, found -0.1"],
  ])("an element used to %d", (elementUsed, said) => {
    expect(() => read({ state: { on: "2026-03-10", elementUsed } })).toThrow(
      `carts.json: carts.0.circuits.0.state.elementUsed: ${said}${whose}`,
    );
  });

  test.each([0, 0.8, 1, 2])("but not for an element used to %d", (elementUsed) => {
    expect(() => read({ state: { on: "2026-03-10", elementUsed } })).not.toThrow();
  });

  test("a top-up of more than the circuit holds", () => {
    const events = [
      event("top-up", "2026-03-01", { added: "5 L" }),
      event("top-up", "2026-03-02", { added: "16 US gal" }),
    ];
    expect(() => read({ events })).toThrow(
      /^carts\.json: carts\.0\.circuits\.0\.events\.1\.added: expected at most the 60 L that circuit "A" holds, found 60\.57 L topped up on 2026-03-02; .*\(cart "Q-1", circuit "A"\)$/,
    );
  });

  test.each([
    ["a top-up of all that it holds", event("top-up", "2026-03-01", { added: "60 L" })],
    [
      "more than it holds at a change of the fluid, flushing included",
      event("fluid-change", "2026-03-01", { added: "90 L" }),
    ],
  ])("but not for %s", (_name, one) => {
    expect(() => read({ events: [one] })).not.toThrow();
  });

  test.each([-0.1, 1.1])("a share of topping up of %d in a requirement", (topUpShareMax) => {
    const [system] = REQUIREMENT.systems;
    const text = JSON.stringify({ ...REQUIREMENT, systems: [{ ...system, topUpShareMax }] });
    expect(() => parseRequirementsFile("requirement.json", text)).toThrow(
      /systems\.0\.topUpShareMax: expected a number of/,
    );
  });

  test("and what a book took before the rule is named in the same way", async () => {
    const path = at("old.siltbook");
    const book = Book.open(path, { create: true });
    book.keepCarts("carts.json", JSON.stringify({ carts: [{ cart: "Q-1", circuits: [circuit("A")] }] }));
    book.keepRequirements("requirement.json", JSON.stringify(REQUIREMENT));
    book.close();
    const db = new Database(path);
    const body = JSON.stringify(circuit("A", { state: { on: "2026-03-10", elementUsed: 85 } }));
    db.prepare("UPDATE circuit SET body = ?").run(body);
    dropChain(db);
    db.close();
    const { code, err } = await runExplained("judge", "--book", path, ...ON);
    expect([code, err]).toEqual([
      2,
      "siltbook: carts of the book: carts.0.circuits.0.state.elementUsed: expected a fraction such as 0.8 for 80 %; " +
        `a number above 2 is taken for per cent, found 85${whose}\n`,
    ]);
  });
});

describe("a verdict of each of these cases", () => {
  test.each(EVIDENCE_CASES)("is judged again from its record with the same bytes: %s", (_name, change) => {
    const input = caseOf(change);
    const record = recordOf(input, judgeCircuit(input), { document: "limits", revision: "1" });
    expect(canonicalJson(recompute(JSON.parse(JSON.stringify(record.inputs))))).toBe(record.verdict);
  });
});
