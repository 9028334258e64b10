import { describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";

type Rows = readonly (readonly string[])[];

const read = (rows: Rows) =>
  readLabFile("lab.csv", new TextEncoder().encode(rows.map((cells) => cells.join(";")).join("\n")));
const NAMES: Rows = [
  ["Sample no.", "S-1"],
  ["Cart", "C-1"],
  ["Circuit", "1"],
  ["Date drawn", "2026-03-04"],
];
const RESULTS: Rows = [
  ["4 µm(c) per mL", "1000"],
  ["Water (mg/kg)", "120"],
];
const taken = async (rows: Rows) => {
  const { samples, quarantine, unusedColumns } = await read(rows);
  const brief = samples.map(({ sample, counts, waterPpm }) => [
    sample,
    counts?.counts[0]?.count,
    counts?.volumeMl,
    waterPpm?.value,
  ]);
  return { brief, quarantine, unusedColumns };
};
const TAKEN = [["S-1", 1000, 1, 120]];

describe("a sample on a sheet of its own is read by the titles above its labels", () => {
  test.each<[string, Rows]>([
    [
      "limits after the results",
      [
        ["Parameter", "Result", "Unit", "Limit"],
        ["4 µm(c)", "1000", "1/mL", "1300"],
        ["Water", "120", "mg/kg", "200"],
      ],
    ],
    [
      "limits before the results",
      [
        ["Parameter", "Limit", "Result"],
        ["4 µm(c) per mL", "1300", "1000"],
        ["Water (mg/kg)", "200", "120"],
      ],
    ],
    [
      "units before the results",
      [
        ["Test", "Unit", "Result", "Limit"],
        ["4 µm(c)", "1/mL", "1000", "1300"],
        ["Water", "mg/kg", "120", "200"],
      ],
    ],
    [
      "earlier results first",
      [
        ["Parameter", "Previous", "Result", "Unit"],
        ["4 µm(c)", "5000", "1000", "1/mL"],
        ["Water", "300", "120", "mg/kg"],
      ],
    ],
    [
      "methods and a status",
      [
        ["Test", "Method", "Result", "Unit", "Limit", "Status"],
        ["4 µm(c)", "ISO 11500", "1000", "1/mL", "1300", "OK"],
        ["Water", "ASTM D6304", "120", "mg/kg", "200", "OK"],
      ],
    ],
    ["none, two columns", RESULTS],
    [
      "none, a unit in the third",
      [
        ["4 µm(c)", "1000", "1/mL"],
        ["Water", "120", "mg/kg"],
      ],
    ],
    [
      "a line for each part",
      [
        ["Particle counts per mL", ""],
        ["> 4 µm(c)", "1000"],
        ["Chemistry", ""],
        ["Water (mg/kg)", "120"],
      ],
    ],
    [
      "a part of limits",
      [["Limits", ""], ["4 µm(c) per mL", "1300"], ["Water (mg/kg)", "200"], ["Results", ""], ...RESULTS],
    ],
    ["the sample before this one", [...RESULTS, ["Previous sample", ""], ["Water (mg/kg)", "300"]]],
  ])("%s", async (_, rows) => {
    const { brief, quarantine } = await taken([...NAMES, [], ...rows]);
    expect([brief, quarantine]).toEqual([TAKEN, []]);
  });

  test.each<[string, Rows]>([
    [
      "two labels in a row",
      [
        ["Sample no.", "S-1", "Cart", "C-1"],
        ["Circuit", "1", "Date drawn", "2026-03-04"],
      ],
    ],
    [
      "label and value in one cell",
      [["Sample no.: S-1"], ["Cart: C-1"], ["Circuit: 1"], ["Date drawn: 2026-03-04"]],
    ],
  ])("names with %s", async (_, names) => {
    const { brief, quarantine } = await taken([
      ...names,
      ["Parameter", "Result", "Unit"],
      ["4 µm(c)", "1000", "1/mL"],
      ["Water", "120", "mg/kg"],
    ]);
    expect([brief, quarantine]).toEqual([TAKEN, []]);
  });

  test.each<[string, Rows]>([
    [
      "of which the first has no value",
      [
        ["Sample no.", "S-1", "Date drawn", "2026-03-04"],
        ["Cart", "C-1", "Circuit", "1"],
        ["Fluid", "", "Received", "2026-03-05"],
        ["6 µm(c) per mL", "", "4 µm(c) per mL", "1000"],
      ],
    ],
    ["of which none has a value", [...NAMES, ["Fluid", "", "Received", ""], ["4 µm(c) per mL", "1000"]]],
    [
      "in every second cell",
      [
        ["Sample no.", "", "S-1", "", "Date drawn", "", "2026-03-04"],
        ["Cart", "", "C-1", "", "Circuit", "", "1"],
        ["4 µm(c)", "", "1000", "1/mL"],
      ],
    ],
    [
      "and units, of which some have no value",
      [...NAMES, ["4 µm(c)", "1000", "1/mL"], ["6 µm(c)", "", "1/mL"], ["Acid number", "", "mg KOH/g"]],
    ],
  ])("two labels in a row, %s: no label is the value of another", async (_, rows) => {
    const { samples, quarantine } = await read([...rows, ["Water (mg/kg)", "120"]]);
    expect([samples, quarantine]).toMatchObject([
      [{ sample: "S-1", cart: "C-1", circuit: "1", drawnOn: "2026-03-04", waterPpm: { value: 120 } }],
      [],
    ]);
    expect([samples[0]?.fluid, samples[0]?.counts?.counts]).toEqual([
      undefined,
      [{ sizeUm: 4, count: 1000 }],
    ]);
  });

  test("each block by its own titles", async () => {
    const second = NAMES.map(([label = "", value = ""]) => [label, value.replace("S-1", "S-2")]);
    const { brief } = await taken([
      ...NAMES,
      ["Parameter", "Result", "Unit", "Limit"],
      ["4 µm(c)", "1000", "1/mL", "1300"],
      ...second,
      ["Parameter", "Limit", "Result", "Unit"],
      ["4 µm(c)", "1300", "900", "1/mL"],
      ...second.map(([label = "", value = ""]) => [label, value.replace("S-2", "S-3")]),
      ...RESULTS,
    ]);
    expect(brief).toEqual([
      ["S-1", 1000, 1, undefined],
      ["S-2", 900, 1, undefined],
      ["S-3", 1000, 1, 120],
    ]);
  });
});

describe("nothing of a block is passed over in silence", () => {
  test("a label that is not known is named like a column that is not used", async () => {
    const { brief, unusedColumns } = await taken([
      ...NAMES,
      ...RESULTS,
      ["Deck colour", "44"],
      ["Water limit", "200"],
    ]);
    expect([brief, unusedColumns]).toEqual([TAKEN, ["Deck colour", "Water limit"]]);
  });

  test.each<[string, readonly string[]]>([
    ["a share of saturation is no water content", ["Water saturation", "4", "%"]],
    ["a unit that differs from that of its label", ["Water (ppm)", "0.02", "%"]],
    ["a count without its volume", ["6 µm(c)", "300"]],
    ["more cells than a value and its unit", ["6 µm(c)", "300", "1/mL", "320"]],
    ["a second value", ["6 µm(c) per mL", "300", "320"]],
  ])("%s: the block waits for a person", async (_, label) => {
    const { brief, quarantine } = await taken([...NAMES, ["4 µm(c) per mL", "1000"], label]);
    expect(brief).toEqual([]);
    expect(quarantine[0]?.issues).toMatchObject([
      { code: "measurand-not-known", column: label[0], value: label[1] },
    ]);
  });

  test("a block without a label for its circuit says so, and whose it may be", async () => {
    const { quarantine } = await read([...NAMES.filter(([label]) => label !== "Circuit"), ...RESULTS]);
    expect(quarantine.map(({ row, cart, circuit }) => [row, cart, circuit])).toEqual(
      [1, 2, 3, 4, 5].map((row) => [row, "C-1", undefined]),
    );
    expect(quarantine[0]?.issues).toMatchObject([
      { code: "cell-missing", row: 1, column: "circuit", value: "", expected: "the circuit" },
    ]);
  });

  test.each<[string, Rows]>([
    ["no label of a result", [["Remarks", "bottle broken"]]],
    [
      "no result after its labels",
      [
        ["4 µm(c) per mL", ""],
        ["Water (mg/kg)", "-"],
      ],
    ],
  ])("a block with %s is no sample and waits for a person", async (_, rows) => {
    const { samples, quarantine } = await read([...NAMES, ...rows]);
    expect([samples, quarantine.length > 0]).toEqual([[], true]);
    expect(quarantine[0]?.issues[0]?.expected).toMatch(/a result of the sample/);
  });

  test("a cover without a sample is no block", async () => {
    const { brief, quarantine } = await taken([
      ["Customer", "north base"],
      ["Cart", "C-1"],
      [],
      ...NAMES,
      ...RESULTS,
    ]);
    expect([brief, quarantine]).toEqual([TAKEN, []]);
  });

  test("a table below a block is read by its own header", async () => {
    const { brief, quarantine } = await taken([
      ...NAMES,
      ...RESULTS,
      [],
      ["sample", "cart", "circuit", "drawn on", "4 µm(c) per mL", "water (mg/kg)"],
      ["S-2", "C-1", "1", "2026-03-05", "900", "110"],
    ]);
    expect(brief).toEqual([...TAKEN, ["S-2", 900, 1, 110]]);
    expect(quarantine).toEqual([]);
  });
});

describe("two labels of one meaning", () => {
  const say = async (rows: Rows) => {
    const { samples, quarantine } = await read(rows);
    const [first] = quarantine;
    return {
      taken: samples.map(({ sample, cart, circuit, drawnOn }) => [sample, cart, circuit, drawnOn].join(" ")),
      waits: quarantine.length,
      names: [first?.sample, first?.cart, first?.circuit, first?.drawnOn],
      says: [
        ...new Set(
          quarantine.flatMap(({ issues }) => issues.map(({ column, expected }) => `${column}: ${expected}`)),
        ),
      ],
    };
  };
  const withLabel = (label: readonly string[], at = NAMES.length): Rows => [
    ...NAMES.slice(0, at),
    label,
    ...NAMES.slice(at),
    ...RESULTS,
  ];

  test.each<[string, Rows, (string | undefined)[], string]>([
    [
      "numbers",
      withLabel(["Bottle no.", "S-2"]),
      [undefined, "C-1", "1", "2026-03-04"],
      'Bottle no.: S-1, as "Sample no." says',
    ],
    [
      "carts",
      withLabel(["Equipment no.", "C-2"]),
      ["S-1", undefined, "1", "2026-03-04"],
      'Equipment no.: C-1, as "Cart" says',
    ],
    [
      "carts, the other first",
      withLabel(["Equipment no.", "C-2"], 1),
      ["S-1", undefined, "1", "2026-03-04"],
      'Cart: C-2, as "Equipment no." says',
    ],
    [
      "circuits",
      withLabel(["System sampled", "2"]),
      ["S-1", "C-1", undefined, "2026-03-04"],
      'System sampled: 1, as "Circuit" says',
    ],
    [
      "days",
      withLabel(["Sampling date", "2026-05-04"]),
      ["S-1", "C-1", "1", undefined],
      'Sampling date: 2026-03-04, as "Date drawn" says',
    ],
    [
      "fluids",
      [...withLabel(["Fluid", "MIL-PRF-5606"]), ["Fluid specification", "MIL-PRF-83282"]],
      ["S-1", "C-1", "1", "2026-03-04"],
      'Fluid specification: MIL-PRF-5606, as "Fluid" says',
    ],
    [
      "volumes",
      [...NAMES, ["4 µm(c)", "1000"], ["Counts per", "100 mL"], ["Particles per", "1 mL"]],
      ["S-1", "C-1", "1", "2026-03-04"],
      'Particles per: 100 mL, as "Counts per" says',
    ],
  ])("that say two %s set the sample aside, for whichever of them it is", async (_, rows, names, says) => {
    expect(await say(rows)).toMatchObject({
      taken: [],
      waits: rows.length,
      names,
      says: expect.arrayContaining([says]),
    });
  });

  test.each<[string, readonly string[], number?]>([
    ["say the same", ["Sampling date", "2026-03-04"]],
    ["are blank in one place", ["Equipment no.", ""]],
    ["are blank in the first place", ["Equipment no.", ""], 1],
  ])("that %s are one", async (_, label, at) => {
    expect((await say(withLabel(label, at))).taken).toEqual(["S-1 C-1 1 2026-03-04"]);
  });

  test("of remarks are both kept", async () => {
    const { samples } = await read([...NAMES, ...RESULTS, ["Remarks", "reject"], ["Comments", "pass"]]);
    expect(samples[0]?.laboratorySays?.map(({ text }) => text)).toEqual(["reject", "pass"]);
  });
});
