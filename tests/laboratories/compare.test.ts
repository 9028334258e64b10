import { describe, expect, test } from "vitest";
import { cumulativeCounts } from "../../src/counts/index.js";
import {
  type CompareOptions,
  compareLaboratories,
  type LaboratorySample,
} from "../../src/laboratories/index.js";
import { type BottleParts, bottle, day } from "./bottles.js";

/** Bottles of two laboratories on some days: what each of them found, day by day. */
function pairs(found: readonly (readonly [north: BottleParts, south: BottleParts])[]): LaboratorySample[] {
  return found.flatMap(([north, south], index) => [
    bottle({ laboratory: "North", drawnOn: day(index), ...north }),
    bottle({ laboratory: "South", drawnOn: day(index), ...south }),
  ]);
}

/** Waters of North and South. */
function waters(found: readonly (readonly [number, number])[], parts: BottleParts = {}): LaboratorySample[] {
  return pairs(
    found.map(([north, south]) => [
      { waterPpm: { value: north }, ...parts },
      { waterPpm: { value: south }, ...parts },
    ]),
  );
}

/** The bias of one laboratory in the only quantity that was measured. */
function biasOf(samples: readonly LaboratorySample[], laboratory = "South", options: CompareOptions = {}) {
  const { quantities } = compareLaboratories(samples, options);
  const found = quantities.flatMap(({ laboratories }) => laboratories);
  return found.find((entry) => entry.laboratory === laboratory)?.bias;
}

const codesOf = (samples: readonly LaboratorySample[], options: CompareOptions = {}) =>
  compareLaboratories(samples, options).assumptions.map(({ code }) => code);

describe("bias between two laboratories", () => {
  test("water: differences 10, 12, 8, 11, 9 are 10 with s = 1.58, so 10 ± 2.776 · 1.58 / √5", () => {
    const found = [10, 12, 8, 11, 9].map((d, index) => [100 + 7 * index, 100 + 7 * index + d] as const);
    expect(biasOf(waters(found))).toEqual({
      kind: "compared",
      against: "North",
      estimate: expect.closeTo(10, 10),
      low: expect.closeTo(10 - 1.963, 3),
      high: expect.closeTo(10 + 1.963, 3),
      materials: 5,
      differs: true,
      median: expect.closeTo(10, 10),
    });
  });

  test("counts are compared by their ratio, whatever the level: 1.4 times each time but for 3 %", () => {
    const found = [100, 1000, 400, 90, 5000, 300].map((perMl, index) => [
      { perMl },
      { perMl: perMl * 1.4 * (index % 2 === 0 ? 1.03 : 1 / 1.03) },
    ]) as [BottleParts, BottleParts][];
    expect(biasOf(pairs(found))).toMatchObject({
      estimate: expect.closeTo(1.4, 10),
      differs: true,
      materials: 6,
    });
  });

  test("an interval that holds 0 is no difference", () => {
    expect(
      biasOf(
        waters([
          [100, 104],
          [90, 87],
          [95, 99],
          [80, 77],
          [60, 61],
        ]),
      ),
    ).toMatchObject({ differs: false });
  });

  test("the median of the pairs is not moved by one wild pair", () => {
    const found = [
      [100, 101],
      [90, 91],
      [95, 96],
      [80, 81],
      [60, 160],
    ] as const;
    expect(biasOf(waters(found))).toMatchObject({
      estimate: expect.closeTo(20.8, 10),
      median: expect.closeTo(1, 10),
    });
  });

  test("the same difference each time is stated without an interval: rounding hides the scatter", () => {
    expect(
      biasOf(
        waters([
          [100, 110],
          [90, 100],
          [95, 105],
          [80, 90],
          [60, 70],
        ]),
      ),
    ).toEqual({
      kind: "no-scatter",
      against: "North",
      estimate: expect.closeTo(10, 10),
      materials: 5,
      differs: true,
    });
  });

  test("the reference can be named, in any case; another name is refused with those there are", () => {
    const samples = waters([
      [100, 110],
      [90, 101],
      [95, 105],
      [80, 90],
      [60, 70],
    ]);
    expect(biasOf(samples, "North", { reference: "SOUTH" })).toMatchObject({
      against: "South",
      estimate: expect.closeTo(-10.2, 10),
    });
    expect(() => compareLaboratories(samples, { reference: "East" })).toThrow(
      new RangeError("the reference must be one of North; South, not East"),
    );
  });

  test("three laboratories are compared with their mean, and their effects add up to 0", () => {
    const samples = [0, 1, 2, 3, 4].flatMap((index) =>
      ["A", "B", "C"].map((laboratory, at) =>
        bottle({
          laboratory,
          drawnOn: day(index),
          waterPpm: { value: 100 + 5 * at + ((index * (at + 1)) % 3) },
        }),
      ),
    );
    const biases = ["A", "B", "C"].map((name) => biasOf(samples, name));
    const estimates = biases.map((bias) => (bias?.kind === "compared" ? bias.estimate : Number.NaN));
    expect(estimates.reduce((sum, one) => sum + one, 0)).toBeCloseTo(0, 10);
    expect(biases[0]).toMatchObject({ against: "the mean of the laboratories" });
  });

  test("laboratories that no chain of fluids links are not compared with each other", () => {
    const pair = (laboratories: readonly string[], circuit: string) =>
      [0, 1, 2, 3, 4].flatMap((index) =>
        laboratories.map((laboratory, at) =>
          bottle({
            laboratory,
            circuit,
            drawnOn: day(index),
            waterPpm: { value: 50 + at + ((index * (at + 1)) % 3) },
          }),
        ),
      );
    const samples = [...pair(["A", "B"], "fore"), ...pair(["C", "D"], "aft")];
    const groups = compareLaboratories(samples).quantities.map(({ laboratories }) =>
      laboratories.map(({ laboratory }) => laboratory),
    );
    expect(groups).toEqual([
      ["A", "B"],
      ["C", "D"],
    ]);
  });

  test("a counter is compared by itself, within one laboratory too", () => {
    const samples = [100, 200, 150, 90, 130].flatMap((perMl, index) => [
      bottle({ laboratory: "North", counter: "1", drawnOn: day(index), perMl }),
      bottle({ laboratory: "North", counter: "2", drawnOn: day(index), perMl: perMl * (1.2 + index / 100) }),
    ]);
    expect(biasOf(samples, "North (counter 2)")).toMatchObject({
      against: "North (counter 1)",
      differs: true,
    });
  });
});

describe("what is not compared", () => {
  const five = [
    [100, 110],
    [90, 101],
    [95, 105],
    [80, 90],
    [60, 70],
  ] as const;

  test("four pairs are too few, and five are said to be needed", () => {
    expect(biasOf(waters(five.slice(0, 4)))).toEqual({ kind: "too-few", materials: 4, needed: 5 });
  });

  test.each<[string, BottleParts]>([
    ["another time of the day", { drawnTime: "08:20" }],
    ["another circuit", { circuit: "aft" }],
    ["another cart", { cart: "C-2" }],
    ["a limit value", { waterPpm: { value: 100, limit: "below" } }],
  ])("%s makes no pair", (_, south) => {
    const samples = pairs(
      five.map(([north, other]) => [
        { waterPpm: { value: north } },
        { waterPpm: { value: other }, ...south },
      ]),
    );
    expect(biasOf(samples, "North")).toMatchObject({ kind: "too-few", materials: 0 });
  });

  test("bottles of one day without a time may be of before and after circulating: no pair unless the caller says so", () => {
    const samples = waters(five, { drawnTime: undefined });
    expect(biasOf(samples)).toMatchObject({ kind: "too-few", materials: 0 });
    expect(codesOf(samples)).toEqual(["time-not-stated"]);
    expect(biasOf(samples, "South", { sameDay: true })).toMatchObject({ kind: "compared", materials: 5 });
    expect(codesOf(samples, { sameDay: true })).toEqual(["same-day"]);
  });

  test("a bottle without a time is with those of its day only where they are of one time", () => {
    const mixed = five.flatMap(([north, south], index) => [
      bottle({ laboratory: "North", drawnOn: day(index), waterPpm: { value: north } }),
      bottle({ laboratory: "South", drawnOn: day(index), drawnTime: undefined, waterPpm: { value: south } }),
    ]);
    expect(biasOf(mixed)).toMatchObject({ kind: "too-few", materials: 0 });
    expect(compareLaboratories(mixed).assumptions).toMatchObject([
      { code: "time-not-stated", message: expect.stringMatching(/^5 bottles /) },
    ]);
    expect(biasOf(mixed, "South", { sameDay: true })).toMatchObject({ kind: "compared", materials: 5 });
    const later = bottle({
      laboratory: "North",
      drawnOn: day(0),
      drawnTime: "11:00",
      waterPpm: { value: 9 },
    });
    expect(biasOf([...mixed, later], "South", { sameDay: true })).toMatchObject({
      kind: "too-few",
      materials: 4,
    });
  });

  test("bottles from before and after an element are different fluids, and one of no stated place is left out", () => {
    const samples = pairs(
      five.map(([north, south]) => [
        { waterPpm: { value: north }, samplePoint: "upstream-of-element" },
        { waterPpm: { value: south }, samplePoint: "downstream-of-element" },
      ]),
    );
    const third = bottle({ laboratory: "East", drawnOn: day(0), waterPpm: { value: 1 } });
    expect(biasOf(samples)).toMatchObject({ kind: "too-few", materials: 0 });
    expect(codesOf([...samples, third])).toEqual(["place-not-stated"]);
  });

  test("a place that only one of two reports states makes no difference", () => {
    const samples = pairs(
      five.map(([north, south]) => [
        { waterPpm: { value: north }, samplePoint: "main-flow-line" },
        { waterPpm: { value: south } },
      ]),
    );
    expect(biasOf(samples)).toMatchObject({ kind: "compared" });
  });

  test("nine particles are too few for a ratio, ten are enough", () => {
    const counted = (particles: number) =>
      pairs(
        [100, 200, 150, 90, particles].map((perMl) => [
          { perMl, countedMl: 1 },
          { perMl: perMl + 1, countedMl: 1 },
        ]),
      );
    expect(biasOf(counted(10))).toMatchObject({ kind: "compared", materials: 5 });
    expect(biasOf(counted(9))).toMatchObject({ kind: "too-few", materials: 4 });
    expect(compareLaboratories(counted(8)).assumptions).toEqual([
      { code: "few-particles", message: "2 counts were left out: fewer than 10 particles were counted" },
    ]);
  });

  test("water of phosphate ester and of hydrocarbon are compared each by itself", () => {
    const samples = [...waters(five.slice(0, 3), { fluid: "AS1241 Type IV" }), ...waters(five.slice(3))];
    expect(compareLaboratories(samples).quantities.map(({ quantity }) => quantity)).toEqual([
      "water in hydrocarbon",
      "water in phosphate ester",
    ]);
  });

  test("a bottle without laboratory is left out, and that is said", () => {
    const samples = [...waters(five), bottle({ waterPpm: { value: 5 } })];
    expect(compareLaboratories(samples).assumptions).toEqual([
      {
        code: "laboratory-not-named",
        message: "1 bottle left out: neither a laboratory nor a counter is named",
      },
    ]);
  });

  test("no samples at all are no comparison", () => {
    expect(compareLaboratories([])).toEqual({ confidence: 0.95, quantities: [], assumptions: [] });
  });
});

describe("who measured", () => {
  test("one name in two spellings is one laboratory", () => {
    const samples = [
      bottle({ laboratory: "North Lab", waterPpm: { value: 5 } }),
      bottle({ laboratory: "NORTH  lab", waterPpm: { value: 6 } }),
    ];
    const [quantity] = compareLaboratories(samples).quantities;
    expect(quantity?.laboratories.map(({ laboratory }) => laboratory)).toEqual(["North Lab"]);
  });

  test("the caller's name counts where the report has none, and that is said", () => {
    const samples = [
      { ...bottle({ waterPpm: { value: 5 } }), otherwise: { laboratory: "East" } },
      { ...bottle({ laboratory: "North", waterPpm: { value: 5 } }), otherwise: { laboratory: "East" } },
    ];
    const { quantities, assumptions } = compareLaboratories(samples);
    expect(quantities[0]?.laboratories.map(({ laboratory }) => laboratory)).toEqual(["East", "North"]);
    expect(assumptions.map(({ code }) => code)).toEqual(["laboratory-not-in-report"]);
  });
});

describe("spread of one laboratory", () => {
  test("five pairs of bottles 2 ppm apart: √(Σd²/2n) = 1.414", () => {
    const samples = [0, 1, 2, 3, 4].flatMap((index) =>
      [0, 2].map((more) =>
        bottle({ laboratory: "North", drawnOn: day(index), waterPpm: { value: 70 + 9 * index + more } }),
      ),
    );
    const [quantity] = compareLaboratories(samples).quantities;
    expect(quantity?.laboratories[0]?.bottles).toMatchObject({
      kind: "measured",
      sd: expect.closeTo(Math.SQRT2, 10),
      degreesOfFreedom: 5,
    });
  });

  test("bottles that are equal to the last digit have no spread of 0", () => {
    const samples = [0, 1, 2, 3, 4, 5].flatMap((index) =>
      [0, 1].map(() => bottle({ laboratory: "North", drawnOn: day(index), waterPpm: { value: 70 + index } })),
    );
    const [quantity] = compareLaboratories(samples).quantities;
    expect(quantity?.laboratories[0]?.bottles).toEqual({ kind: "all-equal", degreesOfFreedom: 6 });
  });

  test("runs of a bottle have a spread of their own, and 1000 particles explain 3.2 % of it", () => {
    const samples = [0, 1, 2, 3, 4].map((index) =>
      bottle({ laboratory: "North", drawnOn: day(index), perMl: 100, runsPerMl: [95, 105], countedMl: 10 }),
    );
    const [laboratory] = compareLaboratories(samples).quantities[0]?.laboratories ?? [];
    const log = Math.log(105 / 95) / Math.SQRT2;
    expect(laboratory?.runs).toMatchObject({
      kind: "measured",
      sd: expect.closeTo(Math.sqrt(Math.expm1(log ** 2)), 10),
      countingSd: expect.closeTo(0.0317, 4),
    });
    expect(laboratory?.bottles).toEqual({ kind: "too-few", degreesOfFreedom: 0, needed: 5 });
  });
});

test("bottles with more runs weigh more in what counting explains: two parts of 1/1000 and one of 1/100", () => {
  const run = (index: number, perMl: number, runsPerMl: number[]) =>
    bottle({ laboratory: "North", drawnOn: day(index), perMl, runsPerMl, countedMl: 10 });
  const samples = [0, 1].flatMap((index) => [
    run(2 * index, 100, [100, 100, 100]),
    run(2 * index + 1, 10, [10, 10.1]),
  ]);
  const [laboratory] = compareLaboratories(samples).quantities[0]?.laboratories ?? [];
  const variance = (2 * 0.001 + (0.01 + 1 / 101) / 2) / 3;
  expect(laboratory?.runs?.countingSd).toBeCloseTo(Math.sqrt(Math.expm1(variance)), 10);
});

test.each(["estimated", "converted"] as const)("a count that was %s is compared with nothing", (basis) => {
  const counts = cumulativeCounts([{ sizeUm: 4, count: 500, basis }], 1, "um(c)", {
    countedMl: 10,
  });
  const { sample } = bottle({ laboratory: "North" });
  expect(compareLaboratories([{ sample: { ...sample, counts } }]).quantities).toEqual([]);
});

describe("the uncertainty that covers all laboratories", () => {
  test("it holds the furthest end of a bias and the upper end of the scatter", () => {
    const found = [10, 12, 8, 11, 9].map((d, index) => [100 + 7 * index, 100 + 7 * index + d] as const);
    const [quantity] = compareLaboratories(waters(found)).quantities;
    // Residual 1.581 / √2 = 1.118, upper end √(4 / 0.4844) times that; each is half of 10 off the mean. Two intervals hold
    // together at 97.5 % each, so t is 3.495.
    const scatter = 1.118 * Math.sqrt(4 / 0.4844);
    const end = 5 + 3.495 * (1.581 / Math.sqrt(5) / 2);
    expect(quantity?.scatter).toMatchObject({ kind: "measured", high: expect.closeTo(scatter, 2) });
    expect(quantity?.coverAll).toBeCloseTo(Math.hypot(scatter, end), 2);
  });

  test("it covers the laboratory that reads lowest as well", () => {
    const samples = [0, 1, 2, 3, 4, 5].flatMap((index) =>
      [80, 100, 102].map((level, at) =>
        bottle({
          laboratory: "ABC".charAt(at),
          drawnOn: day(index),
          waterPpm: { value: level + ((index * (at + 1)) % 3) },
        }),
      ),
    );
    const [quantity] = compareLaboratories(samples).quantities;
    const ends = (quantity?.laboratories ?? []).map(({ bias }) =>
      bias.kind === "compared" ? Math.max(-bias.low, bias.high) : Number.NaN,
    );
    expect(ends[0]).toBeGreaterThan(13);
    expect(quantity?.coverAll).toBeGreaterThan(ends[0] as number);
  });

  test("there is none where rounding hides the scatter", () => {
    const [quantity] = compareLaboratories(
      waters([
        [100, 110],
        [90, 100],
        [95, 105],
        [80, 90],
        [60, 70],
      ]),
    ).quantities;
    expect(quantity).not.toHaveProperty("coverAll");
  });
});
