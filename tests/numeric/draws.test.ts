import { randomGamma, randomNormal } from "d3-random";
import { errorFunction } from "simple-statistics";
import { expect, test } from "vitest";
import { drawGammas, drawNormals, seededRandom } from "../../src/numeric/index.js";

const DRAWS = 10_000;
const MANY = 2_000_000;

function normals(seed: number, draws: number): Float64Array {
  const column = new Float64Array(draws);
  drawNormals(seededRandom(seed), column);
  return column;
}

test("normal draws fall within each tenth of a deviation as often as a library's error function says", () => {
  const edges = Array.from({ length: 61 }, (_, index) => Math.round(index - 30) / 10);
  const counts = new Float64Array(edges.length + 1);
  for (const draw of normals(3, MANY)) {
    const bin = edges.filter((edge) => edge <= draw).length;
    counts[bin] = (counts[bin] as number) + 1;
  }
  const below = [0, ...edges.map((edge) => (1 + errorFunction(edge / Math.SQRT2)) / 2), 1];
  let chiSquare = 0;
  for (const [bin, count] of counts.entries()) {
    const expected = MANY * ((below[bin + 1] as number) - (below[bin] as number));
    chiSquare += (count - expected) ** 2 / expected;
  }
  // Of 61 degrees of freedom: mean 61, standard deviation √122, and four of them.
  expect(chiSquare).toBeLessThan(61 + 4 * Math.sqrt(122));
  expect(chiSquare).toBeGreaterThan(61 - 4 * Math.sqrt(122));
});

test.each([
  // Upper tail of the normal distribution, from memory. The last layer ends between the first two.
  [3.4, 3.3693e-4],
  [3.5, 2.3263e-4],
  [4, 3.1671e-5],
])("beyond %s deviations lies what a printed table says, on either side", (deviations, probability) => {
  const draws = normals(8, 4 * MANY);
  const expected = draws.length * probability;
  for (const side of [1, -1]) {
    const beyond = draws.reduce((count, draw) => count + (side * draw > deviations ? 1 : 0), 0);
    expect(Math.abs(beyond - expected)).toBeLessThan(4 * Math.sqrt(expected));
  }
});

test.each([0.5, 0.8, 1.5, 12, 900])(
  "gamma draws of shape %s are those of a library for the same random numbers, one by one",
  (shape) => {
    const random = seededRandom(5);
    const ours = new Float64Array(DRAWS);
    drawGammas(shape, random, ours, randomNormal.source(random)());
    const theirs = randomGamma.source(seededRandom(5))(shape);
    for (const draw of ours) expect(draw).toBe(theirs());
  },
);

test.each([0.5, 1, 3.5, 600])("gamma draws of shape %s have that mean and that variance", (shape) => {
  const draws = new Float64Array(MANY);
  drawGammas(shape, seededRandom(7), draws);
  const mean = draws.reduce((sum, draw) => sum + draw, 0) / MANY;
  const variance = draws.reduce((sum, draw) => sum + (draw - mean) ** 2, 0) / MANY;
  // Four standard errors: variance of a square about the mean is 2k² + 6k for the shape k.
  expect(Math.abs(mean - shape)).toBeLessThan(4 * Math.sqrt(shape / MANY));
  expect(Math.abs(variance - shape)).toBeLessThan(4 * Math.sqrt((2 * shape ** 2 + 6 * shape) / MANY));
});
