import { describe, expect, test } from "vitest";
import { contradictsCount, hasLostMu } from "../../src/intake/layout/count-titles.js";
import type { CountMeaning, QuantityMeaning } from "../../src/intake/layout/meaning.js";
import { unitAgainst } from "../../src/intake/layout/quantity-titles.js";
import { classTitle } from "../../src/intake/layout/title-patterns.js";

describe("a line of text against the title of a count", () => {
  const open: CountMeaning = { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 1 };
  const band: CountMeaning = { ...open, toUm: 6 };
  const { volumeMl: _, ...withoutVolume } = open;

  test.each<[string, CountMeaning, boolean]>([
    ["All counts are per 100 mL", open, true],
    ["All counts are per mL", open, false],
    ["All counts are per 1.0 mL", open, false],
    ["Counts per 1 mL, of 100 mL drawn", open, false],
    ["All counts are per 100 mL", { ...open, volumeMl: 100 }, false],
    ["All counts are per 100 mL", withoutVolume as CountMeaning, false],
    // Of text about something else nothing is concluded.
    ["Reagent used per 100 mL", open, false],
    ["NAS 1638 class 6: 16000 particles per 100 mL", open, false],
    ["Limit: 16000 particles per 100 mL", open, false],
    ["Particle sizes by ISO 4402", open, true],
    ["Particle sizes by ISO 11171", open, false],
    ["Particle sizes by ISO 4402 and ISO 11171", open, false],
    ["Counted under the microscope", open, true],
    ["Particle sizes by ISO 4402", { ...open, scale: "um-older" }, false],
    ["Counts × 1000", open, true],
    ["Counts x 10", open, true],
    ["All counts * 100", open, true],
    ["Multiply counts by 10", open, true],
    ["Counts have to be multiplied by 100", open, true],
    ["Werte mit 10 zu multiplizieren: Partikelzahlen", open, true],
    ["Counts have been multiplied by 10", open, false],
    ["Particles counted at x 100 magnification", open, false],
    ["Counts x 1", open, false],
    ["Counts are in thousands", open, true],
    ["Counts in 10³", open, true],
    ["Counts in tens", open, true],
    ["Zählwerte in Hundertern", open, true],
    ["All counts divided by 10", open, true],
    ["Comptages divisés par 100", open, true],
    ["Counts in 10 mL each", withoutVolume as CountMeaning, false],
    ["Sizes in µm (ACFTD)", open, true],
    ["Größen nach ISO 4402", open, true],
    ["Sizes in µm(c)", open, false],
    ["Sample size 100 mL", open, false],
    ["Counts of 3 x 10 mL", open, false],
    ["Counts are differential", open, true],
    ["Counts are differential", band, false],
    ["Counts are cumulative", open, false],
    ["Counts are cumulative", band, true],
    ["Counts are cumulative, not differential", band, false],
    ["Counts are cumulative, not differential", open, false],
    ["Counter at 5 bar differential pressure", open, false],
  ])("%s: %j %s", (line, meaning, expected) => {
    expect(contradictsCount(line)(meaning)).toBe(expected);
  });
});

describe("a line of text against the unit of a quantity", () => {
  const water: QuantityMeaning = { holds: "water", unit: "ppm" };
  test.each<[string, QuantityMeaning]>([
    ["Water in %", water],
    ["WATER (%)", water],
    ["All water contents are in % (m/m)", water],
    ["Water in ppm", { holds: "water", unit: "%" }],
  ])("%s contradicts %j", (line, meaning) => {
    expect(unitAgainst(line, meaning)).toMatch(/^in which unit is water.*, .+ or .+\? The file says both$/);
  });

  test.each<[string, QuantityMeaning]>([
    ["Water in mg/kg", water],
    ["Water in ppm or in %", water],
    ["Water in %", { holds: "water" }],
    ["All results in %", water],
    ["Water found from 0.003 %", water],
    ["Limit of water in %", water],
    ["Water saturation in %", water],
    ["Water and relative humidity in %", water],
    ["Water by Karl Fischer", water],
    ["Fe in %", { holds: "iron", unit: "ppm" }],
  ])("%s does not contradict %j", (line, meaning) => {
    expect(unitAgainst(line, meaning)).toBeUndefined();
  });
});

test.each([
  ["4 æm(c)", true],
  ["4 ?m", true],
  ["4 \ufffdm", true],
  ["4 Âµm(c)", true],
  ["4m(c)", true],
  ["4 µm(c)", false],
  ["4 UM(C)", false],
  ["4 μm", false],
  ["4 mm", false],
  ["4 ?mol", false],
  ["particles", false],
])("%s has lost its µ: %s", (title, expected) => {
  expect(hasLostMu(title)).toBe(expected);
});

describe("whose class a title stands over", () => {
  const iso = { holds: "class", standard: "ISO 4406" };
  test.each([
    ["iso 4406", iso],
    ["iso-4406", iso],
    ["iso 4406 17", undefined],
    ["iso cleanliness code", iso],
    ["iso 4406 code (4/6/14 um)", iso],
    ["iso 4406 > 4 um(c)", { ...iso, sizeUmC: 4 }],
    ["iso 4406 4um", { ...iso, sizeUmC: 4 }],
    ["iso code 6", { ...iso, sizeUmC: 6 }],
    ["14 um(c) iso 4406", { ...iso, sizeUmC: 14 }],
    ["iso 4406:2017 scale number 14 um(c)", { ...iso, sizeUmC: 14 }],
    ["nas 1638", { holds: "class", standard: "NAS 1638" }],
    ["reinheitsklasse nas 1638", { holds: "class", standard: "NAS 1638" }],
    ["as4059", { holds: "class", standard: "AS4059" }],
    ["as 4059 f", { holds: "class", standard: "AS4059" }],
    ["гост 17216", { holds: "class", standard: "GOST 17216" }],
    ["navair 01-1a-17", { holds: "class", standard: "NAVAIR 01-1A-17" }],
    ["navy standard class", { holds: "class", standard: "NAVAIR 01-1A-17" }],
    ["navy base", undefined],
    ["iso 4406 5 um", undefined],
    ["iso 4406 limit", undefined],
    ["iso 4406 method", undefined],
    ["iso 4406:87", undefined],
    ["iso 11171", undefined],
    ["isolator 4", undefined],
    ["nasal class", undefined],
    ["4", undefined],
    ["water", undefined],
  ])("%s: %j", (title, expected) => {
    expect(classTitle(title)).toEqual(expected);
  });
});
