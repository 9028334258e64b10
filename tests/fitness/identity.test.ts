import { describe, expect, test } from "vitest";
import { judgeCircuit, type ReasonCode, type VerdictName } from "../../src/fitness/index.js";
import { type AircraftFluid, USUAL_DENSITIES } from "../../src/fluids/index.js";
import type { Measured, Requirement, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, REQUIREMENT } from "../support/fitness/bases.js";

/** Judges a circuit of a fluid whose sample has everything right but what is given. */
function judge(fluid: AircraftFluid, change: Partial<Sample>, more: Partial<Requirement> = {}) {
  return judgeCircuit(
    caseOf({
      circuit: { ...CIRCUIT, fluid },
      requirement: { ...REQUIREMENT, fluids: [fluid], ...more },
      samples: [{ ...CLEAN, fluid, ...change }],
    }),
  );
}

/** Density of a mixture, linear by volume: the little that mixing itself changes is left out. */
function densityOfMixture(own: number, other: number, shareOfOther: number): number {
  return own + shareOfOther * (other - own);
}

function codesOf(verdict: ReturnType<typeof judge>): ReasonCode[] {
  return verdict.reasons.filter(({ callsFor }) => callsFor !== "fit").map(({ code }) => code);
}

const SHORT = { fit: "fit", doubt: "resample", stop: "do-not-connect" } as const satisfies Record<
  string,
  VerdictName
>;
type Short = keyof typeof SHORT;

type Name = "IV1" | "IV2" | "V" | "5606" | "83282" | "87257";
const NAMES: Record<Name, readonly [AircraftFluid, number]> = {
  IV1: ["AS1241 Type IV", 1000],
  IV2: ["AS1241 Type IV", 1063],
  V: ["AS1241 Type V", 1000],
  5606: ["MIL-PRF-5606", 870],
  83282: ["MIL-PRF-83282", 850],
  87257: ["MIL-PRF-87257", 840],
};

describe("density of computed mixtures, linear by volume, from nominal to nominal", () => {
  // Own fluid, what got in, and what 5, 10 and 20 % of it lead to. Worked by hand: 1000 and 5 % of 870 are 993.5.
  const MIXTURES: [Name, Name, Short, Short, Short][] = [
    // The other base is seen from 5 % up in every fluid. The range ends are 994, 1054, 876, 857 and 847.
    ["IV1", "5606", "doubt", "doubt", "doubt"],
    ["IV1", "83282", "doubt", "doubt", "stop"],
    ["IV1", "87257", "doubt", "doubt", "stop"],
    ["V", "5606", "doubt", "doubt", "doubt"],
    ["V", "83282", "doubt", "doubt", "stop"],
    ["V", "87257", "doubt", "doubt", "stop"],
    ["5606", "IV1", "doubt", "doubt", "doubt"],
    ["5606", "IV2", "doubt", "doubt", "stop"],
    ["5606", "V", "doubt", "doubt", "doubt"],
    ["83282", "IV1", "doubt", "doubt", "stop"],
    ["83282", "IV2", "doubt", "doubt", "stop"],
    ["83282", "V", "doubt", "doubt", "stop"],
    ["87257", "IV1", "doubt", "doubt", "stop"],
    ["87257", "IV2", "doubt", "doubt", "stop"],
    ["87257", "V", "doubt", "doubt", "stop"],
    // 20 % of oil makes class 2 as dense as class 1, so a label without a class does not show it.
    ["IV2", "5606", "doubt", "doubt", "fit"],
    ["IV2", "83282", "doubt", "doubt", "fit"],
    ["IV2", "87257", "doubt", "doubt", "fit"],
    // Within a base the numbers do not allow it, but between the classes of Type IV.
    ["IV1", "IV2", "fit", "fit", "fit"],
    ["IV1", "V", "fit", "fit", "fit"],
    ["IV2", "IV1", "fit", "fit", "doubt"],
    ["IV2", "V", "fit", "fit", "doubt"],
    ["V", "IV1", "fit", "fit", "fit"],
    ["V", "IV2", "fit", "fit", "fit"],
    ["5606", "83282", "fit", "fit", "fit"],
    ["5606", "87257", "fit", "fit", "fit"],
    ["83282", "5606", "fit", "fit", "fit"],
    ["83282", "87257", "fit", "fit", "fit"],
    ["87257", "5606", "fit", "fit", "fit"],
    ["87257", "83282", "fit", "fit", "fit"],
  ];

  test("every pair of fluids is in the table once", () => {
    expect(new Set(MIXTURES.map(([own, other]) => `${own} ${other}`)).size).toBe(30);
    for (const [fluid, nominal] of Object.values(NAMES))
      expect(USUAL_DENSITIES[fluid].map((range) => range.nominal)).toContain(nominal);
  });

  test.each(MIXTURES)("%s with %s: 5 %% %s, 10 %% %s, 20 %% %s", (own, other, ...expected) => {
    const [fluid, from] = NAMES[own];
    const verdicts = [0.05, 0.1, 0.2].map(
      (share) =>
        judge(fluid, { density15KgPerM3: { value: densityOfMixture(from, NAMES[other][1], share) } }).verdict,
    );
    expect(verdicts).toEqual(expected.map((short) => SHORT[short]));
  });

  test.each(["5606", "83282", "87257"] as const)(
    "20 %% of %s in a fluid labelled class 2 is seen",
    (other) => {
      const density15KgPerM3 = { value: densityOfMixture(1063, NAMES[other][1], 0.2) };
      const found = judge("AS1241 Type IV", { density15KgPerM3, fluid: "AS1241 Type IV class 2" });
      expect(codesOf(found)).toEqual(["identity-in-doubt"]);
    },
  );
});

describe("ends of the density ranges", () => {
  test.each<[AircraftFluid, Short, number[]]>([
    ["AS1241 Type IV", "fit", [994, 1000, 1025, 1054, 1063, 1075]],
    ["AS1241 Type IV", "doubt", [974, 993.9, 1025.1, 1040, 1053.9, 1075.1, 1095]],
    ["AS1241 Type IV", "stop", [973.9, 1095.1, 850, 1.003]],
    ["AS1241 Type V", "fit", [994, 1005, 1025]],
    ["AS1241 Type V", "doubt", [974, 993.9, 1025.1, 1045]],
    ["AS1241 Type V", "stop", [973.9, 1045.1, 1063]],
    ["MIL-PRF-5606", "fit", [855, 870, 871, 876]],
    ["MIL-PRF-5606", "doubt", [835, 850, 854.9, 876.1, 896]],
    ["MIL-PRF-5606", "stop", [834.9, 896.1, 1000]],
    ["MIL-PRF-83282", "fit", [838, 846, 850, 857]],
    ["MIL-PRF-83282", "doubt", [818, 837.9, 857.1, 870, 877]],
    ["MIL-PRF-83282", "stop", [817.9, 877.1, 1000, 0.85]],
    ["MIL-PRF-87257", "fit", [828, 840, 847]],
    ["MIL-PRF-87257", "doubt", [808, 827.9, 847.1, 850, 867]],
    ["MIL-PRF-87257", "stop", [807.9, 867.1, 1000]],
  ])("%s: %s at %j", (fluid, expected, densities) => {
    expect(densities.map((value) => judge(fluid, { density15KgPerM3: { value } }).verdict)).toEqual(
      densities.map(() => SHORT[expected]),
    );
  });

  test.each<[string, number, Short]>([
    ["AS1241 Type IV class 1", 1000, "fit"],
    ["AS1241 Type IV, Class 1", 1063, "doubt"],
    ["AS1241 Type IV class 2", 1063, "fit"],
    ["AS1241 Type IV class 2", 1000, "doubt"],
    ["AS1241 Type IV", 1063, "fit"],
  ])("the label %j at %d kg/m³: %s", (fluid, value, expected) => {
    expect(judge("AS1241 Type IV", { fluid, density15KgPerM3: { value } }).verdict).toBe(SHORT[expected]);
  });

  test.each<[Measured, Short]>([
    [{ value: 857, limit: "above" }, "doubt"],
    [{ value: 877, limit: "above" }, "stop"],
    [{ value: 838, limit: "below" }, "doubt"],
    [{ value: 857, limit: "at-most" }, "fit"],
    [{ value: 800, limit: "above" }, "fit"],
  ])("MIL-PRF-83282 with density %j: %s", (density15KgPerM3, expected) => {
    expect(judge("MIL-PRF-83282", { density15KgPerM3 }).verdict).toBe(SHORT[expected]);
  });

  test("the reason names value, range and what it may be, and where to give the fluid's own range", () => {
    const { reasons } = judge("AS1241 Type IV", { density15KgPerM3: { value: 985 } });
    expect(reasons[0]?.message).toBe(
      "the density at 15 °C is not what AS1241 Type IV usually has: 985 kg/m³, recalled 994 to 1025 or 1054 to 1075; " +
        "it may be AS1241 Type IV class 1 with about 10 % of a hydrocarbon fluid, or AS1241 Type IV class 2 with about " +
        "37 % of a hydrocarbon fluid; where the fluid's own certificate bears it out, give its range in " +
        "identity.density15KgPerM3",
    );
  });

  test("a range given in the requirement lets its own fluid pass and stops any other", () => {
    const identity = { density15KgPerM3: { min: 980, max: 990 } };
    const of = (value: number) =>
      judge("AS1241 Type V", { density15KgPerM3: { value } }, { identity }).verdict;
    expect([984, 979, 1000].map(of)).toEqual(["fit", "do-not-connect", "do-not-connect"]);
  });

  test("a range so wide that another fluid is inside does not make that fluid the right one", () => {
    const of = (value: number, density15KgPerM3: { min?: number; max?: number }) =>
      codesOf(judge("MIL-PRF-83282", { density15KgPerM3: { value } }, { identity: { density15KgPerM3 } }));
    expect(of(998, { min: 800 })).toEqual(["identity-in-doubt"]);
    expect(of(998, { min: 800, max: 1100 })).toEqual(["identity-in-doubt"]);
    expect(of(870, { min: 800, max: 1100 })).toEqual([]);
    // Nothing in common with what is recalled: the document knows its fluid better.
    expect(of(905, { min: 900, max: 910 })).toEqual([]);
  });
});

describe("viscosity at 40 °C", () => {
  test.each<[AircraftFluid, Short, number[]]>([
    // 25 % about 10.5; down to 5.7, which is 6.0 at 38 °C, a phosphate ester may be sheared; 40 % up.
    ["AS1241 Type IV", "fit", [7.9, 10.5, 13.1]],
    ["AS1241 Type IV", "doubt", [5.7, 6.7, 7.8, 13.2, 14.6]],
    ["AS1241 Type IV", "stop", [5.6, 14.8]],
    // 25 and 40 % about 13.2: sheared fluid of 10 passes.
    ["MIL-PRF-5606", "fit", [9.9, 10, 16.5]],
    ["MIL-PRF-5606", "doubt", [8, 9.8, 16.6, 18.4]],
    ["MIL-PRF-5606", "stop", [7.9, 6.7, 18.5]],
    ["MIL-PRF-87257", "fit", [5.1, 8.3]],
    ["MIL-PRF-87257", "doubt", [4.1, 5, 8.4, 9.3]],
    ["MIL-PRF-87257", "stop", [4, 9.4, 13.2]],
  ])("%s: %s at %j", (fluid, expected, values) => {
    expect(values.map((value) => judge(fluid, { viscosity40Mm2PerS: { value } }).verdict)).toEqual(
      values.map(() => SHORT[expected]),
    );
  });

  test("a document that limits it both ways speaks for sheared fluid, never for one that it cannot be", () => {
    const limits = { viscosity40Mm2PerS: { min: 6, max: 18 } };
    const of = (fluid: AircraftFluid, value: number, more: Partial<Requirement>) =>
      judge(fluid, { viscosity40Mm2PerS: { value } }, more).verdict;
    expect(of("AS1241 Type IV", 7, limits)).toBe("fit");
    expect(of("AS1241 Type IV", 7, { viscosity40Mm2PerS: { max: 18 } })).toBe("resample");
    expect(of("MIL-PRF-83282", 6.8, limits)).toBe("resample");
    expect(of("MIL-PRF-83282", 6.8, {})).toBe("do-not-connect");
  });
});

describe("a colour that nobody asked for", () => {
  const ESTER = "AS1241 Type V";
  const OIL = "MIL-PRF-87257";

  test.each<[AircraftFluid, string]>([
    [ESTER, "purple"],
    [ESTER, "Violet-blue"],
    [ESTER, "light purple, clear"],
    [ESTER, "hellviolett"],
    [ESTER, "purple, not red"],
    [ESTER, "Normal"],
    [OIL, "red"],
    [OIL, "Clear and bright red"],
    [OIL, "cherry-red"],
    [OIL, "pinkish"],
    [OIL, "reddish"],
    [OIL, "rot"],
    [OIL, "red, no purple"],
    [OIL, "typical"],
  ])("%s reported as %j is the fluid's own", (fluid, colour) => {
    const { verdict, assumptions } = judge(fluid, { colour });
    expect([verdict, assumptions.map(({ code }) => code)]).toEqual([
      "fit",
      expect.not.arrayContaining(["colour-unusual"]),
    ]);
  });

  test.each<[AircraftFluid, string]>([
    [ESTER, "red"],
    [ESTER, "Pink"],
    [ESTER, "reddish"],
    [ESTER, "purple and red"],
    [ESTER, "red/purple"],
    [ESTER, "purple-red"],
    [ESTER, "rouge"],
    [ESTER, "not purple"],
    [ESTER, "no longer purple, amber"],
    [ESTER, "not purple but straw"],
    [OIL, "purple"],
    [OIL, "red to purple"],
    [OIL, "purplish red"],
    [OIL, "rotviolett"],
    [OIL, "violett"],
    [OIL, "blue"],
    [OIL, "green"],
    [OIL, "not red"],
    [OIL, "isn't red"],
    [OIL, "should be red, is straw"],
  ])("%s reported as %j may be another fluid", (fluid, colour) => {
    expect(codesOf(judge(fluid, { colour }))).toEqual(["colour-of-another-fluid"]);
  });

  test.each<[AircraftFluid, string]>([
    [ESTER, "amber"],
    [ESTER, "blue"],
    [ESTER, "greenish"],
    [ESTER, "dark purple"],
    [OIL, "straw"],
    [OIL, "yellow"],
    [OIL, "brown"],
    [OIL, "darkened"],
    [OIL, "colourless"],
    [OIL, "orange-red"],
  ])("%s reported as %j is said and holds nothing", (fluid, colour) => {
    const { verdict, assumptions } = judge(fluid, { colour });
    expect([verdict, assumptions.map(({ code }) => code)]).toEqual([
      "fit",
      expect.arrayContaining(["colour-unusual"]),
    ]);
  });

  test.each<[AircraftFluid, string, ReasonCode[]]>([
    [OIL, "off", ["colour-not-understood"]],
    [OIL, "red, water at bottom", ["colour-not-understood"]],
    [OIL, "red, not clear", ["colour-not-understood"]],
    [OIL, "not normal", ["colour-not-understood"]],
    [OIL, "red drum", ["colour-not-understood"]],
    [OIL, "1.5", ["colour-not-understood"]],
    [OIL, "R", ["colour-not-understood"]],
    [ESTER, "ｒｅｄ", ["colour-of-another-fluid"]],
    [ESTER, "purple with red streaks", ["colour-of-another-fluid", "colour-not-understood"]],
    [ESTER, "purple, red layer", ["colour-of-another-fluid", "colour-not-understood"]],
  ])("%s reported as %j asks for a person: %j", (fluid, colour, expected) => {
    expect(codesOf(judge(fluid, { colour }))).toEqual(expected);
  });
});

describe("colours of the requirement", () => {
  const of = (colours: string[], colour: string) =>
    codesOf(judge("MIL-PRF-83282", { colour }, { identity: { colours } }));

  test.each<[string[], string]>([
    [["red"], "Red"],
    [["red"], "dark red, clear"],
    [["red"], "rouge"],
    [["red"], "red, no purple"],
    [["red", "pink"], "slightly pink"],
    [["light red"], "red, light"],
    [["straw", "red"], "straw"],
    [["salmon"], "salmon"],
  ])("%j lets %j pass", (colours, colour) => {
    expect(of(colours, colour)).toEqual([]);
  });

  test.each<[string[], string]>([
    [["red"], "purple"],
    [["red"], "red and purple"],
    [["red"], "red, green tint"],
    [["red"], "not red"],
    [["red"], "no longer red"],
    [["red"], "reddish"],
    [["red"], "amber"],
    [["purple", "red"], "purple and red"],
  ])("%j stops %j", (colours, colour) => {
    expect(of(colours, colour)).toEqual(["fluid-contradicts-colour"]);
  });

  test.each<[string[], string, ReasonCode[]]>([
    [["red"], "normal", ["colour-not-reported"]],
    [["red"], "off", ["colour-not-understood"]],
    [["red"], "red with layer", ["colour-not-understood"]],
    [["red"], "red, purple layer", ["fluid-contradicts-colour", "colour-not-understood"]],
  ])("%j with %j: %j", (colours, colour, expected) => {
    expect(of(colours, colour)).toEqual(expected);
  });
});

describe("chlorine and metals that nobody asked for", () => {
  // Recalled in service: chlorine 200, each metal 50. Five times that names another fluid.
  test.each<[string, Partial<Sample>, "nothing" | "said" | "held"]>([
    ["chlorine at the recalled value", { chlorinePpm: { value: 200 } }, "nothing"],
    ["chlorine above it", { chlorinePpm: { value: 201 } }, "said"],
    ["chlorine at five times", { chlorinePpm: { value: 1000 } }, "said"],
    ["chlorine beyond five times", { chlorinePpm: { value: 1001 } }, "held"],
    [
      "chlorine below a limit that settles nothing",
      { chlorinePpm: { value: 5000, limit: "below" } },
      "nothing",
    ],
    ["chlorine above a limit that settles it", { chlorinePpm: { value: 1000, limit: "above" } }, "held"],
    ["sodium above", { metalsPpm: { sodium: { value: 51 } } }, "said"],
    ["sodium far beyond", { metalsPpm: { sodium: { value: 900 } } }, "held"],
    ["potassium far beyond", { metalsPpm: { potassium: { value: 251 } } }, "held"],
    ["calcium of engine oil", { metalsPpm: { calcium: { value: 2500 } } }, "held"],
    ["zinc of an industrial oil", { metalsPpm: { zinc: { value: 400 } } }, "held"],
    ["zinc of worn brass", { metalsPpm: { zinc: { value: 8 } } }, "nothing"],
    ["magnesium at five times", { metalsPpm: { magnesium: { value: 250 } } }, "said"],
    ["iron, which names no fluid", { metalsPpm: { iron: { value: 60 } } }, "nothing"],
  ])("%s: %s", (_name, change, expected) => {
    for (const fluid of ["AS1241 Type IV", "MIL-PRF-83282"] as const) {
      const found = judge(fluid, change);
      const isSaid = found.assumptions.some(({ code }) => code === "result-beyond-recalled");
      expect([codesOf(found), isSaid]).toEqual([
        expected === "held" ? ["identity-in-doubt"] : [],
        expected === "said",
      ]);
    }
  });

  test("a limit of the document decides instead", () => {
    const sodium = { metalsPpm: { sodium: { value: 300 } } };
    expect(codesOf(judge("AS1241 Type IV", sodium, { metalsPpmMax: { sodium: 400 } }))).toEqual([]);
    expect(codesOf(judge("AS1241 Type IV", sodium, { metalsPpmMax: { sodium: 50 } }))).toEqual([
      "metals-outside",
    ]);
    const chlorine = { chlorinePpm: { value: 1500 } };
    expect(codesOf(judge("AS1241 Type IV", chlorine, { identity: { chlorinePpmMax: 100 } }))).toEqual([
      "fluid-contradicts-chlorine",
    ]);
  });
});
