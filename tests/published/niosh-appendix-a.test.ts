// NIOSH Manual of Analytical Methods, appendix A, 15 August 1994 (SOURCES "NIOSH-APPENDIX-A"): particles per microgram.
import { expect, test } from "vitest";
import { sphereMassUg } from "../../src/circulation/index.js";

test.each([
  [10, 2.65, 720, 5],
  [5, 2.65, 5800, 50],
  [2, 2.65, 90000, 500],
  [10, 7.5, 250, 5],
  [5, 5.2, 2900, 50],
])("spheres of %d µm and %d g/cm³: %d in a microgram", (diameterUm, density, perUg, halfDigit) => {
  expect(Math.abs(1 / sphereMassUg(diameterUm, density) - perUg)).toBeLessThanOrEqual(halfDigit);
});
