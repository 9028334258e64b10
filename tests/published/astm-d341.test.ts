// ASTM D341 (SOURCES "ASTM-D341"): a two-point calculation sheet, and the equations with the low-viscosity term. The
// sheet takes T = t + 273; constants with 273.15 were recomputed for the same points.
import { expect, test } from "vitest";
import { FLUID_DATA, temperatureAt, viscosityAt, viscosityLine } from "../../src/fluids/index.js";

const sheet = viscosityLine({ temperatureC: 40, mm2PerS: 32 }, { temperatureC: 100, mm2PerS: 5.4 });

test("32 mm²/s at 40 °C and 5.4 at 100 °C give the sheet's 8.5 mm²/s at 80 °C", () => {
  expect(viscosityAt(sheet, 80).value).toBeCloseTo(8.5, 1);
  expect(viscosityAt(sheet, 80).value).toBeCloseTo(8.533, 2);
});

test("the constants are A = 9.53082 and B = 3.74658 with 273.15", () => {
  expect(sheet.a).toBeCloseTo(9.53082, 3);
  expect(sheet.b).toBeCloseTo(3.74658, 3);
});

test("the line goes through its two points", () => {
  expect(viscosityAt(sheet, 40).value).toBeCloseTo(32, 8);
  expect(viscosityAt(sheet, 100).value).toBeCloseTo(5.4, 3);
});

test("the published inverse comes back within 5 parts in 10 000 from 0.3 to 2 mm²/s", () => {
  for (let v = 0.3; v <= 2; v += 0.1) {
    const line = viscosityLine({ temperatureC: 40, mm2PerS: v }, { temperatureC: -20, mm2PerS: v + 10 });
    expect(Math.abs(viscosityAt(line, 40).value / v - 1)).toBeLessThan(5e-4);
    expect(temperatureAt(line, v).value).toBeCloseTo(40, 6);
  }
});

test.each([
  ["MIL-PRF-5606", 214],
  ["MIL-PRF-83282", 2532],
  ["MIL-PRF-87257", 670],
] as const)(
  "%s read at -40 °C is %d mm²/s, far from its specification's maximum, and marked as not to be trusted",
  (family, expected) => {
    const reading = viscosityAt(viscosityLine(...FLUID_DATA[family].viscosity), -40);
    expect(reading.value / expected).toBeCloseTo(1, 2);
    expect(reading.assumptions.map((entry) => entry.code)).toEqual(["viscosity-extrapolated"]);
  },
);

test("between the two points nothing is assumed", () => {
  expect(viscosityAt(sheet, 40).assumptions).toEqual([]);
  expect(viscosityAt(sheet, 100).assumptions).toEqual([]);
  expect(temperatureAt(sheet, 10).assumptions).toEqual([]);
});

test("points that are no viscosity line are refused", () => {
  const point = { temperatureC: 40, mm2PerS: 32 };
  expect(() => viscosityLine(point, { temperatureC: 40, mm2PerS: 5 })).toThrow("different temperatures");
  expect(() => viscosityLine(point, { temperatureC: 100, mm2PerS: 33 })).toThrow(
    "lower at the higher temperature",
  );
  expect(() => viscosityLine(point, { temperatureC: 100, mm2PerS: 0.1 })).toThrow(
    "0.3 mm²/s or more, not 0.1",
  );
  expect(() => temperatureAt(sheet, Number.NaN)).toThrow("not NaN");
});
