import { describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import { collectSamples, parseColumnMap, readLabFile } from "../../src/intake/index.js";
import type { Requirement } from "../../src/samples/index.js";
import { CIRCUIT, caseOf, REQUIREMENT } from "../support/fitness/bases.js";

type Sampling = NonNullable<Requirement["sampling"]>;
type Row = Readonly<Record<string, string>>;

const NAMES = { sample: "S-1", cart: "C-1", circuit: "1", "drawn on": "2026-03-04", fluid: "MIL-PRF-83282" };
const REST = { "water (mg/kg)": "120", "acid number (mg KOH/g)": "0.1" };
const counts = (...[four, six, fourteen]: string[]): Row => ({
  "4 µm(c) per mL": four as string,
  "6 µm(c) per mL": six as string,
  "14 µm(c) per mL": fourteen as string,
});
const line = (cells: readonly string[]) => cells.map((cell) => `"${cell}"`).join(",");

/** Rows of one sample, as a file of each shape would write them. Every row has the same titles. */
const SHAPES: Readonly<Record<string, (rows: readonly Row[]) => readonly [file: string, text: string]>> = {
  wide: (rows) => {
    const all = rows.map((row) => ({ ...NAMES, ...row, ...REST }));
    return [
      "lab.csv",
      [line(Object.keys(all[0] as Row)), ...all.map((row) => line(Object.values(row)))].join("\n"),
    ];
  },
  long: (rows) => {
    const how = Object.keys(rows[0] as Row).filter((title) => /^(?:Run|Dilution|Counted)/.test(title));
    const lines = rows.flatMap((row) =>
      Object.entries({ ...row, ...REST })
        .filter(([title]) => !how.includes(title))
        .map((result) =>
          line([...Object.values(NAMES), ...how.map((title) => row[title] as string), ...result]),
        ),
    );
    return ["lab.csv", [line([...Object.keys(NAMES), ...how, "Test", "Result"]), ...lines].join("\n")];
  },
  block: (rows) => [
    "lab.csv",
    rows.flatMap((row) => [...Object.entries({ ...NAMES, ...row, ...REST }).map(line), ""]).join("\n"),
  ],
  JSON: (rows) => ["lab.json", JSON.stringify(rows.map((row) => ({ ...NAMES, ...row, ...REST })))],
};

async function judge(shape: string, rows: readonly Row[], sampling: Sampling = {}, columns?: object) {
  const [file, text] = (SHAPES[shape] as (typeof SHAPES)[string])(rows);
  const map =
    columns && parseColumnMap("map.json", JSON.stringify({ siltbookColumnMap: 1, name: "lab", columns }));
  const read = await readLabFile(file, new TextEncoder().encode(text), { ...(map && { map }) });
  const { samples, quarantine } = collectSamples([read], [{ cart: "C-1", circuits: [CIRCUIT] }]);
  const { verdict, reasons } = judgeCircuit(caseOf({ requirement: { ...REQUIREMENT, sampling }, samples }));
  return {
    verdict,
    codes: reasons.flatMap(({ code, callsFor }) => (callsFor === "fit" ? [] : [code])),
    waits: [...new Set(quarantine.flatMap(({ issues }) => issues.map(({ column }) => column)))],
    sample: samples[0],
    samples: samples.length,
    assumed: read.assumptions.map(({ code }) => code),
  };
}

const countsOf = ({ sample }: Awaited<ReturnType<typeof judge>>) =>
  sample?.counts?.counts.map(({ count }) => count);
const EACH = Object.keys(SHAPES).map((shape) => [shape] as const);

describe("a column of runs joins the rows of one bottle", () => {
  const run = (label: string, ...perMl: string[]): Row => ({ Run: label, ...counts(...perMl) });
  const TWO = { replicatesMin: 2 };

  test.each(EACH)("%s: two runs that agree", async (shape) => {
    const answer = await judge(shape, [run("1", "900", "250", "30"), run("2", "910", "240", "31")], TWO);
    expect(answer).toMatchObject({ verdict: "fit", codes: [], waits: [], samples: 1 });
    expect(countsOf(answer)).toEqual([905, 245, 30.5]);
    expect(answer.sample?.replicates).toHaveLength(2);
    expect(answer.assumed).toContain("mean-of-runs");
  });

  test.each(EACH)("%s: runs that scatter", async (shape) => {
    // 900 and 1200 in 10 mL each are 9000 and 12 000 particles, far apart for chance and 20 % of their mean.
    const answer = await judge(shape, [run("1", "900", "250", "30"), run("2", "1200", "330", "40")], TWO);
    expect(answer.codes).toContain("replicates-scatter");
  });

  test.each(EACH)("%s: a mean that is outside is not hidden by a first run inside", async (shape) => {
    // 17/15/12 allows 1300 above 4 µm(c): the mean of 1290 and 1330 is 1310.
    const answer = await judge(shape, [run("1", "1290", "250", "30"), run("2", "1330", "250", "30")]);
    expect(answer).toMatchObject({ verdict: "circulate", codes: ["particles-outside"] });
  });

  test.each(EACH)("%s: of runs that cannot all be read none is taken", async (shape) => {
    const rows = [run("1", "900", "250", "30"), run("2", "9O0", "250", "30"), run("3", "905", "250", "30")];
    const answer = await judge(shape, rows);
    expect(answer).toMatchObject({ samples: 0, codes: ["no-sample"] });
    expect(answer.waits.length).toBeGreaterThan(0);
  });

  test.each<[string, string[]]>([
    ["named in words", ["Run 1", "Run 2"]],
    ["by letters", ["A", "B"]],
    ["of all", ["1 of 2", "2 of 2"]],
    ["by the numbers of the instrument", ["4512", "4513"]],
  ])("runs %s", async (_, [one, two]) => {
    const answer = await judge(
      "wide",
      [run(one as string, "900", "250", "30"), run(two as string, "910", "240", "31")],
      TWO,
    );
    expect(answer).toMatchObject({ verdict: "fit", samples: 1 });
  });

  test("a row for the mean is the result, and the runs are checked against it", async () => {
    const rows = [
      run("1", "900", "250", "30"),
      run("2", "910", "240", "31"),
      run("Mean", "905", "245", "30"),
    ];
    const answer = await judge("wide", rows, TWO);
    expect(countsOf(answer)).toEqual([905, 245, 30]);
    expect(answer.sample?.replicates).toHaveLength(2);
  });

  test("a sample of a single row is counted once, whatever its run is called", async () => {
    const answer = await judge("wide", [run("4512", "900", "250", "30")]);
    expect(answer).toMatchObject({ verdict: "fit", waits: [] });
    expect(answer.sample?.replicates).toBeUndefined();
    expect((await judge("wide", [run("4512", "900", "250", "30")], TWO)).codes).toEqual([
      "replicates-missing",
    ]);
  });

  test("one run that is there twice in two ways is asked about", async () => {
    const answer = await judge("wide", [run("1", "900", "250", "30"), run("1", "1200", "250", "30")]);
    expect(answer.samples).toBe(0);
  });

  test("classes of single runs that their counts show contradict nothing", async () => {
    // 900 is 17 and 640 is 16: two runs on both sides of an edge, and the class of their mean.
    const rows = [
      { Run: "1", ...counts("660", "250", "30"), "ISO 4406": "17/15/12" },
      { Run: "2", ...counts("630", "240", "31"), "ISO 4406": "16/15/12" },
    ];
    const answer = await judge("wide", rows);
    expect(answer).toMatchObject({ verdict: "fit", codes: [], waits: [] });
    expect(answer.sample?.reportedClasses).toBeUndefined();
  });

  test("two samples in a table of runs stay two", async () => {
    const rows = [run("1", "900", "250", "30"), run("2", "910", "240", "31")];
    const [file, text] = (SHAPES.wide as (typeof SHAPES)[string])(rows);
    const second = text
      .split("\n")
      .slice(1)
      .map((one) => one.replaceAll("S-1", "S-2"));
    const { samples } = await readLabFile(file, new TextEncoder().encode([text, ...second].join("\n")));
    expect(samples.map(({ sample, replicates }) => [sample, replicates?.length])).toEqual([
      ["S-1", 2],
      ["S-2", 2],
    ]);
  });

  test("rows of a run in another order, other samples between them", async () => {
    const one = run("1", "900", "250", "30");
    const two = run("2", "910", "240", "31");
    const [file, text] = (SHAPES.wide as (typeof SHAPES)[string])([one, two]);
    const [head, first, last] = text.split("\n") as [string, string, string];
    const between = first.replaceAll("S-1", "S-2");
    const { samples } = await readLabFile(
      file,
      new TextEncoder().encode([head, last, between, first].join("\n")),
    );
    expect(samples.map(({ sample, counts: found }) => [sample, found?.counts[0]?.count]).sort()).toEqual([
      ["S-1", 905],
      ["S-2", 900],
    ]);
  });
});

describe("a diluted bottle says whether its counts are multiplied already", () => {
  const diluted = (title: string, factor: string, ...perMl: string[]): Row => ({
    [title]: factor,
    ...counts(...perMl),
  });

  test.each(EACH)("%s: counts as they were counted are multiplied", async (shape) => {
    const answer = await judge(shape, [diluted("Dilution factor (not applied)", "10", "90", "25", "3")]);
    expect(answer).toMatchObject({ verdict: "fit", waits: [] });
    expect(countsOf(answer)).toEqual([900, 250, 30]);
    expect(answer.assumed).toContain("dilution-applied");
    // 131 in the mixture are 1310 in the fluid.
    const dirty = await judge(shape, [diluted("Dilution factor (not applied)", "10", "131", "25", "3")]);
    expect(dirty).toMatchObject({ verdict: "circulate" });
  });

  test.each(EACH)("%s: counts that are multiplied already stand", async (shape) => {
    const answer = await judge(shape, [diluted("Dilution (counts corrected)", "10", "900", "250", "30")]);
    expect(answer).toMatchObject({ verdict: "fit", waits: [] });
    expect(countsOf(answer)).toEqual([900, 250, 30]);
  });

  test.each(EACH)("%s: where it is not said, the bottle waits for the answer", async (shape) => {
    const answer = await judge(shape, [diluted("Dilution", "1:10", "90", "25", "3")]);
    // In a table with a row for each measurand the water of the bottle does not wait.
    expect(countsOf(answer)).toBeUndefined();
    expect(answer.verdict).toBe("resample");
    expect(answer.waits).toContain("Dilution");
    for (const [how, count] of [
      ["multiplied", 90],
      ["as-counted", 900],
    ] as const) {
      const columns = { Dilution: { holds: "dilution", counts: how } };
      const settled = await judge(shape, [diluted("Dilution", "1:10", "90", "25", "3")], {}, columns);
      expect(countsOf(settled)?.[0]).toBe(count);
    }
  });

  test.each([["1"], ["1:1"], ["none"], ["undiluted"], [""], ["-"]])(
    "an undiluted bottle needs no answer: %s",
    async (factor) => {
      const answer = await judge("wide", [diluted("Dilution", factor, "900", "250", "30")]);
      expect(answer).toMatchObject({ verdict: "fit", waits: [] });
    },
  );

  test.each([
    ["10", 10],
    ["x10", 10],
    ["10x", 10],
    ["1/10", 10],
    ["1 in 5", 5],
    ["1+9", 10],
    ["10:1", 10],
    ["2,5", 2.5],
  ])("%s is a dilution by %s", async (factor, times) => {
    const answer = await judge("wide", [diluted("Dilution (not applied)", factor, "20", "4", "1")]);
    expect(countsOf(answer)).toEqual([20 * times, 4 * times, times]);
  });

  test.each([["0.1"], ["a lot"], ["2 + 3"], ["1:10:100"]])(
    "%s is none, and the bottle waits",
    async (factor) => {
      const answer = await judge("wide", [diluted("Dilution (not applied)", factor, "90", "25", "3")]);
      expect(answer).toMatchObject({ samples: 0, waits: ["Dilution (not applied)"] });
    },
  );

  test("less of the bottle went through the counter than was counted", async () => {
    const row = { ...diluted("Dilution (applied)", "10", "900", "250", "30"), "Counted volume (mL)": "10" };
    const answer = await judge("wide", [row], { countedMlMin: 5 });
    expect(answer.sample?.counts?.counting).toEqual({ countedMl: 10, dilution: 10 });
    expect(answer.codes).toContain("counted-volume-too-small");
  });

  test("runs may be diluted differently", async () => {
    const rows = [
      { Run: "1", ...diluted("Dilution (not applied)", "1", "900", "250", "30") },
      { Run: "2", ...diluted("Dilution (not applied)", "10", "91", "24", "3") },
    ];
    const answer = await judge("wide", rows, { replicatesMin: 2 });
    expect(countsOf(answer)).toEqual([905, 245, 30]);
  });

  test("a blank is of a clean bottle, and is not multiplied", async () => {
    const row = { ...diluted("Dilution (not applied)", "10", "90", "25", "3"), "Blank 4 µm(c) per mL": "5" };
    expect((await judge("wide", [row])).sample?.blank?.counts).toEqual([{ sizeUm: 4, count: 5 }]);
  });

  test("a limit value is multiplied as well", async () => {
    const row = diluted("Dilution (not applied)", "10", "> 200", "25", "3");
    const answer = await judge("wide", [row]);
    expect(answer.sample?.limitedCounts).toMatchObject([{ count: 2000, limit: "above" }]);
    expect(answer.verdict).toBe("circulate");
  });
});

describe("the counted volume of a class without counts", () => {
  const classOnly = (volume: string): Row => ({ "ISO 4406": "16/14/11", "Counted volume (mL)": volume });

  test.each(EACH)("%s: is kept and held against what is required", async (shape) => {
    const enough = await judge(shape, [classOnly("10")], { countedMlMin: 10 });
    expect(enough).toMatchObject({ verdict: "fit", codes: [] });
    expect(enough.sample?.countedVolumeMl).toBe(10);
    expect((await judge(shape, [classOnly("5")], { countedMlMin: 10 })).codes).toEqual([
      "counted-volume-too-small",
    ]);
  });

  test("one that is not stated is no pass", async () => {
    expect((await judge("wide", [classOnly("")], { countedMlMin: 10 })).codes).toEqual([
      "counted-volume-not-stated",
    ]);
    expect((await judge("wide", [classOnly("")])).codes).toEqual([]);
  });
});
