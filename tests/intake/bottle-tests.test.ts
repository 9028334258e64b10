import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { readLabFile } from "../../src/intake/index.js";
import type { Sample } from "../../src/samples/index.js";

const NAMES = { sample: "S-1", cart: "C-1", circuit: "1", "drawn on": "2026-03-04" };
const bytes = (text: string) => new TextEncoder().encode(text);
const quoted = (cells: readonly string[]) => cells.map((cell) => `"${cell}"`).join(",");

type Cells = Readonly<Record<string, string>>;

/** One sample with some cells, as a file of each shape would write it. */
const SHAPES: Readonly<Record<string, (cells: Cells) => readonly [file: string, text: string]>> = {
  wide: (cells) => {
    const all = { ...NAMES, "water (mg/kg)": "120", ...cells };
    return ["lab.csv", `${quoted(Object.keys(all))}\n${quoted(Object.values(all))}\n`];
  },
  long: (cells) => {
    const rows = Object.entries({ "water (mg/kg)": "120", ...cells });
    const lines = rows.map((row) => quoted([...Object.values(NAMES), ...row]));
    return ["lab.csv", [quoted([...Object.keys(NAMES), "Test", "Result"]), ...lines].join("\n")];
  },
  block: (cells) => {
    const rows = Object.entries({ ...NAMES, "water (mg/kg)": "120", ...cells });
    return ["lab.csv", rows.map((row) => quoted(row)).join("\n")];
  },
  JSON: (cells) => ["lab.json", JSON.stringify([{ ...NAMES, "water (mg/kg)": "120", ...cells }])],
};

async function read(shape: string, cells: Cells): Promise<Partial<Sample>> {
  const [file, text] = (SHAPES[shape] as (typeof SHAPES)[string])(cells);
  const { samples, quarantine } = await readLabFile(file, bytes(text));
  expect(quarantine).toEqual([]);
  return samples[0] as Sample;
}

const PATCH = {
  "Patch class (NAVAIR 01-1A-17)": "3",
  "Patch colour": "light grey",
  "Patch stain": "none",
  "Free water on patch": "no",
  "Patch volume (mL)": "100",
  "Patch pore size (µm)": "5",
};

describe("the tests of a bottle have columns in every shape", () => {
  test.each(Object.keys(SHAPES))("%s", async (shape) => {
    const sample = await read(shape, {
      ...PATCH,
      "Crackle test": "negative",
      Smell: "normal",
      Fibres: "few",
      "Clear and bright": "yes",
    });
    expect(sample).toMatchObject({
      patchTest: {
        class: { value: 3 },
        standard: "NAVAIR 01-1A-17",
        colour: "light grey",
        stained: false,
        freeWater: false,
        volumeMl: 100,
        poreUm: 5,
      },
      crackle: "none",
      smell: "normal",
    });
    expect([...(sample.appearance ?? [])].sort()).toEqual(["clear", "fibres-seen"]);
    expect(sample.reportedClasses).toBeUndefined();
    expect(sample.wordsNotUnderstood).toBeUndefined();
  });
});

/** What one cell becomes: the fields of the sample, and words that wait for a person. */
async function cell(title: string, text: string) {
  const { patchTest, crackle, smell, appearance, wordsNotUnderstood } = await read("wide", { [title]: text });
  const waits = wordsNotUnderstood?.map(({ about }) => about);
  return {
    ...patchTest,
    ...(crackle && { crackle }),
    ...(smell && { smell }),
    ...(appearance && { appearance }),
    ...(waits && { waits }),
  };
}

describe("a cell is read as people write it", () => {
  test.each<[string, string, object]>([
    ["Crackle", "No crackle", { crackle: "none" }],
    ["Crackle test", "none observed", { crackle: "none" }],
    ["Crackle test", "Pass", { crackle: "none" }],
    ["Crackle test", "< 500 ppm", { crackle: "none" }],
    ["Crackle test", "negativ", { crackle: "none" }],
    ["Crackle test", "Positive", { crackle: "crackles" }],
    ["Crackle test", "crackles", { crackle: "crackles" }],
    ["Crackle test", "slight crackling", { crackle: "crackles" }],
    ["Crackle test", "bubbles, violent", { crackle: "crackles" }],
    ["Crackle test", "Fail", { crackle: "crackles" }],
    ["Crackle test", "yes", { crackle: "crackles" }],
    ["Crackle test", "not done", {}],
    ["Crackle test", "-", {}],
    ["Crackle test", "none, then heavy", { waits: ["crackle test"] }],
    ["Crackle test", "see remarks", { waits: ["crackle test"] }],
    ["Spratzprobe", "nein", { crackle: "none" }],
    ["Smell", "typical", { smell: "normal" }],
    ["Odour", "none", { smell: "normal" }],
    ["Odor", "odorless", { smell: "normal" }],
    ["Odour", "no unusual odour", { smell: "normal" }],
    ["Smell", "burnt", { smell: "unusual" }],
    ["Geruch", "verbrannt", { smell: "unusual" }],
    ["Smell", "slightly rancid", { smell: "unusual" }],
    ["Smell", "of kerosene", { smell: "unusual" }],
    ["Smell", "like almonds", { waits: ["smell"] }],
    ["Smell", "strong", { smell: "unusual" }],
    ["Fibres", "none", { appearance: ["nothing-seen"] }],
    ["Fibres", "0", { appearance: ["nothing-seen"] }],
    ["Fibers", "many", { appearance: ["fibres-seen"] }],
    ["Fibres", "yes", { appearance: ["fibres-seen"] }],
    // A number is kept in sight: no limit is known to hold it against.
    ["Fibres", "3", {}],
    ["Fibres", "< 5 per 100 mL", {}],
    ["Fibres", "two blue ones", { waits: ["appearance"] }],
    ["Clear & bright", "Y", { appearance: ["clear"] }],
    ["Clear and bright", "Pass", { appearance: ["clear"] }],
    ["Clear and bright", "clear and bright", { appearance: ["clear"] }],
    ["Clear and bright", "No", { appearance: ["cloudy"] }],
    ["Clear and bright", "fail", { appearance: ["cloudy"] }],
    ["Clear and bright", "hazy", { appearance: ["cloudy"] }],
    ["Clear and bright", "no, free water", { appearance: ["free-water"], waits: ["appearance"] }],
    ["Patch class", "NAVAIR class 3", { class: { value: 3 }, standard: "NAVAIR 01-1A-17" }],
    ["Patch test class", "Navy 2", { class: { value: 2 }, standard: "NAVAIR 01-1A-17" }],
    ["Patch class NAS 1638", "Class 7", { class: { value: 7 }, standard: "NAS 1638" }],
    [
      "Patch class (NAVAIR 01-1A-17)",
      "> 6",
      { class: { value: 6, limit: "above" }, standard: "NAVAIR 01-1A-17" },
    ],
    [
      "Patch class (NAVAIR 01-1A-17)",
      "5+",
      { class: { value: 5, limit: "above" }, standard: "NAVAIR 01-1A-17" },
    ],
    ["Patch class", "3", { class: { value: 3 } }],
    ["Patch class (NAVAIR 01-1A-17)", "9", { waits: ["patch test"] }],
    ["Patch class (NAVAIR 01-1A-17)", "NAS 5", { waits: ["patch test"] }],
    ["Patch class (NAVAIR 01-1A-17)", "3 to 4", { waits: ["patch test"] }],
    ["Patch class (ISO 4406)", "18/16/13", { code: "18/16/13" }],
    ["Patch class", "18/16/13", { code: "18/16/13" }],
    ["Patch class", "ISO 18/16/13", { code: "ISO 18/16/13" }],
    ["Patch code", "16/13", { code: "16/13" }],
    ["Patch ISO code", "-/16/13", { code: "-/16/13" }],
    ["Patch test ISO 4406 code", "18-16-13", { code: "18-16-13" }],
    ["ISO code by patch", "18/16/13", { code: "18/16/13" }],
    ["Patch (ISO 4406)", "18/16/13", { code: "18/16/13" }],
    ["Patch class (ISO 4406)", "7", { waits: ["patch test"] }],
    ["Patch class (NAS 1638)", "18/16/13", { waits: ["patch test"] }],
    ["Patch class (ISO 4406)", "18/16/19", { waits: ["patch test"] }],
    ["Patch NAS class", "7", { class: { value: 7 }, standard: "NAS 1638" }],
    ["Patch test (NAS1638)", "7", { class: { value: 7 }, standard: "NAS 1638" }],
    ["Class by patch, NAVAIR", "3", { class: { value: 3 }, standard: "NAVAIR 01-1A-17" }],
    ["Patch stain", "no stain", { stained: false }],
    ["Patch stain", "slight", { stained: true }],
    ["Patch staining", "brown", { waits: ["patch test"] }],
    ["Stain on patch", "Y", { stained: true }],
    ["Patch free water", "none seen", { freeWater: false }],
    ["Water on the patch", "droplets", { freeWater: true }],
    ["Volume filtered", "100 mL", { volumeMl: 100 }],
    ["Volume filtered (mL)", "25", { volumeMl: 25 }],
    // What no unit stands with is shown; a requirement that asks for the volume finds it not stated.
    ["Volume filtered", "100", {}],
    ["Membrane pore size", "0.8 µm", { poreUm: 0.8 }],
    ["Pore size (um)", "5", { poreUm: 5 }],
    ["Membrane pore size", "5", {}],
    ["Pore size (um)", "0.45, 47 mm", {}],
  ])("%s: %s", async (title, text, expected) => {
    expect(await cell(title, text)).toEqual(expected);
  });

  test.each<[string, Record<string, string>, object, string[]]>([
    [
      "a class and a code of one patch are kept both",
      { "Patch class (NAS 1638)": "7", "Patch code (ISO 4406)": "18/16/13" },
      { class: { value: 7 }, standard: "NAS 1638", code: "18/16/13" },
      [],
    ],
    [
      "a stain in one of two columns is a stain",
      { "Patch staining": "slight", "Patch stain": "no stain" },
      { stained: true },
      [],
    ],
    [
      "water in one of two columns is water",
      { "Water on the patch": "droplets", "Patch free water": "none seen" },
      { freeWater: true },
      [],
    ],
    [
      "two classes are for a person to read",
      { "Patch class (NAVAIR 01-1A-17)": "5", "Patch class NAS 1638": "7" },
      { class: { value: 7 }, standard: "NAS 1638" },
      ["class: 5 and 7", "standard: NAVAIR 01-1A-17 and NAS 1638"],
    ],
    [
      "and so are two volumes",
      { "Patch volume (mL)": "25", "Volume filtered (mL)": "100" },
      { volumeMl: 100 },
      ["volumeMl: 25 and 100"],
    ],
  ])("%s", async (_, columns, patchTest, words) => {
    const sample = await read("wide", columns);
    expect(sample.patchTest).toEqual(patchTest);
    expect((sample.wordsNotUnderstood ?? []).map(({ text }) => text)).toEqual(words);
  });

  test("a limit of a patch is no finding", async () => {
    expect(await cell("Patch class limit", "3")).toEqual({});
    expect(await cell("Patch volume (mL) target", "100")).toEqual({});
  });

  test("a patch that is black is doubted as before, and its colour is kept", async () => {
    const sample = await read("wide", { "Patch colour": "black" });
    expect(sample.patchTest).toEqual({ colour: "black" });
    expect(sample.laboratorySays).toEqual([{ column: "Patch colour", text: "black" }]);
  });

  test("a column map says the standard, and what words mean", async () => {
    const [file, text] = (SHAPES.wide as (typeof SHAPES)[string])({ Kit: "3", Nose: "like almonds" });
    const map = {
      siltbookColumnMap: 1,
      name: "lab",
      columns: {
        Kit: { holds: "patch-class", standard: "NAVAIR 01-1A-17" },
        Nose: { holds: "smell" },
      },
      words: { "like almonds": "nothing" },
    };
    const { parseColumnMap } = await import("../../src/intake/index.js");
    const { samples } = await readLabFile(file, bytes(text), {
      map: parseColumnMap("map.json", JSON.stringify(map)),
    });
    expect(samples[0]?.patchTest).toEqual({ class: { value: 3 }, standard: "NAVAIR 01-1A-17" });
    expect(samples[0]?.wordsNotUnderstood).toBeUndefined();
  });
});

const folder = mkdtempSync(join(tmpdir(), "siltbook-"));
afterAll(() => rmSync(folder, { recursive: true }));

test("a book keeps the tests of a bottle, and its export is read again", async () => {
  const path = join(folder, "lab.csv");
  const [, text] = (SHAPES.wide as (typeof SHAPES)[string])({
    ...PATCH,
    Crackle: "crackles",
    Smell: "burnt",
    Fibres: "many",
  });
  writeFileSync(path, text);
  const book = Book.open(join(folder, "a.siltbook"), { create: true });
  await book.takeIn(path);
  const [kept] = [...book.samples()];
  expect(kept).toMatchObject({ crackle: "crackles", smell: "unusual", appearance: ["fibres-seen"] });
  const again = await readLabFile("again.csv", bytes([...book.csv()].join("")));
  const { patchTest, crackle, smell, appearance } = again.samples[0] as Sample;
  expect({ patchTest, crackle, smell, appearance }).toEqual({
    patchTest: kept?.patchTest,
    crackle: kept?.crackle,
    smell: kept?.smell,
    appearance: kept?.appearance,
  });
  book.close();
});

test("a second report that adds the patch completes the sample", async () => {
  const book = Book.open(join(folder, "b.siltbook"), { create: true });
  const wide = SHAPES.wide as (typeof SHAPES)[string];
  for (const [name, cells] of [
    ["one.csv", {}],
    ["two.csv", PATCH],
  ] as const) {
    const path = join(folder, name);
    writeFileSync(path, wide(cells)[1]);
    await book.takeIn(path);
  }
  const [sample] = [...book.samples()];
  expect(sample).toMatchObject({ waterPpm: { value: 120 }, patchTest: { class: { value: 3 } } });
  book.close();
});
