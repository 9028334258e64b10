import { describe, expect, test } from "vitest";
import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  classConfidence,
  classify,
  classifyAll,
  classifyAs4059Cumulative,
  classifyAs4059Differential,
  classifyNas1638,
  codeConfidence,
  compareIso4406,
  comparePlaces,
  compareWithLimits,
  countsOfAs4059,
  countsOfIso4406,
  crossRead,
  ISO_4406,
  iso4406Channels,
  limitsConfidence,
  limitsOfTarget,
  parseAs4059,
  parseIso4406,
  parseTarget,
  parseTwoNumberCode,
  scaleNumberOf,
} from "../../src/cleanliness/index.js";
import { cumulativeCounts, intervalCounts, toUmC, withEstimates } from "../../src/counts/index.js";
import { seeded } from "../support/counts-near-limits.js";

const at = (...pairs: readonly (readonly [number, number])[]) =>
  pairs.map(([sizeUm, count]) => ({ sizeUm, count }));

describe("the governing channel", () => {
  test("is worked by hand: 15 000, 1 200 and 75 per mL are A 11, B 9 and C 8, and A governs", () => {
    const result = classifyAs4059Cumulative(cumulativeCounts(at([4, 15_000], [6, 1200], [14, 75]), 1));
    expect(result).toMatchObject({ class: "11", governing: "A", missing: ["D", "E", "F"] });
    expect(result?.channels).toEqual([
      {
        channel: "A",
        class: "11",
        count: 15_000,
        basis: "measured",
        moreThan: 800_000,
        limit: 1_600_000,
        share: 0.9375,
        margin: 1000,
      },
      {
        channel: "B",
        class: "9",
        count: 1200,
        basis: "measured",
        moreThan: 77_849,
        limit: 155_698,
        share: 1200 / 1556.98,
        margin: 356.98,
      },
      {
        channel: "C",
        class: "8",
        count: 75,
        basis: "measured",
        moreThan: 6924,
        limit: 13_849,
        share: 75 / 138.49,
        margin: 63.49,
      },
    ]);
  });

  test("of two channels in the worst class is the one that uses more of its limit", () => {
    // Class 6 allows 16 000 in 6-14 and 2 850 in 14-21: 9 000 is 56 %, 2 000 is 70 %.
    const counts = intervalCounts(
      [
        { fromUm: 6, toUm: 14, count: 9000 },
        { fromUm: 14, toUm: 21, count: 2000 },
      ],
      100,
    );
    expect(classifyAs4059Differential(counts)).toMatchObject({ class: "6", governing: "14-21" });
  });

  test("of two that use the same share is the smaller size", () => {
    const counts = intervalCounts(
      [
        { fromUm: 6, toUm: 14, count: 16_000 },
        { fromUm: 14, toUm: 21, count: 2850 },
      ],
      100,
    );
    expect(classifyAs4059Differential(counts)?.governing).toBe("6-14");
  });

  test("beyond class 12 is the channel that exceeds the last limit the most, with the excess as margin", () => {
    const result = classifyAs4059Cumulative(cumulativeCounts(at([6, 1_300_000], [14, 400_000]), 100));
    expect(result).toMatchObject({ class: "beyond 12", governing: "C" });
    const last = result?.channels.at(-1);
    expect(last).toMatchObject({ limit: 221_584, moreThan: 221_584, margin: 221_584 - 400_000 });
    expect(last?.share).toBeCloseTo(400_000 / 221_584, 12);
  });

  test("one particle where the limit is none is beyond any share of it", () => {
    const counts = cumulativeCounts(at([70, 1]), 100);
    const held = compareWithLimits(counts, limitsOfTarget(parseTarget("AS4059 cumulative 00F")));
    expect(held[0]).toMatchObject({ outcome: "outside", share: Number.POSITIVE_INFINITY });
    expect(classifyAs4059Cumulative(counts)?.class).toBe("1");
  });
});

describe("what a class rests on", () => {
  test("a standard is served from the ranges that can be formed, and says which cannot", () => {
    const result = classify(cumulativeCounts(at([4, 15_000], [6, 1200], [14, 75]), 1));
    expect(result.as4059Differential).toMatchObject({
      class: "9",
      missing: ["14-21", "21-38", "38-70", ">70"],
    });
    expect(result.assumptions.filter((entry) => entry.code === "class-from-some-channels")).toHaveLength(3);
  });

  test("a standard the sizes cannot serve is refused with the sizes it needs, on the scale of the counts", () => {
    const umC = classifyAll(cumulativeCounts(at([4, 10], [6, 5]), 1));
    expect(umC.as4059Differential).toBeUndefined();
    expect(umC.unserved).toContainEqual({ standard: "ISO 4406", needsUm: [4, 6, 14], needs: "all" });
    expect(umC.unserved).toContainEqual({
      standard: "NAS 1638",
      needsUm: [6, 14, 21, 38, 70],
      needs: "two neighbours or the last",
    });
    const onlyA = classifyAll(cumulativeCounts(at([4, 10]), 1)).unserved.map((entry) => entry.standard);
    expect(onlyA).toContain("MIL-STD-1246");
    const none = classifyAll(cumulativeCounts(at([4, 10], [6, 0]), 1));
    expect(none.milStd1246).toBeUndefined();
    expect(none.unserved.map((entry) => entry.standard)).not.toContain("MIL-STD-1246");
    const older = classifyAll(cumulativeCounts(at([5, 5]), 1, "um-older"));
    expect(older.unserved).toContainEqual({ standard: "ISO 4406", needsUm: [5, 15], needs: "all" });
    expect(older.assumptions.map((entry) => entry.message)).toContain(
      "ISO 4406 is not given: it needs 5 and 15 µm",
    );
  });

  test("NAS 1638 is measured by microscope, and converted from µm(c)", () => {
    const basisOf = (counts: Parameters<typeof classifyNas1638>[0]) =>
      classifyNas1638(counts)?.channels[0]?.basis;
    expect(basisOf(intervalCounts([{ fromUm: 5, toUm: 15, count: 1 }], 100, "um-microscope"))).toBe(
      "measured",
    );
    expect(basisOf(intervalCounts([{ fromUm: 6, toUm: 14, count: 1 }], 100))).toBe("converted");
    const older = classifyNas1638(intervalCounts([{ fromUm: 5, toUm: 15, count: 1 }], 100, "um-older"));
    expect(older?.assumptions[0]?.code).toBe("nas-1638-by-counter");
  });

  test("counts on the older scale are read in the table's own columns, not converted, and say so", () => {
    const result = classifyAs4059Cumulative(cumulativeCounts(at([5, 19_462], [15, 3462]), 100, "um-older"));
    expect(result).toMatchObject({ class: "6", missing: ["A", "D", "E", "F"] });
    expect(result?.assumptions[0]?.message).toContain("they are not converted");
  });

  test("counts converted to 6.4 µm(c) do not pass for counts at 6 µm(c)", () => {
    const { counts } = toUmC(cumulativeCounts(at([5, 19_462], [15, 3462], [25, 612]), 100, "um-older"));
    expect(classifyAs4059Cumulative(counts)).toBeUndefined();
    const estimated = withEstimates(counts, [6, 14]).counts;
    expect(classifyAs4059Cumulative(estimated)?.missing).toEqual(["A", "B", "D", "E", "F"]);
    expect(classifyAs4059Cumulative(estimated)?.channels[0]).toMatchObject({
      channel: "C",
      basis: "estimated",
    });
  });

  test("sizes in µm(b) are refused by every table until they are converted", () => {
    const counts = cumulativeCounts(at([4, 10]), 1, "um(b)");
    // @ts-expect-error [ts2345] - no table knows µm(b)
    expect(() => classify(counts)).toThrow("sizes in µm(b) must be brought to µm(c)");
  });

  test("a range formed with an estimated count is estimated", () => {
    const set = withEstimates(cumulativeCounts(at([6, 1000], [21, 50]), 1), [14]).counts;
    expect(classifyAs4059Differential(set)?.channels.map((entry) => entry.basis)).toEqual([
      "estimated",
      "estimated",
    ]);
  });
});

describe("codes and targets", () => {
  test.each([
    ["18/16/29", '"29" in "18/16/29" is not a scale number: expected 0 to 28, >28, - or *'],
    ["18/16", "expected three scale numbers for 4, 6 and 14 µm(c)"],
    ["16/18/13", "scale numbers cannot rise with size"],
    ["18/NaN/13", '"NaN" in "18/NaN/13" is not a scale number'],
    ["18/16/-1", '"-1" in "18/16/-1" is not a scale number'],
  ])("the code %s is refused", (text, message) => {
    expect(() => parseIso4406(text)).toThrow(message);
  });

  test("a count that is not a number has no scale number", () => {
    expect(() => scaleNumberOf(Number.NaN, 1)).toThrow("a count must be 0 or more, not NaN");
    expect(() => scaleNumberOf(-1, 1)).toThrow("a count must be 0 or more, not -1");
  });

  test("a two-number code is read only by its own reader", () => {
    expect(() => parseIso4406("16/13")).toThrow("expected three");
    expect(() => parseTwoNumberCode("18/16/13")).toThrow("expected scale numbers for 5 and 15 µm");
  });

  test("each place of a code is held against its target", () => {
    const found = comparePlaces(parseIso4406("19/15/≥12"), parseIso4406("17/-/13"));
    expect(found.map(({ outcome, steps }) => [outcome, steps])).toEqual([
      ["outside", 2],
      ["no-limit", undefined],
      ["not-known", -1],
    ]);
    expect(compareIso4406(parseIso4406("17/15/12"), parseIso4406("17/15/12"))).toBe("inside");
    expect(compareIso4406(parseIso4406("*/15/12"), parseIso4406("17/15/12"))).toBe("outside");
    expect(compareIso4406(parseIso4406("-/15/12"), parseIso4406("17/15/12"))).toBe("not-known");
    expect(compareIso4406(parseIso4406(">28/15/12"), parseIso4406("28/15/12"))).toBe("outside");
  });

  test("the channels of a code carry their margins", () => {
    const channels = iso4406Channels(cumulativeCounts(at([4, 15_000], [6, 1200], [14, 75]), 1));
    expect(channels.map(({ channel, class: name, margin }) => [channel, name, margin])).toEqual([
      ["4", "21", 5000],
      ["6", "17", 100],
      ["14", "13", 5],
    ]);
  });
});

describe("the limits of a target are worked out once, and each caller has a list of its own:", () => {
  test.each(["AS4059 cumulative 7A-F", "AS4059 differential 7", "NAS 1638 7", "NAVAIR 01-1A-17 3"])(
    "%s",
    (text) => {
      const [one, other] = [limitsOfTarget(parseTarget(text)), limitsOfTarget(parseTarget(text))];
      expect(one.length).toBeGreaterThan(3);
      expect(one).not.toBe(other);
      expect(one.map((limit, place) => limit === other[place] && Object.isFrozen(limit))).not.toContain(
        false,
      );
    },
  );
});

describe("an AS4059 class without a letter", () => {
  test("is refused without its revision", () => {
    expect(() => parseAs4059("6")).toThrow("means different things in different revisions");
  });

  test("is table 1 in revision F", () => {
    expect(parseAs4059("6", "F")).toEqual({ code: { kind: "differential", class: "6" }, assumptions: [] });
  });

  test("is table 1 in revision E and size B before, both from memory and said so", () => {
    const inE = parseAs4059("6", "E");
    expect(inE.code).toEqual({ kind: "differential", class: "6" });
    const inC = parseAs4059("6", "C");
    expect(inC.code).toEqual({ kind: "by-size", bySize: [{ size: "B", class: "6" }] });
    for (const read of [inE, inC]) expect(read.assumptions[0]?.message).toContain("from memory");
  });

  test("000 is no class of table 1, and a size given twice or backwards is refused", () => {
    expect(() => parseAs4059("000", "F")).toThrow("which begins at 00");
    expect(() => parseAs4059("7B/6B")).toThrow("gives the size B twice");
    expect(() => parseAs4059("6F-B")).toThrow("is not a class of AS4059");
    expect(() => parseAs4059("13B")).toThrow("is not a class of AS4059");
  });
});

describe("cross-reading", () => {
  test("ISO 18/16/13 is worked by hand: A 8 to 9, B and C 7 to 8, and nothing holds D to F down", () => {
    const reading = crossRead(AS4059_CUMULATIVE, countsOfIso4406(parseIso4406("18/16/13")));
    // 1300 to 2500 per mL lies above 100 000 per 100 mL (class 7) and reaches over 200 000 (class 8).
    expect(reading.channels.slice(0, 3)).toEqual([
      { channel: "A", cleanest: "8", dirtiest: "9", stated: true },
      { channel: "B", cleanest: "7", dirtiest: "8", stated: true },
      { channel: "C", cleanest: "7", dirtiest: "8", stated: true },
    ]);
    expect(reading.ofStated).toEqual({ cleanest: "8", dirtiest: "9" });
    expect(reading.channels[3]).toEqual({ channel: "D", cleanest: "000", dirtiest: "10", stated: false });
    expect(reading).toMatchObject({ cleanest: "8", dirtiest: "beyond 12" });
  });

  test("a range is bounded from both codes: more than 320 − 80 and at most 640 − 40 per mL between 6 and 14 µm(c)", () => {
    const reading = crossRead(AS4059_DIFFERENTIAL, countsOfIso4406(parseIso4406("18/16/13")));
    expect(reading.channels[0]).toEqual({ channel: "6-14", cleanest: "7", dirtiest: "8", stated: true });
  });

  test("more than 160 − 80 per mL is more than the 8 000 of class 5, which leaves class 6 as the cleanest", () => {
    const reading = crossRead(AS4059_DIFFERENTIAL, countsOfIso4406(parseIso4406("16/15/13")));
    expect(reading.channels[0]).toMatchObject({ channel: "6-14", cleanest: "6", dirtiest: "7" });
  });

  test.each(AS4059_CUMULATIVE.rows.slice(4))(
    "class %s of AS4059 read in AS4059 is that class at each of its sizes",
    (name) => {
      const bySize = (["A", "B", "C", "D", "E"] as const).map((size) => ({ size, class: name }));
      const reading = crossRead(AS4059_CUMULATIVE, countsOfAs4059(bySize));
      for (const channel of reading.channels.slice(0, 5)) {
        expect(channel).toMatchObject({ cleanest: name, dirtiest: name, stated: true });
      }
    },
  );

  test("places that say nothing bound nothing", () => {
    const reading = crossRead(AS4059_CUMULATIVE, countsOfIso4406(parseIso4406("-/-/13")));
    expect(reading.channels[0]).toMatchObject({ cleanest: "3", dirtiest: "beyond 12", stated: false });
    expect(reading.ofStated).toEqual({ cleanest: "7", dirtiest: "8" });
    expect(crossRead(AS4059_CUMULATIVE, []).ofStated).toBeUndefined();
  });
});

describe("how sure a class is", () => {
  const counted = cumulativeCounts(at([4, 150], [6, 40], [14, 3]), 1, "um(c)", { countedMl: 25 });
  const laboratory = { kind: "relative", rsd: 0.15 } as const;

  test("1 000 particles counted on a limit are half inside it, a hair less for the half particle of the prior", () => {
    const certainty = classConfidence(ISO_4406, counted);
    const at6 = certainty.channels[1];
    if (at6?.kind !== "known") throw new Error("6 µm(c) was counted");
    expect(at6.raw).toBe(1000);
    const likely = at6.classes.filter((entry) => entry.probability > 0.01);
    expect(likely.map((entry) => entry.class)).toEqual(["12", "13"]);
    expect(likely[0]?.probability).toBeCloseTo(0.498, 3);
  });

  test("is not told without the counted volume, from an estimated count, or for a channel that was not counted", () => {
    const unknown = cumulativeCounts(at([4, 150], [6, 40], [14, 3]), 1);
    expect(classConfidence(ISO_4406, unknown).channels[0]).toMatchObject({ kind: "cannot-tell" });
    expect(classConfidence(ISO_4406, unknown).noDirtierThan).toEqual([]);
    expect(limitsConfidence(limitsOfTarget(parseTarget("17/15/12")), unknown)).toMatchObject({
      kind: "cannot-tell",
    });
    const guessed = withEstimates(counted, [10]).counts;
    const range = limitsOfTarget(parseTarget("NAS 1638 6"));
    expect(limitsConfidence(range, guessed)).toMatchObject({
      kind: "cannot-tell",
      why: "channel 14-21 was not counted",
    });
  });

  test("the code as a whole lies between the doubts taken together and the least sure place", () => {
    const code = parseIso4406("14/12/9");
    const sure = codeConfidence(code, counted, laboratory);
    if (sure.kind !== "known") throw new Error(sure.why);
    const places = sure.channels.map((entry) => entry.probability);
    expect(sure.atMost).toBe(Math.min(...places));
    expect(sure.atLeast).toBeCloseTo(Math.max(0, places.reduce((sum, p) => sum + p, 0) - 2), 12);
    expect(sure.ifLaboratoryErrsAlike.atLeast).toBeGreaterThanOrEqual(sure.atLeast);
    expect(sure.ifLaboratoryErrsAlike.atMost).toBeLessThanOrEqual(sure.atMost + 1e-9);
  });

  test("simulated fluids meet a target as often as the range says, with one laboratory factor for all channels", () => {
    const limits = limitsOfTarget(parseTarget("14/12/8"));
    const sure = limitsConfidence(limits, counted, laboratory);
    if (sure.kind !== "known") throw new Error(sure.why);
    const random = seeded(31);
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    // Gamma numbers after Marsaglia and Tsang, for shapes above 1.
    const gamma = (shape: number) => {
      const d = shape - 1 / 3;
      for (;;) {
        const z = normal();
        const v = (1 + z / Math.sqrt(9 * d)) ** 3;
        if (v > 0 && Math.log(1 - random()) < (z * z) / 2 + d - d * v + d * Math.log(v)) return d * v;
      }
    };
    const logSd = Math.sqrt(Math.log1p(laboratory.rsd ** 2));
    const draws = 40_000;
    let met = 0;
    for (let draw = 0; draw < draws; draw += 1) {
      // Particles above 14 µm are among those above 6, and those among the ones above 4.
      const above14 = gamma(75.5);
      const above6 = above14 + gamma(1000 - 75);
      const above4 = above6 + gamma(3750 - 1000);
      const perMl = 1 / (25 * Math.exp(logSd * normal()));
      const levels = [above4 * perMl, above6 * perMl, above14 * perMl];
      if (limits.every((limit, index) => (levels[index] as number) <= limit.limit)) met += 1;
    }
    const error = 3 * Math.sqrt(0.25 / draws);
    expect(met / draws).toBeGreaterThan(sure.ifLaboratoryErrsAlike.atLeast - error);
    expect(met / draws).toBeLessThan(sure.ifLaboratoryErrsAlike.atMost + error);
    expect(met / draws).toBeGreaterThan(sure.atLeast - error);
  });

  test("a laboratory that spreads more makes a class less sure", () => {
    const sureOf = (rsd: number) => {
      const certainty = limitsConfidence(limitsOfTarget(parseTarget("15/13/10")), counted, {
        kind: "relative",
        rsd,
      });
      return certainty.kind === "known" ? certainty.atLeast : Number.NaN;
    };
    expect(sureOf(0.1)).toBeGreaterThan(sureOf(0.5));
  });
});
