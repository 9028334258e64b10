import { describe, expect, test } from "vitest";
import {
  concentrationAfter,
  floorOf,
  formatMinutes,
  type MixedChannel,
  passesToLimit,
} from "../../src/circulation/index.js";
import { betaAt } from "../../src/circulation/model/removal.js";
import { solveOde } from "../support/ode.js";

const CHANNELS: readonly MixedChannel[] = [
  { start: 20_000, removal: 0.9, ingressPerMlPerPass: 0 },
  { start: 20_000, removal: 0.3, ingressPerMlPerPass: 150 },
  { start: 100, removal: 0.5, ingressPerMlPerPass: 400 },
  { start: 500, removal: 0, ingressPerMlPerPass: 20 },
];

describe("one well-mixed channel", () => {
  test.each(CHANNELS)("of %o agrees with a general ODE solver after any number of passes", (channel) => {
    for (const passes of [0.2, 1, 4]) {
      const [expected = 0] = solveOde(
        (_pass, [level = 0]) => [channel.ingressPerMlPerPass - channel.removal * level],
        [channel.start],
        passes,
      );
      expect(concentrationAfter(channel, passes) / expected).toBeCloseTo(1, 8);
    }
  });

  test("stays at its floor, which is what enters over the part that is taken out", () => {
    expect(CHANNELS.map(floorOf)).toEqual([0, 500, 800, undefined]);
    const [, ingested] = CHANNELS as [MixedChannel, MixedChannel];
    expect(concentrationAfter({ ...ingested, start: 500 }, 7)).toBeCloseTo(500, 9);
    expect(floorOf({ start: 70, removal: 0, ingressPerMlPerPass: 0 })).toBe(70);
  });

  test("is at its limit after the passes that are said, and not before", () => {
    const channel = { start: 20_000, removal: 0.3, ingressPerMlPerPass: 150 };
    const outcome = passesToLimit(channel, 1300);
    if (outcome.kind !== "reached") throw new Error(`expected passes, found ${outcome.kind}`);
    expect(concentrationAfter(channel, outcome.passes)).toBeCloseTo(1300, 8);
    expect(outcome.passes).toBeCloseTo(Math.log(19_500 / 800) / 0.3, 12);
  });

  test.each([
    ["is there already at exactly its limit", 1300, 0.3, 150, 1300, { kind: "reached", passes: 0 }],
    [
      "is there already, though ingress would lift it again",
      100,
      0.3,
      450,
      1300,
      { kind: "reached", passes: 0 },
    ],
    ["is there already, though nothing is taken out", 100, 0, 0, 1300, { kind: "reached", passes: 0 }],
    ["never gets there when nothing is taken out", 1301, 0, 0, 1300, { kind: "no-removal" }],
    ["never gets below its floor", 2000, 0.5, 750, 1300, { kind: "floor-above-limit" }],
    [
      "never gets there when its floor is exactly the limit",
      2000,
      0.5,
      650,
      1300,
      { kind: "floor-above-limit" },
    ],
  ])("%s", (_, start, removal, ingressPerMlPerPass, limit, outcome) => {
    expect(passesToLimit({ start, removal, ingressPerMlPerPass }, limit)).toEqual(outcome);
  });
});

test("minutes are said rounded up, in tenths below ten, and what is exact stays so", () => {
  const said = [0, 0.01, 1.1 + 2.1, 7.353, 9.95, 9.91, 10, 10.2, 63.0001].map(formatMinutes);
  expect(said).toEqual([
    "0 min",
    "0.1 min",
    "3.2 min",
    "7.4 min",
    "10 min",
    "10 min",
    "10 min",
    "11 min",
    "64 min",
  ]);
});

test("a β that was not rated at a size says how it was got", () => {
  const rated = [
    { sizeUmC: 6, beta: 100 },
    { sizeUmC: 14, beta: 1000 },
  ];
  const codes = (sizeUm: number, belowRated: "nothing" | "log-line" = "nothing") =>
    betaAt(rated, sizeUm, belowRated).assumptions.map(({ code, source }) => [code, source]);
  expect(codes(6)).toEqual([]);
  expect(codes(14)).toEqual([]);
  expect(codes(21)).toEqual([["beta-held-above-rated", "ISO-16889"]]);
  expect(betaAt(rated, 21, "nothing").beta).toBe(1000);
  expect(codes(10)).toEqual([["beta-interpolated", "BETA-INTERPOLATION"]]);
  expect(betaAt(rated, 10, "nothing").beta).toBeCloseTo(Math.sqrt(100 * 1000), 9);
  expect(betaAt(rated, 10, "nothing").assumptions[0]?.message).toBe(
    "β at 10 µm(c) was read as 316 on a straight line of log β between 6 and 14 µm(c)",
  );
  expect(codes(4)).toHaveLength(1);
  expect(codes(4, "log-line")).toHaveLength(1);
  expect(() => betaAt([...rated, { sizeUmC: 6, beta: 200 }], 6, "nothing")).toThrow(
    "β at 6 µm(c) is given twice",
  );
});
