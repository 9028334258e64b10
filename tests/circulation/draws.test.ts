import { randomGamma, randomNormal } from "d3-random";
import { expect, test } from "vitest";
import { GammaDraws, NormalDraws } from "../../src/circulation/draws.js";
import { seededRandom } from "../../src/circulation/index.js";

const DRAWS = 10_000;

test("normal draws are those of a library for the same random numbers, one by one", () => {
  const ours = new NormalDraws(seededRandom(3));
  const theirs = randomNormal.source(seededRandom(3))();
  for (let draw = 0; draw < DRAWS; draw += 1) expect(ours.next()).toBe(theirs());
});

test.each([0.5, 0.8, 1.5, 12, 900])(
  "gamma draws of shape %s are those of a library for the same random numbers, one by one",
  (shape) => {
    const ours = new GammaDraws(shape, seededRandom(5));
    const theirs = randomGamma.source(seededRandom(5))(shape);
    for (let draw = 0; draw < DRAWS; draw += 1) expect(ours.next()).toBe(theirs());
  },
);

test("gamma draws of shape 1, which the library draws otherwise, have mean 1 and variance 1", () => {
  const draws = new GammaDraws(1, seededRandom(7));
  let [sum, squares] = [0, 0];
  for (let draw = 0; draw < DRAWS; draw += 1) {
    const value = draws.next();
    sum += value;
    squares += value * value;
  }
  const mean = sum / DRAWS;
  // Five standard errors: of the mean 1/√n, of the variance √8/√n.
  expect(Math.abs(mean - 1)).toBeLessThan(5 / Math.sqrt(DRAWS));
  expect(Math.abs(squares / DRAWS - mean * mean - 1)).toBeLessThan((5 * Math.sqrt(8)) / Math.sqrt(DRAWS));
});
