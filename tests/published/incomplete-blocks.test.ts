// D. C. Montgomery, Design and analysis of experiments, balanced incomplete blocks: four catalysts in four batches, three
// to a batch. The data were seen on the page of a statistics department that restates them (numerical examples to a course
// in linear models); the results are recalled and follow by hand: Q = total of a catalyst less a third of its batches'
// totals, effect = 3 Q / 8.
import { describe, expect, test } from "vitest";
import { twoWayLayout } from "../../src/laboratories/index.js";

/** Minutes of reaction by catalyst and batch. */
const TIMES = [
  [73, 74, undefined, 71],
  [undefined, 75, 67, 72],
  [73, 75, 68, undefined],
  [75, undefined, 72, 75],
];

const CELLS = TIMES.flatMap((row, catalyst) =>
  row.flatMap((value, batch) =>
    value === undefined
      ? []
      : [{ material: `batch ${batch + 1}`, laboratory: `catalyst ${catalyst + 1}`, value }],
  ),
);

describe("catalysts as laboratories, batches as materials", () => {
  test("effects about the mean are -9/8, -7/8, -4/8 and 20/8, with a standard error of 0.43", () => {
    const { laboratories } = twoWayLayout(CELLS);
    expect(laboratories.map(({ effect }) => effect)).toEqual(
      [-9, -7, -4, 20].map((n) => expect.closeTo(n / 8, 12)),
    );
    for (const { standardError } of laboratories)
      expect(standardError).toBeCloseTo(Math.sqrt((9 / 32) * 0.65), 12);
  });

  test("error mean square 0.65 with 5 degrees of freedom", () => {
    const { residualSd, degreesOfFreedom } = twoWayLayout(CELLS);
    expect([residualSd ** 2, degreesOfFreedom]).toEqual([expect.closeTo(0.65, 12), 5]);
  });

  test("two catalysts differ with a standard error of 0.698", () => {
    const { laboratories } = twoWayLayout(CELLS, { reference: "catalyst 1" });
    expect(laboratories.map(({ effect }) => effect)).toEqual(
      [0, 2, 5, 29].map((n) => expect.closeTo(n / 8, 12)),
    );
    expect(laboratories[1]?.standardError).toBeCloseTo(0.698, 3);
  });
});
