import { describe, expect, test } from "vitest";
import { columnMapSchema, readLabFile } from "../../src/intake/index.js";

const CELLS = {
  sample: "S-1",
  cart: "C-1",
  circuit: "1",
  "drawn on": "2026-03-04",
  "time drawn": "",
  "received on": "",
  fluid: "",
  "water (mg/kg)": "90",
};
type Cells = Partial<Record<keyof typeof CELLS, string | number>>;

/** Who a sample is, or why its row waits: codes with their titles; from text, or from JSON where a cell is a number. */
async function who(cells: Cells, map?: object) {
  const row = { ...CELLS, ...cells };
  const isJson = Object.values(row).some((cell) => typeof cell === "number");
  const text = isJson
    ? JSON.stringify([row])
    : [Object.keys(row), Object.values(row)].map((one) => one.join(";")).join("\n");
  const settled = map && columnMapSchema.parse({ siltbookColumnMap: 1, name: "lab", ...map });
  const { samples, quarantine, assumptions } = await readLabFile("lab", new TextEncoder().encode(text), {
    today: "2026-12-31",
    ...(settled && { map: settled }),
  });
  const [waits] = quarantine;
  const { sample, cart, circuit, drawnOn, drawnTime, receivedOn, fluid } = {
    ...samples[0],
    ...waits,
  } as Record<string, unknown>;
  const says = { sample, cart, circuit, drawnOn, drawnTime, receivedOn, fluid };
  return {
    ...Object.fromEntries(Object.entries(says).filter(([, value]) => value !== undefined)),
    ...(waits && {
      waits: waits.issues.map(({ code, column, expected }) => [code, column, expected.slice(0, 40)]),
    }),
    ...(assumptions.length > 0 && { assumed: assumptions.map(({ code }) => code) }),
  };
}

const PLAIN = { sample: "S-1", cart: "C-1", circuit: "1", drawnOn: "2026-03-04" };
const without = (...names: (keyof typeof PLAIN)[]) =>
  Object.fromEntries(Object.entries(PLAIN).filter(([name]) => !names.includes(name as keyof typeof PLAIN)));

describe("names", () => {
  test.each<[Cells, object]>([
    [{}, PLAIN],
    [{ sample: "S\u00a0 \u00a01" }, { ...PLAIN, sample: "S 1" }],
    [{ cart: "Gera\u0308t" }, { ...PLAIN, cart: "Gerät" }],
    [{ cart: "Mean" }, { ...PLAIN, cart: "Mean" }],
    [
      { sample: "Mean" },
      {
        ...PLAIN,
        sample: "Mean",
        waits: [["cell-not-read", "sample", "the number of a sample of the circuit, a"]],
      },
    ],
    [{ sample: "" }, { ...without("sample"), waits: [["cell-missing", "sample", "the sample"]] }],
    [{ cart: "" }, { ...without("cart"), waits: [["cell-missing", "cart", "the cart"]] }],
    [{ circuit: "" }, { ...without("circuit"), waits: [["cell-missing", "circuit", "the circuit"]] }],
    // A sign that is not seen hides no letter; a letter that was lost may be any.
    [
      { cart: "C\u200b-1" },
      { ...PLAIN, cart: "C\u200b-1", waits: [["cell-not-read", "cart", "the cart in readable characters"]] },
    ],
    [
      { cart: "C\ufffd1" },
      { ...without("cart"), waits: [["cell-not-read", "cart", "the cart in readable characters"]] },
    ],
    [{ fluid: "MIL-PRF-83282" }, { ...PLAIN, fluid: "MIL-PRF-83282" }],
    [{ fluid: "n/a" }, PLAIN],
    [{ fluid: "-" }, PLAIN],
    // A person settles what an unknown fluid is.
    [{ fluid: "unknown" }, { ...PLAIN, fluid: "unknown" }],
  ])("%j", async (cells, expected) => {
    expect(await who(cells)).toEqual(expected);
  });

  test("are those of the column map, which is said where they are others", async () => {
    const map = { carts: { "Wagen 1": "C-1" } };
    expect(await who({ cart: "WAGEN 1" }, map)).toEqual({ ...PLAIN, assumed: ["name-by-column-map"] });
    expect(await who({ cart: "C-1" }, map)).toEqual(PLAIN);
  });
});

describe("days and times", () => {
  const local = { assumed: ["times-are-local"] };
  const notRead = (column: string, expected: string) => ({
    ...without("drawnOn"),
    waits: [["cell-not-read", column, expected]],
  });
  test.each<[Cells, object]>([
    [{ "drawn on": "04.03.2026" }, PLAIN],
    [{ "drawn on": "20260304" }, PLAIN],
    [{ "drawn on": 20_260_304 }, PLAIN],
    [{ "drawn on": 46_085 }, notRead("drawn on", "a day written as 2026-03-14 or 14.03.202")],
    [
      { "drawn on": "" },
      { ...without("drawnOn"), waits: [["cell-missing", "drawn on", "the day the sample was drawn"]] },
    ],
    [{ "drawn on": "march" }, notRead("drawn on", "a day written as 2026-03-14 or 14.03.202")],
    [
      { "drawn on": "03/04/2026" },
      {
        ...without("drawnOn"),
        waits: [["cell-ambiguous", "drawn on", "a day with one reading (2026-04-03 or 20"]],
      },
    ],
    [{ "received on": "2026-03-05" }, { ...PLAIN, receivedOn: "2026-03-05" }],
    // Only the time of drawing is a time of the sample.
    [{ "received on": "2026-03-05 10:00" }, { ...PLAIN, receivedOn: "2026-03-05" }],
    [{ "drawn on": "2026-03-04 09:30" }, { ...PLAIN, drawnTime: "09:30", ...local }],
    [{ "drawn on": "2026-03-04 00:00" }, PLAIN],
    [{ "time drawn": "09:30" }, { ...PLAIN, drawnTime: "09:30", ...local }],
    [{ "time drawn": "09:30+02:00" }, { ...PLAIN, drawnTime: "09:30+02:00" }],
    [
      { "drawn on": "2026-03-04 08:00", "time drawn": "09:30Z" },
      { ...PLAIN, drawnTime: "09:30Z" },
    ],
    [
      { "time drawn": "noon" },
      { ...PLAIN, waits: [["cell-not-read", "time drawn", "a time such as 09:30 or 09:30+02:00"]] },
    ],
  ])("%j", async (cells, expected) => {
    expect(await who(cells)).toEqual(expected);
  });

  test.each([
    ["09:30", "09:30+02:00"],
    ["09:30Z", "09:30Z"],
    ["09:30-05:00", "09:30-05:00"],
  ])("%s is %s where the column map gives the zone", async (time, drawnTime) => {
    expect(await who({ "time drawn": time }, { zone: "+02:00" })).toEqual({ ...PLAIN, drawnTime });
    expect(await who({ "drawn on": `2026-03-04 ${time}` }, { zone: "+02:00" })).toEqual({
      ...PLAIN,
      drawnTime,
    });
  });
});

describe("a sample of several rows", () => {
  const TITLES =
    "sample;cart;circuit;drawn on;time drawn;fluid;reported on;calibration due;measurand;value;unit";
  const NAMES = "S-1;C-1;1;2026-03-04";
  const long = (...rows: string[]) =>
    readLabFile("lab", new TextEncoder().encode([TITLES, ...rows].join("\n")), { today: "2026-12-31" });

  test("has the time and the fluid that any row says, its last report, and the calibration that ends first", async () => {
    const { samples } = await long(
      `${NAMES};;;2026-03-09;2026-09-30;water;90;mg/kg`,
      `${NAMES};;;2026-03-11;2026-06-30;acid number;0.1;mg KOH/g`,
      `${NAMES};;;2026-03-10;;4 µm(c);900;1/mL`,
    );
    expect(samples).toMatchObject([{ reportedOn: "2026-03-11", calibrationDueOn: "2026-06-30" }]);
    expect(samples[0]?.origin[0]?.rows).toEqual([2, 3, 4]);
  });

  test("is one for each time and fluid that its rows say", async () => {
    const { samples } = await long(
      `${NAMES};09:30;MIL-PRF-5606;;;water;90;mg/kg`,
      `${NAMES};10:30;MIL-PRF-5606;;;water;91;mg/kg`,
      `${NAMES};10:30;MIL-PRF-83282;;;water;92;mg/kg`,
    );
    expect(samples.map(({ drawnTime, fluid, waterPpm }) => [drawnTime, fluid, waterPpm?.value])).toEqual([
      ["09:30", "MIL-PRF-5606", 90],
      ["10:30", "MIL-PRF-5606", 91],
      ["10:30", "MIL-PRF-83282", 92],
    ]);
  });

  test("keeps the rows that can be read, and a row that names nobody waits by itself", async () => {
    const { samples, quarantine } = await long(
      `${NAMES};;;;;water;90;mg/kg`,
      ";C-1;1;2026-03-04;;;;;4 µm(c);900;1/mL",
      `${NAMES};;;;;acid number;low;mg KOH/g`,
    );
    expect(samples).toMatchObject([{ waterPpm: { value: 90 }, origin: [{ rows: [2] }] }]);
    expect(
      quarantine.map(({ row, sample, issues }) => [row, sample, issues.map(({ column }) => column)]),
    ).toEqual([
      [3, undefined, ["sample"]],
      [4, "S-1", ["value"]],
    ]);
  });
});

describe("a row that cannot be split", () => {
  const broken = async (fixed?: object) => {
    const text = "sample,cart,circuit,drawn on,water (mg/kg)\nS-0,C-1,1,2026-03-03,80\nS-1,C-1,1";
    const map = fixed && columnMapSchema.parse({ siltbookColumnMap: 1, name: "lab", fixed });
    const { quarantine } = await readLabFile("lab", new TextEncoder().encode(text), { ...(map && { map }) });
    return quarantine.map(({ cart, circuit, issues }) => [cart, circuit, issues.map(({ code }) => code)]);
  };
  test.each([
    [undefined, undefined, undefined],
    [{ cart: "C-1" }, "C-1", undefined],
    [{ cart: "C-1", circuit: "1" }, "C-1", "1"],
  ])("is of whom the column map says: %j", async (fixed, cart, circuit) => {
    expect(await broken(fixed)).toEqual([[cart, circuit, ["row-of-wrong-length"]]]);
  });
});

test("a map may say which fluid a dash means", async () => {
  expect(await who({ fluid: "-" }, { fluids: { "-": "MIL-PRF-5606" } })).toEqual({
    ...PLAIN,
    fluid: "MIL-PRF-5606",
    assumed: ["name-by-column-map"],
  });
});

test.each([
  ["nothing visible", "metal chips in the bottle", ["particles-seen"]],
  ["cloudy", "free water", ["cloudy", "free-water"]],
  ["cloudy", "cloudy", ["cloudy"]],
  ["nothing visible", "counted twice", ["nothing-seen"]],
])("appearance %j with the remark %j is %j", async (appearance, remark, looks) => {
  const text = `sample,cart,circuit,drawn on,water (mg/kg),appearance,remarks\nS-1,C-1,1,2026-03-04,90,${appearance},${remark}`;
  const { samples } = await readLabFile("lab.csv", new TextEncoder().encode(text));
  expect(samples.map((sample) => sample.appearance)).toEqual([looks]);
});
