import { readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import {
  bytesInMemory,
  type ColumnMap,
  columnMapJsonSchema,
  IntakeError,
  mapToEdit,
  openLabFile,
  parseColumnMap,
  quarantineFilesOf,
  readLabFile,
  type Table,
  understand,
} from "../../src/intake/index.js";

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

describe("a map says which of two columns of one title counts", () => {
  const lines = ["sample,cart,circuit,drawn on,water (mg/kg),water (mg/kg)", "S-1,C-1,1,2026-03-04,90,95"];
  const text = `${lines.join("\n")}\n`;
  const across = lines[0]
    ?.split(",")
    .map((title, at) =>
      [title, lines[1]?.split(",")[at], "S-2,C-1,1,2026-03-05,80,85".split(",")[at]].join(","),
    );

  test.each([
    ["E", 90],
    ["F", 95],
  ])("by the letter of its column: %s", async (place, value) => {
    const { samples } = await read(text, { which: { "Water (mg/kg)": place } });
    expect(samples).toMatchObject([{ waterPpm: { value } }]);
  });

  test.each([
    ["5", [90, 80]],
    ["6", [95, 85]],
  ])("by the number of its row where the samples stand across: %s", async (place, values) => {
    const { samples } = await read(`${across?.join("\n")}\n`, { which: { "water (mg/kg)": place } });
    expect(samples.map(({ waterPpm }) => waterPpm?.value)).toEqual(values);
  });

  test("the message says how", async () => {
    await expect(read(text, {})).rejects.toThrow(
      'two columns hold the same thing: water (E "water (mg/kg)" and F "water (mg/kg)"); a column map has to say which, "which": { "water (mg/kg)": "E" } or "F"',
    );
  });

  test("a place where the title is not is refused: the file has changed", async () => {
    await expect(read(text, { which: { "water (mg/kg)": "D" } })).rejects.toThrow(
      'lab.csv row 1: the column map says which "water (mg/kg)" counts ("which"): expected E or F, found "D"',
    );
  });

  test("a file without the title needs nothing of it", async () => {
    const { samples } = await read(text.replaceAll("water (mg/kg)", "x").replace("x", "water (ppm)"), {
      which: { "water (mg/kg)": "D" },
    });
    expect(samples).toMatchObject([{ waterPpm: { value: 90 } }]);
  });

  test("a row comes back from the quarantine with both columns, and the same one counts", async () => {
    const settled = map({ which: { "water (mg/kg)": "F" } });
    const source = bytesInMemory("lab.csv", new TextEncoder().encode(text.replace(",95", ",9S")));
    const { tables, fates } = await openLabFile(source, { map: settled });
    const waiting = [...fates()].flatMap((fate) => (fate.kind === "quarantined" ? [fate.row] : []));
    const [file] = quarantineFilesOf(tables[0] as Table, waiting, "0".repeat(64), settled);
    const csv = file?.csv.replace(",9S", ",95") ?? "";
    const again = await readLabFile("q.csv", new TextEncoder().encode(csv), { map: file?.map as ColumnMap });
    expect(again.samples).toMatchObject([{ waterPpm: { value: 95 } }]);
  });
});

describe("a map written for editing asks what the file leaves open, with the words that answer it", () => {
  const asked = async (text: string, more?: object) => {
    const settled = more && map(more);
    const tables = await understand(bytesInMemory("lab.csv", new TextEncoder().encode(text)), settled);
    return mapToEdit("lab", tables) as Record<string, unknown>;
  };
  const HEAD = "sample,cart,circuit,drawn on,water (mg/kg)";

  test.each<[string, string, object]>([
    [
      "the decimal mark",
      `${HEAD}\nS-1,C-1,1,2026-03-04,"1,500"`,
      { decimal: expect.stringMatching(/^\? .*"\." or ","/) },
    ],
    [
      "the order of days",
      `${HEAD}\nS-1,C-1,1,03/04/2026,150`,
      { dates: expect.stringMatching(/^\? .*"month-day-year"/) },
    ],
    [
      "the order of days with short years",
      `${HEAD}\nS-1,C-1,1,03.04.26,150`,
      { dates: expect.stringMatching(/^\?/) },
    ],
    [
      "no order where another day shows it",
      `${HEAD}\nS-1,C-1,1,03/04/2026,150\nS-2,C-1,1,13/04/2026,150`,
      { dates: "day-month-year" },
    ],
    [
      "the cart",
      "sample,circuit,drawn on,water (mg/kg)\nS-1,1,2026-03-04,150",
      { fixed: { cart: expect.stringMatching(/^\? .*"holds": "cart"/) } },
    ],
    [
      "cart and circuit of a block",
      "sample,S-1\ndrawn on,2026-03-04\nwater (mg/kg),90",
      { fixed: { cart: expect.stringMatching(/^\?/), circuit: expect.stringMatching(/^\?/) } },
    ],
    [
      "which of two columns",
      `${HEAD},water (mg/kg)\nS-1,C-1,1,2026-03-04,90,95`,
      { which: { "water (mg/kg)": expect.stringMatching(/^\? .*"E" or "F"/) } },
    ],
    [
      "the day",
      "sample,cart,circuit,gezogen,water (mg/kg)\nS-1,C-1,1,2026-03-04,90",
      {
        columns: expect.objectContaining({
          "(drawn)": { holds: "?", question: expect.stringContaining('"holds": "drawn"') },
        }),
      },
    ],
  ])("%s", async (_, text, expected) => {
    expect(await asked(text)).toMatchObject(expected);
  });

  test.each([
    [{ decimal: "? which" }, "decimal is still open: which"],
    [{ dates: "?" }, "dates is still open: say what it is"],
    [{ fixed: { cart: "? which cart" } }, 'fixed of "cart" is still open: which cart'],
    [{ which: { Water: "? E or F" } }, 'which of "Water" is still open: E or F'],
  ])("a question that nobody has answered is refused: %j", (more, message) => {
    expect(() => map(more)).toThrow(`lab.map.json: ${message}`);
  });

  test.each([
    ["Date", "sample,cart,circuit,Date,water (mg/kg)\nS-1,C-1,1,2026-03-04,90", "(drawn)"],
    [
      "Parameter",
      "Parameter,S-1,S-2\ncart,C-1,C-1\ncircuit,1,1\ndrawn on,2026-03-04,2026-03-05\nwater (mg/kg),90,80",
      "(sample)",
    ],
  ])("a title that asks for itself is asked once: %s", async (title, text, other) => {
    const { columns } = await asked(text);
    expect(columns).toHaveProperty(title, { holds: "?", question: expect.any(String) });
    expect(columns).not.toHaveProperty(other);
  });

  test("a question for a name is answered by the title of a column as well", async () => {
    const written = await asked("number,base,circuit,drawn on,water (mg/kg)\nS-1,C-1,1,2026-03-04,90");
    const columns = { ...(written.columns as object), base: { holds: "cart" }, number: { holds: "sample" } };
    expect(written).toMatchObject({
      fixed: { cart: expect.any(String) },
      columns: { number: { holds: "?" } },
    });
    expect(map({ ...written, columns })).toMatchObject({ fixed: {}, columns: { base: { holds: "cart" } } });
  });

  test("no mark is asked for where no number needs it", async () => {
    expect(await asked(`${HEAD}\nS-1,C-1,1,2026-03-04,150`)).not.toHaveProperty("decimal");
  });

  test("an answered question is asked no more", async () => {
    const text = `${HEAD},water (mg/kg)\nS-1,C-1,1,03/04/2026,"1,500",95`;
    const { decimal, dates, which } = await asked(text, {
      decimal: ".",
      dates: "month-day-year",
      which: { "water (mg/kg)": "F" },
    });
    expect([decimal, dates, which]).toEqual([".", "month-day-year", undefined]);
  });
});
