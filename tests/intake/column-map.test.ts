import { readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import { columnMapJsonSchema, IntakeError, parseColumnMap, readLabFile } from "../../src/intake/index.js";

const map = (more: object) =>
  parseColumnMap("lab.map.json", JSON.stringify({ siltbookColumnMap: 1, name: "lab", ...more }));
const read = (text: string, more: object) =>
  readLabFile("lab.csv", new TextEncoder().encode(text), { map: map(more) });

test("the published JSON Schema of the column map is the one the code checks by", async () => {
  const published = await readFile("docs/column-map.schema.json", "utf8");
  expect(JSON.parse(published), "npm run schemas makes it anew").toEqual(
    JSON.parse(JSON.stringify(columnMapJsonSchema())),
  );
});

describe("a column map settles what a file leaves open", () => {
  const header = "Flasche,Wagen,Kreis,gezogen,4 µm,6 µm,14 µm,Wasser";
  const columns = {
    Flasche: { holds: "sample" },
    Wagen: { holds: "cart" },
    Kreis: { holds: "circuit" },
    gezogen: { holds: "drawn" },
    Wasser: { holds: "water", unit: "mg/kg" },
  };

  test("titles in another language, size scale and volume, decimal mark, order of dates and blanks", async () => {
    const { samples, quarantine } = await read(
      `${header.replaceAll(",", ";")}\nS-1;C-1;1;03/04/2026;1.500;1.200;n/a;1,5`,
      {
        columns,
        counts: { scale: "um(c)", volumeMl: 100 },
        decimal: ",",
        dates: "month-day-year",
        blanks: ["n/a"],
      },
    ).catch((error) => {
      throw error;
    });
    expect(quarantine.map(({ issues }) => issues[0]?.code)).toEqual(["water-per-cent-as-ppm"]);
    expect(samples).toEqual([]);
    const again = await read(`${header.replaceAll(",", ";")}\nS-1;C-1;1;03/04/2026;1.500;1.200;n/a;150,5`, {
      columns,
      counts: { scale: "um(c)", volumeMl: 100 },
      decimal: ",",
      dates: "month-day-year",
      blanks: ["n/a"],
    });
    expect(again.samples).toMatchObject([
      {
        drawnOn: "2026-03-04",
        counts: {
          volumeMl: 100,
          counts: [
            { sizeUm: 4, count: 1500 },
            { sizeUm: 6, count: 1200 },
          ],
        },
        waterPpm: { value: 150.5 },
      },
    ]);
  });

  test("what is in no column holds for every sample, and times get their zone", async () => {
    const { samples } = await read("sample,drawn on,time drawn,water (mg/kg)\nS-1,2026-03-04,09:30,120", {
      fixed: { cart: "C-7", circuit: "aft", fluid: "MIL-PRF-83282" },
      zone: "+02:00",
    });
    expect(samples).toMatchObject([
      { cart: "C-7", circuit: "aft", fluid: "MIL-PRF-83282", drawnTime: "09:30+02:00" },
    ]);
  });

  test("a column may be said to hold nothing, and a name in a long file to hold a measurand", async () => {
    const { samples, quarantine } = await read(
      "sample,cart,circuit,drawn on,date,test,result,unit\nS-1,C-1,1,2026-03-04,x,KF,120,ppm\nS-1,C-1,1,2026-03-04,x,Colour,2,",
      {
        columns: {
          date: { holds: "nothing" },
          KF: { holds: "water", unit: "ppm" },
          Colour: { holds: "nothing" },
        },
      },
    );
    expect(quarantine).toEqual([]);
    expect(samples).toMatchObject([{ waterPpm: { value: 120 }, origin: [{ rows: [2, 3] }] }]);
  });
});

describe("a column map that is wrong is refused by name", () => {
  test.each([
    [{ columns: { a: { holds: "odour" } } }, /lab.map.json: columns.a/],
    [{ columns: { a: { holds: "water", unit: "furlong" } } }, /furlong/],
    [{ columns: { a: { holds: "count", fromUm: 6, toUm: 4, scale: "um(c)", volumeMl: 1 } } }, /columns.a/],
    [{ decimal: ";" }, /decimal/],
    [{ colums: {} }, /colums/],
    [{ siltbookColumnMap: 2 }, /siltbookColumnMap/],
    [
      { columns: { "Date.": { holds: "drawn" }, "date ": { holds: "received" } } },
      /two titles differ only in their marks/,
    ],
    [
      { columns: { Date: { holds: "?", question: "which day is it?" } } },
      /column "Date" is still open: which day is it\?/,
    ],
  ])("%j", (more, message) => {
    expect(() => map(more)).toThrow(IntakeError);
    expect(() => map(more)).toThrow(message);
  });

  test("names that reach into the language itself are refused or are names like any other", () => {
    const text = (title: string) =>
      `{"siltbookColumnMap":1,"name":"x","columns":{"${title}":{"holds":"sample"},"constructor":{"holds":"cart"}}}`;
    expect(() => parseColumnMap("lab.map.json", text("__proto__"))).toThrow(
      'lab.map.json: columns: "__proto__" is not a name that can be used',
    );
    expect(parseColumnMap("lab.map.json", text("toString")).columns).toEqual({
      toString: { holds: "sample" },
      constructor: { holds: "cart" },
    });
    expect({}).not.toHaveProperty("holds");
  });
});

test("a map says other spellings of carts and circuits, and words in the place of a number", async () => {
  const map = parseColumnMap(
    "map.json",
    JSON.stringify({
      siltbookColumnMap: 1,
      name: "lab",
      carts: { "GPU 1": "QB-01" },
      circuits: { vorn: "fore" },
      results: { "u.d.L.": "not-detected" },
    }),
  );
  const text =
    "sample,cart,circuit,drawn on,water (mg/kg)\nS-1,GPU 1,vorn,2026-03-04,u.d.L.\nS-2,QB-02,aft,2026-03-04,90\n";
  const file = await readLabFile("lab.csv", new TextEncoder().encode(text), { map });
  expect(file.samples).toMatchObject([
    { cart: "QB-01", circuit: "fore", wordedResults: [{ measurand: "water", said: "not-detected" }] },
    { cart: "QB-02", circuit: "aft", waterPpm: { value: 90 } },
  ]);
  expect(file.assumptions.map(({ message }) => message)).toEqual([
    'the cart "GPU 1" was read as QB-01, as the column map says',
    'the circuit "vorn" was read as fore, as the column map says',
  ]);
});
