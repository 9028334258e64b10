// MIL-STD-1246 / IEST-STD-CC1246D level formula, from an article by a member of the working group; its level 100 agrees with
// the limits printed in MIL-DTL-197L, 3.3.4.1a (MIL-STD-1246, MIL-DTL-197L).
import { expect, test } from "vitest";
import { countOfLevel, levelOf1246 } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

const LEVEL_100 = [
  { sizeUm: 5, count: 1785 },
  { sizeUm: 15, count: 265 },
  { sizeUm: 25, count: 78 },
  { sizeUm: 50, count: 11 },
  { sizeUm: 100, count: 1 },
];

test.each(LEVEL_100)(
  "level 100 allows $count particles of $sizeUm µm and larger per 100 mL",
  ({ sizeUm, count }) => {
    expect(Math.round(countOfLevel(100, sizeUm))).toBe(count);
  },
);

test("the printed counts, which are rounded to whole particles, put level 100 within half a particle at each size", () => {
  for (const { sizeUm, count } of LEVEL_100) {
    const levelAt = (particles: number) =>
      levelOf1246(cumulativeCounts([{ sizeUm, count: particles }], 100, "um-older"))?.level ?? Number.NaN;
    expect(levelAt(count - 0.5)).toBeLessThan(100);
    expect(levelAt(count + 0.5)).toBeGreaterThan(100);
  }
});

test("level 100 at one size and level 200 at another is level 200, governed by that size", () => {
  const counts = cumulativeCounts(
    [
      { sizeUm: 5, count: countOfLevel(100, 5) },
      { sizeUm: 25, count: countOfLevel(200, 25) },
    ],
    100,
    "um-microscope",
  );
  expect(levelOf1246(counts)?.level).toBeCloseTo(200, 9);
  expect(levelOf1246(counts)?.governingUm).toBe(25);
});
