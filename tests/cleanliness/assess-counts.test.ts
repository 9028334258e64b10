import { describe, expect, test } from "vitest";
import { assessTarget, classifyAll, confidenceOfClasses, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

/** Counts per mL above 4, 6 and 14 µm(c); 17/15/12 allows 1300, 320 and 40 (ISO 4406:2021, table 1). */
function counts(at4: number, at6?: number, at14?: number, countedMl?: number) {
  const values = [at4, at6, at14].map((count, index) => ({ sizeUm: [4, 6, 14][index] as number, count }));
  return cumulativeCounts(
    values.filter((entry): entry is { sizeUm: number; count: number } => entry.count !== undefined),
    1,
    "um(c)",
    countedMl === undefined ? undefined : { countedMl },
  );
}

describe("a target", () => {
  test.each([
    ["at every limit it is met", counts(1300, 320, 40), "inside"],
    ["one particle above one limit exceeds it", counts(1301, 320, 40), "outside"],
    ["a size that was not counted leaves it open", counts(1300, 320), "not-known"],
    ["a size that was not counted excuses no other", counts(1301, 320), "outside"],
  ] as const)("%s", (_, sample, outcome) => {
    const assessed = assessTarget(sample, parseTarget("17/15/12"));
    expect(assessed.outcome).toBe(outcome);
    expect(assessed.channels.map(({ limit }) => limit.limit)).toEqual([1300, 320, 40]);
  });

  test("has a probability where it is known how much was counted, channel by channel and together", () => {
    const known = assessTarget(counts(1000, 200, 20, 20), parseTarget("17/15/12"));
    expect(known.channels.every(({ probability }) => (probability ?? 0) > 0.99)).toBe(true);
    expect(known.probability?.atLeast).toBeGreaterThan(0.99);
    const unknown = assessTarget(counts(1000, 200, 20), parseTarget("17/15/12"));
    expect([unknown.probability, unknown.channels[0]?.probability]).toEqual([undefined, undefined]);
  });
});

describe("how sure the classes are", () => {
  const of = (sample: ReturnType<typeof counts>, limits: "unrounded" | "rounded" = "unrounded") =>
    confidenceOfClasses(sample, classifyAll(sample, limits), limits);

  test("is not known without the volume that was counted", () => {
    expect(of(counts(1000, 200, 20))).toBeUndefined();
  });

  test("leaves out classes less probable than one in a million, and nothing that matters", () => {
    const found = of(counts(1000, 200, 20, 20));
    for (const channel of found?.iso4406?.channels ?? []) {
      if (channel.kind !== "known") throw new Error(channel.why);
      expect(channel.classes.every(({ probability }) => probability > 1e-6)).toBe(true);
      const sum = channel.classes.reduce((total, { probability }) => total + probability, 0);
      expect(sum).toBeCloseTo(1, 4);
    }
    expect(found?.iso4406?.channels).toHaveLength(3);
  });

  test("is absent for a standard that no channel was counted of", () => {
    expect(of(counts(1000, undefined, undefined, 20))?.nas1638).toBeUndefined();
  });

  test("goes by the AS4059 table that the classes were taken from", () => {
    const [unrounded, rounded] = (["unrounded", "rounded"] as const).map(
      (limits) => of(counts(1000, 200, 20, 20), limits)?.as4059Cumulative,
    );
    expect(unrounded).not.toEqual(rounded);
  });

  test("at 4 µm is not asked of the older scale, where that size means another", () => {
    const older = cumulativeCounts(
      [
        { sizeUm: 2, count: 1000 },
        { sizeUm: 5, count: 200 },
        { sizeUm: 15, count: 20 },
      ],
      1,
      "um-older",
      { countedMl: 20 },
    );
    const found = confidenceOfClasses(older, classifyAll(older, "unrounded"), "unrounded");
    expect(found?.iso4406?.channels.map(({ channel }) => channel)).toEqual(["6", "14"]);
  });
});
