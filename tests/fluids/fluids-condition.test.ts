import { describe, expect, test } from "vitest";
import {
  compareResults,
  conditionLimitsOf,
  FLUID_SPECIFICATIONS,
  signsOfMixing,
  TEST_METHODS,
} from "../../src/fluids/index.js";
import { SOURCES } from "../../src/provenance/index.js";

describe("limits of a fluid's condition", () => {
  test("the one printed for ground carts is 200 ppm of water in MIL-PRF-83282, and the aircraft's 250 ppm in MIL-H-5606", () => {
    const limitOf = (fluid: "MIL-PRF-83282" | "MIL-PRF-5606") =>
      conditionLimitsOf(fluid).find(({ measure, state }) => measure === "water" && state === "in-service");
    expect(limitOf("MIL-PRF-83282")).toMatchObject({ maximum: 200, where: expect.stringMatching(/carts/) });
    expect(limitOf("MIL-PRF-5606")).toMatchObject({ maximum: 250, where: "aircraft systems" });
    expect(SOURCES["TB-1-1520-240-20-121"].standing).toBe("single");
  });

  test("every other one is from memory and says so", () => {
    for (const fluid of FLUID_SPECIFICATIONS) {
      for (const { source } of conditionLimitsOf(fluid))
        if (source !== "TB-1-1520-240-20-121") expect(SOURCES[source].standing).toBe("memory");
    }
  });

  test("water in phosphate ester is limited in parts per thousand, forty times the limit of a hydrocarbon", () => {
    const water = conditionLimitsOf("AS1241 Type IV").find(
      ({ measure, state }) => measure === "water" && state === "in-service",
    );
    expect(water?.maximum).toBe(8000);
  });
});

describe("precision of the methods", () => {
  // From memory: ISO 12937 at 100 mg/kg gives r 18.7 and R 68.8 mg/kg (computed from the recalled formula).
  test("ISO 12937 at 100 ppm: r 18.7, R 68.8", () => {
    expect(TEST_METHODS["ISO 12937"].repeatability(100)).toBeCloseTo(18.7, 1);
    expect(TEST_METHODS["ISO 12937"].reproducibility(100)).toBeCloseTo(68.8, 1);
  });

  test("ASTM D6304 at 0.02 %: r = 0.03813 · 0.02^0.6 %, R = 0.4243 · 0.02^0.6 %", () => {
    expect(TEST_METHODS["ASTM D6304"].repeatability(200)).toBeCloseTo(1e4 * 0.03813 * 0.02 ** 0.6, 9);
    expect(TEST_METHODS["ASTM D6304"].reproducibility(200)).toBeCloseTo(1e4 * 0.4243 * 0.02 ** 0.6, 9);
  });

  test("ASTM D974 goes by bands: 0.1 belongs to the first, 0.11 to the second", () => {
    const { repeatability, reproducibility } = TEST_METHODS["ASTM D974"];
    expect([repeatability(0.1), reproducibility(0.1)]).toEqual([0.03, 0.04]);
    expect([repeatability(0.11), reproducibility(0.11)]).toEqual([0.05, 0.08]);
    expect([repeatability(2), reproducibility(2)]).toEqual([0.12, 0.2]);
  });

  test("recalled precision says so, printed precision does not", () => {
    const codes = (name: keyof typeof TEST_METHODS) =>
      compareResults(0.5, 0.6, name, "same").assumptions.map(({ code }) => code);
    expect(codes("ASTM D974")).toContain("precision-from-memory");
    expect(codes("ASTM D664 used")).toEqual([]);
  });

  test("where no reproducibility was seen the answer is that it cannot be told", () => {
    expect(compareResults(10, 11, "ISO 3104", "different")).toEqual({
      outcome: "cannot-tell",
      difference: 1,
      assumptions: [],
    });
  });

  test("a negative result and NaN are refused", () => {
    expect(() => compareResults(-0.1, 0.1, "ASTM D974", "same")).toThrow(/0 or more/);
    expect(() => compareResults(0.1, Number.NaN, "ASTM D974", "same")).toThrow(/0 or more/);
  });
});

describe("signs of mixing", () => {
  test("hydrocarbon in phosphate ester shows as layers, in FTIR, and by 2, 3 and 4 %", () => {
    const signs = signsOfMixing("AS1241 Type IV", "MIL-PRF-83282").map(({ sign }) => sign);
    expect(signs[0]).toMatch(/two layers/);
    expect(signs.join()).toMatch(/FTIR.*2 %.*3 %.*4 %/);
  });

  test("the same fluid has none, and two hydrocarbons only their viscosity", () => {
    expect(signsOfMixing("MIL-PRF-5606", "MIL-PRF-5606")).toEqual([]);
    const signs = signsOfMixing("MIL-PRF-87257", "MIL-PRF-83282");
    expect(signs.map(({ sign }) => sign)).toEqual([expect.stringMatching(/rises towards/)]);
  });
});
