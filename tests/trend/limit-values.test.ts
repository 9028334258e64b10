import { describe, expect, test } from "vitest";
import { type Observation, theilSen, trendTest } from "../../src/trend/index.js";
import { stepQuantile, turnbull } from "../../src/trend/series/turnbull.js";

const below = (x: number, y: number): Observation => ({ x, y, limit: "below" });
const above = (x: number, y: number): Observation => ({ x, y, limit: "above" });

describe("pairs with limit values", () => {
  test("from < 1 to 10 is a rise; from < 1 to 0.5 or to < 5 is neither (as the manual of a censored-data package says)", () => {
    expect(trendTest([below(1, 1), { x: 2, y: 10 }]).score).toBe(1);
    expect(trendTest([below(1, 1), { x: 2, y: 0.5 }]).score).toBe(0);
    expect(trendTest([below(1, 1), below(2, 5)]).score).toBe(0);
  });

  test("< 50 lies below 50 itself; > 60 above 60 itself; < 50 to > 60 is a rise", () => {
    expect(trendTest([below(1, 50), { x: 2, y: 50 }]).score).toBe(1);
    expect(trendTest([{ x: 1, y: 60 }, above(2, 60)]).score).toBe(1);
    expect(trendTest([below(1, 50), above(2, 60)]).score).toBe(1);
    expect(trendTest([above(1, 60), below(2, 50)]).score).toBe(-1);
    expect(trendTest([above(1, 60), { x: 2, y: 70 }]).score).toBe(0);
  });
});

describe("the slope with limit values", () => {
  test("runs of < 50 after a lower reporting limit was taken up, with steady values, do not fall", () => {
    const series = [below(1, 100), below(2, 100), below(3, 100), below(4, 50), below(5, 50), below(6, 50)];
    expect(theilSen(series).kind).toBe("cannot-tell");
    const steady = [...series, { x: 7, y: 30 }, { x: 8, y: 31 }, { x: 9, y: 29 }, { x: 10, y: 30 }];
    expect(trendTest(steady).pValue).toBeGreaterThan(0.5);
  });

  test("four in five values as limits still have a slope, one more has not", () => {
    const measured = [60, 64, 69, 73].map((y, index) => ({ x: 20 + index, y }));
    const limits = (n: number) => Array.from({ length: n }, (_, x) => below(x, 50));
    expect(theilSen([...limits(16), ...measured])).toMatchObject({ kind: "slope", n: 20, limited: 16 });
    expect(theilSen([...limits(17), ...measured])).toMatchObject({
      kind: "cannot-tell",
      why: "mostly-limits",
    });
  });

  test("it is not that of halved limits, which would tilt it", () => {
    const truth = Array.from({ length: 24 }, (_, x) => ({ x, y: 40 + 2 * x + (1 - (x % 3)) }));
    const shown: Observation[] = truth.map((entry) => (entry.y < 52 ? below(entry.x, 52) : entry));
    const line = theilSen(shown);
    if (line.kind !== "slope") throw new Error("no slope");
    expect(Math.abs(line.slope - 2)).toBeLessThan(0.1);
    const halved = theilSen(shown.map(({ x, y, limit }) => ({ x, y: limit === undefined ? y : y / 2 })));
    expect(halved.kind === "slope" && halved.slope).toBeGreaterThan(2.15);
  });
});

test("a value below 4 is not 4 itself: with 2, 4 and < 4 the limit's whole weight lies at 2", () => {
  const { values, probabilities } = turnbull([
    { x: 0, low: 2, high: 2 },
    { x: 1, low: 4, high: 4 },
    { x: 2, low: Number.NEGATIVE_INFINITY, high: 4 },
  ]);
  expect(probabilities[values.indexOf(2)]).toBeCloseTo(2 / 3, 6);
  expect(probabilities[values.indexOf(4)]).toBeCloseTo(1 / 3, 6);
});

test("the distribution by hand: 3, 5, < 4 shares the limit's weight with what lies below it", () => {
  const known = [
    { x: 0, low: 3, high: 3 },
    { x: 1, low: 5, high: 5 },
    { x: 2, low: Number.NEGATIVE_INFINITY, high: 4 },
  ];
  const { values, probabilities } = turnbull(known);
  const at = (value: number) => probabilities[values.indexOf(value)];
  // Turned round it is Kaplan–Meier's: 5 keeps a third, the other two thirds lie at 3.
  expect(at(5)).toBeCloseTo(1 / 3, 6);
  expect(at(3)).toBeCloseTo(2 / 3, 6);
  expect(stepQuantile({ values, probabilities }, 0.5)).toBe(3);
});
