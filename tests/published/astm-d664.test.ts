// ASTM D664 method A, clauses 15 and 16: r and R of fresh and of used fluid, and what they come to at round acid numbers.
import { describe, expect, test } from "vitest";
import { compareResults, TEST_METHODS } from "../../src/fluids/index.js";

const fresh = TEST_METHODS["ASTM D664 fresh"];
const used = TEST_METHODS["ASTM D664 used"];

describe("precision of ASTM D664", () => {
  test.each([
    [0.1, 0.0484, 0.1551, 0.0117, 0.044],
    [0.5, 0.066, 0.2115, 0.0585, 0.22],
    [1.0, 0.088, 0.282, 0.117, 0.44],
    [1.5, 0.11, 0.3525, 0.1755, 0.66],
  ])("at %d mg KOH/g", (x, freshR, freshReproducibility, usedR, usedReproducibility) => {
    expect(fresh.repeatability(x)).toBeCloseTo(freshR, 4);
    expect(fresh.reproducibility(x)).toBeCloseTo(freshReproducibility, 4);
    expect(used.repeatability(x)).toBeCloseTo(usedR, 4);
    expect(used.reproducibility(x)).toBeCloseTo(usedReproducibility, 4);
  });

  test("two used results are different only when they differ by more than R at their mean", () => {
    // Mean 1: R is 0.44.
    expect(compareResults(0.78, 1.22, "ASTM D664 used", "different").outcome).toBe("not-different");
    expect(compareResults(0.779, 1.221, "ASTM D664 used", "different").outcome).toBe("different");
    expect(compareResults(0.94, 1.06, "ASTM D664 used", "same").outcome).toBe("different");
    expect(compareResults(0.95, 1.05, "ASTM D664 used", "same").outcome).toBe("not-different");
  });

  test("below 0.1, where the used form tends to 0, the precision at 0.1 is used and said", () => {
    const comparison = compareResults(0.02, 0.05, "ASTM D664 used", "different");
    expect(comparison).toMatchObject({ outcome: "not-different", allowed: expect.closeTo(0.044, 9) });
    expect(comparison.assumptions[0]?.code).toBe("precision-at-end-of-range");
  });
});
