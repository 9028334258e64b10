// Codes, classes and targets as they are written, and what each of them allows.
import { describe, expect, test } from "vitest";
import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  CLASS_NAMES,
  classifyGost17216,
  compareClasses,
  comparePlaces,
  compareWithLimits,
  compareWithNewFluid,
  continuousCode,
  countOfContinuousCode,
  countOfLevel,
  countsOfAs4059,
  countsOfIso4406,
  crossRead,
  formatAs4059,
  formatIso4406,
  formatTarget,
  GOST_17216,
  ISO_4406,
  levelOf1246,
  limitsOfClass,
  limitsOfIso4406,
  limitsOfTarget,
  parseAs4059,
  parseIso4406,
  parseTarget,
  parseTwoNumberCode,
  readClassName,
} from "../../src/cleanliness/index.js";
import { cumulativeCounts, intervalCounts } from "../../src/counts/index.js";

const at = (...pairs: readonly (readonly [number, number])[]) =>
  pairs.map(([sizeUm, count]) => ({ sizeUm, count }));

describe("a code of ISO 4406", () => {
  test.each([
    [" 18/16/13 ", "18/16/13"],
    ["18 / 16 / >=7", "18/16/≥7"],
    [">28/>28/28", ">28/>28/28"],
    ["*/16/13", "*/16/13"],
    ["-/13/13", "-/13/13"],
    ["0/0/0", "0/0/0"],
  ])("%j is read as %s", (text, code) => {
    expect(formatIso4406(parseIso4406(text))).toBe(code);
  });

  test.each(["18x/16/13", "x18/16/13", "118/16/13", "18.5/16/13", "//", "18/16/>29"])(
    "%j is refused with the whole text",
    (text) => {
      expect(() => parseIso4406(text)).toThrow(
        `in "${text}" is not a scale number: expected 0 to 28, >28, - or *`,
      );
    },
  );

  test("no number may rise with size, across a dash and to beyond the scale too", () => {
    for (const text of ["28/>28/13", "13/-/16", "13/14/13", "13/12/13"]) {
      expect(() => parseIso4406(text)).toThrow(
        `"${text}" is not an ISO 4406 code: scale numbers cannot rise with size`,
      );
    }
  });

  test("two numbers may stand after a dash or alone, and a dash is no number between them", () => {
    expect(formatIso4406(parseTwoNumberCode(" -/16/13 "))).toBe("-/16/13");
    expect(formatIso4406(parseTwoNumberCode("16/13"))).toBe("-/16/13");
    expect(() => parseTwoNumberCode("16/-/13")).toThrow(
      '"16/-/13" is not a two-number ISO 4406 code: expected scale numbers for 5 and 15 µm, such as 16/13',
    );
  });

  test("each place stands for the counts between two printed limits", () => {
    // Printed: 28 ends at 2 500 000, 13 runs from 40 to 80, 0 ends at 0.01 per mL.
    expect(countsOfIso4406(parseIso4406(">28/13/0"))).toStrictEqual([
      { sizeUm: 4, moreThan: 2_500_000 },
      { sizeUm: 6, moreThan: 40, upTo: 80 },
      { sizeUm: 14, upTo: 0.01 },
    ]);
    expect(countsOfIso4406(parseIso4406("-/*/13")).slice(0, 2)).toStrictEqual([{ sizeUm: 4 }, { sizeUm: 6 }]);
  });

  test("as a target it asks at the places that have a number, and a place without an end cannot be one", () => {
    expect(limitsOfIso4406(parseIso4406("-/15/12"))).toStrictEqual([
      { channel: "6", fromUm: 6, limit: 320, volumeMl: 1 },
      { channel: "14", fromUm: 14, limit: 40, volumeMl: 1 },
    ]);
    expect(() => parseTarget("*/15/12")).toThrow("* has no upper limit and cannot be a target");
    expect(() => parseTarget(">28/15/12")).toThrow(">28 has no upper limit and cannot be a target");
  });

  test("steps are counted where both places have a number, and nowhere else", () => {
    const found = comparePlaces(parseIso4406(">28/-/≥13"), parseIso4406("28/15/12"));
    expect(found.map(({ found: _found, required: _asked, ...rest }) => rest)).toStrictEqual([
      { sizeUm: 4, outcome: "outside" },
      { sizeUm: 6, outcome: "not-known" },
      { sizeUm: 14, outcome: "outside", steps: 1 },
    ]);
    const few = comparePlaces(parseIso4406("18/15/≥12"), parseIso4406("18/16/12"));
    expect(few.map(({ outcome, steps }) => [outcome, steps])).toEqual([
      ["inside", 0],
      ["inside", -1],
      ["not-known", 0],
    ]);
  });
});

describe("a continuous code", () => {
  test("is the scale number at each printed limit, and half a number is the geometric middle", () => {
    expect(continuousCode(0.01, 1)).toEqual({ kind: "code", value: 0 });
    expect(continuousCode(2_500_000, 1)).toEqual({ kind: "code", value: 28 });
    expect(countOfContinuousCode(0)).toBe(0.01);
    expect(countOfContinuousCode(28)).toBe(2_500_000);
    // 17 ends at 1300 and 18 at 2500 per mL.
    expect(countOfContinuousCode(17.5)).toBeCloseTo(Math.sqrt(1300 * 2500), 9);
  });

  test("off the scale it says on which side", () => {
    expect(continuousCode(0, 1)).toEqual({ kind: "below-scale" });
    expect(continuousCode(0.009, 1)).toEqual({ kind: "below-scale" });
    expect(continuousCode(2_500_001, 1)).toEqual({ kind: "beyond-scale" });
  });

  test.each([-1, Number.NaN])("of %d particles there is none", (count) => {
    expect(() => continuousCode(count, 1)).toThrow(`a count must be 0 or more, not ${count}`);
  });

  test.each([-0.5, 28.5, 29, -1, Number.NaN])("%d stands for no count", (value) => {
    expect(() => countOfContinuousCode(value)).toThrow(
      `a continuous code lies between 0 and 28, not ${value}`,
    );
  });
});

describe("a class of AS4059 as it is written", () => {
  test.each([
    [" 6B ", "6B"],
    ["7B/6C/6D", "7B/6C-D"],
    ["6B/6D", "6B/6D"],
    ["6B/5C/5D/6E", "6B/5C-D/6E"],
    ["6A-C/5D-F", "6A-C/5D-F"],
    ["6C/6B", "6C/6B"],
    ["000A", "000A"],
    ["7B / 6C", "7B/6C"],
  ])("%j means %s", (text, written) => {
    expect(formatAs4059(parseAs4059(text).code)).toBe(written);
    expect(parseAs4059(text).assumptions).toEqual([]);
  });

  test.each(["x6B", "6Bx", "6G", "6B-", "B", "", "6B-A", "13B", "6B//5C"])("%j is refused", (text) => {
    expect(() => parseAs4059(text)).toThrow(
      `"${text}" is not a class of AS4059 with size codes: expected such as 6B, 7B/6C/5D or 6B-F`,
    );
  });

  test("without a letter it needs its revision, and what the revision means is said to be from memory", () => {
    expect(() => parseAs4059("6")).toThrow(
      "say the revision (A to F), or write the size codes, such as 6B-F",
    );
    expect(parseAs4059(" 6 ", "E").assumptions).toEqual([
      {
        code: "as4059-without-letter",
        message: "class 6 without a letter was read as table 1, which revision E means from memory",
        source: "AS4059-WITHOUT-LETTER-EARLIER",
      },
    ]);
    expect(parseAs4059("6", "D").assumptions[0]?.message).toBe(
      "class 6 without a letter was read as size B of table 2, which revision D means from memory",
    );
    expect(formatAs4059(parseAs4059("6", "F").code)).toBe("6");
  });

  test("classes are in the order of their limits, beyond the last class last", () => {
    const inOrder = [...CLASS_NAMES, "beyond 12"] as const;
    const mixed = [...inOrder].reverse().sort(compareClasses);
    expect(mixed).toEqual(inOrder);
    expect(compareClasses("00", "00")).toBe(0);
    expect(readClassName(" 00 ")).toBe("00");
    expect(readClassName("13")).toBeUndefined();
  });

  test("the limits of a class are those of the channels that are required", () => {
    expect(limitsOfClass(AS4059_CUMULATIVE, "6", ["B", "F"])).toStrictEqual([
      { channel: "B", fromUm: 6, limit: 19_462, volumeMl: 100 },
      { channel: "F", fromUm: 70, limit: 16, volumeMl: 100 },
    ]);
    expect(limitsOfClass(AS4059_DIFFERENTIAL, "6").map(({ limit }) => limit)).toEqual([
      16_000, 2850, 506, 90, 16,
    ]);
    expect(() => limitsOfClass(AS4059_DIFFERENTIAL, "000" as never)).toThrow(
      "AS4059 differential has no class 000",
    );
  });
});

describe("a table in which some limits are not printed", () => {
  test("a class has no limit where none is printed, and a count is more than the last limit that is", () => {
    // GOST 17216: grades 00 and 1 have no limit at 50-100 µm, grade 0 allows none and grade 2 one.
    expect(limitsOfClass(GOST_17216, "1").map(({ channel, limit }) => [channel, limit])).toEqual([
      ["5-10", 32],
      ["10-25", 16],
      ["25-50", 3],
    ]);
    const one = classifyGost17216(cumulativeCounts(at([38, 1], [70, 0]), 100));
    expect(one?.channels[0]).toMatchObject({ class: "2", moreThan: 0, limit: 1 });
    const none = classifyGost17216(cumulativeCounts(at([38, 0], [70, 0]), 100));
    expect(none?.channels[0]).not.toHaveProperty("moreThan");
  });
});

test("the scale of ISO 4406 as a table names its standard, edition and source", () => {
  expect(ISO_4406).toMatchObject({
    standard: "ISO 4406",
    edition: "1999, scale unchanged in 2017 and 2021",
    source: "ISO-4406",
    beyond: ">28",
  });
});

describe("a target", () => {
  test.each([
    [" 17/15/12 ", "ISO 4406 17/15/12"],
    ["iso 4406  17/15/12", "ISO 4406 17/15/12"],
    ["AS4059 cumulative 7B/6C/6D", "AS4059 cumulative 7B/6C-D"],
    [" as4059 differential 7", "AS4059 differential 7"],
    ["NAS 1638 00 ", "NAS 1638 00"],
  ])("%j is read as %s", (text, said) => {
    expect(formatTarget(parseTarget(text))).toBe(said);
  });

  test.each([
    "17",
    "NAS 1638 000",
    "NAS 1638 13",
    "AS4059 differential 000",
    "AS4059 differential x",
    "clean",
  ])("%j is refused with what is expected", (text) => {
    expect(() => parseTarget(text)).toThrow(
      `"${text}" is not a cleanliness target: expected an ISO 4406 code such as 17/15/12, or ` +
        '"AS4059 cumulative 7A-F", "AS4059 differential 7", "NAS 1638 7" or "NAVAIR 01-1A-17 3"',
    );
  });

  test("the same class number allows the same ranges in NAS 1638 and in table 1 of AS4059", () => {
    const differential = limitsOfTarget(parseTarget("AS4059 differential 7"));
    expect(differential.map(({ channel, limit }) => [channel, limit])).toEqual([
      ["6-14", 32_000],
      ["14-21", 5700],
      ["21-38", 1012],
      ["38-70", 180],
      [">70", 32],
    ]);
    expect(limitsOfTarget(parseTarget("NAS 1638 7"))).toEqual(differential);
  });

  test("a channel that was not counted is not measured, and no particle uses nothing of a limit of none", () => {
    const limits = limitsOfTarget(parseTarget("AS4059 cumulative 000B/000F"));
    const held = compareWithLimits(cumulativeCounts(at([70, 0]), 100), limits);
    expect(held[0]).toStrictEqual({ limit: limits[0], outcome: "not-measured" });
    expect(held[1]).toStrictEqual({ limit: limits[1], outcome: "inside", count: 0, share: 0 });
  });
});

describe("the level of MIL-STD-1246", () => {
  // By hand: 1 particle of 5 µm and larger per 100 mL is level 5, since log N is 0 where L is x.
  test("level 5 allows one particle at 5 µm, level 1 one at 1 µm", () => {
    expect(countOfLevel(5, 5)).toBe(1);
    expect(countOfLevel(1, 1)).toBe(1);
    const counts = cumulativeCounts(at([5, 1], [15, 0]), 100, "um-older");
    expect(levelOf1246(counts)).toStrictEqual({
      standard: "MIL-STD-1246",
      level: expect.closeTo(5, 9),
      channels: [{ sizeUm: 5, count: 1, level: expect.closeTo(5, 9) }],
      governingUm: 5,
    });
  });

  test.each([
    [0.5, 5],
    [100, 0.5],
    [Number.NaN, 5],
    [100, Number.NaN],
  ])("level %d at %d µm is refused", (level, sizeUm) => {
    expect(() => countOfLevel(level, sizeUm)).toThrow(
      `level and size must be 1 or more, not ${level} and ${sizeUm} µm`,
    );
  });

  test("fewer particles than any level allows, or none, ask for no level", () => {
    // log² 5 = 0.4886: at 0.35 per 100 mL log N / 0.926 is −0.4923, at 0.36 −0.4791.
    const levelAt = (count: number) => levelOf1246(cumulativeCounts(at([5, count]), 100, "um-older"));
    expect(levelAt(0.35)).toBeUndefined();
    expect(levelAt(0.36)?.level).toBeGreaterThan(1);
    expect(levelAt(0)).toBeUndefined();
    expect(levelOf1246(cumulativeCounts(at([4, 9]), 1))).toBeUndefined();
  });
});

describe("limits of new fluid", () => {
  const ranges = (...counts: readonly number[]) =>
    counts.map((count, place) => ({ ...(RANGES[place] as { fromUm: number }), count }));
  const RANGES = [
    { fromUm: 5, toUm: 15 },
    { fromUm: 15, toUm: 25 },
    { fromUm: 25, toUm: 50 },
    { fromUm: 50, toUm: 100 },
    { fromUm: 100 },
  ];
  const outcomesOf = (...counts: readonly number[]) =>
    Object.fromEntries(
      compareWithNewFluid(intervalCounts(ranges(...counts), 100, "um-microscope")).map((held) => [
        held.specification,
        held.outcome,
      ]),
    );

  test("fluid on every limit of MIL-DTL-197L instrument oils is inside, one particle more in any range is outside", () => {
    const limits = [150, 45, 23, 10, 0];
    expect(outcomesOf(...limits)["MIL-DTL-197L instrument oils"]).toBe("inside");
    for (const place of limits.keys()) {
      const more = limits.map((limit, own) => (own === place ? limit + 1 : limit));
      expect(outcomesOf(...more)["MIL-DTL-197L instrument oils"]).toBe("outside");
    }
  });

  test("inside needs every range, and is never said of limits that were not all legible", () => {
    expect(outcomesOf(150, 45)["MIL-DTL-197L instrument oils"]).toBe("not-known");
    expect(outcomesOf(150, 46)["MIL-DTL-197L instrument oils"]).toBe("outside");
    expect(outcomesOf(0, 0, 0, 0, 0)["MIL-PRF-6083"]).toBe("not-known");
    expect(outcomesOf(10_001, 0, 0, 0, 0)["MIL-PRF-6083"]).toBe("outside");
  });

  test("a specification without a counted range is left out", () => {
    const only25to50 = [{ fromUm: 25, toUm: 50, count: 1 }];
    const held = compareWithNewFluid(intervalCounts(only25to50, 100, "um-microscope"));
    expect(held.map(({ specification }) => specification)).not.toContain("MIL-PRF-6083");
    expect(held.map(({ specification }) => specification)).toContain("MIL-PRF-5606H");
    expect(compareWithNewFluid(cumulativeCounts(at([4, 1]), 1))).toEqual([]);
  });
});

describe("cross-reading", () => {
  test("a code says something of a size from below alone, as beyond the scale does", () => {
    const reading = crossRead(AS4059_CUMULATIVE, countsOfIso4406(parseIso4406(">28/-/-")));
    expect(reading.ofStated).toEqual({ cleanest: "beyond 12", dirtiest: "beyond 12" });
    expect(reading.channels[0]).toEqual({
      channel: "A",
      cleanest: "beyond 12",
      dirtiest: "beyond 12",
      stated: true,
    });
  });

  test("the last range is stated by its own size alone", () => {
    const reading = crossRead(AS4059_DIFFERENTIAL, countsOfAs4059([{ size: "F", class: "6" }]));
    // Class 6 allows 16 above 70 µm(c), class 5 allows 8.
    expect(reading.channels.at(-1)).toEqual({ channel: ">70", cleanest: "6", dirtiest: "6", stated: true });
    expect(reading.channels[0]).toMatchObject({ channel: "6-14", stated: false });
  });

  test("the cleanest class of AS4059 has no limit below", () => {
    expect(countsOfAs4059([{ size: "A", class: "000" }])).toStrictEqual([{ sizeUm: 4, upTo: 1.95 }]);
    expect(countsOfAs4059([{ size: "A", class: "00" }])).toStrictEqual([
      { sizeUm: 4, moreThan: 1.95, upTo: 3.9 },
    ]);
  });
});
