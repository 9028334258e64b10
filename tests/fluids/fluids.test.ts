import { describe, expect, test } from "vitest";
import { FLUID_SPECIFICATIONS, mayMeet, tryParseFluidSpecification } from "../../src/fluids/index.js";

describe("reading a fluid's specification", () => {
  test.each([
    ["MIL-PRF-83282", "MIL-PRF-83282"],
    ["mil-prf-83282d", "MIL-PRF-83282"],
    ["MIL-H-5606G", "MIL-PRF-5606"],
    ["MIL-PRF-87257C", "MIL-PRF-87257"],
    ["AS1241 Type IV class 1", "AS1241 Type IV"],
    ["SAE AS1241D Type V", "AS1241 Type V"],
    ["  as1241   type iv ", "AS1241 Type IV"],
    ["MIL PRF 83282", "MIL-PRF-83282"],
    ["MIL–PRF–83282", "MIL-PRF-83282"],
    ["MIL_PRF_83282", "MIL-PRF-83282"],
    ["MIL.PRF.83282 D", "MIL-PRF-83282"],
    ["MILPRF83282", "MIL-PRF-83282"],
    ["MILH83282", "MIL-PRF-83282"],
    ["83282", "MIL-PRF-83282"],
    ["MIL-PRF-83282D batch 12", "MIL-PRF-83282"],
    ["MIL-PRF-83282D / batch A12", "MIL-PRF-83282"],
    ["Mil-PRF-83282 (Batch No. 4711)", "MIL-PRF-83282"],
    ["MIL-PRF-83282, lot 2026-03", "MIL-PRF-83282"],
    ["MIL-PRF-83282D w/AMENDMENT 1", "MIL-PRF-83282"],
    ["Hydraulic fluid, MIL-PRF-83282D", "MIL-PRF-83282"],
    ["MIL-PRF-83282 (NATO H-537)", "MIL-PRF-83282"],
    ["MIL-PRF-83282 red", "MIL-PRF-83282"],
    ["5606H", "MIL-PRF-5606"],
    ["MIL-H-5606 code H-515", "MIL-PRF-5606"],
    ["AS1241-IV", "AS1241 Type IV"],
    ["AS1241 V", "AS1241 Type V"],
    ["Type IV", "AS1241 Type IV"],
    ["Phosphate ester, Type V", "AS1241 Type V"],
    ["AS1241D, Type IV, Class 2, Grade A", "AS1241 Type IV"],
    ["AS 1241 TYPE 4 CL 1", "AS1241 Type IV"],
    ["AS1241 Type IV batch 22", "AS1241 Type IV"],
    ["MIL-PRF-6083F", "MIL-PRF-6083"],
    ["MIL PRF 46170 Type I", "MIL-PRF-46170"],
  ])("%j names %s", (written, specification) => {
    expect(tryParseFluidSpecification(written)).toBe(specification);
  });

  test.each([
    ...["MIL-PRF-5606 or equivalent", "AS1241", "MIL-PRF-832820", "purple", ""],
    ...["MIL-PRF-83283", "MIL-PRF-8328", "MIL-PRF-83282?", "not MIL-PRF-83282", "no MIL-PRF-83282"],
    ...[
      "MIL-PRF-83282 / MIL-PRF-5606",
      "MIL-PRF-83282 + 87257",
      "83282/5606",
      "MIL-PRF-83282 or MIL-PRF-87257",
    ],
    ...["MIL-PRF-83282 with water", "waste MIL-PRF-83282", "MIL-PRF-83282 drum", "changed to MIL-PRF-83282"],
    // The number of a batch, or of something else.
    ...["batch 5606", "MIL-PRF-83282 batch 5606", "83282 batch 12", "MIL-PRF-83282 12", "sample 5606"],
    ...[
      "AS1241 Type IV/V",
      "Type IV or V",
      "AS1241 Type IV red",
      "MIL-PRF-83282 purple",
      "MIL-PRF-83282 ester",
    ],
    // The code of another family beside the specification, and a code alone.
    ...["MIL-PRF-83282 H-515", "H-537"],
  ])("%j names no family and is not guessed", (written) => {
    expect(tryParseFluidSpecification(written)).toBeUndefined();
  });
});

describe("what may meet what", () => {
  test("phosphate ester never meets a hydrocarbon fluid", () => {
    for (const ester of ["AS1241 Type IV", "AS1241 Type V"] as const) {
      for (const other of ["MIL-PRF-5606", "MIL-PRF-83282", "MIL-PRF-87257"] as const) {
        expect(mayMeet(ester, other).outcome).toBe("never");
        expect(mayMeet(other, ester).outcome).toBe("never");
      }
    }
  });

  test("mineral oil and synthetic hydrocarbon mix, and the fire resistance falls (FAA-H-8083-31)", () => {
    const meeting = mayMeet("MIL-PRF-5606", "MIL-PRF-83282");
    expect(meeting).toMatchObject({ outcome: "mixes-but-not-the-same", source: "FAA-H-8083-31" });
    expect(meeting.reason).toContain("fire resistance");
  });

  test("every pair has the same answer in both orders, and only a family with itself is the same", () => {
    for (const a of FLUID_SPECIFICATIONS) {
      for (const b of FLUID_SPECIFICATIONS) {
        expect(mayMeet(a, b).outcome).toBe(mayMeet(b, a).outcome);
        expect(mayMeet(a, b).outcome === "same").toBe(a === b);
      }
    }
  });
});
