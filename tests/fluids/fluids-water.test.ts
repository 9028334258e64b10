import { describe, expect, test } from "vitest";
import {
  densityAt,
  freeWaterTemperature,
  INSULATING_OIL_CURVE,
  saturationCurve,
  saturationPpm,
  shareOfSaturation,
  waterFromShare,
  waterPpmByVolume,
} from "../../src/fluids/index.js";
import { SOURCES } from "../../src/provenance/index.js";

const measured = [
  { temperatureC: 20, waterPpm: 120 },
  { temperatureC: 60, waterPpm: 480 },
] as const;

function curveOf() {
  const answer = saturationCurve("MIL-PRF-83282", measured);
  if (answer.kind !== "curve") throw new Error(answer.reason);
  return answer.curve;
}

describe("water saturation", () => {
  test("is refused for phosphate ester, with the reason, even when a curve is given", () => {
    for (const fluid of ["AS1241 Type IV", "AS1241 Type V"] as const) {
      for (const given of [undefined, measured, INSULATING_OIL_CURVE]) {
        const answer = saturationCurve(fluid, given);
        expect(answer.kind).toBe("refused");
        if (answer.kind === "refused") expect(answer.reason).toMatch(/several per cent.*per cent by mass/);
      }
    }
  });

  test("is refused for the hydrocarbons until somebody gives a curve, because none is published", () => {
    const answer = saturationCurve("MIL-PRF-5606");
    expect(answer.kind === "refused" && answer.reason).toMatch(/measured at two temperatures/);
  });

  test("the recalled curve of insulating oil comes to its computed values and says where it is from", () => {
    const computed = { 0: 22.5, 20: 55.5, 40: 121.8, 60: 243.2, 80: 449.0, 100: 776.5 };
    for (const [temperature, ppm] of Object.entries(computed))
      expect(Math.abs(saturationPpm(INSULATING_OIL_CURVE, Number(temperature)) - ppm)).toBeLessThan(0.05);
    expect(INSULATING_OIL_CURVE.assumptions[0]?.message).toMatch(/recalled/);
    expect(SOURCES["OIL-SATURATION"].standing).toBe("memory");
  });

  test("a curve through two measured points goes through them, and rises with temperature between", () => {
    const curve = curveOf();
    expect(saturationPpm(curve, 20)).toBeCloseTo(120, 9);
    expect(saturationPpm(curve, 60)).toBeCloseTo(480, 9);
    expect(saturationPpm(curve, 40)).toBeGreaterThan(200);
    expect(saturationPpm(curve, 40)).toBeLessThan(300);
    expect(curve.assumptions).toEqual([]);
  });

  test("points at one temperature, or less water at the higher one, are refused", () => {
    const at = (temperatureC: number, waterPpm: number) => ({ temperatureC, waterPpm });
    expect(() => saturationCurve("MIL-PRF-83282", [at(20, 100), at(20, 200)])).toThrow(RangeError);
    expect(() => saturationCurve("MIL-PRF-83282", [at(20, 200), at(60, 100)])).toThrow(RangeError);
    expect(() => saturationCurve("MIL-PRF-83282", [at(20, Number.NaN), at(60, 100)])).toThrow(RangeError);
  });

  test("half of saturation warm is free water cold: 240 ppm at 60 °C drops out where the curve holds 240 ppm", () => {
    const curve = curveOf();
    expect(shareOfSaturation(curve, 240, 60)).toBeCloseTo(0.5, 9);
    const cold = freeWaterTemperature(curve, 240);
    expect(saturationPpm(curve, cold)).toBeCloseTo(240, 9);
    expect(cold).toBeGreaterThan(30);
    expect(cold).toBeLessThan(45);
    expect(shareOfSaturation(curve, 240, cold - 1)).toBeGreaterThan(1);
  });

  test("a sensor's share and ppm come back through each other at the same temperature", () => {
    const curve = curveOf();
    expect(shareOfSaturation(curve, waterFromShare(curve, 0.37, 45), 45)).toBeCloseTo(0.37, 12);
    expect(() => waterFromShare(curve, 1.2, 45)).toThrow(/0 to 1/);
  });
});

describe("density", () => {
  test("falls with temperature by the expansion, and says that it is recalled", () => {
    const warm = densityAt("MIL-PRF-83282", 65);
    expect(warm.densityKgPerM3).toBeCloseTo(850 / (1 + 0.00082 * 50), 9);
    expect(warm.assumptions[0]?.code).toBe("density-from-memory");
  });

  test("from a data sheet it carries no assumption", () => {
    const sheet = { densityKgPerM3: 1004, atC: 20, expansionPerC: 0.00085 };
    expect(densityAt(sheet, 20)).toEqual({ densityKgPerM3: 1004, assumptions: [] });
  });

  test("ppm by volume needs it: 200 ppm by mass in a fluid of 850 kg/m³ is 170 ppm by volume", () => {
    expect(waterPpmByVolume(200, 850)).toBe(170);
    expect(() => waterPpmByVolume(200, Number.NaN)).toThrow(/density/);
  });
});
