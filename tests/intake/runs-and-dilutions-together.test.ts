import { describe, expect, test } from "vitest";
import { gatherResults } from "../../src/intake/cells/results.js";
import type { CountMeaning, Measurand } from "../../src/intake/layout/meaning.js";
import type { ReportedResult } from "../../src/intake/samples/entry.js";

/** Rows of one sample: counts above 4 and 6 µm(c) per mL, what the row says of its run and its dilution. */
interface Row {
  readonly four?: string;
  readonly six?: string;
  readonly fourteen?: string;
  readonly run?: string;
  readonly dilution?: string;
  readonly iso?: string;
  readonly blank?: string;
  readonly water?: string;
}
type How = "as-counted" | "multiplied" | "not said";

const above = (fromUm: number): CountMeaning => ({ holds: "count", fromUm, scale: "um(c)", volumeMl: 1 });
const meanings = (how: How) =>
  ({
    four: above(4),
    six: above(6),
    fourteen: above(14),
    run: { holds: "run" },
    dilution: { holds: "dilution", ...(how !== "not said" && { counts: how }) },
    iso: { holds: "class", standard: "ISO 4406" },
    blank: { ...above(4), blank: true },
    water: { holds: "water", unit: "mg/kg" },
  }) satisfies Record<keyof Row, Measurand>;

function gathered(rows: readonly Row[], how: How = "as-counted", counted?: string) {
  const measurands = meanings(how);
  const volume: Measurand = { holds: "counted", unit: "mL" };
  const entries = rows.map((row, index) => [
    ...(Object.entries(row) as [keyof Row, string][]).map(
      ([name, cell]): ReportedResult => ({
        ...{ measurand: measurands[name], cell, row: index + 2, column: name },
      }),
    ),
    ...(counted === undefined ? [] : [{ measurand: volume, cell: counted, row: index + 2, column: "mL" }]),
  ]);
  const file = { decimal: ".", decimalIsGiven: false, blanks: [], words: new Map() } as const;
  const { results, refused, assumptions } = gatherResults(entries, file);
  return {
    counts: results.counts?.counts.map(({ count }) => count),
    runs: results.replicates?.map(({ counts }) => counts.map(({ count }) => count)),
    counting: results.counts?.counting,
    classes: results.reportedClasses?.map((one) => one.class),
    // By the row of the count, and the cell in which the fault is.
    refused: refused.map(
      ({ result, at = result, code }) => `${result.row} ${result.column}: ${code} ${at.cell}`,
    ),
    assumed: assumptions.map(({ code }) => code),
  };
}

describe("counts of a dilution", () => {
  test("that their own row states are multiplied by it", () => {
    const { counts, assumed } = gathered([{ four: "90", six: "25", dilution: "10" }]);
    expect({ counts, assumed }).toEqual({
      counts: [900, 250],
      assumed: ["dilution-applied", "dilution-applied"],
    });
  });

  test("that a row without counts states for the sample are multiplied by it", () => {
    const apart = [{ four: "90", dilution: "" }, { six: "25" }, { dilution: "1:10" }];
    expect(gathered(apart).counts).toEqual([900, 250]);
  });

  test.each<[string, readonly Row[], string]>([
    ["two dilutions of the sample", [{ four: "90" }, { dilution: "10" }, { dilution: "100" }], "100"],
    ["a dilution and none", [{ four: "90" }, { dilution: "none" }, { dilution: "10" }], "10"],
    ["a dilution and one that is not read", [{ four: "90" }, { dilution: "10" }, { dilution: "ten" }], "ten"],
  ])("of which a file states %s are not taken", (_, rows, cell) => {
    const { counts, refused } = gathered(rows);
    expect({ counts, refused }).toEqual({
      ...{ counts: undefined, refused: [`2 four: repeated-measurand ${cell}`] },
    });
  });

  test.each([
    ["10", "1:10"],
    ["1", "none"],
    ["1+9", "x 10"],
  ])("of which a file states %j and %j are taken", (one, other) => {
    expect(gathered([{ four: "90" }, { dilution: one }, { dilution: other }]).refused).toEqual([]);
  });

  test.each<[How, string]>([
    ["as-counted", "10"],
    ["not said", "10"],
    ["as-counted", "ten"],
    ["multiplied", "ten"],
  ])("that are %s: a row that leaves it blank waits next to one of %j", (how, dilution) => {
    const { counts, refused } = gathered(
      [
        { four: "90", dilution },
        { six: "25", dilution: "" },
      ],
      how,
    );
    expect(refused).toContain("3 six: cell-missing ");
    expect(counts?.length ?? 0).toBeLessThan(2);
  });

  test.each<[string, How, string]>([
    ["are multiplied already", "multiplied", "10"],
    ["are of the sample itself", "as-counted", "1"],
  ])("a blank changes nothing where the others %s", (_, how, dilution) => {
    const rows = [
      { four: "900", dilution },
      { six: "250", dilution: "" },
      { water: "120", dilution: "" },
    ];
    expect(gathered(rows, how)).toMatchObject({ counts: [900, 250], refused: [] });
  });

  test("what a row of water says of its dilution is not said of counts that state their own", () => {
    const rows = [
      { four: "90", dilution: "10" },
      { water: "120", dilution: "1" },
    ];
    expect(gathered(rows)).toMatchObject({ counts: [900], refused: [] });
  });

  test.each<[How, string, string[]]>([
    ["as-counted", "10", ["2 dilution: cell-not-read 10"]],
    ["not said", "1:10", ["2 dilution: cell-not-read 1:10"]],
    ["as-counted", "ten", ["2 dilution: cell-not-read ten"]],
    ["as-counted", "1", []],
    ["not said", "none", []],
    ["as-counted", "", []],
    ["multiplied", "10", []],
  ])("that stand in another table than their dilution, %s by %j", (how, dilution, refused) => {
    expect(gathered([{ dilution }], how).refused).toEqual(refused);
    expect(gathered([{ dilution, water: "120" }], how).refused).toEqual(refused);
    // A row of a table of counts may leave them blank.
    expect(gathered([{ dilution, four: "", water: "120" }], how).refused).toEqual([]);
  });

  test("where no mark says whether they are multiplied, the dilution is asked about, and 1 needs no answer", () => {
    expect(gathered([{ four: "90", dilution: "10" }], "not said").refused).toEqual([
      "2 four: measurand-not-known 10",
    ]);
    expect(gathered([{ four: "90", dilution: "1" }], "not said")).toMatchObject({
      counts: [90],
      assumed: [],
    });
  });

  test("the clean bottle before them is not diluted", () => {
    expect(gathered([{ blank: "5", four: "90", dilution: "10" }]).counts).toEqual([900]);
  });

  test.each<[readonly Row[], How, object | undefined]>([
    [[{ four: "90", dilution: "10" }], "as-counted", { countedMl: 10, dilution: 10 }],
    [[{ four: "900", dilution: "10" }], "multiplied", { countedMl: 10, dilution: 10 }],
    [[{ four: "900", dilution: "1" }], "as-counted", { countedMl: 10 }],
    // Half of the bottles hold a tenth of the sample: the scatter is at most that of the larger dilution.
    [
      [
        { run: "1", four: "900", dilution: "1" },
        { run: "2", four: "91", dilution: "10" },
      ],
      "as-counted",
      { countedMl: 10, dilution: 10 },
    ],
    [
      [
        { four: "900", dilution: "10" },
        { water: "120", dilution: "100" },
      ],
      "multiplied",
      { countedMl: 10, dilution: 10 },
    ],
  ])("10 mL through the counter: %j, %s", (rows, how, counting) => {
    expect(gathered(rows, how, "10").counting).toEqual(counting);
  });
});

describe("runs", () => {
  test("are numbered as they come, whatever they are called, and have their mean", () => {
    const rows = [
      { run: "A ", four: "900", six: "250" },
      { run: "b", four: "910", six: "240" },
      { run: "a", water: "120" },
    ];
    expect(gathered(rows)).toMatchObject({
      counts: [905, 245],
      runs: [
        [900, 250],
        [910, 240],
      ],
    });
  });

  test("a single run is the sample", () => {
    expect(gathered([{ run: "2", four: "900" }])).toMatchObject({ counts: [900], runs: undefined });
  });

  test.each(["Mean", "average", "Mittelwert", "result", "-", ""])(
    "a row named %j is of all of them",
    (label) => {
      const runs = [1, 2].map((run) => ({ run: String(run), four: String(900 + run) }));
      expect(gathered([...runs, { run: label, four: "950" }])).toMatchObject({
        counts: [950],
        runs: [[901], [902]],
      });
    },
  );

  test("a mean whose dilution is blank waits where the runs are of a dilution", () => {
    const runs = [1, 2].map((run) => ({ run: String(run), four: "90", dilution: "10" }));
    const mean = { run: "mean", four: "90", dilution: "" };
    expect(gathered([...runs, mean]).refused).toEqual(["4 four: cell-missing "]);
    expect(gathered([...runs, { ...mean, four: "900" }], "multiplied").refused).toEqual([]);
  });

  test("a mean of no counts waits for no dilution", () => {
    const runs = [1, 2].map((run) => ({ run: String(run), four: "90", dilution: "10" }));
    const mean = { run: "mean", four: "", dilution: "", water: "120" };
    expect(gathered([...runs, mean])).toMatchObject({ counts: [900], refused: [] });
  });

  test("a class of a run is held against the counts of that run", () => {
    // ISO 4406: above 640 to 1300 is 17, above 160 to 320 is 15, above 20 to 40 is 12.
    const run = (label: string, iso: string) => ({
      run: label,
      four: "900",
      six: "250",
      fourteen: "30",
      iso,
    });
    expect(gathered([run("1", "17/15/12"), run("2", "17/15/12")]).classes).toBeUndefined();
    expect(gathered([run("1", "17/15/12"), run("2", "19/15/12")]).classes).toEqual(["19/15/12"]);
  });
});
