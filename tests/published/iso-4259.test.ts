// ISO 4259 clause 9 as a marine fuel supplier restates it: a result fails an upper limit A with 95 % confidence above
// A + 0.59 R. The factor is 1.6449 / (1.96 · √2) = 0.5934.
import { expect, test } from "vitest";
import { guardBand } from "../../src/fluids/index.js";
import { normalQuantile } from "../../src/numeric/index.js";

test("the guard is 0.59 of the reproducibility", () => {
  expect(guardBand(1)).toBe(0.59);
  expect(guardBand(1)).toBeCloseTo(normalQuantile(0.95) / (1.96 * Math.SQRT2), 2);
});
