// Which straight line to estimate an uncounted size with. Printed series with each inner size left out in turn and estimated
// from its neighbours: the limits of AS4059 table 2, the navy classes (as cumulative counts), MIL-STD-1246 level 100 as printed
// in MIL-DTL-197L, and sample 2 of a reference chart. Errors are in ISO 4406 scale numbers (factors of two), over counts of 10
// and more per 100 mL. ISO/TR 4808:2021 has its own method, of which only the abstract was seen: never outside the data.
import { expect, test } from "vitest";
import { AS4059_CUMULATIVE, NAVY_CLASSES } from "../../src/cleanliness/index.js";
import { cumulativeCounts, estimateAt } from "../../src/counts/index.js";

interface Series {
  readonly sizesUm: readonly number[];
  readonly counts: readonly number[];
}

const AS4059: Series[] = AS4059_CUMULATIVE.rows.map(([, counts]) => ({
  sizesUm: [4, 6, 14, 21, 38, 70],
  counts,
}));
const NAVY: Series[] = NAVY_CLASSES.rows.map(([, ranges]) => ({
  sizesUm: [5, 10, 25, 50, 100],
  counts: ranges.map((_, from) => ranges.slice(from).reduce<number>((sum, limit) => sum + limit, 0)),
}));
const LEVEL_100: Series[] = [{ sizesUm: [5, 15, 25, 50], counts: [1785, 265, 78, 11] }];
const CHART_SAMPLE: Series[] = [
  { sizesUm: [4, 6, 10, 14, 21, 38], counts: [49_200, 14_900, 4100, 1500, 500, 100] },
];

type Estimate = (small: [number, number], large: [number, number], sizeUm: number) => number;

const squared: Estimate = (small, large, sizeUm) => {
  const set = cumulativeCounts(
    [small, large].map(([size, count]) => ({ sizeUm: size, count })),
    100,
  );
  const estimate = estimateAt(set, sizeUm);
  return estimate.kind === "estimated" ? estimate.count : Number.NaN;
};

const plain: Estimate = (small, large, sizeUm) => {
  const along = Math.log(sizeUm / small[0]) / Math.log(large[0] / small[0]);
  return Math.exp(Math.log(small[1]) * (1 - along) + Math.log(large[1]) * along);
};

/** Root mean square error in scale numbers. */
function errorOf(series: readonly Series[], estimate: Estimate): number {
  const errors = series.flatMap(({ sizesUm, counts }) =>
    sizesUm.slice(1, -1).flatMap((sizeUm, index) => {
      const [before, own, after] = counts.slice(index, index + 3) as [number, number, number];
      if (Math.min(before, own, after) < 10) return [];
      const found = estimate(
        [sizesUm[index] as number, before],
        [sizesUm[index + 2] as number, after],
        sizeUm,
      );
      return [Math.log2(found / own)];
    }),
  );
  return Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
}

test.each([
  { words: "AS4059 limits", series: AS4059, bySquare: 0.498, byLog: 0.524 },
  { words: "navy classes", series: NAVY, bySquare: 0.238, byLog: 0.315 },
  { words: "MIL-STD-1246 level 100", series: LEVEL_100, bySquare: 0.015, byLog: 0.268 },
  {
    words: "one sample of a chart, which speaks for the other line",
    series: CHART_SAMPLE,
    bySquare: 0.213,
    byLog: 0.103,
  },
])("$words: log count on log² size misses by $bySquare scale numbers, on log size by $byLog", (row) => {
  expect(errorOf(row.series, squared)).toBeCloseTo(row.bySquare, 3);
  expect(errorOf(row.series, plain)).toBeCloseTo(row.byLog, 3);
});
