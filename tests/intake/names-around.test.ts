import ExcelJS from "exceljs";
import { describe, expect, test } from "vitest";
import { describeIssue, parseColumnMap, readLabFile } from "../../src/intake/index.js";

const TITLES = ["sample", "circuit", "drawn on", "4 µm(c) per mL", "water (mg/kg)"];
const sampleRow = (name: string): (string | number)[] => [name, "fore", "2026-03-04", 900, 90];
const line = (cells: readonly (string | number)[]) => cells.join(",");
const read = (lines: readonly string[], map?: object) =>
  readLabFile("lab.csv", new TextEncoder().encode(`${lines.join("\n")}\n`), {
    ...(map && {
      map: parseColumnMap("map.json", JSON.stringify({ siltbookColumnMap: 1, name: "lab", ...map })),
    }),
  });
type Cells = readonly (readonly (string | number)[])[];
async function workbook(sheets: Readonly<Record<string, Cells>>) {
  const book = new ExcelJS.Workbook();
  for (const [name, rows] of Object.entries(sheets)) {
    const sheet = book.addWorksheet(name);
    for (const row of rows) sheet.addRow([...row]);
  }
  return readLabFile("lab.xlsx", new Uint8Array(await book.xlsx.writeBuffer()));
}
const cartsOf = ({ samples }: Awaited<ReturnType<typeof read>>) =>
  samples.map(({ sample, cart }) => [sample, cart]);
const saidIn = ({ assumptions }: Awaited<ReturnType<typeof read>>) =>
  assumptions.map(({ code, message }) => `${code}: ${message}`);

describe("a line above the table names the cart of its samples, and the reading says so", () => {
  test.each([
    ["in one cell", "Cart: QB-01"],
    ["in two cells", "Cart:,QB-01"],
    ["padded", "Cart,QB-01,,,"],
    ["beside other lines", "Equipment no.: QB-01"],
    ["before a label without a value", "Cart:,QB-01,Fluid:,"],
    ["after a label without a value", "Fluid:,,Cart:,QB-01"],
  ])("%s", async (_, above) => {
    const file = await read([above, "", line(TITLES), line(sampleRow("S-1"))]);
    expect(cartsOf(file)).toEqual([["S-1", "QB-01"]]);
    expect(saidIn(file)).toEqual([
      'named-around: cart "QB-01" was taken from row 1 for the rows below it that name none',
    ]);
  });

  test.each([
    ["with a header of its own", ["Cart: QB-02", line(TITLES)]],
    ["without one", ["Cart: QB-02"]],
    ["padded", ["Cart:,QB-02,,,"]],
    ["padded, in one cell", ["Cart: QB-02,,,,"]],
    ["after a blank line", ["", "Cart: QB-02"]],
  ])("another line further down is of the rows below it: %s", async (_, between) => {
    const file = await read([
      "Cart: QB-01",
      line(TITLES),
      line(sampleRow("S-1")),
      ...between,
      line(sampleRow("S-2")),
    ]);
    expect(cartsOf(file)).toEqual([
      ["S-1", "QB-01"],
      ["S-2", "QB-02"],
    ]);
    expect(file.quarantine).toEqual([]);
  });

  describe("is held against a column of carts, where there is one", () => {
    const rows = ["sample,cart,circuit,drawn on,water (mg/kg)", "S-1,QB-01,fore,2026-03-04,90"];

    test.each([
      ["the same", ["Cart: QB-01"]],
      ["the same in other letters", ["Cart: qb-01"]],
      ["several", ["Carts: QB-01 to QB-09"]],
      ["a counter under a wide title", ["Equipment: counter 7"]],
      ["an instrument under a wide title", ["Equipment no.: PC-7"]],
      ["an owner", ["Owner: QB-09"]],
    ])("%s: the column stands", async (_, above) => {
      const file = await read([...above, ...rows]);
      expect([cartsOf(file), saidIn(file)]).toEqual([[["S-1", "QB-01"]], []]);
    });

    test.each([
      ["another", ["Cart: QB-09"]],
      ["another of the same form", ["Cart: TX-44"]],
      ["another under a wide title", ["Equipment no.: QB-09"]],
    ])("%s: the row waits, with both names", async (_, above) => {
      const { samples, quarantine } = await read([...above, ...rows]);
      expect([samples, quarantine.length, quarantine[0]?.cart]).toEqual([[], 1, "QB-01"]);
      expect(quarantine[0]?.issues[0]?.expected).toMatch(/, as row 1 says; a person has to say which$/);
    });

    test("each line further down is of the rows below it", async () => {
      const [titles = "", row = ""] = rows;
      const more = ["Cart: QB-02", row.replace("S-1,QB-01", "S-2,QB-02")];
      const file = await read(["Cart: QB-01", titles, row, ...more]);
      expect(cartsOf(file)).toEqual([
        ["S-1", "QB-01"],
        ["S-2", "QB-02"],
      ]);
    });

    test("the name of a sheet that differs in its figures alone is another cart", async () => {
      const cells = rows.map((row) => row.split(","));
      expect((await workbook({ "QB-02": cells })).samples).toEqual([]);
      expect((await workbook({ "March 7": cells })).samples).toHaveLength(1);
    });
  });

  test("a counter is equipment too, and no second cart", async () => {
    for (const above of [
      ["Cart: QB-01", "Equipment: counter 7"],
      ["Equipment: counter 7", "Cart: QB-01"],
    ])
      expect(cartsOf(await read([...above, line(TITLES), line(sampleRow("S-1"))]))).toEqual([
        ["S-1", "QB-01"],
      ]);
  });

  test.each([
    "Cart:,QB-01,Circuit:,fore",
    // A line may be longer than the titles right below it.
    "Cart:,,QB-01,,Circuit:,,fore",
  ])("the circuit may stand there as well: %s", async (above) => {
    const file = await read([above, "sample,drawn on,water (mg/kg)", "S-1,2026-03-04,90"]);
    expect(file.samples).toMatchObject([{ cart: "QB-01", circuit: "fore", drawnOn: "2026-03-04" }]);
  });
});

describe("a line among or below the rows that says what no column and no line above them does", () => {
  const TITLES = "sample,cart,circuit,drawn on,water (mg/kg)";
  const [S1, S2] = ["S-1,QB-01,fore,2026-03-04,90", "S-2,QB-01,fore,2026-03-05,80"];
  const doubts = ({ samples, quarantine }: Awaited<ReturnType<typeof read>>) => [
    samples.map(({ sample, fluid }) => [sample, fluid]),
    quarantine.map(({ row, issues }) => [row, issues[0]?.code]),
  ];

  test.each([
    "Fluid: AS1241 Type IV",
    "Fluid,AS1241 Type IV",
    "Lubricant: MIL-PRF-5606",
    "Sampling point: drum",
    "Flowing: no",
  ])("puts the table in doubt, for it is not known which rows it is of: %s", async (said) => {
    const line = [[4, "table-in-doubt"]];
    const both = [
      ["S-1", undefined],
      ["S-2", undefined],
    ];
    expect(doubts(await read([TITLES, S1, S2, said]))).toEqual([both, line]);
    expect(doubts(await read([TITLES, S1, "", said, S2]))).toEqual([both, line]);
  });

  test.each([
    "Fluid: n/a",
    "Fluid: see column",
    "Sampling point: see label",
    "Flowing: as agreed",
    "Method: ASTM D6304",
  ])("says nothing of them: %s", async (said) => {
    expect(doubts(await read([TITLES, S1, said]))).toEqual([[["S-1", undefined]], []]);
  });

  test.each<[string, string[], object?]>([
    ["a column", [`${TITLES},fluid`, `${S1},MIL-PRF-5606`, "Fluid: MIL PRF 5606H"]],
    ["a column below a line", ["Fluid: MIL-PRF-5606", `${TITLES},fluid`, `${S1},MIL-PRF-5606`]],
    ["a line above, where a cell is blank", ["Fluid: MIL-PRF-5606", `${TITLES},fluid`, `${S1},`]],
    ["a line above", ["Fluid: MIL-PRF-5606", TITLES, S1, "Fluid: MIL-PRF-5606"]],
    ["a column map", [TITLES, S1, "Fluid: MIL PRF 5606"], { fixed: { fluid: "MIL-PRF-5606" } }],
  ])("is not needed where %s says it", async (_, lines, map) => {
    expect(doubts(await read(lines, map))).toEqual([[["S-1", "MIL-PRF-5606"]], []]);
  });

  const WITH_FLUID = [`${TITLES},fluid`, `${S1},MIL-PRF-5606`];
  const OTHER = "Fluid: AS1241 Type IV";
  test.each<[string, string[], number]>([
    ["a column has another fluid", [...WITH_FLUID, OTHER], 3],
    ["a line above has another fluid", ["Fluid: MIL-PRF-5606", TITLES, S1, OTHER], 4],
    [
      "a line above has another, and a page number ends the table",
      ["Fluid: MIL-PRF-5606", TITLES, S1, OTHER, "Page 1"],
      4,
    ],
    ["a column has another circuit", [TITLES, S1, "Circuit: aft"], 3],
  ])("puts the table in doubt where %s", async (_, lines, row) => {
    const { samples, quarantine } = await read(lines);
    expect(samples.map(({ sample }) => sample)).toEqual(["S-1"]);
    expect(quarantine.map((one) => [one.row, one.issues[0]?.code])).toEqual([[row, "table-in-doubt"]]);
  });

  test("a line above a column sets aside the rows of another fluid, and those alone", async () => {
    const { samples, quarantine } = await read([OTHER, ...WITH_FLUID, `${S2},AS1241 Type IV`]);
    expect(samples.map(({ sample }) => sample)).toEqual(["S-2"]);
    expect(quarantine.map(({ issues: [issue] }) => issue && describeIssue(issue))).toEqual([
      expect.stringContaining(
        'row 3, column "fluid": expected AS1241 Type IV, as row 1 says; a person has to say which, found "MIL-PRF-5606"',
      ),
    ]);
  });

  test("of a line that is of the rows below it nothing is in doubt", async () => {
    const lines = ["Fluid: MIL-PRF-5606", TITLES, S1, OTHER, S2];
    const { samples, quarantine, notSamples } = await read(lines);
    expect(samples.map(({ fluid }) => fluid)).toEqual(["MIL-PRF-5606", "AS1241 Type IV"]);
    expect(quarantine).toEqual([]);
    expect(notSamples.map(({ row }) => row)).toEqual([1, 2, 4]);
  });

  test.each([
    ["circuit", "fore", "Circuit: 2"],
    ["cart", "QB-01", "Cart: QB-02"],
    ["fluid", "MIL-PRF-5606", "Fluid: MIL-PRF-83282"],
  ])("is refused where the column map gives every sample another %s", async (kind, fixed, said) => {
    const titles = ["sample", "cart", "circuit", "drawn on"];
    const rowOf = (cells: readonly string[]) => cells.filter((_, index) => titles[index] !== kind).join(",");
    const lines = [rowOf(titles), rowOf(["S-1", "QB-01", "fore", "2026-03-04"])];
    await expect(
      read([`${lines[0]},water (mg/kg)`, `${lines[1]},90`, said, `${lines[1]},80`], {
        fixed: { [kind]: fixed },
      }),
    ).rejects.toThrow(`lab.csv row 3: expected ${kind} "${fixed}"`);
  });
});

describe("a sheet for each cart", () => {
  test("names the cart of its samples", async () => {
    const file = await workbook({ "QB-01": [TITLES, sampleRow("S-1")], "QB-02": [TITLES, sampleRow("S-2")] });
    expect(cartsOf(file)).toEqual([
      ["S-1", "QB-01"],
      ["S-2", "QB-02"],
    ]);
    expect(saidIn(file)[1]).toBe(
      'named-around: cart "QB-02" was taken from the name of the sheet for the rows below it that name none',
    );
  });

  test("a line above the table stands before the name of the sheet", async () => {
    const file = await workbook({ "QB-01": [["Cart:", "QB-07"], TITLES, sampleRow("S-1")] });
    expect(cartsOf(file)).toEqual([["S-1", "QB-07"]]);
  });

  test.each(["Sheet1", "Tabelle 2", "March 2026", "2026", "Results 3", "Hangar"])(
    "a sheet named %s names no cart",
    async (name) => {
      await expect(workbook({ [name]: [TITLES, sampleRow("S-1")] })).rejects.toThrow("missing cart");
    },
  );
});

describe("what a column map gives to every sample", () => {
  const WITH_CART = "sample,cart,circuit,drawn on,water (mg/kg)";
  const fixed = { fixed: { cart: "QB-01" } };

  test("is said, with the rows it served", async () => {
    const file = await read([line(TITLES), line(sampleRow("S-1"))], fixed);
    expect(cartsOf(file)).toEqual([["S-1", "QB-01"]]);
    expect(saidIn(file)).toEqual([
      'fixed-by-map: cart "QB-01" was taken from the column map for every row below row 1 that names none',
    ]);
  });

  test("fills blank cells and agrees with the same name", async () => {
    const file = await read([WITH_CART, "S-1,,fore,2026-03-04,90", "S-2,QB-01,fore,2026-03-05,90"], fixed);
    expect(cartsOf(file)).toEqual([
      ["S-1", "QB-01"],
      ["S-2", "QB-01"],
    ]);
  });

  test.each([
    ["blank", "", ""],
    ["blank in its first row", "", "QB-01"],
    ["blank in its last row", "QB-01", ""],
  ])("keeps the rows of a sample together where its cart is %s", async (_, first, last) => {
    const values = await read(
      [
        "sample,cart,circuit,drawn on,measurand,value,unit",
        `S-1,${first},fore,2026-03-04,4 µm(c),900,1/mL`,
        "S-2,QB-01,fore,2026-03-05,water,80,mg/kg",
        `S-1,${last},fore,2026-03-04,6 µm(c),1250,1/mL`,
      ],
      fixed,
    );
    // More particles above 6 µm than above 4 µm: that is seen only where both are of one sample.
    expect([cartsOf(values), values.quarantine.map(({ row }) => row)]).toEqual([[["S-2", "QB-01"]], [2, 4]]);
    const runs = await read(
      [
        "sample,cart,circuit,drawn on,run,4 µm(c) per mL",
        `S-1,${first},fore,2026-03-04,1,900`,
        `S-1,${last},fore,2026-03-04,2,910`,
      ],
      fixed,
    );
    expect(runs.samples.map(({ origin }) => origin[0]?.rows)).toEqual([[2, 3]]);
  });

  test.each([
    [
      "a column",
      [WITH_CART, "S-1,QB-01,fore,2026-03-04,90", "S-2,QB-02,fore,2026-03-05,90"],
      'lab.csv row 3, column "cart": expected cart "QB-01"',
    ],
    [
      "a line above",
      ["Cart: QB-02", line(TITLES), line(sampleRow("S-1"))],
      'lab.csv row 1: expected cart "QB-01"',
    ],
    [
      "a block",
      ["sample,S-1", "cart,QB-02", "circuit,fore", "drawn on,2026-03-04", "water (mg/kg),90"],
      'lab.csv row 2, column "cart": expected cart "QB-01"',
    ],
  ])("is refused where %s contradicts it", async (_, lines, message) => {
    await expect(read(lines, fixed)).rejects.toThrow(message);
  });
});

describe("a sheet with numbers of samples and results, and without carts", () => {
  const COUNTS: Cells = [
    ["sample", "cart", "circuit", "drawn on", "4 µm(c) per mL"],
    ["S-1", "QB-01", "fore", "2026-03-04", 900],
    ["S-2", "QB-02", "aft", "2026-03-05", 800],
  ];

  test("is joined to the other sheets by number, and keeps its own place", async () => {
    const file = await workbook({
      Counts: COUNTS,
      Chemistry: [
        ["sample", "water (mg/kg)"],
        ["S-2", 80],
        ["S-1", 90],
      ],
    });
    expect(
      file.samples.map(({ sample, cart, drawnOn, waterPpm, origin }) => [
        sample,
        cart,
        drawnOn,
        waterPpm?.value,
        origin[0]?.sheet,
        origin[0]?.rows,
      ]),
    ).toEqual([
      ["S-1", "QB-01", "2026-03-04", undefined, "Counts", [2]],
      ["S-2", "QB-02", "2026-03-05", undefined, "Counts", [3]],
      ["S-2", "QB-02", "2026-03-05", 80, "Chemistry", [2]],
      ["S-1", "QB-01", "2026-03-04", 90, "Chemistry", [3]],
    ]);
    expect(saidIn(file)).toEqual([
      expect.stringMatching(/^joined-by-number: the samples of sheet "Chemistry"/),
    ]);
  });

  test("is joined to a register without results", async () => {
    const register = [
      ["sample", "cart", "circuit", "drawn on"],
      ["S-1", "QB-01", "fore", "04.03.2026"],
    ];
    const file = await workbook({
      Register: register,
      Results: [
        ["sample", "water (mg/kg)"],
        ["S-1", 90],
      ],
    });
    expect(file.samples).toMatchObject([
      { cart: "QB-01", circuit: "fore", drawnOn: "2026-03-04", waterPpm: { value: 90 } },
    ]);
  });

  test("a number that no other sheet names, or two name differently, waits for a person", async () => {
    const twice = [...COUNTS, ["S-2", "QB-03", "aft", "2026-03-05", 700]];
    const file = await workbook({
      Counts: twice,
      Chemistry: [
        ["sample", "water (mg/kg)"],
        ["S-9", 990],
        ["S-2", 80],
      ],
    });
    expect(file.quarantine.map(({ issues: [issue] }) => issue && describeIssue(issue))).toEqual([
      'lab.xlsx sheet "Chemistry" row 2, column "sample": expected the number of a sample whose cart, circuit and day another sheet gives, found "S-9"',
      'lab.xlsx sheet "Chemistry" row 3, column "sample": expected a number that the other sheets give to one sample, found "S-2"',
    ]);
  });

  describe("a register says more than whose the bottles are", () => {
    const TITLES = [
      "sample",
      "cart",
      "circuit",
      "drawn on",
      "fluid",
      "drawn at",
      "received on",
      "reported on",
    ];
    const IN_REGISTER = [
      "S-1",
      "QB-01",
      "fore",
      "04.03.2026",
      "MIL-PRF-5606",
      "09:30",
      "05.03.2026",
      "09.03.2026",
    ];
    const joinedTo = async (titles: readonly string[], cells: readonly (string | number)[]) => {
      const file = await workbook({
        Register: [TITLES, IN_REGISTER],
        Results: [
          [...titles, "water (mg/kg)"],
          [...cells, 90],
        ],
      });
      return {
        samples: file.samples.map(({ origin: _, ...says }) => says),
        issues: file.quarantine.flatMap(({ issues }) => issues.map(describeIssue)),
      };
    };
    const WHOLE = {
      ...{ sample: "S-1", cart: "QB-01", circuit: "fore", drawnOn: "2026-03-04", drawnTime: "09:30" },
      ...{ fluid: "MIL-PRF-5606", receivedOn: "2026-03-05", reportedOn: "2026-03-09" },
      waterPpm: { value: 90 },
    };

    test.each<[string[], (string | number)[], object]>([
      [["sample"], ["S-1"], {}],
      [["sample", "drawn on"], ["S-1", "2026-03-04"], {}],
      [["sample", "fluid"], ["S-1", "MIL PRF 5606"], { fluid: "MIL PRF 5606" }],
      [["sample", "reported on"], ["S-1", "2026-03-20"], { reportedOn: "2026-03-20" }],
    ])("%j %j: the fluid and the days come along", async (titles, cells, own) => {
      expect(await joinedTo(titles, cells)).toEqual({ samples: [{ ...WHOLE, ...own }], issues: [] });
    });

    test.each([
      ["cart", "QB-02", "QB-01"],
      ["circuit", "aft", "fore"],
      ["drawn on", "2026-06-04", "2026-03-04"],
      ["fluid", "MIL-PRF-83282", "MIL-PRF-5606"],
    ])("another %s than that of the results waits for a person", async (title, own, other) => {
      expect(await joinedTo(["sample", title], ["S-1", own])).toEqual({
        samples: [],
        issues: [
          `lab.xlsx sheet "Results" row 2, column "${title}": expected ${other}, as another sheet says of sample S-1, found "${own}"`,
        ],
      });
    });

    test("two sheets that name two fluids give it to no one sample", async () => {
      const other = IN_REGISTER.map((cell) => (cell === "MIL-PRF-5606" ? "MIL-PRF-83282" : cell));
      const { samples, quarantine } = await workbook({
        Register: [TITLES, IN_REGISTER, other, IN_REGISTER],
        Results: [
          ["sample", "water (mg/kg)"],
          ["S-1", 90],
        ],
      });
      expect([samples, quarantine[0]?.issues[0]?.expected]).toEqual([
        [],
        "a number that the other sheets give to one sample",
      ]);
    });

    test("says the fluid of bottles whose results name them in full, each cart its own S-1", async () => {
      const cell = (cart: string, fluid: string) => ["S-1", cart, "fore", "04.03.2026", fluid];
      const result = (cart: string, day = "2026-03-04", fluid = "") => ["S-1", cart, "fore", day, fluid, 90];
      const file = await workbook({
        Results: [
          ["sample", "cart", "circuit", "drawn on", "fluid", "water (mg/kg)"],
          ...[result("QB-01"), result("QB-02"), result("QB-03"), result("QB-01", "2026-03-05")],
          result("QB-01", "2026-03-04", "MIL-PRF-83282"),
        ],
        Register: [TITLES.slice(0, 5), cell("QB-01", "MIL-PRF-5606"), cell("QB-02", "MIL-PRF-87257")],
      });
      expect(file.samples.map(({ cart, drawnOn, fluid }) => [cart, drawnOn, fluid])).toEqual([
        ["QB-01", "2026-03-04", "MIL-PRF-5606"],
        ["QB-02", "2026-03-04", "MIL-PRF-87257"],
        ["QB-03", "2026-03-04", undefined],
        ["QB-01", "2026-03-05", undefined],
      ]);
      expect(file.quarantine.flatMap(({ issues }) => issues.map(describeIssue))).toEqual([
        'lab.xlsx sheet "Results" row 6, column "fluid": expected MIL-PRF-5606, as another sheet says of sample S-1, found "MIL-PRF-83282"',
      ]);
      expect(saidIn(file)).toEqual([
        'joined-by-number: what sheet "Register" says of a bottle, such as its fluid, was taken for the sample of the same number, cart, circuit and day',
      ]);
    });

    test("a bottle that it describes in two ways waits for a person", async () => {
      const cell = (fluid: string) => ["S-1", "QB-01", "fore", "04.03.2026", fluid];
      const file = await workbook({
        Results: [
          ["sample", "cart", "circuit", "drawn on", "water (mg/kg)"],
          ["S-1", "QB-01", "fore", "04.03.2026", 90],
        ],
        Register: [TITLES.slice(0, 5), cell("MIL-PRF-5606"), cell("MIL-PRF-83282")],
      });
      expect([file.samples, file.quarantine[0]?.issues[0]?.expected]).toEqual([
        [],
        "a number that the other sheets give to one sample",
      ]);
    });

    test.each([
      ["do not use: contaminated with water", true],
      ["rejected", true],
      ["normal", false],
      ["", false],
    ])("its remark %j waits for a person: %s", async (remark, waits) => {
      const { samples, quarantine } = await workbook({
        Register: [
          ["sample", "cart", "circuit", "drawn on", "remarks"],
          ["S-0", "QB-01", "fore", "03.03.2026", "normal"],
          ["S-1", "QB-01", "fore", "04.03.2026", remark],
        ],
        Results: [
          ["sample", "water (mg/kg)"],
          ["S-1", 90],
        ],
      });
      expect(samples).toHaveLength(1);
      const names = { sample: "S-1", cart: "QB-01", circuit: "fore", drawnOn: "2026-03-04" };
      expect(quarantine).toMatchObject(waits ? [{ sheet: "Register", row: 3, ...names }] : []);
    });
  });

  test("stops the file where no sheet says whose they are", async () => {
    await expect(
      workbook({
        Chemistry: [
          ["sample", "water (mg/kg)"],
          ["S-1", 90],
        ],
        Notes: [["a", "b"]],
      }),
    ).rejects.toThrow("missing cart, circuit, day drawn");
  });
});

describe("a column that holds the volume of the counts", () => {
  const HEADER = "sample,cart,circuit,drawn on,4 µm(c),6 µm(c),counts per";
  const row = (name: string, volume: string, times = 1) =>
    `${name},QB-01,1,2026-03-04,${900 * times},${250 * times},${volume}`;
  const volumesOf = ({ samples }: Awaited<ReturnType<typeof read>>) =>
    samples.map(({ counts }) => [counts?.volumeMl, counts?.counts[0]?.count]);

  test.each([
    "counts per",
    "Count volume",
    "Reporting volume",
    "Particles per",
    "Volume basis",
    "Bezugsvolumen",
  ])("%s", async (title) => {
    const file = await read([
      HEADER.replace("counts per", title),
      row("S-1", "1 mL"),
      row("S-2", "100 mL", 100),
      row("S-3", "per 10 ml", 10),
    ]);
    expect(volumesOf(file)).toEqual([
      [1, 900],
      [100, 90_000],
      [10, 9000],
    ]);
  });

  test("its unit may be in its title, or in a column map", async () => {
    const lines = (title: string) => [HEADER.replace("counts per", title), row("S-1", "100", 100)];
    expect(volumesOf(await read(lines("reporting volume (mL)")))).toEqual([[100, 90_000]]);
    const map = { columns: { Menge: { holds: "counts-per", unit: "mL" } } };
    expect(volumesOf(await read(lines("Menge"), map))).toEqual([[100, 90_000]]);
    expect((await read(lines("counts per"))).quarantine).toHaveLength(1);
  });

  test("in tables with a row for each measurand, and in blocks", async () => {
    const long = [
      "sample,cart,circuit,drawn on,test,result,counts per",
      ...["4 µm(c),90000,100 mL", "6 µm(c),25000,100 mL", "water (mg/kg),90,"].map(
        (rest) => `S-1,QB-01,1,2026-03-04,${rest}`,
      ),
    ];
    expect(volumesOf(await read(long))).toEqual([[100, 90_000]]);
    const block = [
      "sample,S-1",
      "cart,QB-01",
      "circuit,1",
      "drawn on,2026-03-04",
      "counts per,100 mL",
      "4 µm(c),90000",
    ];
    expect(volumesOf(await read(block))).toEqual([[100, 90_000]]);
  });

  test.each([
    ["a blank cell", row("S-1", "")],
    ["no volume", row("S-1", "bottle")],
    ["no volume at all", row("S-1", "0 mL")],
  ])("%s puts its row in quarantine", async (_, bad) => {
    const { samples, quarantine } = await read([HEADER, bad]);
    expect([samples.length, quarantine[0]?.issues.map(({ column }) => column)]).toEqual([0, ["counts per"]]);
  });

  test("must agree with the titles", async () => {
    const titled = "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL,counts per";
    expect(volumesOf(await read([titled, row("S-1", "1 mL")]))).toEqual([[1, 900]]);
    const { quarantine } = await read([titled, row("S-1", "100 mL")]);
    expect(quarantine[0]?.issues[0]?.expected).toBe(
      'a count per 1 mL, as the title says, and not per 100 mL, as column "counts per" says',
    );
  });

  test("a bare volume is questioned", async () => {
    await expect(read([HEADER.replace("counts per", "Volume (mL)"), row("S-1", "100")])).rejects.toThrow(
      "counts-per",
    );
  });
});

describe("two lines above the table that name two carts", () => {
  const lines = (...above: string[]) => [...above, "", line(TITLES), line(sampleRow("S-1"))];
  test.each([
    ["under two labels", ["Cart: QB-01", "Equipment no.: QB-02"], "(row 1 and row 2)"],
    ["under one label", ["Cart: QB-01", "Report 17", "Cart: QB-02"], "(row 1 and row 3)"],
    ["the second of them twice", ["Cart: QB-01", "Cart: QB-02", "Cart: QB-02"], "(row 1 and row 3)"],
    ["the first of them again", ["Cart: QB-01", "Cart: QB-02", "Cart: QB-01"], "(row 2 and row 3)"],
  ])("%s: the rows below wait, and are of neither", async (_, above, column) => {
    const { samples, quarantine, assumptions } = await read(lines(...above));
    expect([samples, assumptions]).toEqual([[], []]);
    expect(quarantine).toMatchObject([{ issues: [{ column, expected: "the cart" }], sample: "S-1" }]);
    expect(quarantine[0]?.cart).toBeUndefined();
  });

  test("a column map says which", async () => {
    const map = { fixed: { cart: "QB-02" } };
    expect(cartsOf(await read(lines("Cart: QB-01", "Equipment no.: QB-02"), map))).toEqual([
      ["S-1", "QB-02"],
    ]);
  });

  test.each([[["Cart: QB-01", "Equipment no.: QB-01"]], [["Cart: QB-01", "Owner: QB-02"]]])(
    "%j name one",
    async (above) => {
      expect(cartsOf(await read(lines(...above)))).toEqual([["S-1", "QB-01"]]);
    },
  );
});

describe("what another sheet says of the counts of a sample is not lost", () => {
  const NAMES_OF_SAMPLE = ["sample", "cart", "circuit", "drawn on"];
  const NAMED = ["S-1", "QB-01", "fore", "2026-03-04"];
  const counts = [
    [...NAMES_OF_SAMPLE, "4 µm(c) per mL"],
    [...NAMED, "90"],
  ];
  const read = (title: string, cell: string) =>
    workbook({
      Bottles: [
        [...NAMES_OF_SAMPLE, title],
        [...NAMED, cell],
      ],
      Counts: counts,
    });

  test.each([
    ["Dilution (not applied)", "10"],
    ["Dilution", "1:10"],
  ])("%s %s waits, with the names of the sample", async (title, cell) => {
    const { quarantine } = await read(title, cell);
    expect(
      quarantine.map(({ sheet, row, cart, circuit, drawnOn }) => [sheet, row, cart, circuit, drawnOn]),
    ).toEqual([["Bottles", 2, ...NAMED.slice(1)]]);
    expect(quarantine[0]?.issues).toMatchObject([
      {
        column: title,
        value: cell,
        expected: "a dilution in the table that has the counts of the diluted bottle",
      },
    ]);
  });

  test.each([
    ["Dilution", "1"],
    ["Dilution (applied)", "10"],
    ["Counted volume (mL)", "10"],
  ])("%s %s changes no count", async (title, cell) => {
    expect((await read(title, cell)).quarantine).toEqual([]);
  });

  test("a volume that counts stand for is asked about", async () => {
    await expect(read("Counts per", "100 mL")).rejects.toThrow(
      'sheet "Bottles" row 1: expected counts next to "Counts per", which says what volume they stand for',
    );
  });
});
