// GOST 17216, text of the 1971 edition, grades 00 to 8 in the ranges 5-10, 10-25, 25-50 and 50-100 µm (GOST-17216, one page).
import { expect, test } from "vitest";
import { classifyGost17216, GOST_17216 } from "../../src/cleanliness/index.js";
import { intervalCounts } from "../../src/counts/index.js";
import { readPrinted } from "../support/printed-table.js";

const PRINTED = readPrinted(`
  00     8     4    1   -
   0    16     8    2   0
   1    32    16    3   -
   2    63    32    4   1
   3   125    63    8   2
   4   250   125   12   3
   5   500   250   25   4
   6  1000   500   50   6
   7  2000  1000  100  12
   8  4000  2000  200  25
`);

const RANGES = [
  { fromUm: 5, toUm: 10 },
  { fromUm: 10, toUm: 25 },
  { fromUm: 25, toUm: 50 },
  { fromUm: 50, toUm: 100 },
];

test("the table has the printed limits digit for digit", () => {
  expect(GOST_17216.rows.map(([name, row]) => ({ name, limits: [...row] }))).toEqual(PRINTED);
});

test.each(PRINTED.map((row, index) => ({ ...row, index })))(
  "grade $name: a count on each printed limit is inside, one particle more is in the next grade that has one",
  ({ limits, name, index }) => {
    for (const [place, range] of RANGES.entries()) {
      const limit = limits[place];
      if (limit === undefined) continue;
      const gradeOf = (count: number) =>
        classifyGost17216(intervalCounts([{ ...range, count }], 100, "um-microscope"))?.class;
      expect(gradeOf(limit)).toBe(name);
      const next = PRINTED.slice(index + 1).find((row) => row.limits[place] !== undefined)?.name;
      expect(gradeOf(limit + 1)).toBe(next ?? "beyond 8");
    }
  },
);
