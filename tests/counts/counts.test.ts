import { describe, expect, test } from "vitest";
import {
  CountError,
  type CountSet,
  countAt,
  countBetween,
  cumulativeCounts,
  estimateAt,
  intervalCounts,
  inVolume,
  levelOf,
  poolReplicates,
  rawParticles,
  readBetween,
  subtractBlank,
  toCumulative,
  toIntervals,
  toUmC,
  withEstimates,
} from "../../src/counts/index.js";

const at = (...pairs: readonly (readonly [number, number])[]) =>
  pairs.map(([sizeUm, count]) => ({ sizeUm, count }));

describe("counts that cannot be true are refused, naming the value and the rule", () => {
  test.each([
    [at([4, -1]), "the count at 4 µm must be 0 or more, not -1"],
    [at([4, Number.NaN]), "the count at 4 µm must be 0 or more, not NaN"],
    [at([4, Number.POSITIVE_INFINITY]), "the count at 4 µm must be 0 or more, not Infinity"],
    [at([0, 1]), "a particle size must be more than 0 µm, not 0"],
    [at([4, 10], [4, 9]), "the size 4 µm is given twice"],
    [at([4, 10], [6, 11]), "cumulative counts cannot rise with size: 11 at 6 µm is more than 10 at 4 µm"],
    [[], "a count set needs at least one count"],
  ])("%j", (counts, message) => {
    expect(() => cumulativeCounts(counts, 1)).toThrow(CountError);
    expect(() => cumulativeCounts(counts, 1)).toThrow(message);
  });

  test.each([
    [[{ fromUm: 6, toUm: 14, count: Number.NaN }], "the count in 6-14 µm must be 0 or more, not NaN"],
    [[{ fromUm: 14, toUm: 6, count: 1 }], "a size range must end above its start, not 14-6 µm"],
    [
      [
        { fromUm: 70, count: 1 },
        { fromUm: 70, count: 2 },
      ],
      "the range >70 µm is given twice",
    ],
    [
      [
        { fromUm: 6, toUm: 15, count: 1 },
        { fromUm: 14, toUm: 21, count: 2 },
      ],
      "size ranges cannot overlap: 6-15 µm and 14-21 µm",
    ],
    [
      [
        { fromUm: 6, count: 1 },
        { fromUm: 14, toUm: 21, count: 2 },
      ],
      "size ranges cannot overlap: >6 µm and 14-21 µm",
    ],
  ])("%j", (counts, message) => {
    expect(() => intervalCounts(counts, 1)).toThrow(CountError);
    expect(() => intervalCounts(counts, 1)).toThrow(message);
  });

  test.each([0, -1, Number.NaN])("a volume of %d mL", (volumeMl) => {
    expect(() => cumulativeCounts(at([4, 1]), volumeMl)).toThrow("must be more than 0 mL");
    expect(() => cumulativeCounts(at([4, 1]), 1, "um(c)", { countedMl: volumeMl })).toThrow(
      "must be more than 0 mL",
    );
    expect(() => inVolume(cumulativeCounts(at([4, 1]), 1), volumeMl)).toThrow("must be more than 0 mL");
  });

  test("a volume of more than a thousand litres", () => {
    expect(cumulativeCounts(at([4, 1]), 1e6).volumeMl).toBe(1e6);
    expect(() => cumulativeCounts(at([4, 1]), 1_000_001)).toThrow("at most 1000000 mL, not 1000001");
  });

  test("a dilution below 1", () => {
    expect(() => cumulativeCounts(at([4, 1]), 1, "um(c)", { countedMl: 25, dilution: 0.1 })).toThrow(
      "the dilution must be 1 or more parts for one part of sample, not 0.1",
    );
  });

  test("mixed size scales, by the compiler and when run", () => {
    const umC = cumulativeCounts(at([4, 10]), 1, "um(c)", { countedMl: 1 });
    const older = cumulativeCounts(at([4, 10]), 1, "um-older", { countedMl: 1 });
    // @ts-expect-error [ts2345] - two size scales
    expect(() => subtractBlank(umC, older)).toThrow("size scales are mixed: um(c) and um-older");
    // @ts-expect-error [ts2345] - two size scales
    expect(() => poolReplicates(umC, older)).toThrow("size scales are mixed: um(c) and um-older");
  });
});

describe("forms", () => {
  test("ranges without an open top have no cumulative counts", () => {
    const ranges = intervalCounts([{ fromUm: 6, toUm: 14, count: 15 }], 1);
    expect(() => toCumulative(ranges)).toThrow(
      "cumulative counts need a range that is open above, such as >14",
    );
    expect(countAt(ranges, 6)).toBeUndefined();
    expect(countBetween(ranges, 6, 14)).toBe(15);
  });

  test("ranges with a gap have no cumulative count below it, and say where the gap is", () => {
    const ranges = intervalCounts(
      [
        { fromUm: 6, toUm: 14, count: 15 },
        { fromUm: 21, count: 2 },
      ],
      1,
    );
    expect(() => toCumulative(ranges)).toThrow("none is given from 14 to 21 µm");
    expect(countAt(ranges, 6)).toBeUndefined();
    expect(countAt(ranges, 21)).toBe(2);
  });

  test("narrow ranges add up to a wider one, exactly", () => {
    const ranges = intervalCounts(
      [
        { fromUm: 6, toUm: 10, count: 0.1 },
        { fromUm: 10, toUm: 14, count: 0.2 },
        { fromUm: 14, count: 0.7 },
      ],
      1,
    );
    expect(countBetween(ranges, 6, 14)).toBe(0.3);
    expect(countAt(ranges, 6)).toBe(1);
    expect(countBetween(ranges, 6, 12)).toBeUndefined();
  });

  test("24.32 less 4.32 is exactly 20, also with many digits", () => {
    expect(countBetween(cumulativeCounts(at([6, 24.32], [14, 4.32]), 1), 6, 14)).toBe(20);
    expect(countBetween(cumulativeCounts(at([6, 1.00000001], [14, 0.00000001]), 1), 6, 14)).toBe(1);
  });

  test("what is known of a count survives turning its form, and JSON", () => {
    const set = cumulativeCounts(
      [
        { sizeUm: 6, count: 20, basis: "converted", blank: 0.5 },
        { sizeUm: 14, count: 5, blank: 0.1 },
      ],
      1,
      "um-older",
      { countedMl: 25, dilution: 10 },
    );
    const ranges = toIntervals(set);
    expect(ranges.counts).toEqual([
      { fromUm: 6, toUm: 14, count: 15, basis: "converted", blank: 0.4 },
      { fromUm: 14, count: 5, blank: 0.1 },
    ]);
    expect(ranges.counting).toEqual({ countedMl: 25, dilution: 10 });
    expect(toCumulative(ranges).counts[0]).toEqual({ sizeUm: 6, count: 20, basis: "converted", blank: 0.5 });
    expect(JSON.parse(JSON.stringify(set))).toEqual(set);
  });
});

test("raw particles are the count in the volume that was counted, undiluted, with the blank", () => {
  const set = cumulativeCounts([{ sizeUm: 4, count: 99, blank: 1 }], 100, "um(c)", {
    countedMl: 50,
    dilution: 10,
  });
  const reading = readBetween(set, 4, undefined);
  expect(reading && rawParticles(set, reading)).toBe(5);
  const unknown = cumulativeCounts(at([4, 99]), 100);
  expect(rawParticles(unknown, { count: 99, blank: 0 })).toBeUndefined();
});

describe("size scales", () => {
  test("sizes in µm(b) become µm(c) with a factor that is said to be from memory", () => {
    const { counts, assumptions } = toUmC(cumulativeCounts(at([10, 7]), 1, "um(b)"));
    expect(counts.counts).toEqual([{ sizeUm: 8.98, count: 7, basis: "converted" }]);
    expect(assumptions[0]?.message).toContain("from memory");
  });

  test("counts by microscope are not converted", () => {
    expect(() => toUmC(cumulativeCounts(at([15, 7]), 1, "um-microscope"))).toThrow(
      "cannot be converted to µm(c)",
    );
  });

  test("an estimated count stays estimated when its size is converted", () => {
    const older: CountSet<"um-older"> = cumulativeCounts(
      [{ sizeUm: 5, count: 7, basis: "estimated" }],
      1,
      "um-older",
    );
    expect(toUmC(older).counts.counts[0]?.basis).toBe("estimated");
  });
});

describe("estimating a count between two sizes", () => {
  test("follows the MIL-STD-1246 formula exactly when the neighbours do", () => {
    const formula = (x: number) => 10 ** (-0.926 * (Math.log10(x) ** 2 - 4));
    const set = cumulativeCounts(at([5, formula(5)], [25, formula(25)]), 100);
    const estimate = estimateAt(set, 15);
    expect(estimate.kind === "estimated" && estimate.count).toBeCloseTo(formula(15), 9);
    expect(estimate.kind === "estimated" && estimate.betweenUm).toEqual([5, 25]);
  });

  test.each([3.9, 70.1])("is refused at %d µm, outside the counted sizes", (sizeUm) => {
    expect(estimateAt(cumulativeCounts(at([4, 100], [70, 1]), 1), sizeUm)).toEqual({
      kind: "cannot-tell",
      why: `${sizeUm} µm is outside the counted sizes, 4 to 70 µm`,
    });
  });

  test("is refused beside a count of zero, and sure between two equal counts", () => {
    const set = cumulativeCounts(at([4, 100], [14, 0], [38, 0]), 1);
    expect(estimateAt(set, 6)).toEqual({
      kind: "cannot-tell",
      why: "the count at 14 µm is zero and has no logarithm",
    });
    expect(estimateAt(set, 21)).toEqual({ kind: "estimated", count: 0, betweenUm: [14, 38] });
    expect(estimateAt(set, 14)).toEqual({ kind: "counted", count: 0 });
  });

  test("adds marked counts, leaves counted ones alone and says what was estimated", () => {
    const { counts, assumptions } = withEstimates(cumulativeCounts(at([4, 1000], [14, 100]), 1), [4, 6, 70]);
    expect(counts.counts.map(({ sizeUm, basis }) => [sizeUm, basis ?? "measured"])).toEqual([
      [4, "measured"],
      [6, "estimated"],
      [14, "measured"],
    ]);
    expect(assumptions.map((entry) => entry.code)).toEqual(["count-estimated"]);
    expect(assumptions[0]?.message).toContain("between 4 and 14 µm");
  });
});

describe("a bottle blank", () => {
  const sample = cumulativeCounts(at([4, 1000], [6, 300], [14, 20]), 1, "um(c)", { countedMl: 25 });

  test("below 1 % of all particles is subtracted, brought to the volume of the sample, and remembered", () => {
    const result = subtractBlank(sample, cumulativeCounts(at([4, 500], [6, 100], [14, 10]), 100));
    if (result.kind !== "subtracted") throw new Error(result.why);
    expect(result.counts.counts).toEqual([
      { sizeUm: 4, count: 995, blank: 5 },
      { sizeUm: 6, count: 299, blank: 1 },
      { sizeUm: 14, count: 19.9, blank: 0.1 },
    ]);
    expect(result.shares[2]).toEqual({ sizeUm: 14, share: 0.005 });
    expect(result.counts.counting).toEqual({ countedMl: 25 });
  });

  test("of 1 % of all particles makes the sample unusable", () => {
    const result = subtractBlank(sample, cumulativeCounts(at([4, 10], [6, 1], [14, 0]), 1));
    expect(result).toMatchObject({
      kind: "unusable",
      why: "the bottle brings in 1 % of the particles above 4 µm; less than 1 % is allowed",
    });
  });

  test("larger than the sample at one size makes the sample unusable", () => {
    const few = cumulativeCounts(at([4, 1000], [14, 1]), 1);
    const result = subtractBlank(few, cumulativeCounts(at([4, 2], [14, 2]), 1));
    expect(result).toMatchObject({
      kind: "unusable",
      why: "the blank holds more particles than the sample above 14 µm: 2 and 1",
    });
  });

  test("that leaves counts rising with size makes the sample unusable", () => {
    const flat = cumulativeCounts(at([4, 1000], [6, 1000]), 1);
    const result = subtractBlank(flat, cumulativeCounts(at([4, 5], [6, 1]), 1));
    expect(result.kind === "unusable" && result.why).toContain(
      "after subtracting the blank, cumulative counts cannot rise",
    );
  });

  test("counted at other sizes is refused", () => {
    expect(() => subtractBlank(sample, cumulativeCounts(at([4, 1]), 1))).toThrow(
      "counts stand at different sizes: 4, 6, 14 µm and 4 µm",
    );
  });

  test("shifts what the level must stay below: the blank's particles are in the raw count and not in the fluid", () => {
    const without = levelOf({ raw: 100, seenMl: 10 })(10);
    const withBlank = levelOf({ raw: 100, seenMl: 10, blankPerMl: 1 })(9);
    expect(withBlank).toBe(without);
  });
});

describe("replicates", () => {
  const replicate = (count: number, countedMl = 10, volumeMl = 1) =>
    cumulativeCounts(at([4, count]), volumeMl, "um(c)", { countedMl });

  test("are pooled by particles and volume, not by averaging their counts", () => {
    const pooled = poolReplicates(replicate(10, 10), replicate(40, 30));
    expect(pooled.counts.counts).toEqual([{ sizeUm: 4, count: 32.5 }]);
    expect(pooled.counts.counting).toEqual({ countedMl: 40 });
  });

  test("the extra scatter of 80, 100 and 120 particles about their mean, beyond Poisson, is worked by hand", () => {
    const { scatter } =
      poolReplicates(replicate(80, 1), replicate(120, 1), replicate(100, 1)).scatter[0] ?? {};
    // Dispersion (400 + 400) / 100 = 8 on 2 degrees of freedom: e^-4 = 0.0183. Extra: sqrt((8 − 2) / (300 − 100)).
    expect(scatter).toMatchObject({ kind: "more-than-random" });
    expect(scatter?.kind === "more-than-random" && scatter.probability).toBeCloseTo(Math.exp(-4), 12);
    expect(scatter?.kind === "more-than-random" && scatter.extraRsd).toBeCloseTo(Math.sqrt(0.03), 12);
  });

  test("too few particles say nothing about scatter", () => {
    const { scatter } = poolReplicates(replicate(0.1), replicate(0.3)).scatter[0] ?? {};
    expect(scatter).toEqual({
      kind: "cannot-tell",
      why: "only 2 particles are expected in a replicate; 5 are needed",
    });
  });

  test("a single one, or one without its counted volume, is refused", () => {
    expect(() => poolReplicates(replicate(1))).toThrow("pooling needs two or more replicates, not 1");
    expect(() => poolReplicates(replicate(1), cumulativeCounts(at([4, 1]), 1))).toThrow(
      "replicate 2 does not say how much was counted",
    );
  });
});

test("one code of laboratory spread is a factor of two, and 0 % changes nothing", () => {
  const asCodes = levelOf({ raw: 100, seenMl: 1, reproducibility: { kind: "codes", sd: 1 } });
  const asRelative = levelOf({
    raw: 100,
    seenMl: 1,
    reproducibility: { kind: "relative", rsd: Math.sqrt(Math.expm1(Math.LN2 ** 2)) },
  });
  expect(asCodes(150)).toBeCloseTo(asRelative(150), 12);
  const plain = levelOf({ raw: 100, seenMl: 1 });
  expect(levelOf({ raw: 100, seenMl: 1, reproducibility: { kind: "relative", rsd: 0 } })(110)).toBe(
    plain(110),
  );
  expect(() => levelOf({ raw: 100, seenMl: 1, reproducibility: { kind: "codes", sd: Number.NaN } })).toThrow(
    "a reproducibility must be 0 or more, not NaN",
  );
});
