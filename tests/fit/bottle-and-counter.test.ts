import { describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import { collectSamples, readLabFile } from "../../src/intake/index.js";
import type { Requirement } from "../../src/samples/index.js";
import { CIRCUIT, caseOf, REQUIREMENT } from "../support/fitness/bases.js";

type Sampling = NonNullable<Requirement["sampling"]>;

const NAMES = "sample,cart,circuit,drawn on,received,reported,fluid,water (mg/kg),acid number (mg KOH/g)";
const VALUES = "S-1,C-1,1,2026-03-04,2026-03-06,2026-03-09,MIL-PRF-83282,120,0.1";
const COUNTED = { "4 µm(c) per mL": "900", "6 µm(c) per mL": "250", "14 µm(c) per mL": "30" };
/** Run 2 of the same bottle under several ways to title it. */
const run = (title: (size: string) => string, ...values: string[]) =>
  Object.fromEntries(
    [4, 6, 14].map((size, index) => [title(`${size} µm(c) per mL`), values[index] as string]),
  );

/** Reads one row with more columns, and judges it by what the requirement asks of drawing and counting. */
async function judge(columns: Readonly<Record<string, string>>, sampling: Sampling = {}) {
  const text = `${[NAMES, ...Object.keys(columns)].join()}\n${[VALUES, ...Object.values(columns)].join()}\n`;
  return judgeText(text, sampling);
}

async function judgeText(text: string, sampling: Sampling) {
  const read = await readLabFile("lab.csv", new TextEncoder().encode(text));
  const { samples, quarantine } = collectSamples([read], [{ cart: "C-1", circuits: [CIRCUIT] }]);
  expect(quarantine).toEqual([]);
  const requirement = { ...REQUIREMENT, sampling };
  const { verdict, reasons, assumptions } = judgeCircuit(caseOf({ requirement, samples }));
  return {
    verdict,
    codes: reasons.filter(({ callsFor }) => callsFor !== "fit").map(({ code }) => code),
    assumed: assumptions.map(({ code }) => code),
    sample: samples[0],
  };
}

describe("a blank in a file counts as one from a program", () => {
  test.each([
    ["Blank 4 µm(c) per mL"],
    ["4 µm(c) per mL blank"],
    ["4 µm(c) per mL (bottle blank)"],
    ["Blindwert 4 µm(c) per mL"],
  ])("%s", async (title) => {
    // 17/15/12 allows 1300 above 4 µm(c): less than 1 % of that, 13, may come from the bottle.
    expect(await judge({ ...COUNTED, [title]: "12" }, { blank: true })).toMatchObject({ codes: [] });
    expect(await judge({ ...COUNTED, [title]: "< 12" }, { blank: true })).toMatchObject({ codes: [] });
    expect(await judge({ ...COUNTED, [title]: "13" })).toMatchObject({ codes: ["blank-too-high"] });
  });

  test("it is not subtracted, and it is no count of the sample", async () => {
    const { sample } = await judge({ ...COUNTED, "Blank 4 µm(c) per mL": "5" });
    expect(sample?.counts?.counts.map(({ count }) => count)).toEqual([900, 250, 30]);
    expect(sample?.blank?.counts).toEqual([{ sizeUm: 4, count: 5 }]);
  });

  test("a blank that is required and left empty is not a pass", async () => {
    const answer = await judge({ ...COUNTED, "Blank 4 µm(c) per mL": "" }, { blank: true });
    expect(answer.codes).toEqual(["blank-not-counted"]);
  });
});

describe("runs of one bottle in a file count as replicates from a program", () => {
  test.each<[string, (size: string) => string]>([
    ["run 2", (size) => `${size} run 2`],
    ["in brackets", (size) => `${size} (run 2)`],
    ["replicate before the size", (size) => `Replicate 2 ${size}`],
    ["second count", (size) => `2nd count ${size}`],
  ])("%s", async (_, title) => {
    const two = { replicatesMin: 2 };
    expect(await judge({ ...COUNTED, ...run(title, "910", "240", "31") }, two)).toMatchObject({ codes: [] });
    // 900 and 1100 in 10 mL each: 9000 and 11 000 particles, far apart for chance, and 14 % of their mean.
    const apart = await judge({ ...COUNTED, ...run(title, "1200", "330", "40") }, two);
    expect(apart.codes).toContain("replicates-scatter");
    expect((await judge(COUNTED, two)).codes).toEqual(["replicates-missing"]);
  });

  test("a run that is outside is not hidden by the reported counts", async () => {
    const title = (size: string) => `${size} run 2`;
    // The mean of 1290 and 1330 is 1310, beyond 1300.
    const close = { "4 µm(c) per mL": "1290", "6 µm(c) per mL": "250", "14 µm(c) per mL": "30" };
    expect(await judge({ ...close, ...run(title, "1330", "250", "30") })).toMatchObject({
      verdict: "circulate",
    });
  });

  test.each(["TNTC", "too many to count", "> 100000", "not detected"])(
    "a run that says %s is not dropped",
    async (said) => {
      const columns = { ...COUNTED, ...run((size) => `${size} run 2`, said, "250", "30") };
      const text = `${[NAMES, ...Object.keys(columns)].join()}\n${[VALUES, ...Object.values(columns)].join()}\n`;
      const { samples, quarantine } = await readLabFile("lab.csv", new TextEncoder().encode(text));
      expect(samples).toEqual([]);
      expect(quarantine.flatMap(({ issues }) => issues.map(({ code }) => code))).toContain(
        "counts-break-a-rule",
      );
    },
  );

  test("runs alone stand for the sample with their mean", async () => {
    const both = {
      ...run((size) => `${size} run 1`, "900", "250", "30"),
      ...run((size) => `${size} run 2`, "910", "240", "31"),
    };
    const { sample, codes } = await judge(both, { replicatesMin: 2 });
    expect(sample?.counts?.counts.map(({ count }) => count)).toEqual([905, 245, 30.5]);
    expect(codes).toEqual([]);
  });

  test("in a file with a row for each measurand as well", async () => {
    const rows = [
      ...Object.entries(COUNTED),
      ...Object.entries(run((size) => `${size} run 2`, "910", "240", "31")),
      ["Blank 4 µm(c) per mL", "5"],
    ];
    const names = "S-1,C-1,1,2026-03-04,MIL-PRF-83282";
    const lines = [...rows, ["water (mg/kg)", "120"], ["acid number (mg KOH/g)", "0.1"]].map(
      ([measurand, value]) => `${names},${measurand},${value}`,
    );
    const text = `sample,cart,circuit,drawn on,fluid,measurand,value\n${lines.join("\n")}\n`;
    expect(await judgeText(text, { blank: true, replicatesMin: 2 })).toMatchObject({
      verdict: "fit",
      codes: [],
    });
  });
});

describe("the calibration of the counter", () => {
  const due = (day: string) => ({ ...COUNTED, "Calibration due": day });
  const CALIBRATED = { calibrated: true } as const;
  test.each<[string, Readonly<Record<string, string>>, Sampling, string[], boolean]>([
    ["holds until the report", due("2026-03-09"), CALIBRATED, [], false],
    ["ends the day before the report", due("2026-03-08"), CALIBRATED, ["calibration-overdue"], false],
    ["is required and not stated", COUNTED, CALIBRATED, ["calibration-not-stated"], false],
    ["is required and left empty", due(""), CALIBRATED, ["calibration-not-stated"], false],
    ["had surely ended, and is only said", due("2026-03-05"), {}, [], true],
    ["may have held, and nobody asks", due("2026-03-06"), {}, [], false],
  ])("%s", async (_, columns, sampling, codes, isSaid) => {
    const answer = await judge(columns, sampling);
    expect({ codes: answer.codes, isSaid: answer.assumed.includes("counter-out-of-calibration") }).toEqual({
      codes,
      isSaid,
    });
  });
});

/** A row for each measurand; some rows say more of the sample in columns or in place of a result. */
function longText(
  rows: readonly (readonly [measurand: string, value: string, unit?: string])[],
  columns: Readonly<Record<string, readonly string[]>> = {},
): string {
  const all = [
    ...Object.entries(COUNTED),
    ["water", "120", "mg/kg"] as const,
    ["acid number", "0.1", "mg KOH/g"] as const,
    ...rows,
  ];
  const lines = all.map(([measurand, value, unit = ""], index) =>
    [
      "S-1,C-1,1,2026-03-04",
      ...Object.values(columns).map((cells) => cells[index] ?? ""),
      measurand,
      value,
      unit,
    ].join(),
  );
  return [
    ["sample,cart,circuit,drawn on", ...Object.keys(columns), "test,result,unit"].join(),
    ...lines,
  ].join("\n");
}

describe("a row of a measurand may say how the sample was counted", () => {
  test.each<[string, readonly (readonly [string, string, string?])[], Sampling, string[]]>([
    ["until when the counter is calibrated", [["Calibration due", "2026-12-31"]], { calibrated: true }, []],
    ["until when it was", [["Calibration due", "2026-01-31"]], { calibrated: true }, ["calibration-overdue"]],
    [
      "until when it was, before the report",
      [
        ["Calibration due", "2026-03-08"],
        ["Report date", "2026-03-09"],
      ],
      { calibrated: true },
      ["calibration-overdue"],
    ],
    ["the fluid", [["Fluid", "MIL-PRF-83282"]], { labelled: true }, []],
    ["another fluid", [["Fluid", "MIL-PRF-5606"]], {}, ["fluid-contradicts-label"]],
    ["the volume with its unit", [["Counted volume", "10", "mL"]], { countedMlMin: 10 }, []],
    ["the volume with its unit in one cell", [["Volume counted", "25 mL"]], { countedMlMin: 10 }, []],
    [
      "too little in one cell",
      [["Volume counted", "5 mL"]],
      { countedMlMin: 10 },
      ["counted-volume-too-small"],
    ],
    [
      "a volume without a unit",
      [["Volume counted", "25"]],
      { countedMlMin: 10 },
      ["counted-volume-not-stated"],
    ],
    ["a volume without a unit that nobody asks for", [["Volume counted", "25"]], {}, []],
  ])("%s", async (_, rows, sampling, codes) => {
    expect((await judgeText(longText(rows), sampling)).codes).toEqual(codes);
  });

  test("of rows that say several days the calibration that ends first counts", async () => {
    const days = (...due: string[]) => ({ "calibration due": due });
    for (const due of [
      ["2026-12-31", "2026-01-31", "2026-12-31"],
      ["2026-01-31", "2026-12-31"],
      ["", "2026-01-31"],
    ])
      expect((await judgeText(longText([], days(...due)), { calibrated: true })).codes).toEqual([
        "calibration-overdue",
      ]);
    expect((await judgeText(longText([], days("", "2026-12-31")), { calibrated: true })).codes).toEqual([]);
  });

  test("of rows that say several days of reports the last counts", async () => {
    const { sample } = await judgeText(
      longText([], { reported: ["2026-03-06", "2026-03-11", "2026-03-09"] }),
      {},
    );
    expect(sample?.reportedOn).toBe("2026-03-11");
  });
});

describe("a counted volume whose cells write the unit", () => {
  test.each<[string, Sampling, string[]]>([
    ["10 mL", { countedMlMin: 10 }, []],
    ["5 mL", { countedMlMin: 10 }, ["counted-volume-too-small"]],
    ["10", { countedMlMin: 10 }, ["counted-volume-not-stated"]],
    ["3 x 10 mL", { countedMlMin: 10 }, ["counted-volume-not-stated"]],
    ["10", {}, []],
    ["3 x 10 mL", {}, []],
  ])("%s", async (cell, sampling, codes) => {
    expect((await judge({ ...COUNTED, "Counted volume": cell }, sampling)).codes).toEqual(codes);
  });
});
