import { describe, expect, test } from "vitest";
import { recognise } from "../../src/intake/layout/columns.js";

const count = (fromUm: number, volumeMl: number, more: object = {}) => ({
  holds: "count",
  fromUm,
  scale: "um(c)",
  volumeMl,
  ...more,
});

describe("titles that are certain", () => {
  test.each([
    ["4 µm(c) per mL", "", count(4, 1)],
    ["> 4 um(c) /100 mL", "", count(4, 100)],
    ["≥6µm[c]", "1/mL", count(6, 1)],
    ["Particles >14 micron(c) per 100 ml", "", count(14, 100)],
    ["4.6 µm (ISO 11171) / mL", "", count(4.6, 1)],
    ["4-6 µm(c) per mL", "", count(4, 1, { toUm: 6 })],
    ["6 to 14 µm(c)", "/100 mL", count(6, 100, { toUm: 14 })],
    ["5 µm per 100 mL (ISO 4402)", "", count(5, 100, { scale: "um-older" })],
    ["15-25 µm, microscope, per 100 mL", "", count(15, 100, { toUm: 25, scale: "um-microscope" })],
    ["Water (ppm)", "", { holds: "water", unit: "ppm" }],
    ["Water content, mg/kg", "", { holds: "water", unit: "mg/kg" }],
    ["H2O [%]", "", { holds: "water", unit: "%" }],
    ["Water by Karl Fischer (% m/m)", "", { holds: "water", unit: "% m/m" }],
    ["Water (ASTM D6304) ppm", "", { holds: "water", unit: "ppm" }],
    ["TAN", "mg KOH/g", { holds: "acid", unit: "mg KOH/g" }],
    ["Acid No. (mgKOH/g)", "", { holds: "acid", unit: "mg KOH/g" }],
    ["Kinematic viscosity 40 °C (cSt)", "", { holds: "viscosity40", unit: "cSt" }],
    ["Viscosity @ 40°C, mm²/s", "", { holds: "viscosity40", unit: "mm²/s" }],
    ["KV40 (cSt)", "", { holds: "viscosity40", unit: "cSt" }],
    ["Oil temperature (°F)", "", { holds: "temperature", unit: "°F" }],
    ["Water", "", { holds: "water" }],
    ["Density at 15 °C (kg/m³)", "", { holds: "density15", unit: "kg/m3" }],
    ["Density @ 15°C", "g/cm3", { holds: "density15", unit: "g/cm3" }],
    ["Chlorine, ppm", "", { holds: "chlorine", unit: "ppm" }],
    ["Total chlorine (mg/kg)", "", { holds: "chlorine", unit: "mg/kg" }],
    ["Fe (ppm)", "", { holds: "iron", unit: "ppm" }],
    ["Iron (Fe)", "µg/g", { holds: "iron", unit: "ppm by mass" }],
    ["Aluminum ASTM D5185, mg/kg", "", { holds: "aluminium", unit: "mg/kg" }],
    ["Mg [mg/kg]", "", { holds: "magnesium", unit: "mg/kg" }],
    ["Tin", "ppm", { holds: "tin", unit: "ppm" }],
    ["Counted volume (mL)", "", { holds: "counted", unit: "mL" }],
    ["Volume counted", "mL", { holds: "counted", unit: "mL" }],
    ["Fluid colour", "", { holds: "colour" }],
    ["Visual appearance", "", { holds: "appearance" }],
    ["Sampling point", "", { holds: "sample-point" }],
    ["Flowing when drawn", "", { holds: "flowing" }],
    ["ISO 4406 code", "", { holds: "class", standard: "ISO 4406" }],
    ["ISO4406:2017", "", { holds: "class", standard: "ISO 4406" }],
    ["ISO 4406:99 code", "", { holds: "class", standard: "ISO 4406" }],
    ["Cleanliness code (ISO 4406)", "", { holds: "class", standard: "ISO 4406" }],
    ["Cleanliness level, ISO 4406:2021", "", { holds: "class", standard: "ISO 4406" }],
    ["Class NAS", "", { holds: "class", standard: "NAS 1638" }],
    ["Class AS4059F", "", { holds: "class", standard: "AS4059" }],
    ["AN mgKOH/g", "", { holds: "acid", unit: "mg KOH/g" }],
    ["AN", "mg KOH/g", { holds: "acid", unit: "mg KOH/g" }],
    ["Particle count 4 (ISO 11171) /ml", "", count(4, 1)],
    ["Particles 6 - 14, ISO 11171, per 100 mL", "", count(6, 100, { toUm: 14 })],
    ["NAS 1638 class", "", { holds: "class", standard: "NAS 1638" }],
    ["Bottle No.", "", { holds: "sample" }],
    ["Date Sampled", "", { holds: "drawn" }],
    ["Date_received", "", { holds: "received" }],
    ["System sampled", "", { holds: "circuit" }],
  ])("%j with unit %j", (title, unit, meaning) => {
    expect(recognise(title, unit, {})).toEqual({ kind: "known", meaning });
  });
});

describe("titles that matter but are not certain are questioned, not guessed", () => {
  test.each([
    ["4 µm(c)", /1 mL or for 100 mL/],
    ["4 µm per mL", /ISO 11171, the older scale/],
    ["> 5 µm / 100 mL", /ISO 11171, the older scale/],
    ["Water (g/L)", /in which unit is water/],
    ["> 4 µm(c) per 4294967296 mL", /for 1 mL or for 100 mL/],
    ["Viscosity (cSt)", /at which temperature/],
    ["Date", /drawn, received or reported/],
    ["System", /circuit of the cart, or the system of the aircraft/],
  ])("%j", (title, question) => {
    expect(recognise(title, "", {})).toMatchObject({
      kind: "unsure",
      question: expect.stringMatching(question),
    });
  });

  test.each([
    ["Particles >4", "/mL"],
    ["P4 /mL", ""],
    ["> 14 (per mL)", ""],
    ["Particle count 6", "1/mL"],
    ["5-15 per 100 mL", ""],
  ])("%j with the unit %j is a count whose size has no unit", (title, unit) => {
    expect(recognise(title, unit, {})).toMatchObject({
      kind: "unsure",
      question: expect.stringMatching(/count of particles, of which size/),
    });
  });

  test.each([
    ["Particles >4", ""],
    ["Bottle 4", "/mL"],
    ["Aliquot 5 mL", ""],
    ["Cell 3 titrant per mL", ""],
  ])("%j with the unit %j is none", (title, unit) => {
    expect(recognise(title, unit, {})).toEqual({ kind: "unknown" });
  });

  test("what a column map says of all counts settles them", () => {
    expect(recognise("4 µm", "", { scale: "um(c)", volumeMl: 100 })).toEqual({
      kind: "known",
      meaning: count(4, 100),
    });
  });
});

test("a counted volume is known without its unit, which its cells may write", () => {
  expect(recognise("Counted volume", "", {})).toEqual({ kind: "known", meaning: { holds: "counted" } });
  expect(recognise("Counted volume of the blank", "", {})).toEqual({ kind: "unknown" });
});

describe("titles that are something else", () => {
  test.each([
    "Parcel",
    "Filter rating 3 µm(c) per mL",
    "Viscosity 100 °C (cSt)",
    "An entry",
    "AN",
    "Iron",
    "Tin",
    "Lead time (days)",
    "K (°C)",
    "mg/kg",
    "Fe (mg/L)",
    "Ni/Cr (ppm)",
    "Density",
    "Density at 20 °C (kg/m³)",
    "Density at 15 °C",
    "Sample volume (mL)",
    "Colour (ASTM D1500)",
    "ISO 4406 limit",
    "Cleanliness",
    "Bottle 4 ISO 11171 per mL",
    "β 6 µm",
    "constructor",
    "__proto__",
  ])("%j is not known", (title) => {
    expect(recognise(title, "", {})).toEqual({ kind: "unknown" });
  });
});
