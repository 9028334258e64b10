import { describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";
import { recognise } from "../../src/intake/layout/columns.js";

const read = (lines: readonly string[]) => readLabFile("lab.csv", new TextEncoder().encode(lines.join("\n")));
const NAMES = "sample;cart;circuit;drawn on";
const S1 = "S-1;C-1;1;2026-03-04";

describe("every word in the title of a count is known to change nothing, or the column is questioned", () => {
  test.each([
    // Multipliers.
    ...["4 µm(c) per mL ×1000", "4 µm(c) (x1000) per mL", "4 µm(c) 10³/mL", "10^3 > 4 µm(c) per mL"],
    ...["4 µm(c) k/mL", "4 µm(c) in thousands per mL", "4 µm(c) million per mL", "4 µm(c)/mL*1000"],
    ...["4 µm(c) per mL / 1000", "Tausend > 4 µm(c) je ml", "4 µm(c) por ml (x1000)", "log 4 µm(c) per mL"],
    // Not cumulative, or bounded from above.
    ...["4 µm(c) per mL (differential)", "< 4 µm(c) per mL", "≤4 µm(c) per mL", "up to 4 µm(c) per mL"],
    ...["smaller than 4 µm(c) per mL", "bis 4 µm(c) je ml", "4-6 µm(c) per mL cumulative"],
    // Not of the fluid as it was drawn, or not a number of particles.
    ...["4 µm(c) per mL, dilution 1:10", "4 µm(c) per mL Verdünnung", "4 µm(c) mg per mL"],
    ...["fibres > 4 µm(c) per mL", "air bubbles 4 µm(c) per mL", "4 µm(c) per mL upstream"],
    ...["4 µm(c) per mL corrected", "4 µm(c) per mL hours", "± 4 µm(c) per mL", "Percent > 4 µm(c) per mL"],
    // Two volumes, two scales.
    ...["4 µm(c) per mL per 100 mL", "4 µm(c) per mL (ISO 4402)"],
    // One volume with two readings.
    ...["4 µm(c) per 1,000 mL", "4 µm(c) je 1.000 ml", "4 µm(c) / 10,000 mL"],
  ])("%s", (title) => {
    expect(recognise(title, "", {}).kind).toBe("unsure");
  });

  test.each([
    ...["4 µm(c) limit per mL", "Alarm 4 µm(c) per mL", "Target 4 µm(c) per mL", "4 µm(c) per mL previous"],
    ...["4 µm(c) per mL deviation", "4 µm(c) per mL % of limit", "4 µm(c) per mL std dev"],
    ...[
      "Grenzwert 4 µm(c) je ml",
      "Vorwert > 4 µm(c) je ml",
      "limite > 4 µm(c) par ml",
      "4 µm(c) per mL new fluid",
    ],
    ...["objectif > 4 µm(c) par ml", "4 µm(c) per mL max", "Δ 4 µm(c) per mL"],
  ])("%s is no result, so it is not used", (title) => {
    expect(recognise(title, "", {})).toEqual({ kind: "unknown" });
  });

  test.each([
    ["4 µm(c) per mL run 2", { run: 2 }],
    ["Run 3: > 4 µm(c) per mL", { run: 3 }],
    ["Blank 4 µm(c) per mL", { blank: true }],
    ["Blindwert > 4 µm(c) je ml", { blank: true }],
  ])("%s is a count of another bottle or run", (title, of) => {
    const meaning = { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 1, ...of };
    expect(recognise(title, "", {})).toEqual({ kind: "known", meaning });
  });

  test.each([
    ...["Number of particles larger than 4 µm(c) per mL", "Cumulative count ≥ 4 µm(c) (per mL)"],
    ...[
      "Particles greater than or equal to 4 µm(c) per mL",
      "#/mL >4 µm(c)",
      "4 µm(c), p/mL",
      "4 µm(c) mL-1",
    ],
    ...[
      "Particle count > 4 µm(c)/mL, ISO 4406:2017",
      "4 µm(c) ISO 11171:2022, particles/mL",
      "4 µm(c) per cm³",
    ],
    ...["Count 4 µm(c) per mL (automatic particle counter)", ">4µ(c)/ml", "Part./ml > 4 µm(c)"],
    ...[
      "Partikelzahl größer 4 µm(c) pro ml",
      "Teilchen ab 4 µm(c) je ml",
      "Nombre de particules > 4 µm(c) par ml",
    ],
    ...["Partículas > 4 µm(c) por ml", "Particelle > 4 µm(c) per ml", "Aantal deeltjes > 4 µm(c) per ml"],
    ...["Partículas maiores que 4 µm(c) por ml"],
  ])("%s is a plain count", (title) => {
    const meaning = { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 1 };
    expect(recognise(title, "", {})).toEqual({ kind: "known", meaning });
  });

  test.each([
    ...["4…6 µm(c) per mL", "4 ~ 6 µm(c) per mL", "between 4 and 6 µm(c) per mL", "4 bis 6 µm(c) je ml"],
    ...["4 ≤ x < 6 µm(c) per mL", "≥4 <6 µm(c) per mL", "4 µm(c) - 6 µm(c) per mL", "4 à 6 µm(c) par ml"],
    ...["zwischen 4 und 6 µm(c) je ml", "> 4 µm(c) and < 6 µm(c) per mL", "4-6 µm(c) per mL (differential)"],
    ...["de 4 a 6 µm(c) por ml", "4µm(c) ≤ d < 6µm(c) per mL"],
  ])("%s is a count between two sizes", (title) => {
    const meaning = { holds: "count", fromUm: 4, toUm: 6, scale: "um(c)", volumeMl: 1 };
    expect(recognise(title, "", {})).toEqual({ kind: "known", meaning });
  });
});

test.each([
  ["per 1000 mL", 1000],
  ["per 1.0 mL", 1],
  ["je 1,0 ml", 1],
  ["je 0,100 ml", 0.1],
  ["per 0.100 mL", 0.1],
  ["per 2.5 mL", 2.5],
])("4 µm(c) %s stands for %f mL", (volume, volumeMl) => {
  const meaning = { holds: "count", fromUm: 4, scale: "um(c)", volumeMl };
  expect(recognise(`4 µm(c) ${volume}`, "", {})).toEqual({ kind: "known", meaning });
});

describe("the sizes and the volume of a count", () => {
  const count = (fromUm: number, more: object = {}) => ({
    holds: "count",
    fromUm,
    scale: "um(c)",
    volumeMl: 1,
    ...more,
  });
  test.each([
    ["2,5 µm(c) per mL", count(2.5)],
    ["2.5-4,5 µm(c) per mL", count(2.5, { toUm: 4.5 })],
    ["10000 µm(c) per mL", count(10_000)],
    ["4 µm(c) per 1000000 mL", count(4, { volumeMl: 1_000_000 })],
    ["4 µm(c) mL⁻¹", count(4)],
    ["4_µm(c)__per__mL", count(4)],
    ["4 æm(c) per mL", count(4)],
    ["4 µm(c)(per)mL", undefined],
  ])("%s", (title, meaning) => {
    if (meaning !== undefined) expect(recognise(title, "", {})).toEqual({ kind: "known", meaning });
    else expect(recognise(title, "", {}).kind).not.toBe("known");
  });

  const WHICH = "is it a count of particles, of which size in µm, and is the size µm(c) of ISO 11171?";
  const TOO_LARGE = "which size of particles is it, of at most 10000 µm?";
  const VOLUME = "do the counts stand for 1 mL or for 100 mL?";
  test.each([
    ["6-4 µm(c) per mL", WHICH],
    ["4-4 µm(c) per mL", WHICH],
    ["0 µm(c) per mL", WHICH],
    ["10001 µm(c) per mL", TOO_LARGE],
    ["4-10001 µm(c) per mL", TOO_LARGE],
    ["4 µm(c) per 1000001 mL", VOLUME],
    ["4 µm(c) per 0 mL", VOLUME],
    ["4-6 µm(c) per mL x", 'is it a plain count of the particles between the sizes, and what does "x" mean?'],
    ["4 µm(c) per mL x", 'is it a plain count of the particles above the size, and what does "x" mean?'],
  ])("%s is asked about: %s", (title, question) => {
    expect(recognise(title, "", {})).toEqual({ kind: "unsure", question });
  });

  test.each([
    ["4 µm(c)", {}],
    ["4-6 µm(c)", { toUm: 6 }],
    ["Blank 4 µm(c)", { blank: true }],
    ["4 µm(c) run 2", { run: 2 }],
  ])("%s is asked about, and is known but for its volume", (title, more) => {
    const { volumeMl: _, ...withoutVolume } = count(4, more);
    expect(recognise(title, "", {})).toEqual({ kind: "unsure", question: VOLUME, withoutVolume });
    expect(recognise(title, "", { volumeMl: 100 })).toEqual({
      kind: "known",
      meaning: { ...withoutVolume, volumeMl: 100 },
    });
  });

  // With the title of the group above it.
  test.each([
    ["4 µm(c)", "Run 2, counts per mL", { run: 2 }],
    ["4 µm(c) run 3", "Run 2, counts per mL", { run: 3 }],
    ["Mean 4 µm(c)", "Runs 1 to 3, counts per mL", {}],
  ])("%s below %j", (title, group, more) => {
    expect(recognise(title, "", {}, group)).toEqual({ kind: "known", meaning: count(4, more) });
  });
});

describe("a quantity is what its whole title says, whatever the unit below it", () => {
  test.each([
    ["Water saturation", "%"],
    ["Water (free)", "ppm"],
    ["Water dissolved", "ppm"],
    ["Water content of air", "ppm"],
    ["Water relative humidity", "%"],
    ["Water (ppm) x1000", ""],
    ["Water (10³ ppm)", ""],
    ["Water content, % saturation", ""],
  ])("%s with %j below is questioned", (title, unit) => {
    expect(recognise(title, unit, {})).toMatchObject({
      kind: "unsure",
      question: expect.stringMatching(/water/),
    });
  });

  test.each([
    ["Acid number increase", "mg KOH/g"],
    ["Water, detection limit", "ppm"],
    ["Water of the new fluid", "ppm"],
    ["Water Grenzwert", "ppm"],
    ["Water uncertainty", "ppm"],
    ["Iron previous (ppm)", ""],
    ["Number of iron particles (ppm)", ""],
    ["limits water (ppm)", ""],
  ])("%s with %j below is no result", (title, unit) => {
    expect(recognise(title, unit, {})).toEqual({ kind: "unknown" });
  });

  test.each([
    ["Water content by KF, ppm", "", { holds: "water", unit: "ppm" }],
    ["Water, total (ppm)", "", { holds: "water", unit: "ppm" }],
    ["results water (ppm)", "", { holds: "water", unit: "ppm" }],
    ["Water (ISO 12937:2000)", "mg/kg", { holds: "water", unit: "mg/kg" }],
    ["Water", "ASTM D6304 mg/kg", { holds: "water", unit: "mg/kg" }],
    ["Total acid number D664 mgKOH/g", "", { holds: "acid", unit: "mg KOH/g" }],
    ["TAN potentiometric (mg KOH/g)", "", { holds: "acid", unit: "mg KOH/g" }],
    ["Iron (Fe) by ICP, mg/kg", "", { holds: "iron", unit: "mg/kg" }],
  ])("%s with %j below is a plain result", (title, unit, meaning) => {
    expect(recognise(title, unit, {})).toEqual({ kind: "known", meaning });
  });
});

describe("two statements that differ are questioned", () => {
  test.each([
    ["Water (ppm)", "%", "", /ppm or %/],
    ["Acid number (mg KOH/g)", "ppm", "", /what does "ppm" mean/],
    ["4 µm(c) per mL", "/100 mL", "", /1 mL or for 100 mL/],
    ["> 4 µm(c)", "10³/mL", "", /what does "10\^3" mean/],
    ["4 µm(c) per mL", "", "Counts per 100 mL", /1 mL or for 100 mL/],
    ["4 µm(c) per mL", "", "Counts, ISO 4402", /ISO 4402/],
    ["4 µm(c) per mL", "", "Particles × 1000", /what does "×" mean/],
    ["Fe (%)", "", "Metals (ppm)", /ppm or %/],
  ])("%s, %j below, %j above", (title, unit, group, question) => {
    expect(recognise(title, unit, {}, group)).toMatchObject({
      kind: "unsure",
      question: expect.stringMatching(question),
    });
  });

  test.each([
    ["Water (ppm)", "mg/kg", "", { holds: "water", unit: "mg/kg" }],
    ["4 µm(c) per mL", "1/mL", "", { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 1 }],
    ["> 4 µm(c)", "", "Particles per 100 mL", { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 100 }],
    ["Fe", "", "Metals (ppm)", { holds: "iron", unit: "ppm" }],
    ["Water (ppm)", "", "Lab bench B", { holds: "water", unit: "ppm" }],
  ])("%s, %j below and %j above agree", (title, unit, group, meaning) => {
    expect(recognise(title, unit, {}, group)).toEqual({ kind: "known", meaning });
  });

  test.each([
    ["a row of units", [`${NAMES};4 µm(c) per mL;water (mg/kg)`, ";;;;/100 mL;", `${S1};900;120`]],
    [
      "a group",
      [";;;;Counts per 100 mL;;", `${NAMES};4 µm(c) per mL;6 µm(c) per mL;water (mg/kg)`, `${S1};9;8;1`],
    ],
    ["a row of units with a label", [`${NAMES};4 µm(c) per mL`, "Unit;;;;/100 mL", `${S1};900`]],
    [
      "a line above the table",
      ["Particle counts are given per 100 mL", `${NAMES};4 µm(c) per mL`, `${S1};900`],
    ],
  ])("%s that contradicts the titles stops the file with the question", async (_, lines) => {
    await expect(read(lines)).rejects.toThrow(
      "do the counts stand for 1 mL or for 100 mL? The file says both",
    );
  });

  test.each([
    [
      [
        `${NAMES};> 4 µm(c);water`,
        "-;-;-;yyyy-mm-dd;ISO 11500;ASTM D6304",
        ";;;;1/mL;mg/kg",
        `${S1};900;120`,
      ],
    ],
    [
      [
        "Particle counts are given per mL",
        "Sample volume 100 mL",
        `${NAMES};4 µm(c) per mL;water (mg/kg)`,
        `${S1};900;120`,
      ],
    ],
    [["Contact;;;;Limits as agreed;", "", `${NAMES};4 µm(c) per mL;water (mg/kg)`, `${S1};900;120`]],
  ])("a tidy file with methods, units or lines of text is read without a question: %j", async (lines) => {
    const { samples, quarantine } = await read(lines);
    expect([samples[0]?.counts?.counts[0]?.count, samples[0]?.waterPpm?.value, quarantine.length]).toEqual([
      900, 120, 0,
    ]);
  });

  test.each([
    "Particle counts are given in thousands",
    "Counts x 1000",
    "Particle sizes by ISO 4402",
    "Counter calibrated to ISO 4402",
  ])("the line %j above counts in µm(c) per mL is questioned", async (line) => {
    await expect(read([line, "", `${NAMES};4 µm(c) per mL`, `${S1};900`])).rejects.toThrow(
      /column map has to settle/,
    );
  });

  test.each([
    "Counter calibrated to ISO 11171, 3 x 10 mL counted",
    "NAS 1638 class 6 allows 16000 particles per 100 mL",
    "Limit: 130000 particles per 100 mL",
    "Count accuracy ±10 %",
  ])("the line %j says nothing against them", async (line) => {
    const { samples } = await read([line, "", `${NAMES};4 µm(c) per mL`, `${S1};900`]);
    expect(samples).toHaveLength(1);
  });

  test("columns below a group of limits or of an earlier sample are not used", async () => {
    for (const group of ["Limits", "Previous sample", "Grenzwerte"]) {
      const { samples, unusedColumns } = await read([
        `;;;;This sample;;${group};`,
        `${NAMES};4 µm(c) per mL;water (mg/kg);6 µm(c) per mL;acid number (mg KOH/g)`,
        `${S1};900;120;320;0.2`,
      ]);
      expect(samples[0]?.counts?.counts).toEqual([{ sizeUm: 4, count: 900 }]);
      expect(samples[0]?.acidMgKohPerG).toBeUndefined();
      expect(unusedColumns).toEqual([`${group} 6 µm(c) per mL`, `${group} acid number (mg KOH/g)`]);
    }
  });
});
