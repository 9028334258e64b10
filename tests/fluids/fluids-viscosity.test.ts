// ASTM D341 through two points: calculation sheet with 32 mm²/s at 40 °C and 5.4 mm²/s at 100 °C (it takes T as t + 273),
// and the equations of the low-viscosity term as a pipeline engineering guide restates them.
import { describe, expect, test } from "vitest";
import { temperatureAt, viscosityAt, viscosityLine } from "../../src/fluids/index.js";

const sheet = viscosityLine({ temperatureC: 40, mm2PerS: 32 }, { temperatureC: 100, mm2PerS: 5.4 });

describe("the calculation sheet", () => {
  test("gives 8.5 mm²/s at 80 °C", () => {
    expect(viscosityAt(sheet, 80).value).toBeCloseTo(8.5, 1);
    expect(viscosityAt(sheet, 80).assumptions).toEqual([]);
  });

  test("has A = 9.5259 and B = 3.7449 with T = t + 273; with 273.15 they are 9.5308 and 3.7466", () => {
    expect(sheet.a).toBeCloseTo(9.53082, 4);
    expect(sheet.b).toBeCloseTo(3.74658, 4);
    const shifted = viscosityLine(
      { temperatureC: 39.85, mm2PerS: 32 },
      { temperatureC: 99.85, mm2PerS: 5.4 },
    );
    expect(shifted.a).toBeCloseTo(9.5259, 3);
    expect(shifted.b).toBeCloseTo(3.7449, 3);
  });
});

test("the low-viscosity term is e^(−1.47 − 1.84 v − 0.51 v²), and its inverse comes back within 5 parts in 10 000", () => {
  for (const v of [0.31, 0.5, 0.8, 1.2, 1.9]) {
    const line = viscosityLine({ temperatureC: 20, mm2PerS: 4 }, { temperatureC: 120, mm2PerS: v });
    const z = v + 0.7 + Math.exp(-1.47 - 1.84 * v - 0.51 * v * v);
    expect(10 ** (10 ** (line.a - line.b * Math.log10(393.15)))).toBeCloseTo(z, 9);
    expect(Math.abs(viscosityAt(line, 120).value / v - 1)).toBeLessThan(5e-4);
    expect(temperatureAt(line, v).value).toBeCloseTo(120, 6);
  }
});

test("outside the two temperatures the answer says so", () => {
  expect(viscosityAt(sheet, -40).assumptions[0]?.code).toBe("viscosity-extrapolated");
  expect(viscosityAt(sheet, -40).value / 37_485).toBeCloseTo(1, 2);
});
