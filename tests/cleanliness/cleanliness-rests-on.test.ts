// What a class rests on, by which scale it was counted and what could not be given.
import { describe, expect, test } from "vitest";
import {
  classify,
  classifyAll,
  classifyAs4059Cumulative,
  classifyAs4059Differential,
  classifyGost17216,
  classifyIso4406,
  classifyNas1638,
  classifyNavy,
  formatIso4406,
  formatSize,
  iso4406Channels,
  readChannel,
} from "../../src/cleanliness/index.js";
import {
  cumulativeCounts,
  type IntervalCount,
  intervalCounts,
  type SizeScale,
  withEstimates,
} from "../../src/counts/index.js";

const at = (...pairs: readonly (readonly [number, number])[]) =>
  pairs.map(([sizeUm, count]) => ({ sizeUm, count }));
const codesOf = (of: { assumptions: readonly { code: string }[] } | undefined) =>
  of?.assumptions.map(({ code }) => code);

// The limits of class 6 of AS4059 table 2, per 100 mL.
const CLASS_6 = at([4, 50_000], [6, 19_462], [14, 3462], [21, 612], [38, 106], [70, 16]);
const MICROSCOPE: IntervalCount[] = [
  { fromUm: 5, toUm: 10, count: 1000 },
  { fromUm: 10, toUm: 15, count: 400 },
  { fromUm: 15, toUm: 25, count: 100 },
  { fromUm: 25, toUm: 50, count: 50 },
  { fromUm: 50, toUm: 100, count: 6 },
  { fromUm: 100, count: 1 },
];
const byMicroscope = intervalCounts(MICROSCOPE, 100, "um-microscope");
const byOlderCounter = intervalCounts(MICROSCOPE, 100, "um-older");

describe("counts in µm(c) at the limits of class 6 of AS4059", () => {
  const counts = cumulativeCounts(CLASS_6, 100);

  test("have every class of hydraulic carts, each with what it rests on and nothing else", () => {
    const result = classify(counts);
    expect(Object.keys(result)).toEqual([
      "iso4406",
      "as4059Cumulative",
      "as4059Differential",
      "nas1638",
      "assumptions",
    ]);
    // 500, 194.62 and 34.62 per mL: over 320, 160 and 20, up to 640, 320 and 40.
    expect(result.iso4406 && formatIso4406(result.iso4406)).toBe("16/15/12");
    expect(result.as4059Cumulative).toMatchObject({
      class: "6",
      governing: "A",
      missing: [],
      assumptions: [],
    });
    // The ranges are those of class 6 of table 1, 16 000, 2 850, 506, 90 and 16, all on their limits.
    expect(result.as4059Differential).toMatchObject({ class: "6", governing: "6-14", missing: [] });
    expect(result.nas1638).toMatchObject({ class: "6", governing: "6-14", missing: [] });
    expect(codesOf(result)).toEqual(["nas-1638-at-um-c"]);
  });

  test("have navy and GOST classes from the ranges that do not need 10 µm(c), and a level of MIL-STD-1246", () => {
    const result = classifyAll(counts);
    expect(Object.keys(result)).toEqual(
      expect.arrayContaining(["iso4406Channels", "navy", "gost17216", "milStd1246", "newFluid", "unserved"]),
    );
    // 506 in 25-50 and 90 in 50-100 are within 780 and 110 of class 3, 16 over 100 within 21 of class 4.
    expect(result.navy).toMatchObject({ class: "4", governing: ">100", missing: ["5-10", "10-25"] });
    // Grade 8 allows 200 in 25-50 and 25 in 50-100: 506 is 2.5 of it and 90 is 3.6.
    expect(result.gost17216).toMatchObject({ class: "beyond 8", governing: "50-100" });
    // log² L = log² 5 + log 19 462 / 0.926 = 0.4886 + 4.6315, so L = 183.
    expect(result.milStd1246?.channels[0]?.level).toBeCloseTo(183, 0);
    expect(result.unserved).toEqual([]);
    expect(codesOf(result)).toEqual([
      "nas-1638-at-um-c",
      "navy-at-um-c",
      "class-from-some-channels",
      "gost-17216-one-page",
      "gost-17216-at-paired-sizes",
      "class-from-some-channels",
      "mil-std-1246-at-paired-sizes",
    ]);
  });
});

describe("by the scale of the counts", () => {
  test.each([
    { scale: "um-microscope", counts: byMicroscope, nas: "measured", others: "measured" },
    { scale: "um-older", counts: byOlderCounter, nas: "measured", others: "converted" },
  ])("$scale: NAS 1638 is $nas, navy and GOST are $others", ({ counts, nas, others }) => {
    const basesOf = (result: { channels: readonly { basis: string }[] } | undefined) => [
      ...new Set(result?.channels.map(({ basis }) => basis)),
    ];
    expect(basesOf(classifyNas1638(counts))).toEqual([nas]);
    expect(basesOf(classifyNavy(counts))).toEqual([others]);
    expect(basesOf(classifyGost17216(counts))).toEqual([others]);
  });

  test("in µm(c) navy and GOST classes are converted", () => {
    const counts = cumulativeCounts(at([6, 30], [10, 20], [21, 5], [38, 1], [70, 0]), 100);
    expect(classifyNavy(counts)?.channels[0]?.basis).toBe("converted");
    expect(classifyGost17216(counts)?.channels[0]?.basis).toBe("converted");
    expect(codesOf(classifyNavy(counts))).toEqual(["navy-at-um-c"]);
  });

  test("a class counted as its standard asks rests on nothing, but that grades of GOST beyond 8 were not seen", () => {
    expect(codesOf(classifyNas1638(byMicroscope))).toEqual([]);
    expect(codesOf(classifyNavy(byMicroscope))).toEqual([]);
    expect(codesOf(classifyGost17216(byMicroscope))).toEqual(["gost-17216-one-page"]);
  });

  test("a counter on the older scale is said of each class that asks for a microscope", () => {
    expect(codesOf(classifyNas1638(byOlderCounter))).toEqual(["nas-1638-by-counter"]);
    expect(codesOf(classifyNavy(byOlderCounter))).toEqual(["table-column-of-older-sizes"]);
    expect(codesOf(classifyGost17216(byOlderCounter))).toEqual([
      "gost-17216-one-page",
      "gost-17216-at-paired-sizes",
    ]);
  });

  test.each([
    { counts: byMicroscope, words: "sizes by microscope were read in the table columns" },
    { counts: byOlderCounter, words: "sizes on the older scale (ISO 4402) were read in the table columns" },
  ])("AS4059: $words", ({ counts, words }) => {
    for (const result of [classifyAs4059Cumulative(counts), classifyAs4059Differential(counts)]) {
      expect(result?.assumptions[0]).toMatchObject({
        code: "table-column-of-older-sizes",
        source: "AS4059-SIZE-PAIRS",
      });
      expect(result?.assumptions[0]?.message).toContain(words);
    }
  });

  test("two numbers of ISO 4406 are said to be no code of the fluid counted in µm(c); three numbers need no such word", () => {
    const older = classify(cumulativeCounts(at([5, 3000], [15, 300]), 1, "um-older"));
    expect(older.iso4406 && formatIso4406(older.iso4406)).toBe("-/19/15");
    expect(codesOf(older)).toContain("iso-4406-two-numbers");
    expect(older.assumptions.find(({ code }) => code === "iso-4406-two-numbers")).toMatchObject({
      source: "ISO-4406",
      message: expect.stringContaining("a dash in the first place"),
    });
    const without15 = classify(cumulativeCounts(at([5, 3000]), 1, "um-older"));
    expect(codesOf(without15)).not.toContain("iso-4406-two-numbers");
  });

  test("a level of MIL-STD-1246 rests on paired sizes in µm(c) only, and only where there is one", () => {
    const codes = (counts: Parameters<typeof classifyAll>[0]) => codesOf(classifyAll(counts));
    const said = "mil-std-1246-at-paired-sizes";
    expect(codes(cumulativeCounts(at([6, 10]), 1))).toContain(said);
    expect(codes(cumulativeCounts(at([6, 0]), 1))).not.toContain(said);
    expect(codes(cumulativeCounts(at([5, 10]), 1, "um-older"))).not.toContain(said);
  });

  test("a size is written on the scale of the counts, and a size without a pair is not found on another scale", () => {
    const on = (scale: SizeScale) => ({ scale });
    expect(formatSize(on("um(c)"), 14)).toBe("14 µm(c)");
    expect(formatSize(on("um-older"), 14)).toBe("15 µm");
    expect(formatSize(on("um-microscope"), 17)).toBe("17 µm");
    const older = cumulativeCounts(at([5, 10], [15, 4]), 1, "um-older");
    expect(readChannel(older, 5, undefined)).toBeUndefined();
    expect(readChannel(older, 6, 15)).toBeUndefined();
    expect(readChannel(older, 6, 14)?.count).toBe(6);
  });
});

describe("what cannot be given", () => {
  test("every standard that 4 µm(c) alone does not serve is named with the sizes it needs", () => {
    const neighbours = "two neighbours or the last";
    expect(classifyAll(cumulativeCounts(at([4, 10]), 1)).unserved).toEqual([
      { standard: "ISO 4406", needsUm: [4, 6, 14], needs: "all" },
      { standard: "AS4059 differential", needsUm: [6, 14, 21, 38, 70], needs: neighbours },
      { standard: "NAS 1638", needsUm: [6, 14, 21, 38, 70], needs: neighbours },
      { standard: "NAVAIR 01-1A-17", needsUm: [6, 10, 21, 38, 70], needs: neighbours },
      { standard: "GOST 17216", needsUm: [6, 10, 21, 38, 70], needs: "two neighbours" },
      { standard: "MIL-STD-1246", needsUm: [6, 10, 14, 21, 38, 70], needs: "one" },
    ]);
  });

  test("what rests on no class of a standard is not said of it", () => {
    const codes = codesOf(classifyAll(cumulativeCounts(at([4, 10]), 1)));
    expect(codes).toEqual([
      "class-from-some-channels",
      "sizes-cannot-serve",
      "sizes-cannot-serve",
      "sizes-cannot-serve",
    ]);
  });

  test("the last size alone serves the tables that have a range above it, and GOST 17216 has none", () => {
    const { unserved } = classifyAll(cumulativeCounts(at([70, 1]), 100));
    expect(unserved.map(({ standard }) => standard)).toEqual(["ISO 4406", "GOST 17216"]);
  });

  test("a size that no table has leaves every standard without a class, on the scale of the counts", () => {
    const result = classifyAll(cumulativeCounts(at([2, 7]), 1, "um-microscope"));
    expect(result.unserved.map(({ standard, needsUm }) => [standard, needsUm])).toEqual([
      ["ISO 4406", [5, 15]],
      ["AS4059 cumulative", [1, 5, 15, 25, 50, 100]],
      ["AS4059 differential", [5, 15, 25, 50, 100]],
      ["NAS 1638", [5, 15, 25, 50, 100]],
      ["NAVAIR 01-1A-17", [5, 10, 25, 50, 100]],
      ["GOST 17216", [5, 10, 25, 50, 100]],
      ["MIL-STD-1246", [5, 10, 15, 25, 50, 100]],
    ]);
    expect(result.unserved[1]?.needs).toBe("one");
    expect(Object.keys(result)).toEqual(["assumptions", "iso4406Channels", "newFluid", "unserved"]);
    expect([result.iso4406Channels, result.newFluid]).toEqual([[], []]);
  });

  test("each absent class says which sizes it needs", () => {
    const { assumptions } = classify(cumulativeCounts(at([10, 5]), 1));
    const ranges = "both ends of a range between 6, 14, 21, 38 and 70 µm(c)";
    expect(assumptions).toEqual([
      { code: "sizes-cannot-serve", message: "ISO 4406 is not given: it needs 4, 6 and 14 µm(c)" },
      {
        code: "sizes-cannot-serve",
        message: "AS4059 cumulative is not given: it needs at least one of 4, 6, 14, 21, 38 and 70 µm(c)",
      },
      { code: "sizes-cannot-serve", message: `AS4059 differential is not given: it needs ${ranges}` },
      { code: "sizes-cannot-serve", message: `NAS 1638 is not given: it needs ${ranges}` },
    ]);
  });

  test("a class from some channels names those that could not be formed", () => {
    const messagesOf = (result: { assumptions: readonly { message: string }[] } | undefined) =>
      result?.assumptions.map(({ message }) => message);
    const counts = cumulativeCounts(at([4, 100], [6, 50], [14, 10]), 1);
    expect(messagesOf(classifyAs4059Cumulative(counts))).toEqual([
      "AS4059 cumulative: the class rests on the sizes that were counted; D, E, F could not be formed from the given sizes and may be worse",
    ]);
    expect(messagesOf(classifyAs4059Differential(counts))).toEqual([
      "AS4059 differential: the class rests on the ranges that were counted; 14-21, 21-38, 38-70, >70 could not be formed from the given sizes and may be worse",
    ]);
  });
});

describe("the code of ISO 4406", () => {
  test.each([
    { without: "4", sizes: [6, 14] },
    { without: "6", sizes: [4, 14] },
    { without: "14", sizes: [4, 6] },
  ])("is not given without $without µm(c)", ({ sizes }) => {
    const [large, small] = sizes as [number, number];
    expect(classifyIso4406(cumulativeCounts(at([large, 10], [small, 5]), 1))).toBeUndefined();
  });

  test("fewer than 20 counted particles are written with ≥, 20 without; per 100 mL as per mL", () => {
    const codeOf = (counts: Parameters<typeof classifyIso4406>[0]) => {
      const code = classifyIso4406(counts);
      return code && formatIso4406(code);
    };
    // 25 mL were counted: 0.8 per mL are 20 particles, 0.76 are 19. 0.8 lies over 0.64, the limit of number 6.
    const perMl = (at14: number) =>
      cumulativeCounts(at([4, 100], [6, 50], [14, at14]), 1, "um(c)", { countedMl: 25 });
    expect(codeOf(perMl(0.8))).toBe("14/13/7");
    expect(codeOf(perMl(0.76))).toBe("14/13/≥7");
    const per100 = (at14: number) =>
      cumulativeCounts(at([4, 10_000], [6, 5000], [14, at14]), 100, "um(c)", { countedMl: 25 });
    expect(codeOf(per100(80))).toBe("14/13/7");
    expect(codeOf(per100(76))).toBe("14/13/≥7");
  });

  test("particles of the blank were counted too, so they are no reason for ≥", () => {
    // 15 counted per 25 mL remain of 20 when 5 are taken off for the bottle: 0.6 of 0.8 per mL.
    const counted = (blank: number) => ({
      ...cumulativeCounts(at([4, 100], [6, 50]), 1, "um(c)", { countedMl: 25 }),
      counts: [
        { sizeUm: 4, count: 100 },
        { sizeUm: 6, count: 50 },
        { sizeUm: 14, count: 0.6, blank },
      ],
    });
    expect(classifyIso4406(counted(0.2))?.[2]).toEqual({ kind: "number", scaleNumber: 6, atLeast: false });
    expect(classifyIso4406(counted(0.1))?.[2]).toEqual({ kind: "number", scaleNumber: 6, atLeast: true });
  });

  test("an estimated count was not counted and has no ≥", () => {
    const counts = cumulativeCounts(at([4, 8], [6, 0.5], [21, 0.04]), 1, "um(c)", { countedMl: 25 });
    const code = classifyIso4406(withEstimates(counts, [14]).counts);
    expect(code?.[1]).toMatchObject({ atLeast: true });
    expect(code?.[2]).toMatchObject({ atLeast: false });
  });

  test("more particles than the scale has are beyond it, however few were counted", () => {
    const counts = cumulativeCounts(at([4, 3_000_000], [6, 10], [14, 5]), 1, "um(c)", {
      countedMl: 0.000_001,
    });
    expect(classifyIso4406(counts)?.[0]).toEqual({ kind: "beyond" });
  });

  test("by microscope its channels are those of 5 and 15 µm, also when 1 µm was counted", () => {
    const counts = cumulativeCounts(at([1, 900], [5, 300], [15, 30]), 1, "um-microscope");
    expect(iso4406Channels(counts).map(({ channel, count }) => [channel, count])).toEqual([
      ["6", 300],
      ["14", 30],
    ]);
    expect(iso4406Channels(cumulativeCounts(at([25, 3]), 1, "um-microscope"))).toEqual([]);
  });
});
