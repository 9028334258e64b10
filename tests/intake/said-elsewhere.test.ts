import { describe, expect, test } from "vitest";
import { parseColumnMap, readLabFile } from "../../src/intake/index.js";

const TITLES = "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL";
const S1 = "S-1,QB-01,fore,2026-03-04,900,250";
const S2 = "S-2,QB-01,fore,2026-03-06,700,200";
const read = (lines: readonly string[], map?: object) =>
  readLabFile("lab.csv", new TextEncoder().encode(`${lines.join("\n")}\n`), {
    ...(map && {
      map: parseColumnMap("map.json", JSON.stringify({ siltbookColumnMap: 1, name: "lab", ...map })),
    }),
  });
type Read = Awaited<ReturnType<typeof read>>;
const taken = ({ samples }: Read) => samples.map(({ sample }) => sample);
const waiting = ({ quarantine }: Read) =>
  quarantine.map(({ row, issues }) => `${row} ${issues.map(({ column }) => column).join()}`);

describe("a row that is named like a mean, a limit, a blank or a control is no sample of its circuit", () => {
  test.each([
    ...["Mean", "average", "Mittelwert", "Moyenne", "Median", "Total", "Mean 3", "Limit", "LIMIT 2026"],
    ...[
      "Grenzwert",
      "Target",
      "Blank",
      "Blank 1",
      "Blindwert 2",
      "Baseline",
      "Previous",
      "Control",
      "QC-std",
    ],
  ])("%s", async (name) => {
    const file = await read([TITLES, S1, S2.replace("S-2", name)]);
    expect(taken(file)).toEqual(["S-1"]);
    expect(waiting(file)).toEqual(["3 sample"]);
  });

  test.each([...["S-2", "2", "Ref 12", "QC-17", "STD-4", "Max-2", "new-1", "Meander", "Blankenship 4", "A"]])(
    "%s may be the number of a sample",
    async (name) => {
      expect(taken(await read([TITLES, S1, S2.replace("S-2", name)]))).toEqual(["S-1", name]);
    },
  );
});

describe("a column that is not known says what the counts of its row stand for", () => {
  test.each([
    ["Dilution", "10"],
    ["Dilution", "1:10"],
    ["Dilution factor", "x 10"],
    ["Verdünnung", "1:10"],
    ["Multiplier", "1000"],
    ["Count unit", "per 100 mL"],
    ["Counts given", "/100 mL"],
    ["Size scale of counts", "ISO 4402"],
    ["Count info", "counts × 1000"],
  ])("%s: %s waits for a person, and a column map that drops it lets it in", async (title, text) => {
    const lines = [`${TITLES},${title}`, `${S1},${text}`, `${S2},`];
    const file = await read(lines);
    expect(taken(file)).toEqual(["S-2"]);
    expect(waiting(file)).toEqual([`2 ${title}`]);
    const columns = { [title]: { holds: "text" } };
    expect(taken(await read(lines, { columns }))).toEqual(["S-1", "S-2"]);
  });

  test.each([
    ["Dilution", "1"],
    ["Dilution", "1:1"],
    ["Dilution", "none"],
    ["Dilution", "0"],
    ["Dilution factor", "1.0"],
    ["Count unit", "per mL"],
    ["Method of counts", "ISO 11500"],
    ["Bottle size", "100 mL"],
    ["Order", "X-1000"],
    ["Scale of counts", "ISO 11171"],
  ])("%s: %s changes nothing", async (title, text) => {
    expect(taken(await read([`${TITLES},${title}`, `${S1},${text}`]))).toEqual(["S-1"]);
  });

  test("in a table with a row for each measurand the counts alone wait", async () => {
    const row = (what: string, value: string, dilution: string) =>
      `S-1,QB-01,fore,2026-03-04,${what},${value},${dilution}`;
    const file = await read([
      "sample,cart,circuit,drawn on,parameter,result,unit,dilution",
      row("4 µm(c)", "90,1/mL", "10"),
      row("water", "90,mg/kg", "10"),
    ]);
    expect(file.samples.map(({ counts, waterPpm }) => [counts, waterPpm?.value])).toEqual([[undefined, 90]]);
    expect(waiting(file)).toEqual(["2 dilution"]);
  });
});

describe("a line of text about the volume of the results is held against the titles in every language", () => {
  test.each([
    "Alle Zählungen je 100 ml",
    "Results per 100 mL",
    "Comptage par 100 mL",
    "All values /100 mL",
    "Conteo por 100 mL",
  ])("%s", async (line) => {
    expect(taken(await read([TITLES, S1, line, S2]))).toEqual(["S-1"]);
    await expect(read([line, TITLES, S1])).rejects.toThrow("column map");
  });

  test.each(["Results per mL", "Bottle volume: 100 mL", "Titrant 0.1 mmol/mL"])(
    "%s says nothing",
    async (line) => {
      expect(taken(await read([line, TITLES, S1, S2]))).toEqual(["S-1", "S-2"]);
    },
  );
});

describe("below a line that may name another cart the name above the table holds no more", () => {
  const titles = "sample,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL";
  const [one, two] = [S1, S2].map((row) => row.replace("QB-01,", "")) as [string, string];
  test.each(["QB-02", "Next: QB-02", "Equipment - 17", "Wózek: QB-2", "Vozík č. QB-02,,,,"])(
    "%s",
    async (line) => {
      const file = await read(["Cart: QB-01", titles, one, line, two]);
      expect(file.samples.map(({ sample, cart }) => [sample, cart])).toEqual([["S-1", "QB-01"]]);
      expect(file.quarantine.at(-1)).toMatchObject({ row: 5, issues: [{ column: "(row 4)" }] });
    },
  );

  test.each(["Page 1 of 2", "QB-01", "continued", "Printed 2026-03-07 08:30"])(
    "%s names none",
    async (line) => {
      const file = await read(["Cart: QB-01", titles, one, line, two]);
      expect(file.samples.map(({ cart }) => cart)).toEqual(["QB-01", "QB-01"]);
    },
  );

  test.each(["Cart QB-02", "GPU QB-02", "Equipment no. QB-02"])("%s needs no colon", async (line) => {
    const file = await read([line.replace("QB-02", "QB-01"), titles, one, line, two]);
    expect(file.samples.map(({ cart }) => cart)).toEqual(["QB-01", "QB-02"]);
  });
});

describe("one sample in rows of labels", () => {
  const names = ["Sample no.: S-1", "Cart: QB-01", "Circuit: fore", "Date drawn: 2026-03-04"];

  test("two columns of results are questioned, and neither is taken", async () => {
    const file = await read([
      ...names.map((line) => line.replace(": ", ",")),
      "Parameter,Unit,Result,Result",
      "Water,mg/kg,90,120",
    ]);
    expect(file.samples).toEqual([]);
    expect(file.quarantine).toHaveLength(5);
  });

  test("a result may be in one cell with its label, as names do", async () => {
    const file = await read([...names, "> 4 µm(c) per mL: 900", "Water (mg/kg): 90", "Remarks: none"]);
    expect(file.samples.map(({ counts, waterPpm }) => [counts?.counts, waterPpm?.value])).toEqual([
      [[{ sizeUm: 4, count: 900 }], 90],
    ]);
  });

  test("a label in one cell that has to be asked about is an issue and is not passed over", async () => {
    const file = await read([...names, "> 4 µm per mL: 900", "Water (mg/kg): 90"]);
    expect(file.samples).toEqual([]);
    expect(file.quarantine.flatMap(({ issues }) => issues.map(({ column }) => column))).toContain(
      "> 4 µm per mL",
    );
  });
});

describe("a day with the name of its month, or year first with full stops", () => {
  test.each([
    ...[
      "4. března 2026",
      "4 marca 2026",
      "4 марта 2026",
      "4 mars 2026",
      "4. maaliskuuta 2026",
      "4 Mart 2026",
    ],
    ...["4 Μαρτίου 2026", "2026. 03. 04.", "4.3.2026 08:30 Uhr"],
  ])("%s", async (day) => {
    const file = await read([TITLES, S1.replace("2026-03-04", day)]);
    expect(file.samples.map(({ drawnOn }) => drawnOn)).toEqual(["2026-03-04"]);
  });
});

describe("what a JSON document says around its list of samples", () => {
  const row = { sample: "S-1", circuit: "fore", "drawn on": "2026-03-04", "4 µm(c) per mL": 900 };
  const readJson = (document: object) =>
    readLabFile("lab.json", new TextEncoder().encode(JSON.stringify(document)));

  test("names the cart of the rows that name none, and the reading says so", async () => {
    const { samples, assumptions } = await readJson({ cart: "QB-01", laboratory: "North", samples: [row] });
    expect(samples.map(({ cart }) => cart)).toEqual(["QB-01"]);
    expect(assumptions.map(({ message }) => message)).toContain(
      'cart "QB-01" was taken from what stands around the rows for the rows below it that name none',
    );
  });

  test("a name in the row stands", async () => {
    const { samples } = await readJson({ cart: "QB-01", samples: [{ ...row, cart: "QB-02" }] });
    expect(samples.map(({ cart }) => cart)).toEqual(["QB-02"]);
  });

  test.each([{ unit: "per 100 mL" }, { counts: { basis: "per 100 mL" } }])(
    "%j against the titles of the counts is questioned",
    async (around) => {
      await expect(readJson({ ...around, samples: [{ ...row, cart: "QB-01" }] })).rejects.toThrow(
        "column map",
      );
    },
  );
});
