// What the intervals of compared laboratories promise, tried on 1,000 simulated comparisons each. Seeded: the numbers are
// the same every time. Three standard errors of 95 % in 1,000 are 2.1 %.
import { describe, expect, test } from "vitest";
import { type Cell, pooledSpread, twoWayLayout } from "../../src/laboratories/index.js";
import { drawNormals, type RandomSource, seededRandom } from "../../src/numeric/index.js";

const COMPARISONS = 1000;

function normalsOf(count: number, random: RandomSource): Float64Array {
  const column = new Float64Array(count);
  drawNormals(random, column);
  return column;
}

/** Cells of laboratories that each measured some of the materials, with the bias and the scatter that are given. */
function simulate(
  biases: readonly number[],
  materials: number,
  share: number,
  sd: number,
  seed: number,
): Cell[] {
  const random = seededRandom(seed);
  const normals = normalsOf(materials * (biases.length + 1), random);
  let next = 0;
  const normal = () => normals[next++] as number;
  return Array.from({ length: materials }, (_, index) => {
    const level = 5 + 2 * normal();
    return biases.flatMap((bias, at): Cell[] => {
      const value = level + bias + sd * normal();
      // The first two measure everything, so that all are linked.
      if (at > 1 && random() >= share) return [];
      return [{ material: String(index), laboratory: `L${at}`, value }];
    });
  }).flat();
}

describe("the intervals hold as often as they say", () => {
  test.each([
    { biases: [0, 0.3], materials: 5, reference: "L0" },
    { biases: [0, 0.3], materials: 20, reference: undefined },
    { biases: [0, 0.3, -0.2, 0.1], materials: 12, reference: "L0" },
    { biases: [0, 0.3, -0.2, 0.1, 0], materials: 15, reference: undefined },
  ])(
    "bias of $biases.length laboratories, $materials materials: together in 95 of 100",
    ({ biases, materials, reference }) => {
      const mean = biases.reduce((sum, bias) => sum + bias, 0) / biases.length;
      const from = reference === undefined ? mean : (biases[0] as number);
      let held = 0;
      for (let seed = 1; seed <= COMPARISONS; seed += 1) {
        const { laboratories } = twoWayLayout(simulate(biases, materials, 0.6, 0.2, seed), { reference });
        const isIn = laboratories.every(({ laboratory, low, high }, at) => {
          const truth = (biases[at] as number) - from;
          return laboratory === reference || (low <= truth && truth <= high);
        });
        if (isIn) held += 1;
      }
      expect(held / COMPARISONS).toBeGreaterThan(0.929);
      // Bonferroni is on the safe side, by little.
      expect(held / COMPARISONS).toBeLessThan(0.99);
    },
  );

  test.each([5, 12, 40])("spread from %i pairs: the upper end is below the truth in 2.5 of 100", (count) => {
    let below = 0;
    for (let seed = 1; seed <= COMPARISONS; seed += 1) {
      const normals = normalsOf(2 * count, seededRandom(seed));
      const groups = Array.from({ length: count }, (_, index) => [
        50 * index + (normals[2 * index] as number),
        50 * index + (normals[2 * index + 1] as number),
      ]);
      const spread = pooledSpread(groups);
      if (spread.kind === "measured" && spread.high < 1) below += 1;
    }
    expect(below / COMPARISONS).toBeLessThan(0.04);
    expect(below / COMPARISONS).toBeGreaterThan(0.01);
  });
});
