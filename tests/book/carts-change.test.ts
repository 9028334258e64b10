import { mkdtempSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeEach, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import {
  cartChanges,
  cartsFileSchema,
  requirementChanges,
  requirementsFileSchema,
} from "../../src/samples/index.js";
import { inOneLine, run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();

const CIRCUIT = {
  circuit: "fore",
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volume: "60 L",
  flow: "45 L/min",
  element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 200 }] },
};
const CHANGE = { on: "2026-03-01", kind: "fluid-change" };
const TOP_UP = { on: "2026-03-03", kind: "top-up", added: "12 L" };
const carts = (...circuits: object[]) => ({ carts: [{ cart: "C-1", circuits }] });
const parsed = (file: object) => cartsFileSchema.parse(file).carts;

describe("what a carts file changes is said", () => {
  const now = (change: object) => carts({ ...CIRCUIT, events: [CHANGE, TOP_UP], ...change });
  test.each([
    ["nothing", now({}), []],
    ["events in another order", now({ events: [TOP_UP, CHANGE] }), []],
    ["another volume", now({ volume: "80 L" }), [["field-changed", "volumeL is 80, was 60"]]],
    ["the same volume in other words", now({ volume: "60.0 L" }), []],
    ["another flow", now({ flow: "30 L/min" }), [["field-changed", "flowLpm is 30, was 45"]]],
    ["another system", now({ serves: "second" }), [["field-changed", "serves is second, was main system"]]],
    [
      "another element",
      now({ element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 75 }] } }),
      [["field-changed", "element is"]],
    ],
    ["ingress", now({ ingress: [{ sizeUmC: 4, particlesPerMin: 9 }] }), [["field-changed", "was not given"]]],
    [
      "a state that was entered",
      now({ state: { on: "2026-03-05", level: "alarm" } }),
      [["field-changed", "state is"]],
    ],
    [
      "another fluid",
      now({ fluid: "MIL-PRF-87257" }),
      [
        ["field-changed", "fluid is MIL-PRF-87257, was MIL-PRF-83282"],
        ["fluid-without-change", "no fluid change is entered"],
      ],
    ],
    [
      "another fluid by a fluid change",
      now({ fluid: "MIL-PRF-87257", events: [CHANGE, TOP_UP, { ...CHANGE, on: "2026-03-08" }] }),
      [
        ["field-changed", "fluid is"],
        ["event-new", "fluid change of 2026-03-08 is new"],
      ],
    ],
    [
      "another fluid and a top-up",
      now({ fluid: "MIL-PRF-87257", events: [CHANGE, TOP_UP, { ...TOP_UP, on: "2026-03-08" }] }),
      [
        ["field-changed", "fluid is"],
        ["fluid-without-change", "no fluid change is entered"],
        ["event-new", "top up of 2026-03-08 is new"],
      ],
    ],
    [
      "an event that is not listed",
      now({ events: [TOP_UP] }),
      [["event-kept", "fluid change of 2026-03-01 is not in the file and stays"]],
    ],
    [
      "no list of events",
      carts(CIRCUIT),
      [
        ["event-kept", "fluid change"],
        ["event-kept", "top up"],
      ],
    ],
    [
      "an event of another day",
      now({ events: [{ ...CHANGE, on: "2026-02-01" }, TOP_UP] }),
      [
        ["event-kept", "fluid change of 2026-03-01"],
        ["event-new", "fluid change of 2026-02-01"],
      ],
    ],
    [
      "the litres of a top-up",
      now({ events: [CHANGE, { ...TOP_UP, added: "2 L" }] }),
      [["event-changed", "top up of 2026-03-03: addedL is 2, was 12"]],
    ],
    [
      "a second top-up of one day",
      now({ events: [CHANGE, TOP_UP, { ...TOP_UP, added: "5 L" }] }),
      [["event-new", "top up of 2026-03-03"]],
    ],
    [
      "another circuit in place of it",
      carts({ ...CIRCUIT, circuit: "aft" }),
      [
        ["circuit-gone", "circuit fore is gone"],
        ["circuit-new", "circuit aft is new"],
      ],
    ],
  ] as const)("%s", (_, file, expected) => {
    const changes = cartChanges(parsed(now({})), parsed(file));
    expect(changes.map(({ kind }) => kind)).toEqual(expected.map(([kind]) => kind));
    for (const [index, [, words]] of expected.entries()) expect(changes[index]?.message).toContain(words);
  });

  test("one of two top-ups of a day that is not listed stays", () => {
    const two = carts({ ...CIRCUIT, events: [TOP_UP, { ...TOP_UP, added: "5 L" }] });
    const one = carts({ ...CIRCUIT, events: [{ ...TOP_UP, added: "5 L" }] });
    expect(cartChanges(parsed(two), parsed(one))).toMatchObject([{ kind: "event-kept" }]);
  });

  const hookup = (aircraft: string) => ({ on: "2026-03-05", kind: "hookup", aircraft });
  test.each([
    ["another aircraft of that day: the first hookup stays", hookup("X-2"), ["event-kept", "event-new"]],
    ["the same aircraft written in another way: one hookup", hookup("x 1"), ["event-changed"]],
    ["the hookup with its minutes: one hookup", { ...hookup("X-1"), minutes: 20 }, ["event-changed"]],
  ])("of a logged hookup to X-1, %s", (_title, event, kinds) => {
    const logged = (entry: object) => parsed(carts({ ...CIRCUIT, events: [entry] }));
    const changes = cartChanges(logged(hookup("X-1")), logged(event));
    expect(changes.map(({ kind }) => kind)).toEqual(kinds);
    expect(changes[0]?.message).toContain("hookup to");
  });
});

const REQUIREMENT = {
  document: "limits",
  revision: "3",
  systems: [
    {
      system: "main system",
      fluids: ["MIL-PRF-83282", "MIL-PRF-87257"],
      cleanliness: ["17/15/12"],
      waterPpmMax: 200,
      acidMgKohPerGMax: 0.2,
      sampleAgeDaysMax: 30,
    },
  ],
};

describe("what a requirements file changes is said", () => {
  const [system] = REQUIREMENT.systems;
  test.each([
    ["nothing", REQUIREMENT, []],
    ["the revision", { ...REQUIREMENT, revision: "4" }, ["revision is 4, was 3"]],
    [
      "a limit with its revision",
      { ...REQUIREMENT, revision: "4", systems: [{ ...system, waterPpmMax: 800 }] },
      ["revision is 4, was 3", "main system: waterPpmMax is 800, was 200"],
    ],
    [
      "a limit under the same revision",
      { ...REQUIREMENT, systems: [{ ...system, waterPpmMax: 800 }] },
      [
        "main system: waterPpmMax is 800, was 200",
        "the requirement has changed, and revision 3 is the one it was before; name the new revision",
      ],
    ],
    [
      "another system",
      { ...REQUIREMENT, revision: "4", systems: [{ ...system, system: "other" }] },
      ["revision is 4, was 3", "main system is gone", "other is new"],
    ],
  ])("%s", (_, file, expected) => {
    const changes = requirementChanges(
      requirementsFileSchema.parse(REQUIREMENT),
      requirementsFileSchema.parse(file),
    );
    expect(changes.map(({ message }) => message)).toEqual(expected);
  });
});

describe("in a book", () => {
  let folder: string;
  let book: string;
  const write = (name: string, text: object | string) => {
    const path = join(folder, name);
    writeFileSync(path, typeof text === "string" ? text : JSON.stringify(text));
    return path;
  };
  const importing = (on: string, ...args: string[]) => runJson("import", "--book", book, "--on", on, ...args);
  const judged = async (on: string, ...args: string[]) => {
    const { json } = await runJson("judge", "--book", book, "--on", on, ...args);
    const [circuit] = json.circuits;
    return {
      verdict: circuit.verdict,
      why: circuit.reasons[0].message as string,
      assumptions: json.assumptions,
    };
  };
  const HEADER =
    "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";
  const sample = (number: number, drawn: string) =>
    write(`s-${number}.csv`, `${HEADER}\nS-${number},C-1,fore,${drawn},900,220,30,120,0.1`);

  beforeEach(async () => {
    folder = mkdtempSync(join(root, "of-test-"));
    book = join(folder, "base.siltbook");
    await importing(
      "2026-03-02",
      "--carts",
      write("carts.json", carts({ ...CIRCUIT, events: [CHANGE] })),
      "--requirement",
      write("requirement.json", REQUIREMENT),
      sample(1, "2026-02-28"),
    );
  });

  test("an event that was kept stays when the next file does not list it, and the sample before it stays former", async () => {
    expect((await judged("2026-03-10")).verdict).toBe("resample");
    const plain = write("plain.json", carts(CIRCUIT));
    for (let time = 0; time < 2; time += 1) {
      const { json } = await importing("2026-03-04", "--carts", plain);
      expect(json.changes.map(({ kind }: { kind: string }) => kind)).toEqual(["event-kept"]);
      expect((await judged("2026-03-10")).why).toContain("the fluid was changed on 2026-03-01");
    }
    const { out } = await run("import", "--book", book, "--carts", plain);
    expect(inOneLine(out)).toContain("fluid change of 2026-03-01 is not in the file and stays");
    expect(out).toContain("--drop-events");
  });

  test("--drop-events lets it go, says which, and needs a carts file", async () => {
    const { json } = await importing(
      "2026-03-04",
      "--carts",
      write("plain.json", carts(CIRCUIT)),
      "--drop-events",
    );
    expect(json.changes).toMatchObject([
      {
        kind: "event-gone",
        message: expect.stringContaining("fluid change of 2026-03-01 is not in the file and goes"),
      },
    ]);
    expect((await judged("2026-03-10")).verdict).toBe("fit");
    const alone = await run("import", "--book", book, "--drop-events", sample(2, "2026-03-03"));
    expect([alone.code, alone.err]).toEqual([
      2,
      "siltbook: --drop-events: expected a carts file with it (--carts)\n",
    ]);
  });

  test("a circuit that goes and comes back has its events still", async () => {
    await importing("2026-03-04", "--carts", write("aft.json", carts({ ...CIRCUIT, circuit: "aft" })));
    const back = await importing("2026-03-05", "--carts", write("plain.json", carts(CIRCUIT)));
    expect(back.json.changes.map(({ kind }: { kind: string }) => kind)).toEqual([
      "circuit-gone",
      "event-kept",
    ]);
    expect((await judged("2026-03-10")).verdict).toBe("resample");
  });

  test("another declared fluid asks for a sample drawn after it; a fluid change that goes with it needs none more", async () => {
    await importing("2026-03-04", sample(2, "2026-03-03"));
    expect((await judged("2026-03-10")).verdict).toBe("fit");
    const other = { ...CIRCUIT, fluid: "MIL-PRF-87257" };
    await importing("2026-03-05", "--carts", write("other.json", carts({ ...other, events: [CHANGE] })));
    const { verdict, why } = await judged("2026-03-10");
    expect(verdict).toBe("resample");
    expect(why).toContain("another fluid is declared since then: MIL-PRF-87257, was MIL-PRF-83282");
    // The same file again is no further change.
    const again = await importing("2026-03-09", "--carts", join(folder, "other.json"));
    expect(again.json.changes.map(({ kind }: { kind: string }) => kind)).toEqual(["event-kept"]);
    await importing("2026-03-09", sample(3, "2026-03-06"));
    expect((await judged("2026-03-10")).verdict).toBe("fit");

    const backAgain = carts({ ...CIRCUIT, events: [CHANGE, { ...CHANGE, on: "2026-03-04" }] });
    const { json } = await importing("2026-03-09", "--carts", write("back.json", backAgain));
    expect(json.changes.map(({ kind }: { kind: string }) => kind)).not.toContain("fluid-without-change");
    expect((await judged("2026-03-10")).verdict).toBe("fit");
  });

  test("judge with another carts file counts the events of the book and says what differs", async () => {
    const plain = write("plain.json", carts(CIRCUIT));
    const { verdict, assumptions } = await judged("2026-03-10", "--carts", plain);
    expect(verdict).toBe("resample");
    expect(assumptions.map(({ message }: { message: string }) => message)).toContain(
      "other than in the book: cart C-1, circuit fore: fluid change of 2026-03-01 is not in the file and stays",
    );
    await importing("2026-03-04", sample(2, "2026-03-03"));
    expect((await judged("2026-03-10", "--carts", plain)).verdict).toBe("fit");
    const other = write("other.json", carts({ ...CIRCUIT, fluid: "MIL-PRF-87257" }));
    expect((await judged("2026-03-10", "--carts", other)).verdict).toBe("resample");
    const elsewhere = write("elsewhere.json", { carts: [{ cart: "C-2", circuits: [CIRCUIT] }] });
    const { json } = await runJson("fleet", "--book", book, "--on", "2026-03-10", "--carts", elsewhere);
    expect(json.assumptions).toMatchObject([
      { message: "other than in the book: cart C-2 is new" },
      { message: "other than in the book: cart C-1 is not in the file and is not judged" },
    ]);
    const kept = Book.open(book);
    expect(kept.carts()[0]?.circuits[0]).toMatchObject({ fluid: "MIL-PRF-83282", events: [CHANGE] });
    kept.close();
  });
});
