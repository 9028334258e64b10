import { describe, expect, test } from "vitest";
import { formatPercent, formatShare, tryParseQuantity } from "../../src/units/index.js";

describe("reading quantities", () => {
  test("a value in the kept unit is unchanged", () => {
    expect(tryParseQuantity("45 L/min", "flow")).toEqual({ kind: "read", value: 45, unit: "L/min" });
    expect(tryParseQuantity("12.5 mm²/s", "viscosity")).toEqual({ kind: "read", value: 12.5, unit: "mm²/s" });
    expect(tryParseQuantity("0.35 mg KOH/g", "acidNumber")).toEqual({
      kind: "read",
      value: 0.35,
      unit: "mg KOH/g",
    });
  });

  test("85 °F is 29.444 °C and −40 means the same on both scales", () => {
    expect(tryParseQuantity("85 °F", "temperature")).toMatchObject({ value: expect.closeTo(29.4444, 4) });
    expect(tryParseQuantity("-40 °F", "temperature")).toMatchObject({ value: expect.closeTo(-40, 9) });
  });

  test("a gallon without a country is read as US, and the assumption travels with the value", () => {
    const reading = tryParseQuantity("16 gal", "volume");
    expect(reading).toMatchObject({ kind: "assumed", value: expect.closeTo(60.5666, 4) });
    expect(reading.kind === "assumed" && reading.assumption.message).toContain("US gallons");
    expect(tryParseQuantity("16 US gal", "volume")).toMatchObject({ kind: "read" });
  });

  test("the imperial gallon is 4.54609 L exactly (NIST SP 811, from memory)", () => {
    expect(tryParseQuantity("10 imp gal", "volume")).toMatchObject({ kind: "read", value: 45.4609 });
  });

  test("every whole ppm written in per cent is read back exactly", () => {
    for (let ppm = 0; ppm <= 10_000; ppm += 1) {
      const percent = `${Math.floor(ppm / 10_000)}.${String(ppm % 10_000).padStart(4, "0")} % m/m`;
      expect(tryParseQuantity(percent, "waterContent")).toEqual({
        kind: "read",
        value: ppm,
        unit: "ppm by mass",
      });
    }
  });

  test("0.4 % of water is 4000 ppm, by mass, and says so", () => {
    expect(tryParseQuantity("0.4 %", "waterContent")).toMatchObject({ kind: "assumed", value: 4000 });
    expect(tryParseQuantity("0.4 % m/m", "waterContent")).toMatchObject({ kind: "read", value: 4000 });
  });

  test.each([
    ["60", "volume"],
    ["L", "volume"],
    ["60 L/min", "volume"],
    ["1,5 L", "volume"],
    ["sixty L", "volume"],
    ["", "flow"],
    ["60 bar", "flow"],
    ["NaN L", "volume"],
  ] as const)("%j is refused as a %s and nothing is guessed", (text, kind) => {
    const reading = tryParseQuantity(text, kind);
    expect(reading.kind).toBe("refused");
    expect(reading.kind === "refused" && reading.expected).toMatch(/^a number with one of the units /);
  });
});

test.each([
  ["volume", "L, mL, US gal, imp gal, gal, US qt"],
  ["flow", "L/min, US gal/min, gpm, m3/h"],
  ["temperature", "°C, °F, K"],
  ["pressure", "bar, kPa, MPa, psi"],
  ["acidNumber", "mg KOH/g"],
  ["power", "kW, W, hp"],
] as const)("units of a %s are named as people write them: %s", (kind, names) => {
  expect(tryParseQuantity("?", kind)).toMatchObject({ expected: `a number with one of the units ${names}` });
  for (const name of names.split(", ")) {
    for (const written of [name, name.toLowerCase(), name.toUpperCase()]) {
      expect(tryParseQuantity(`1 ${written}`, kind).kind, written).not.toBe("refused");
    }
  }
});

describe("per cent for reading", () => {
  test.each([
    [0.95, "95 %"],
    [0.9499, "94.9 %"],
    [0.999999, "99.9 %"],
    [1, "100 %"],
    [0.29, "29 %"],
    [0.0004, "0 %"],
  ])("the probability %d is %s: never more than it is", (probability, said) => {
    expect(formatPercent(probability)).toBe(said);
  });

  test.each([
    [2 / 3, 3, "66.7 %"],
    [0.1, 3, "10 %"],
    [0.00012345, 3, "0.0123 %"],
    [0.12345, 4, "12.35 %"],
    [0.9999, 4, "99.99 %"],
  ])("the part %d in %d digits is %s", (fraction, digits, said) => {
    expect(formatShare(fraction, digits)).toBe(said);
  });
});
