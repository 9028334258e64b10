// ASTM E691, serum glucose in five materials by eight laboratories, three results each, in mg/dL.
//
// The results are recalled and not seen in print. They give all the printed statistics of the materials, recalled too, to
// their last digit (one result of material C was corrected so that they do), which a wrong digit would not.
import { describe, expect, test } from "vitest";
import { pooledSpread } from "../../src/laboratories/index.js";

const RESULTS = `
41.03 41.45 41.37 | 78.28 78.18 78.49 | 132.66 133.83 133.10 | 193.71 193.59 193.65 | 292.78 294.09 292.89
41.17 42.00 41.15 | 77.78 80.38 79.54 | 132.92 136.90 136.40 | 190.88 200.14 194.30 | 292.27 309.40 295.08
41.01 40.68 42.66 | 79.18 79.72 80.81 | 132.61 135.80 135.36 | 192.71 193.28 190.28 | 295.53 290.14 292.34
39.37 42.37 42.63 | 84.08 78.60 81.92 | 138.50 138.30 135.69 | 195.85 196.36 199.43 | 295.19 295.44 296.83
41.88 41.19 41.32 | 78.16 79.58 78.33 | 131.90 134.14 133.76 | 192.59 191.44 195.12 | 293.93 292.48 294.28
43.28 40.50 42.28 | 78.66 79.27 81.75 | 137.21 135.14 137.50 | 195.34 198.26 198.13 | 297.74 296.80 290.33
41.08 41.27 39.02 | 79.76 81.45 77.35 | 130.97 131.59 134.92 | 194.66 191.99 187.13 | 287.29 293.76 289.36
43.36 42.65 41.72 | 80.44 80.80 79.80 | 135.46 135.14 133.63 | 197.56 195.99 200.82 | 298.46 295.28 296.12`
  .trim()
  .split("\n")
  .map((line) => line.split(" | ").map((cell) => cell.split(" ").map(Number)));

describe("repeatability standard deviation of each material", () => {
  test.each([
    ["A", 41.5183, 1.0632],
    ["B", 79.6796, 1.4949],
    ["C", 134.7263, 1.5434],
    ["D", 194.7171, 2.6251],
    ["E", 294.4921, 3.935],
  ])("material %s: mean %d, s_r %d", (material, mean, sd) => {
    const groups = RESULTS.map((cells) => cells["ABCDE".indexOf(material)] as number[]);
    const all = groups.flat();
    const found = all.reduce((sum, value) => sum + value, 0) / all.length;
    expect(Math.abs(found - mean)).toBeLessThanOrEqual(0.00005 + 1e-9);
    const spread = pooledSpread(groups);
    expect(spread).toMatchObject({ kind: "measured", degreesOfFreedom: 16 });
    expect(spread.kind === "measured" && spread.sd).toBeCloseTo(sd, 4);
  });
});
