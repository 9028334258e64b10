import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Observation, theilSen, trendTest, undoDilution } from "../../src/trend/index.js";
import { halvedSlope, slopeByScore } from "../../src/trend/slope/slope-search.js";

/** Integers give many ties in both directions; fractions give none. */
const ties = fc.array(fc.record({ x: fc.integer({ min: 0, max: 12 }), y: fc.integer({ min: -4, max: 4 }) }), {
  minLength: 4,
  maxLength: 40,
});
const fractions = fc.array(
  fc.record({
    x: fc.integer({ min: 0, max: 5_000_000 }).map((x) => x / 999_983),
    y: fc.integer({ min: -3_000_000, max: 3_000_000 }).map((y) => y / 9973),
  }),
  { minLength: 4, maxLength: 40 },
);
const anyPoints = fc.oneof(ties, fractions);

/** Some values known only as below or above. */
const withLimits = fc.array(
  fc.record({
    x: fc.integer({ min: 0, max: 15 }),
    y: fc.integer({ min: 0, max: 9 }),
    side: fc.constantFrom(undefined, undefined, "below" as const, "above" as const),
  }),
  { minLength: 4, maxLength: 30 },
);
const observationsOf = (
  entries: readonly { x: number; y: number; side: "below" | "above" | undefined }[],
): Observation[] => entries.map(({ x, y, side }) => ({ x, y, ...(side && { limit: side }) }));

/** The definition: the median of the slopes between all pairs with different x. */
function medianOfSlopes(points: readonly { x: number; y: number }[]): number {
  const slopes = points.flatMap((a, index) =>
    points
      .slice(index + 1)
      .filter((b) => b.x !== a.x)
      .map((b) => (b.y - a.y) / (b.x - a.x)),
  );
  slopes.sort((a, b) => a - b);
  const middle = slopes.length >> 1;
  return slopes.length % 2 === 1
    ? (slopes[middle] as number)
    : ((slopes[middle - 1] as number) + (slopes[middle] as number)) / 2;
}

const sortedByX = (points: readonly { x: number; y: number }[]) => [[...points].sort((a, b) => a.x - b.x)];

describe("Theil-Sen slope", () => {
  test("is the median of all pairwise slopes, ties or not", () => {
    let slopes = 0;
    fc.assert(
      fc.property(anyPoints, (points) => {
        const line = theilSen(points);
        if (line.kind === "cannot-tell") {
          expect(new Set(points.map((point) => point.x)).size).toBeLessThan(4);
          return;
        }
        slopes += 1;
        const expected = medianOfSlopes(points);
        expect(Math.abs(line.slope - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(expected)));
      }),
      { numRuns: 400 },
    );
    expect(slopes).toBeGreaterThan(300);
  });

  test("halving without listing the pairs gives the same slope at every score, exactly on whole numbers", () => {
    fc.assert(
      fc.property(ties, fc.integer({ min: -60, max: 60 }), (points, score) => {
        const blocks = sortedByX(points);
        expect(halvedSlope(blocks, score)).toEqual(slopeByScore(blocks)(score));
      }),
      { numRuns: 400 },
    );
  });

  test("halving agrees with the list for limit values and fractions too", () => {
    fc.assert(
      fc.property(withLimits, fc.integer({ min: -40, max: 40 }), (entries, score) => {
        const blocks = [observationsOf(entries).sort((a, b) => a.x - b.x)];
        expect(halvedSlope(blocks, score)).toEqual(slopeByScore(blocks)(score));
      }),
      { numRuns: 300 },
    );
  });

  test("the order of the observations does not matter, and y turned over turns the slope over", () => {
    fc.assert(
      fc.property(ties, (points) => {
        const line = theilSen(points);
        expect(theilSen([...points].reverse())).toEqual(line);
        const turned = theilSen(points.map(({ x, y }) => ({ x, y: -y })));
        if (line.kind === "slope" && turned.kind === "slope")
          expect(turned.slope).toBeCloseTo(-line.slope, 12);
      }),
    );
  });

  test("a line added to the values adds its slope, and leaves the interval's width", () => {
    fc.assert(
      fc.property(ties, fc.integer({ min: -3, max: 3 }), (points, added) => {
        const [line, tilted] = [
          theilSen(points),
          theilSen(points.map(({ x, y }) => ({ x, y: y + added * x }))),
        ];
        if (line.kind !== "slope" || tilted.kind !== "slope") return;
        expect(tilted.slope).toBeCloseTo(line.slope + added, 9);
      }),
    );
  });

  test("the 90 % interval leaves 0 out exactly when the trend test's chance is at most 10 %", () => {
    let [inside, outside] = [0, 0];
    fc.assert(
      fc.property(
        fc.oneof(
          anyPoints,
          fc
            .tuple(ties, fc.constantFrom(0.5, 1))
            .map(([points, tilt]) => points.map(({ x, y }) => ({ x, y: y + tilt * x }))),
        ),
        (points) => {
          const line = theilSen(points, 0.9);
          if (line.kind !== "slope" || line.interval.kind !== "interval") return;
          const { low, high } = line.interval;
          const { pValue } = trendTest(points);
          if (low > 0 || high < 0) {
            outside += 1;
            expect(pValue).toBeLessThanOrEqual(0.1);
          } else {
            inside += 1;
            // On the edge a tied slope of 0 may be the limit itself.
            if (low < 0 && high > 0) expect(pValue).toBeGreaterThan(0.1);
          }
        },
      ),
      { numRuns: 400 },
    );
    expect(Math.min(inside, outside)).toBeGreaterThan(30);
  });
});

describe("limit values", () => {
  test("a run of limits never has a slope of its own, whatever the limits and the days", () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ x: fc.integer({ min: 0, max: 900 }), y: fc.constantFrom(20, 50, 100) }), {
          minLength: 4,
          maxLength: 30,
        }),
        (entries) => {
          const run = entries.map((entry) => ({ ...entry, limit: "below" as const }));
          expect(theilSen(run).kind).toBe("cannot-tell");
          expect(trendTest(run)).toMatchObject({ score: 0, pValue: 1 });
        },
      ),
    );
  });

  test("limits above all measured values change neither the score nor the slope", () => {
    fc.assert(
      fc.property(ties, fc.array(fc.integer({ min: 0, max: 12 }), { maxLength: 6 }), (points, at) => {
        const idle = at.map((x) => ({ x, y: 1000, limit: "below" as const }));
        const [without, withThem] = [theilSen(points), theilSen([...points, ...idle])];
        expect(trendTest([...points, ...idle]).score).toBe(trendTest(points).score);
        if (without.kind !== "slope" || withThem.kind !== "slope") return;
        // Beyond a steep enough slope even such a limit has an order; the slopes of these points are gentler.
        expect(withThem.slope).toBeCloseTo(without.slope, 9);
      }),
    );
  });

  test("a higher reporting limit leaves the score less to vary by, never more", () => {
    fc.assert(
      fc.property(ties, (points) => {
        const shown = points.map(({ x, y }) => (y < 0 ? { x, y: 0, limit: "below" as const } : { x, y }));
        const coarser = points.map(({ x, y }) => (y < 2 ? { x, y: 2, limit: "below" as const } : { x, y }));
        expect(trendTest(coarser).variance).toBeLessThanOrEqual(trendTest(shown).variance + 1e-9);
      }),
    );
  });
});

test("two blocks far apart in level have the slope within them, never between them", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 20 }),
      fc.integer({ min: -5000, max: 5000 }),
      fc.array(fc.integer({ min: -1, max: 1 }), { minLength: 12, maxLength: 24 }),
      (slope, jump, noise) => {
        const half = noise.length >> 1;
        const points = noise.map((error, x) => ({
          x,
          y: 100 + 4 * slope * x + error + (x >= half ? jump : 0),
          block: x >= half ? 1 : 0,
        }));
        const line = theilSen(points);
        if (line.kind !== "slope") throw new Error("no slope");
        expect(line.slope).toBeGreaterThan(4 * slope - 2.001);
        expect(line.slope).toBeLessThan(4 * slope + 2.001);
      },
    ),
  );
});

test("undoing the dilution gives back the generation rate, whatever was added and when", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: -40, max: 200 }),
      fc.integer({ min: 0, max: 100 }),
      fc.array(fc.record({ x: fc.integer({ min: 0, max: 24 }), share: fc.integer({ min: 1, max: 60 }) }), {
        minLength: 1,
        maxLength: 5,
      }),
      (generation, newValue, added) => {
        const topUps = added.map(({ x, share }) => ({ x: x + 0.5, share: share / 100 }));
        const points: { x: number; y: number }[] = [];
        let y = 80;
        for (let month = 0; month <= 25; month += 1) {
          points.push({ x: month, y });
          y += generation / 2;
          for (const { x, share } of topUps) if (x === month + 0.5) y += share * (newValue - y);
          y += generation / 2;
        }
        const line = theilSen(undoDilution(points, topUps, newValue));
        expect(line.kind === "slope" && line.slope).toBeCloseTo(generation, 7);
      },
    ),
  );
});
