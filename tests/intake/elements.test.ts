import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { bytesInMemory, readLabFile } from "../../src/intake/index.js";

const NAMING = "sample,cart,circuit,drawn on";
const bytes = (text: string) => new TextEncoder().encode(text);
const read = (text: string) => readLabFile("lab.csv", bytes(text));

describe("density, chlorine and metals", () => {
  const expected = {
    density15KgPerM3: { value: 997.5 },
    chlorinePpm: { value: 40, limit: "below" },
    metalsPpm: { iron: { value: 3 }, copper: { value: 1, limit: "below" } },
  };

  test("are in columns of their own, in any unit by mass", async () => {
    const file = await read(
      `${NAMING},Density at 15 °C (g/cm³),Chlorine (mg/kg),Iron (Fe) µg/g,Cu (ppm)\nS-1,C-1,aft,2026-03-04,0.9975,<40,3,< 1\n`,
    );
    expect(file.samples).toMatchObject([expected]);
    expect(file.assumptions).toEqual([
      { code: "unit-meaning", message: "ppm of chlorine or a metal was read as ppm by mass" },
    ]);
  });

  test("are in the rows of a long file, and in a block", async () => {
    const results = [
      ["Density at 15 °C", "997.5", "kg/m³"],
      ["Chlorine", "<40", "mg/kg"],
      ["Fe", "3", "mg/kg"],
      ["Copper (Cu)", "<1", "ppm by mass"],
    ];
    const long = results.map((cells) => `S-1,C-1,aft,2026-03-04,${cells.join(",")}`);
    expect((await read(`${NAMING},test,result,unit\n${long.join("\n")}\n`)).samples).toMatchObject([
      expected,
    ]);
    const block = [
      ["Sample no.", "S-1"],
      ["Cart", "C-1"],
      ["Circuit", "aft"],
      ["Date drawn", "2026-03-04"],
      ...results,
    ];
    expect((await read(block.map((cells) => cells.join(",")).join("\n"))).samples).toMatchObject([expected]);
  });

  test.each(["Wear metals (ppm)", "Metals, mg/kg", "Metals [µg/g]", "Metals ppm"])(
    "below a group %j they have its unit",
    async (group) => {
      const file = await read(
        `,,,,"${group}",,Condition,\n${NAMING},Fe,Cu,water (mg/kg),Ni\nS-1,C-1,aft,2026-03-04,3,<1,120,7\n`,
      );
      expect(file.samples).toMatchObject([
        { waterPpm: { value: 120 }, metalsPpm: { iron: { value: 3 }, copper: { value: 1, limit: "below" } } },
      ]);
      // Nickel stands below another group, which has no unit.
      expect(file.unusedColumns).toEqual(["Condition Ni"]);
    },
  );

  test("have their units in a row of units", async () => {
    const file = await read(
      `${NAMING},Fe,Density at 15 °C,Volume counted,4 µm(c)\n,,,,µg/g,kg/m³,mL,1/mL\nS-1,C-1,aft,2026-03-04,3,997.5,25,1000\n`,
    );
    expect(file.samples).toMatchObject([
      {
        metalsPpm: { iron: { value: 3 } },
        density15KgPerM3: { value: 997.5 },
        counts: { counting: { countedMl: 25 } },
      },
    ]);
  });

  test("a metal without a unit is named as a column that is not used, and stops nothing", async () => {
    const file = await read(`${NAMING},water (mg/kg),Iron,Tin\nS-1,C-1,aft,2026-03-04,120,3,large\n`);
    expect(file.samples).toMatchObject([{ sample: "S-1", waterPpm: { value: 120 } }]);
    expect(file.unusedColumns).toEqual(["Iron", "Tin"]);
    expect(file.samples[0]).not.toHaveProperty("metalsPpm");
  });

  test("a metal that a file gives twice in different ways is not taken, and the others are", async () => {
    const rows = ["Fe,3,mg/kg", "Fe,5,mg/kg", "Cu,2,mg/kg", "Sn,1,mg/kg"];
    const long = rows.map((cells) => `S-1,C-1,aft,2026-03-04,${cells}`).join("\n");
    const { samples, quarantine } = await read(`${NAMING},test,result,unit\n${long}\n`);
    expect(samples).toMatchObject([{ metalsPpm: { copper: { value: 2 }, tin: { value: 1 } } }]);
    expect(samples[0]?.metalsPpm).not.toHaveProperty("iron");
    expect(quarantine.map(({ row }) => row)).toEqual([2, 3]);
  });
});

describe("a counted volume", () => {
  const TITLES = `${NAMING},4 µm(c) per mL,6 µm(c) per mL,Counted volume (mL)`;

  test("goes with the counts of its sample, and is said to be taken as undiluted", async () => {
    const { samples, assumptions } = await read(
      `${TITLES}\nS-1,C-1,aft,2026-03-04,1000,200,28.35\nS-2,C-1,aft,2026-03-05,1000,200,\n`,
    );
    expect(samples.map(({ counts }) => counts?.counting)).toEqual([{ countedMl: 28.35 }, undefined]);
    expect(assumptions).toEqual([
      {
        code: "counted-undiluted",
        message: "counted volumes were taken as of the sample itself, not of a dilution",
      },
    ]);
  });

  test.each([
    ["<25", "a counted volume, not a limit of one"],
    [
      "0",
      "counts that can be true (the counted volume must be more than 0 mL and at most 1000000 mL, not 0)",
    ],
    ["2 L", "a number in mL, as the title says, not in L"],
  ])("%j sets the row aside", async (cell, expected) => {
    const { samples, quarantine } = await read(`${TITLES}\nS-1,C-1,aft,2026-03-04,1000,200,${cell}\n`);
    expect(samples).toEqual([]);
    expect(quarantine[0]?.issues[0]?.expected).toBe(expected);
  });

  test("without counts it is kept by itself", async () => {
    const { samples, assumptions } = await read(
      `${NAMING},water (mg/kg),Counted volume (mL)\nS-1,C-1,aft,2026-03-04,120,25\n`,
    );
    expect(samples).toMatchObject([{ waterPpm: { value: 120 }, countedVolumeMl: 25 }]);
    expect(samples[0]).not.toHaveProperty("counts");
    expect(assumptions).toEqual([]);
  });

  test("is exported and read back", async () => {
    const book = Book.open(":memory:", { create: true });
    await book.takeIn(bytesInMemory("lab.csv", bytes(`${TITLES}\nS-1,C-1,aft,2026-03-04,1000,200,25\n`)), {
      today: "2026-12-31",
    });
    const csv = [...book.csv()].join("");
    expect(csv.split("\n")[0]).toMatch(/,counted volume \(mL\)$/);
    expect((await read(csv)).samples[0]?.counts).toEqual([...book.samples()][0]?.counts);
  });
});

describe("in a book", () => {
  const today = { today: "2026-12-31" };
  const takeIn = async (...texts: string[]) => {
    const book = Book.open(":memory:", { create: true });
    for (const [index, text] of texts.entries())
      await book.takeIn(bytesInMemory(`${index}.csv`, bytes(text)), today);
    return book;
  };

  test("a second report adds metals, corrects them, or says them in words, one by one", async () => {
    const first = `${NAMING},reported,Fe (ppm),Cu (ppm)\nS-1,C-1,aft,2026-03-04,2026-03-08,3,2\n`;
    const adds = `${NAMING},Al (ppm),Fe (ppm)\nS-1,C-1,aft,2026-03-04,1,3\n`;
    const corrects = `${NAMING},reported,Cu (ppm)\nS-1,C-1,aft,2026-03-04,2026-03-09,4\n`;
    const inWords = `${NAMING},reported,Fe (ppm),chlorine (ppm)\nS-1,C-1,aft,2026-03-04,2026-03-09,nd,nd\n`;
    const metalsOf = (book: Book) => [...book.samples()][0]?.metalsPpm;
    expect(metalsOf(await takeIn(first, adds))).toEqual({
      iron: { value: 3 },
      copper: { value: 2 },
      aluminium: { value: 1 },
    });
    const corrected = await takeIn(first, corrects);
    expect(metalsOf(corrected)).toEqual({ iron: { value: 3 }, copper: { value: 4 } });
    expect(corrected.history("C-1", "aft")[0]?.amendments).toHaveLength(1);
    const worded = await takeIn(first, inWords);
    expect([...worded.samples()][0]).toMatchObject({
      metalsPpm: { copper: { value: 2 } },
      wordedResults: [
        { measurand: "iron", said: "not-detected" },
        { measurand: "chlorine", said: "not-detected" },
      ],
    });
    expect(metalsOf(worded)).not.toHaveProperty("iron");
    const afterwards = first.replace("2026-03-08", "2026-03-10");
    expect(metalsOf(await takeIn(inWords, afterwards))).toEqual({ iron: { value: 3 }, copper: { value: 2 } });
    expect([...(await takeIn(inWords, afterwards)).samples()][0]?.wordedResults).toEqual([
      { measurand: "chlorine", said: "not-detected" },
    ]);
  });

  test("an export has columns for those that were measured, and intake reads them back", async () => {
    const book = await takeIn(
      `${NAMING},Density at 15 °C (kg/m³),chlorine (mg/kg),Zn (mg/kg)\nS-1,C-1,aft,2026-03-04,997.5,<40,7\nS-2,C-1,aft,2026-03-05,,,\n`,
    );
    const csv = [...book.csv()].join("");
    expect(csv.split("\n")[0]).toMatch(/,density at 15 °C \(kg\/m³\),chlorine \(mg\/kg\),zinc \(mg\/kg\)$/);
    const back = await read(csv);
    const results = (samples: Iterable<object>) => [...samples].map((sample) => ({ ...sample, origin: [] }));
    expect(results(back.samples)).toEqual(results(book.samples()));
  });
});
