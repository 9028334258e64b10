import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  formatMinutes,
  planCirculation,
  type TimeToGoBy,
  timeToGoBy,
} from "../../src/circulation/index.js";
import { acceptedCounts, limitsOfTarget } from "../../src/cleanliness/index.js";
import { drawCleanUpCurve } from "../../src/figures/index.js";
import {
  circulationOfCircuit,
  describeVerdict,
  type JudgedCircuit,
  judgeCircuit,
  verdictColumns,
} from "../../src/fitness/index.js";
import { verdictsFrame } from "../../src/frames/index.js";
import { richOf } from "../../src/notebook/index.js";
import { minutesToGoBy } from "../../src/page/model/minutes.js";
import { type Circuit, cartsFileSchema, type Requirement } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, countedIn, REQUIREMENT } from "../support/fitness/bases.js";
import { run, runExplained, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const DIRTY = countedIn(20, 20_000, 5000, 640);
const ASKED = [
  ...["circulate", "--volume", "60 L", "--flow", "45 L/min", "--beta", "4=20 6=100 14=1000"],
  ...["--start", "4=20000 6=5000 14=640", "--target", "17/15/12"],
];

function minutesOf(goBy: TimeToGoBy | undefined): number {
  if (goBy?.kind !== "minutes") throw new Error("expected minutes to go by");
  return goBy.minutes;
}

describe.each<[string, Requirement["confidence"], string[], number | undefined]>([
  ["no confidence", undefined, ["--uncertainty", "counted=20 mL"], undefined],
  ["95 %", { probability: 0.95 }, ["--confidence", "95 %", "--uncertainty", "counted=20 mL"], undefined],
  [
    "99 % with a laboratory that scatters by 15 %",
    { probability: 0.99, counts: { reproducibility: { kind: "relative", rsd: 0.15 } } },
    ["--confidence", "99 %", "--uncertainty", "lab=15 % counted=20 mL"],
    0.15,
  ],
])("one circuit, one sample and a requirement of %s", (_name, confidence, options, laboratory) => {
  const requirement = { ...REQUIREMENT, ...(confidence && { confidence }) };
  const verdict = judgeCircuit(caseOf({ requirement, samples: [{ ...CLEAN, counts: DIRTY }] }));
  const judged = { circuit: CIRCUIT, requirement, verdict, trends: [] } as unknown as JudgedCircuit;
  const minutes = minutesOf(verdict.goBy);
  const said = formatMinutes(minutes);

  test("have the same minutes from circulate as from judge", async () => {
    const { json } = await runJson(...ASKED, ...options);
    expect(json.quoted.minutes).toBe(minutes);
    expect((await run(...ASKED, ...options)).out.split("\n")[0]).toContain(`Circulate ${said} (`);
  });

  test("and from the library", () => {
    const limits = requirement.cleanliness.flatMap(limitsOfTarget);
    const circuit = {
      volumeL: CIRCUIT.volumeL,
      flowLpm: CIRCUIT.flowLpm,
      betas: CIRCUIT.element.betas,
      limits,
    };
    const acceptance =
      confidence &&
      acceptedCounts(limits, {
        probability: confidence.probability,
        countedMl: 20,
        ...(laboratory !== undefined && { reproducibility: { kind: "relative", rsd: laboratory } }),
      });
    const asked = {
      ...(acceptance && { acceptance }),
      confidence: {
        ...(confidence && { confidence: confidence.probability }),
        uncertainty: { countedMl: 20, ...(laboratory !== undefined && { laboratory }) },
      },
    };
    const whole = { ...circuit, start: DIRTY };
    const found = timeToGoBy({ circuit: whole, plan: planCirculation(whole), ...asked });
    expect(minutesOf(found.goBy)).toBe(minutes);
    const start = { counts: DIRTY, assumptions: [] };
    expect(minutesOf(answerCirculation({ circuit, start, ...asked }).goBy)).toBe(minutes);
  });

  test("and in the sentence, the next step, the table, the frame, the notebook and the picture", () => {
    expect(describeVerdict(verdict)).toContain(`circulate ${said} (`);
    expect(verdict.next.steps[0]?.text).toContain(`circulate ${said} (`);
    expect(verdictColumns(["circulate"])[0]?.of(judged)).toBe(said);
    expect(verdictsFrame([judged]).column("circulateMinutes").values[0]).toBe(minutes);
    expect(richOf(verdict).text).toContain(`circulate ${said} (`);
    const { circulation, goBy } = verdict;
    if (circulation === undefined || goBy === undefined) throw new Error("expected a plan");
    expect(drawCleanUpCurve(circulation, "C-1", { goBy })).toContain(`circulate ${said};`);
  });
});

describe("what the carts file states of the equipment reaches judge as it reaches circulate", () => {
  const minutesWith = (change: Partial<Circuit>) =>
    minutesOf(
      judgeCircuit(caseOf({ circuit: { ...CIRCUIT, ...change }, samples: [{ ...CLEAN, counts: DIRTY }] }))
        .goBy,
    );

  test.each<[string, Partial<Circuit>, string[], string]>([
    ["bypass", { bypass: 0.2, leakage: 0 }, ["--bypass", "20 %"], ""],
    ["a seal that leaks", { leakage: 0.1 }, ["--bypass", "10 %"], ""],
    ["both, one after the other", { bypass: 0.2, leakage: 0.1 }, ["--bypass", "28 %"], ""],
    ["a bypass and nothing of the seal", { bypass: 0.2 }, ["--bypass", "20 %"], " leakage=10%"],
    [
      "a slow zone",
      { slowZone: { fraction: 0.3, exchangePerPass: 0.05 } },
      ["--slow-zone", "30 % exchange 5 %"],
      "",
    ],
    [
      "no slow zone",
      { slowZone: { fraction: 0, exchangePerPass: 0 } },
      ["--slow-zone", "0 % exchange 0 %"],
      "",
    ],
  ])("%s", async (_name, change, options, uncertainty) => {
    const { json } = await runJson(...ASKED, ...options, "--uncertainty", `counted=20 mL${uncertainty}`);
    expect(minutesWith(change)).toBeCloseTo(json.quoted.minutes, 9);
    expect(minutesWith(change)).not.toBe(minutesWith({}));
  });

  test("hoses, whose litres the carts file adds to the volume", async () => {
    const { volumeL: _v, flowLpm: _f, ...circuit } = CIRCUIT;
    const hoses = [{ boreMm: 25, lengthM: 8, count: 2 }];
    const [cart] = cartsFileSchema.parse({
      carts: [
        { cart: "C-1", circuits: [{ ...circuit, volume: "60 L", flow: "45 L/min", hoses, coldestC: 10 }] },
      ],
    }).carts;
    const read = cart?.circuits[0] as Circuit;
    expect(read.volumeL).toBeCloseTo(67.854, 3);
    const verdict = judgeCircuit(caseOf({ circuit: read, samples: [{ ...CLEAN, counts: DIRTY }] }));
    const { json } = await runJson(
      ...[...ASKED, "--uncertainty", "counted=20 mL"],
      ...["--hoses", "25 mm x 8 m x 2", "--fluid", CIRCUIT.fluid, "--coldest", "10 °C"],
    );
    expect(minutesOf(verdict.goBy)).toBe(json.quoted.minutes);
    expect(json.flow.kind).toBe("laminar");
    const steps = verdict.next.steps.map(({ text }) => text).join("\n");
    expect(steps).toContain("the flow is laminar in the hose of 25 mm at 10 °C");
    expect(steps).toContain("count the minutes from 29 °C (85 °F) on");
    expect(verdict.assumptions.map(({ code }) => code)).toContain("hoses-in-volume");
  });
});

test("judge, circulate, the report, the sheet and the library say the same minutes of the same files, less those that were run", async () => {
  const folder = temporaryFolder();
  const file = (name: string, text: string) => {
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  const { volumeL: _v, flowLpm: _f, ...circuit } = CIRCUIT;
  const events = [{ on: "2026-03-05", kind: "circulation" as const, minutes: 2 }];
  const carts = file(
    "carts.json",
    JSON.stringify({
      carts: [{ cart: "C-1", circuits: [{ ...circuit, events, volume: "60 L", flow: "45 L/min" }] }],
    }),
  );
  const system = { ...REQUIREMENT, cleanliness: ["17/15/12"] };
  const requirement = file(
    "requirement.json",
    JSON.stringify({ document: "example limits", revision: "3", systems: [system] }),
  );
  const csv = file(
    "results.csv",
    "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)\n" +
      "S-1,C-1,1,2026-03-04,MIL-PRF-83282,20000,5000,640,120,0.1\n",
  );
  const book = join(folder, "b.siltbook");
  await run("import", "--book", book, "--carts", carts, "--requirement", requirement, csv);
  const { json } = await runJson("judge", "--book", book, "--on", "2026-03-14");
  const { minutes } = json.circuits[0].circulation.quoted;
  const { json: asked } = await runJson(...ASKED);
  expect(minutes).toBe(asked.quoted.minutes - 2);
  const ofBook = ["circulate", "--book", book, "--cart", "C-1", "--on", "2026-03-14"];
  const sheet = join(folder, "sheet.html");
  const { json: again } = await runJson(...ofBook, "--sheet", sheet);
  expect(again.quoted).toEqual(json.circuits[0].circulation.quoted);
  expect(again.quoted.doneMinutes).toBe(2);
  const input = caseOf({
    circuit: { ...CIRCUIT, events },
    samples: [{ ...CLEAN, counts: countedIn(undefined, 20_000, 5000, 640) }],
  });
  expect(minutesToGoBy(input)).toMatchObject({ goBy: { minutes } });
  const found = circulationOfCircuit(input);
  if (found.kind !== "question") throw new Error(found.why);
  expect(minutesOf(answerCirculation(found.question).goBy)).toBe(minutes);
  expect((await runExplained("judge", "--book", book, "--on", "2026-03-14")).out).toContain(
    `circulate ${formatMinutes(minutes)} (`,
  );
  const page = join(folder, "report.html");
  await runExplained("report", "--book", book, "--on", "2026-03-14", "--out", page);
  const words = readFileSync(page, "utf8");
  expect(words).toContain(`Self-circulate ${formatMinutes(minutes)} (`);
  expect(readFileSync(sheet, "utf8")).toContain(`Self-circulate ${formatMinutes(minutes)} (`);
  expect(words).toContain(`expected after ${formatMinutes(minutes)}`);
  expect(words).toContain(
    `aria-label="C-1, circuit 1: circulate ${formatMinutes(minutes)} more; by the stated values 3.9 min`,
  );
  // No other minutes are ordered: but for the table that says so above it, the others are named where they stand.
  const others = [...words.matchAll(/(stated values(?: alone)? )?3\.9 min/g)].map(([, named]) => named);
  expect(others.length).toBeGreaterThan(2);
  expect(others.filter((named) => named === undefined)).toHaveLength(1);
  expect(words).toContain("by the stated values alone; channel 4 decides");
});
