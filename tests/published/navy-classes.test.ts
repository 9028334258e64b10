// US Navy, NAVAIR 01-1A-17 Aviation Hydraulics Manual, contamination classes, as printed in NAVEDTRA 14315 table 8-1 and in
// a membrane-filter monitoring guide (NAVAIR-01-1A-17). The last column is the printed total of each class.
import { expect, test } from "vitest";
import { classifyNavy, NAVY_ACCEPTABLE, NAVY_CLASSES } from "../../src/cleanliness/index.js";
import { type IntervalCount, intervalCounts } from "../../src/counts/index.js";
import { readPrinted } from "../support/printed-table.js";

const PRINTED = readPrinted(`
  0    2700    670    93    16   1    3480
  1    4600   1340   210    28   3    6181
  2    9700   2680   380    56   5   12821
  3   24000   5360   780   110  11   30261
  4   32000  10700  1510   225  21   44456
  5   87000  21400  3130   430  41  112001
  6  128000  42000  6500  1000  92  177592
`);

const RANGES = [
  { fromUm: 5, toUm: 10 },
  { fromUm: 10, toUm: 25 },
  { fromUm: 25, toUm: 50 },
  { fromUm: 50, toUm: 100 },
  { fromUm: 100 },
];

function navyClassOf(counts: readonly number[]) {
  const ranges = counts.map(
    (count, place): IntervalCount => ({ ...(RANGES[place] as IntervalCount), count }),
  );
  return classifyNavy(intervalCounts(ranges, 100, "um-microscope"));
}

test("the table has the printed limits digit for digit, and they sum to the printed totals", () => {
  expect(NAVY_CLASSES.rows.map(([name, row]) => ({ name, limits: [...row] }))).toEqual(
    PRINTED.map(({ name, limits }) => ({ name, limits: limits.slice(0, 5) })),
  );
  for (const { limits } of PRINTED) {
    expect(limits.slice(0, 5).reduce<number>((sum, limit) => sum + (limit ?? 0), 0)).toBe(limits[5]);
  }
});

test.each(PRINTED.map((row, index) => ({ ...row, index })))(
  "class $name: all ranges on their limits are inside, one particle more in any range is the next class",
  ({ name, limits, index }) => {
    const onLimits = limits.slice(0, 5) as number[];
    expect(navyClassOf(onLimits)?.class).toBe(name);
    for (const place of RANGES.keys()) {
      const more = onLimits.map((limit, own) => (own === place ? limit + 1 : limit));
      const result = navyClassOf(more);
      expect(result?.class).toBe(PRINTED[index + 1]?.name ?? "beyond 6");
      expect(result?.governing).toBe(NAVY_CLASSES.channels[place]?.name);
    }
  },
);

test("24000, 5360, 780, 110 and 11 particles are class 3, and 5361 in 10-25 µm is class 4", () => {
  expect(navyClassOf([24_000, 5360, 780, 110, 11])?.class).toBe("3");
  expect(navyClassOf([24_000, 5361, 780, 110, 11])?.class).toBe("4");
  expect(navyClassOf([24_000, 5360, 781, 110, 11])?.class).toBe("4");
});

test("the Navy accepts class 5 in an aircraft system and class 3 from support equipment", () => {
  expect(NAVY_ACCEPTABLE).toEqual({ aircraftSystem: "5", deliveredBySupportEquipment: "3" });
});
