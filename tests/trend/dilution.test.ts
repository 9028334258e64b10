import { describe, expect, test } from "vitest";
import { theilSen, undoDilution } from "../../src/trend/index.js";

describe("dilution by top-ups, by hand", () => {
  // Starts at 100; new fluid holds 40; 60 a year are generated; after half a year a quarter is replaced.
  // Before: 100 + 30 = 130; then 130 − 0.25 · 90 = 107.5; after another half year 137.5.
  const observations = [
    { x: 0, y: 100 },
    { x: 0.25, y: 115 },
    { x: 0.75, y: 122.5 },
    { x: 1, y: 137.5 },
  ];
  const topUp = [{ x: 0.5, share: 0.25 }];

  test("without correction the slope is too small, with it it is the 60 that are generated", () => {
    const apparent = theilSen(observations);
    const corrected = theilSen(undoDilution(observations, topUp, 40));
    expect(apparent.kind === "slope" && apparent.slope).toBeLessThan(45);
    expect(corrected.kind === "slope" && corrected.slope).toBeCloseTo(60, 9);
  });

  test("after the top-up a year counts 1/(1 − f) times, and so does the distance from new fluid", () => {
    const [, , third] = undoDilution(observations, topUp, 40);
    expect(third?.x).toBeCloseTo(0.5 + 0.25 / 0.75, 12);
    expect(third?.y).toBeCloseTo(40 + 82.5 / 0.75, 12);
  });

  test("an observation on the day of a top-up was taken before it; a top-up before all observations is in them", () => {
    const sameDay = undoDilution([...observations, { x: 0.5, y: 130 }], topUp, 40);
    expect(sameDay[2]).toMatchObject({ x: 0.5, y: 130 });
    expect(undoDilution(observations, [{ x: -1, share: 0.5 }], 40)).toEqual(observations);
  });

  test("a share of 0 or 1 is refused", () => {
    for (const share of [0, 1, Number.NaN])
      expect(() => undoDilution(observations, [{ x: 0.5, share }], 40)).toThrow(/share/);
  });
});
