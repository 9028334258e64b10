import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Observation } from "../../src/trend/series/observation.js";
import { sortCounting } from "../../src/trend/slope/inversions.js";
import { halvedSlope } from "../../src/trend/slope/slope-search.js";
import { SlopeSelection } from "../../src/trend/slope/slope-selection.js";
import { seeded } from "../support/counts-near-limits.js";

type Blocks = readonly (readonly Observation[])[];

/** The definition: the slopes of all pairs of a block with different x, sorted. */
function allSlopes(blocks: Blocks): Float64Array {
  const slopes = blocks.flatMap((block) =>
    block.flatMap((later, index) =>
      block
        .slice(0, index)
        .filter((earlier) => earlier.x !== later.x)
        .map((earlier) => (later.y - earlier.y) / (later.x - earlier.x) + 0),
    ),
  );
  return Float64Array.from(slopes).sort();
}

/** So many points that their slopes are narrowed down and not listed at once, in one block or several. */
const KINDS = {
  "no two equal": (random: () => number, index: number) => ({
    x: index / 3 + random() / 3,
    y: 50 * random() + index / 40,
  }),
  "whole numbers with equal days": (random: () => number) => ({
    x: Math.floor(150 * random()),
    y: Math.floor(12 * random()),
  }),
  "two values alone, so that one slope is shared by more pairs than are listed": (
    random: () => number,
    index: number,
  ) => ({
    x: index,
    y: random() < 0.15 ? 1 : 0,
  }),
  "days that all but coincide": (random: () => number, index: number) => ({
    x: Math.floor(index / 2) + (index % 2) * 1e-13,
    y: 9 * random(),
  }),
};

function drawBlocks(kind: keyof typeof KINDS, seed: number, blocks: number): Blocks {
  const random = seeded(seed);
  const size = Math.floor((240 + 200 * random()) / Math.sqrt(blocks)) + 60;
  return Array.from({ length: blocks }, () =>
    Array.from({ length: size }, (_, index) => KINDS[kind](random, index)).sort((a, b) => a.x - b.x),
  );
}

describe("slopes found by counting", () => {
  test.each(Object.keys(KINDS) as (keyof typeof KINDS)[])(
    "are those of the sorted list at every rank, to the last digit: %s",
    (kind) => {
      for (const seed of [1, 2, 3, 4, 5, 6]) {
        const blocks = drawBlocks(kind, seed, 1 + (seed % 3));
        const expected = allSlopes(blocks);
        expect(expected.length).toBeGreaterThan(20_000);
        const selection = new SlopeSelection(blocks);
        expect(selection.pairs).toBe(expected.length);
        const random = seeded(seed + 100);
        const ranks = Array.from({ length: 60 }, () => Math.floor(random() * expected.length));
        for (const rank of [0, expected.length - 1, expected.length >> 1, ...ranks]) {
          expect(selection.slopeAt(rank), `seed ${seed}, rank ${rank}`).toBe(expected[rank]);
        }
      }
    },
  );

  test("are those that halving comes to, where a tenth is no binary number and slopes are shared", () => {
    const random = seeded(8);
    const block = Array.from({ length: 320 }, (_, index) => ({
      x: index / 365.25,
      y: Math.round(30 * random()) / 10,
    }));
    const selection = new SlopeSelection([block]);
    for (const score of [1, 0, 400, -400, 9000]) {
      const rank = Math.floor((selection.pairs - score) / 2);
      expect(selection.slopeAt(rank), `score ${score}`).toBeCloseTo(halvedSlope([block], score) as number, 9);
    }
  });

  test("have no rank where every x is the same", () => {
    expect(new SlopeSelection([[1, 2, 3].map((y) => ({ x: 5, y }))]).pairs).toBe(0);
  });
});

test("sorting counts the pairs in falling order, whatever the stretch, and sorts", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 30 }), { minLength: 1, maxLength: 120 }), (values) => {
      const keys = Float64Array.from([-1, ...values, -1]);
      const falling = values.reduce(
        (sum, value, index) => sum + values.slice(index + 1).filter((later) => later < value).length,
        0,
      );
      expect(sortCounting(keys, new Float64Array(keys.length), 1, values.length + 1)).toBe(falling);
      expect([...keys]).toEqual([-1, ...values.sort((a, b) => a - b), -1]);
    }),
  );
});
