import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { bytesInMemory, openLabFile, readLabFile } from "../../src/intake/index.js";
import type { Description } from "../../src/intake/layout/meaning.js";
import { gatherDescriptions } from "../../src/intake/words/described.js";

const NAMING = "sample,cart,circuit,drawn on";
const ROW = "S-1,C-1,aft,2026-03-04";
const bytes = (text: string) => new TextEncoder().encode(text);
const read = (text: string) => readLabFile("lab.csv", bytes(text));

/** What one cell under one title becomes in a sample. */
const saidIn = (holds: Description, cell: string) =>
  gatherDescriptions(
    [{ result: { measurand: { holds }, cell, row: 2, column: holds }, meaning: { holds } }],
    [],
    new Map(),
  ).results;

describe("words about a bottle", () => {
  test.each([
    ["colour", "Purple", { colour: "Purple" }],
    ["colour", "pale  red", { colour: "pale red" }],
    ["appearance", "Clear & bright", { appearance: ["clear"] }],
    ["appearance", "cloudy, visible sediment", { appearance: ["cloudy", "particles-seen"] }],
    ["appearance", "Clear, no free water and no particles", { appearance: ["clear"] }],
    ["appearance", "two layers with debris", { appearance: ["two-layers", "particles-seen"] }],
    ["appearance", "no free water", { appearance: ["nothing-seen"] }],
    ["sample-point", "Return line", { samplePoint: "main-flow-line" }],
    ["sample-point", "reservoir drain", { samplePoint: "drain" }],
    ["flowing", "Static", { flowing: false }],
    ["flowing", "Y", { flowing: true }],
    ["flowing", "not recorded", {}],
    ["colour", " - ", {}],
    // A colour by ASTM D1500, and the same as an upper limit: shown, and no name of a colour.
    ["colour", "1.5", { otherTexts: [{ column: "colour", text: "1.5" }] }],
    ["colour", "L1.5", { otherTexts: [{ column: "colour", text: "L1.5" }] }],
  ] as const)("%s: %j", (description, text, said) => {
    expect(saidIn(description, text)).toEqual(said);
  });

  test.each([
    ["appearance", "clear, smells burnt", "smells burnt", "appearance"],
    ["sample-point", "sampling valve", "sampling valve", "sample point"],
    ["flowing", "perhaps", "perhaps", "flow"],
    ["colour", "like tea", "like tea", "colour"],
  ] as const)("%s: %j is kept for a person to read", (description, text, left, about) => {
    expect(saidIn(description, text).wordsNotUnderstood).toEqual([{ about, text: left }]);
  });

  test("a text that no person writes is cut, and not read in part", () => {
    const { appearance, wordsNotUnderstood } = saidIn("appearance", "clear ".repeat(300));
    expect(appearance).toBeUndefined();
    expect(wordsNotUnderstood).toMatchObject([{ about: "appearance" }]);
    expect(wordsNotUnderstood?.[0]?.text).toHaveLength(500);
  });
});

test("words that are read as others are said, each once", async () => {
  const rows = ["Return line,Clear & bright", "return line,hazy; no free water", "Main-flow line,two layers"];
  const text = `${NAMING},water (mg/kg),Sample point,Appearance\n${rows.map((row, index) => `S-${index},C-1,aft,2026-03-04,120,${row}`).join("\n")}\n`;
  const opened = await openLabFile(bytesInMemory("lab.csv", bytes(text)));
  const messages = [
    'sample point: "return line" was read as main-flow-line',
    'appearance: "bright" was read as clear',
    'appearance: "hazy" was read as cloudy',
    'appearance: "no free water" was read as nothing seen',
  ];
  const found = [...opened.fates()].flatMap((fate) =>
    fate.kind === "sample" ? fate.fate.assumptions.map(({ message }) => message) : [],
  );
  expect([...new Set(found)].filter((message) => message.includes("was read as")).sort()).toEqual(
    [...messages].sort(),
  );
});

describe("in files", () => {
  const said = { colour: "purple", appearance: ["clear"], samplePoint: "reservoir", flowing: true };

  test("they are in columns, in the rows of a long file, and in a block", async () => {
    const wide = await read(
      `${NAMING},water (ppm by mass),Colour,Appearance,Sampling point,Flowing\n${ROW},120,purple,clear,Reservoir,yes\n`,
    );
    const words = [
      ["Fluid color", "purple"],
      ["Appearance", "clear"],
      ["Sample point", "Reservoir"],
      ["Flowing when drawn", "yes"],
    ];
    const long = await read(
      [
        `${NAMING},test,result,unit`,
        `${ROW},water,120,mg/kg`,
        ...words.map(([name, word]) => `${ROW},${name},${word},`),
      ].join("\n"),
    );
    const block = await read(
      [
        ...["Sample no.,S-1", "Cart,C-1", "Circuit,aft", "Date drawn,2026-03-04", "Water (mg/kg),120"],
        ...words.map((cells) => cells.join(",")),
      ].join("\n"),
    );
    for (const { samples, quarantine, assumptions } of [wide, long, block]) {
      expect(samples).toMatchObject([{ ...said, waterPpm: { value: 120 } }]);
      expect(quarantine).toEqual([]);
      expect(assumptions).toEqual([]);
    }
  });

  test("words without a reading stay with their samples, and the file says so once", async () => {
    const rows = Array.from(
      { length: 300 },
      (_, index) => `S-${index},C-1,aft,2026-03-04,120,tea of pot ${index}`,
    );
    const { samples, quarantine, assumptions } = await read(
      `${NAMING},water (mg/kg),Colour\n${rows.join("\n")}\n`,
    );
    expect(samples).toHaveLength(300);
    expect(samples.filter(({ colour }) => colour !== undefined)).toEqual([]);
    expect(samples[7]?.wordsNotUnderstood).toEqual([{ about: "colour", text: "tea of pot 7" }]);
    expect(quarantine).toEqual([]);
    expect(assumptions).toEqual([
      {
        code: "words-not-understood",
        message: "colour: some words are not understood; their circuits wait for a person who reads them",
      },
    ]);
  });

  test("a bottle that one file describes in two ways has neither, and both rows are set aside", async () => {
    const { samples, quarantine } = await read(
      `${NAMING},test,result,unit\n${ROW},water,120,mg/kg\n${ROW},Colour,red,\n${ROW},Colour,purple,\n${ROW},Appearance,clear,\n${ROW},Appearance,bright,\n`,
    );
    expect(samples).toMatchObject([{ appearance: ["clear"] }]);
    expect(samples[0]).not.toHaveProperty("colour");
    expect(quarantine.map(({ row, issues }) => [row, issues[0]?.code])).toEqual([
      [3, "repeated-measurand"],
      [4, "repeated-measurand"],
    ]);
  });

  test("what a column map calls blank is blank, whatever it could mean as a word", async () => {
    const map = { siltbookColumnMap: 1, name: "lab", columns: {}, blanks: ["clear"] } as const;
    const text = `${NAMING},water (mg/kg),Appearance\n${ROW},120,clear\n`;
    const { samples } = await readLabFile("lab.csv", bytes(text), { map: { ...map, blanks: ["clear"] } });
    expect(samples[0]).not.toHaveProperty("appearance");
  });

  test("an export has columns for them, and intake reads them back", async () => {
    const book = Book.open(":memory:", { create: true });
    const text = `${NAMING},water (mg/kg),Colour,Appearance,Sample point,Flowing\n${ROW},120,purple,cloudy; sediment,drain,no\n`;
    await book.takeIn(bytesInMemory("lab.csv", bytes(text)), { today: "2026-12-31" });
    const { origin: _file, ...sample } = [...book.samples()][0] ?? { origin: [] };
    expect(sample).toMatchObject({
      colour: "purple",
      appearance: ["cloudy", "particles-seen"],
      samplePoint: "drain",
      flowing: false,
    });
    const { origin: _export, ...back } = (await read([...book.csv()].join(""))).samples[0] ?? { origin: [] };
    expect(back).toEqual(sample);
  });
});
