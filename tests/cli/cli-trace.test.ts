import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { inOneLine, run, runExplained, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
function write(name: string, text: string): string {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
}

const CIRCUIT = {
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volume: "60 L",
  flow: "45 L/min",
  element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
};
const to = (on: string, aircraft: string, more = {}) => ({ on, kind: "hookup", aircraft, ...more });
const CARTS = write(
  "carts.json",
  JSON.stringify({
    carts: [
      {
        cart: "C-1",
        circuits: [
          {
            ...{ ...CIRCUIT, circuit: "fore", delivery: { flow: "20 L/min" } },
            events: [
              to("2026-08-03", "X-11", { minutes: 2 }),
              to("2026-08-20", "x 12"),
              to("2026-09-02", "X-11"),
            ],
          },
          {
            ...{ ...CIRCUIT, circuit: "service", delivery: { returns: false } },
            events: [to("2026-08-26", "X-12", { serviced: "3 L" })],
          },
        ],
      },
      { cart: "C-2", circuits: [{ ...CIRCUIT, circuit: "main", events: [to("2026-08-22", "X-12")] }] },
    ],
  }),
);
const system = { system: "main system", volumeL: 90, fluids: ["MIL-PRF-83282"], cleanliness: ["17/15/12"] };
const limits = { ...system, waterPpmMax: 200, acidMgKohPerGMax: 0.2, sampleAgeDaysMax: 30 };
const REQUIREMENT = write(
  "requirement.json",
  JSON.stringify({ document: "example limits", revision: "3", systems: [limits] }),
);
const HEAD =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";
const row = (sample: string, where: string, day: string, water: string) =>
  `${sample},${where},${day},MIL-PRF-83282,1000,300,30,${water},0.1`;
const LAB = write(
  "lab.csv",
  [
    HEAD,
    row("S-2", "C-1,fore", "2026-08-01", "95"),
    row("S-3", "C-1,fore", "2026-08-31", "450"),
    row("T-2", "C-1,service", "2026-08-25", "80"),
    row("U-1", "C-2,main", "2026-08-30", "80"),
    "",
  ].join("\n"),
);
const BAD_ROW = write("bad.csv", [HEAD, row("S-4", "C-1,fore", "2026-09-05", "9O"), ""].join("\n"));
const FILES = ["--carts", CARTS, "--requirement", REQUIREMENT, "--on", "2026-09-10", LAB];

describe("siltbook trace --cart", () => {
  test("answers first, what is bad before what is good, in lines of 80 columns, and ends with 1", async () => {
    const { code, out } = await run("trace", ...FILES, "--cart", "C-1");
    expect(code).toBe(1);
    expect(out).toBe(`Circuit fore of C-1: sample S-3 of 2026-08-31 is bad for water. Since the last
good sample, S-2 of 2026-08-01, it served 2 aircraft: X-11, x 12 (3 hookups: 2
before the bad sample, 1 after it).
Circuit fore of C-1: last good for particles, the acid number and the identity
of the fluid in sample S-3 of 2026-08-31; since then it served 1 aircraft: X-11.
Since the last good sample of 2026-08-25 (T-2) circuit service of C-1 served 1
aircraft: X-12.

Circuit fore of C-1, water:
2026-08-03 X-11  at most 40 L of its fluid, water +200 ppm by mass
2026-08-20 x 12  at most 60 L of its fluid, water +300 ppm by mass
2026-09-02 X-11  at most 60 L of its fluid, water +300 ppm by mass

Not known: 2026-08-20, 2026-09-02: the minutes of the hookup are not stated: the
bound is all that the circuit holds, 60 L.
Not known: 2026-09-02: no sample that reports water was drawn since: it may have
been higher.

With --explain: the amounts carried over, the cautions, 4 assumptions.
Siltbook advises; it never releases. Manuals, rules and licensed staff decide.
`);
  });

  test("--explain: each hookup of a bad circuit, what it can have carried over, what is not known and what it rests on", async () => {
    const { out } = await runExplained("trace", ...FILES, "--cart", "C-1");
    const said = inOneLine(out);
    expect(out).toContain(
      "\nCircuit fore of C-1, water:\n  2026-08-03, X-11, 2 min: at most 40 L of its fluid",
    );
    for (const words of [
      "40 L of its fluid, 44.5 % of what the aircraft's system holds water: at most 15.5 g, which raises the aircraft's fluid by 200 ppm by mass; if both mix, 9.32 g and 121 ppm by mass",
      "Served since by other circuits: X-12, served by circuit fore of C-1, was connected to circuit main of C-2 on 2026-08-22",
      "Not known: 2026-08-20, 2026-09-02: the minutes of the hookup are not stated: the bound is all that the circuit holds, 60 L",
      "Caution: - Siltbook advises; it never releases. The aircraft maintenance manual",
    ])
      expect(said).toContain(words);
    expect(out).toMatch(/\n {2}- water: the circuit is taken to have held no more /);
  });

  test("one circuit that is good ends with 0, and says no more than that", async () => {
    const { code, out } = await run("trace", ...FILES, "--cart", "C-1", "--circuit", "service");
    expect(code).toBe(0);
    expect(out).toMatch(/^Since the last good sample [^:]*\saircraft: X-12\.\n\nWith --explain: /);
  });

  test("before the bad sample was drawn the same circuit was good, and its hookups are those until then", async () => {
    const asked = ["--cart", "C-1", "--circuit", "fore", "--on", "2026-08-21"];
    const { code, json } = await runJson("trace", ...FILES, ...asked);
    expect(code).toBe(0);
    expect(json.says).toEqual([
      "Since the last good sample of 2026-08-01 (S-2) circuit fore of C-1 served 2 aircraft: X-11, x 12.",
    ]);
  });

  test("a row that could not be read may be a bad result of its circuit, and of no other", async () => {
    const asked = (circuit: string) => ["--cart", "C-1", "--circuit", circuit, "--on", "2026-08-30"];
    const fore = await runExplained("trace", ...FILES, BAD_ROW, ...asked("fore"));
    expect(fore.code).toBe(1);
    expect(fore.out).toContain("bad.csv row 2 could not be read and may hold a result of circuit fore");
    const service = await run("trace", ...FILES, BAD_ROW, ...asked("service"));
    expect([service.code, service.out.includes("bad.csv")]).toEqual([0, false]);
  });

  test("as JSON: the sentences, every quantity with its hookups, and the numbers", async () => {
    const { code, json } = await runJson("trace", ...FILES, "--cart", "C-1", "--circuit", "fore");
    expect(code).toBe(1);
    expect(json.says[0]).toContain("is bad for water");
    const water = json.circuits[0].quantities.find(
      ({ quantity }: { quantity: string }) => quantity === "water",
    );
    expect(water).toMatchObject({
      state: "bad",
      now: {
        lastGood: { sample: "S-2", drawnOn: "2026-08-01" },
        firstBad: { sample: "S-3" },
        hookups: [
          {
            event: { aircraft: "X-11" },
            when: "before-bad",
            carried: { litres: 40, amounts: [{ rise: { atMost: 200 } }] },
          },
          { event: { aircraft: "x 12" }, when: "before-bad", carried: { litres: 60 } },
          { event: { aircraft: "X-11" }, when: "after-bad" },
        ],
      },
      earlier: [],
    });
    expect(json.cautions.length).toBeGreaterThan(0);
  });
});

describe("siltbook trace --aircraft", () => {
  test("in any spelling: the carts it met, and which were bad", async () => {
    const { code, out } = await runExplained("trace", ...FILES, "--aircraft", "x12");
    expect(code).toBe(1);
    const said = inOneLine(out);
    expect(said).toContain(
      "x12 was connected to circuit fore of C-1, circuit main of C-2 and circuit service of C-1 in 3 hookups; bad around that time: circuit fore of C-1 on 2026-08-20, water (sample S-3 of 2026-08-31).",
    );
    expect(said).toContain('"x 12", "X-12" in the logs was taken for "x12"');
    expect(said).toContain("2026-08-22, X-12, by circuit main of C-2: good by the samples after it");
    expect(said).toContain(
      "2026-08-26, X-12, 3 L serviced, by circuit service of C-1: no later sample has shown",
    );
  });

  test("in short: a line for each hookup", async () => {
    const { out } = await run("trace", ...FILES, "--aircraft", "x12");
    expect(out).toContain(`
Hookups:
2026-08-20 circuit fore of C-1     at most 60 L of its fluid, water +300 ppm by
                                   mass
2026-08-22 circuit main of C-2     good by the samples after it
`);
  });

  test("one that is in no log ends with 0; one that looks like another with 1", async () => {
    const none = await runExplained("trace", ...FILES, "--aircraft", "Y-1");
    expect([none.code, none.out.split("\n")[0]]).toEqual([0, "No log has a hookup of Y-1 until 2026-09-10."]);
    const similar = await runExplained("trace", ...FILES, "--aircraft", "X-I1");
    expect(similar.code).toBe(1);
    expect(inOneLine(similar.out)).toMatch(
      /^No log has a hookup of X-I1 .* Registers that could be the same: X-11\./,
    );
  });
});

describe("from a book, and called wrongly", () => {
  test("a book answers as the files do", async () => {
    const book = join(folder, "b.siltbook");
    await run("import", "--book", book, ...FILES);
    for (const what of [
      ["--cart", "C-1"],
      ["--aircraft", "X 12"],
    ]) {
      const fromFiles = await runJson("trace", ...FILES, ...what);
      const fromBook = await runJson("trace", "--book", book, "--on", "2026-09-10", ...what);
      expect(fromBook.code).toBe(fromFiles.code);
      expect(fromBook.json).toEqual(fromFiles.json);
    }
  });

  test.each([
    [[], "expected --cart or --aircraft, one of the two"],
    [["--cart", "C-1", "--aircraft", "X-1"], "expected --cart or --aircraft, one of the two"],
    [["--aircraft", "X-1", "--circuit", "fore"], "--circuit goes with --cart"],
    [["--cart", "C-9"], '--cart: there is no cart "C-9"; known are C-1, C-2'],
    [["--cart", "C-1", "--circuit", "aft"], '--circuit: expected one of fore, service, found "aft"'],
    [["--cart", "C-1", "--on", "yesterday"], "--on: expected a day such as 2026-03-14"],
  ])("%j ends with 2 and says what was expected", async (words, message) => {
    const { code, out, err } = await run("trace", ...FILES, ...words);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(message);
  });
});
