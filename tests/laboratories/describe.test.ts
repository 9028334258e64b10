import { describe, expect, test } from "vitest";
import {
  compareLaboratories,
  describeLaboratories,
  type LaboratorySample,
} from "../../src/laboratories/index.js";
import { bottle, day } from "./bottles.js";

const waters = (pairs: readonly (readonly [number, number])[]): LaboratorySample[] =>
  pairs.flatMap(([north, south], index) => [
    bottle({ laboratory: "North", drawnOn: day(index), waterPpm: { value: north } }),
    bottle({ laboratory: "South", drawnOn: day(index), waterPpm: { value: south } }),
  ]);
const counts = (pairs: readonly (readonly [number, number])[]): LaboratorySample[] =>
  pairs.flatMap(([north, south], index) => [
    bottle({ laboratory: "North", drawnOn: day(index), perMl: north }),
    bottle({ laboratory: "South", drawnOn: day(index), perMl: south }),
  ]);
const describedFrom = (samples: readonly LaboratorySample[], reference?: string) =>
  describeLaboratories(compareLaboratories(samples, { reference }));

const AGREEING = [
  [100, 104],
  [90, 87],
  [95, 99],
  [80, 77],
  [60, 61],
] as const;
const DIFFERING = [
  [100, 110],
  [107, 119],
  [114, 122],
  [121, 132],
  [128, 137],
] as const;
const TWICE = [
  [100, 200],
  [200, 420],
  [50, 95],
  [300, 610],
  [80, 161],
] as const;

describe("the answer comes first", () => {
  test.each<[string, readonly LaboratorySample[], string]>([
    [
      "no laboratory is named",
      [bottle({ waterPpm: { value: 5 } })],
      "No result names its laboratory or counter, so there is nothing to compare.",
    ],
    [
      "one shared fluid",
      waters(AGREEING.slice(0, 1)),
      "Too few pairs to say: two laboratories share at most 1 fluid, and 5 are needed.",
    ],
    [
      "four shared fluids",
      waters(AGREEING.slice(0, 4)),
      "Too few pairs to say: two laboratories share at most 4 fluids, and 5 are needed.",
    ],
    [
      "no difference",
      waters(AGREEING),
      "No difference between laboratories was found in 1 quantity compared.",
    ],
    [
      "a difference",
      [
        ...waters(DIFFERING),
        ...counts(TWICE).map(({ sample }) => ({ sample: { ...sample, circuit: "aft" } })),
      ],
      "Laboratories differ in 2 of 2 quantities compared.",
    ],
  ])("%s", (_, samples, answer) => expect(describedFrom(samples).answer).toBe(answer));
});

describe("findings say who differs from whom, by how much, from how many fluids", () => {
  test("a difference reads higher or lower", () => {
    expect(describedFrom(waters(DIFFERING)).findings).toEqual([
      "South reads 10 ppm higher than North (8.04 to 12; 5 fluids): water in hydrocarbon.",
    ]);
    expect(describedFrom(waters(DIFFERING), "South").findings).toEqual([
      "North reads 10 ppm lower than South (8.04 to 12; 5 fluids): water in hydrocarbon.",
    ]);
  });

  test("counts are a factor", () => {
    // Logarithms 0.693, 0.742, 0.642, 0.710, 0.699: mean 0.697, s 0.0363, half width 2.776 · 0.0363 / √5 = 0.045.
    expect(describedFrom(counts(TWICE)).findings).toEqual([
      "South counts 2.01 times what North counts (1.92 to 2.1; 5 fluids): particles above 4 µm(c).",
    ]);
  });

  test("laboratories agree within the far end of the interval, not within the estimate", () => {
    // Differences 4, -3, 4, -3, 1: mean 0.6, s 3.507, t 2.776, so -3.75 to 4.95.
    expect(describedFrom(waters(AGREEING)).findings).toEqual([
      "North and South agree within 4.95 ppm: water in hydrocarbon.",
    ]);
  });

  test("counts that are lower agree within the same factor as counts that are higher", () => {
    const pairs = [
      [100, 90],
      [200, 210],
      [50, 48],
      [300, 280],
      [80, 82],
    ] as const;
    const swapped = pairs.map(([north, south]) => [south, north] as const);
    const [factor] = describedFrom(counts(pairs)).findings;
    expect(factor).toMatch(/agree within a factor of 1\.\d+: /);
    expect(describedFrom(counts(swapped)).findings).toEqual([factor]);
  });

  test("results that are the same to the last digit are said to be just that", () => {
    const same = [
      [100, 100],
      [90, 90],
      [95, 95],
      [80, 80],
      [60, 60],
    ] as const;
    expect(describedFrom(waters(same)).findings).toEqual([
      "North and South: the same water in hydrocarbon each time, to the last digit.",
    ]);
    const apart = same.map(([north]) => [north, north + 10] as const);
    expect(describedFrom(waters(apart)).findings).toEqual([
      "South differs from North by +10 ppm each time: water in hydrocarbon.",
    ]);
  });
});

test("the table names a quantity once, and what is missing", () => {
  const { head, rows } = describedFrom([
    ...waters(DIFFERING),
    bottle({ laboratory: "East", drawnOn: day(0), waterPpm: { value: 90 } }),
  ]);
  expect([head, ...rows]).toEqual([
    ["quantity", "laboratory", "fluids", "bias", "spread of bottles"],
    ["water in hydrocarbon", "North", "5", "reference", ""],
    ["", "South", "5", "+10 ppm (8.04 to 12)", ""],
    ["", "East", "1", "too few, 5 needed", ""],
  ]);
});

test("what covers every laboratory is stated for the requirement", () => {
  // Scatter 1.118 · √(4 / 0.4844) = 3.213, furthest end 5 + 3.495 · 1.581 / (2 √5) = 6.236; see compare.test.ts.
  expect(describedFrom(waters(DIFFERING)).cover).toEqual(["water in hydrocarbon: 7.01 ppm"]);
});
