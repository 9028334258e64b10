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
  ])("%j names %s", (written, specification) => {
    expect(tryParseFluidSpecification(written)).toBe(specification);
  });

  test.each(["MIL-PRF-5606 or equivalent", "AS1241", "MIL-PRF-832820", "purple", ""])(
    "%j names no family and is not guessed",
    (written) => {
      expect(tryParseFluidSpecification(written)).toBeUndefined();
    },
  );
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
