import { describe, expect, test } from "vitest";
import { classify } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import {
  type CircuitCase,
  compareVerdicts,
  decide,
  judgeCarts,
  judgeCircuit,
  REASONS,
  type ReasonCode,
  reason,
  VERDICTS,
} from "../../src/fitness/index.js";
import type { Sample } from "../../src/samples/index.js";
import {
  caseOf,
  CIRCUIT as circuit,
  CLEAN as clean,
  counts,
  events,
  REQUIREMENT as requirement,
  without,
} from "../support/fitness/bases.js";

type GivenInstead = Pick<Sample, "reportedClasses" | "otherScaleCounts" | "limitedCounts" | "wordedResults">;

const judge = (change: Partial<CircuitCase>) => judgeCircuit(caseOf(change));

describe("the verdict on one circuit", () => {
  test("without a requirement by the system's name nothing may be connected, and nothing is matched by guess", () => {
    const verdict = judgeCircuit({ cart: "C-1", circuit, samples: [clean], unread: [], on: "2026-03-14" });
    expect(verdict.verdict).toBe("do-not-connect");
    expect(verdict.reasons[0]?.message).toBe(
      'no requirement is named "main system", the system this circuit serves',
    );
  });

  test("particles outside bring the plan with them: the slowest channel by the hand formula", () => {
    const verdict = judge({ samples: [{ ...clean, counts: counts(20000, 5000, 640) }] });
    // By hand: after 2.8795 passes of 60 L at 45 L/min the bins 15000, 4360 and 640 per mL, of which 950, 49.36 and
    // 0.64 get through in a pass, are 1011.0, 253.0 and 36.0, together the limit of 1300.
    expect(verdict.circulation).toMatchObject({
      reachable: true,
      minutes: expect.closeTo((2.8795 * 60) / 45, 3),
    });
    expect(judge({}).circulation).toBeUndefined();
  });

  test("a sample drawn before the fluid was changed says nothing about particles, water or acid", () => {
    const dirty = { ...clean, counts: counts(20000, 5000, 640), waterPpm: { value: 900 } };
    const codes = judge({
      samples: [dirty],
      ...events({ kind: "fluid-change", on: "2026-03-05" }),
    }).reasons.map((r) => r.code);
    expect(codes).not.toContain("water-outside");
    expect(codes).not.toContain("particles-outside");
  });

  const GIVEN: readonly (readonly [string, GivenInstead, string])[] = [
    [
      "a class alone",
      { reportedClasses: [{ standard: "NAS 1638", class: "8" }] },
      "sample S-1 has no particle counts; its report gives NAS 1638 8, and limits are compared with counts in µm(c) or a class of the target's own standard and edition, written with its sizes or its table and no other note",
    ],
    [
      "a class that names its standard",
      { reportedClasses: [{ standard: "NAS 1638", class: "NAS 1638 8" }] },
      "sample S-1 has no particle counts; its report gives NAS 1638 8, and limits are compared with counts in µm(c) or a class of the target's own standard and edition, written with its sizes or its table and no other note",
    ],
    [
      "another scale",
      { otherScaleCounts: [{ scale: "um-older", fromUm: 5, volumeMl: 100, count: 3000 }] },
      "sample S-1 has no particle counts; its report gives counts on another size scale, and limits are compared with counts in µm(c) or a class of the target's own standard and edition, written with its sizes or its table and no other note",
    ],
    [
      "limits and words",
      {
        limitedCounts: [{ sizeUm: 4, volumeMl: 1, count: 50000, limit: "below" }],
        wordedResults: [{ measurand: "count above 6 µm(c)", said: "not-detected" }],
      },
      'sample S-1 has no particle counts; its report gives < 50000 per mL above 4 µm(c), "not-detected" as count above 6 µm(c), and limits are compared with counts in µm(c) or a class of the target\'s own standard and edition, written with its sizes or its table and no other note',
    ],
  ];
  test.each(GIVEN)("where the report gives %s for the counts, the reason says so", (_, given, message) => {
    const { counts: _counts, ...rest } = clean;
    expect(judge({ samples: [{ ...rest, ...given }] }).reasons.map((r) => r.message)).toContain(message);
  });

  test("a size that was reported as a limit or in words is not said to be left out of the report", () => {
    const sample = {
      ...clean,
      counts: cumulativeCounts([{ sizeUm: 14, count: 20 }], 1),
      limitedCounts: [{ sizeUm: 4, volumeMl: 1, count: 1000, limit: "above" as const }],
      wordedResults: [
        { measurand: "count above 6 µm(c)", said: "too-many-to-count" as const },
        { measurand: "water", said: "trace" as const },
      ],
    };
    const { waterPpm: _water, ...withoutWater } = sample;
    const messages = judge({ samples: [withoutWater] }).reasons.map((r) => r.message);
    expect(messages).toContain(
      'ISO 4406 17/15/12 asks for 4, 6, which was not counted; the report gives > 1000 per mL above 4 µm(c), "too-many-to-count" as count above 6 µm(c), which is no number',
    );
    expect(messages).toContain('water was not measured as a number; the report says "trace"');
  });

  test("only the latest sample counts, whatever the order of the files", () => {
    const older = { ...clean, sample: "S-0", drawnOn: "2026-02-01", waterPpm: { value: 900 } };
    expect(judge({ samples: [older, clean] }).verdict).toBe("fit");
    expect(judge({ samples: [clean, older] }).verdict).toBe("fit");
  });

  test("of two samples of one day without times the stricter counts, and the verdict says so", () => {
    const wet = { ...clean, sample: "S-2", waterPpm: { value: 900 } };
    for (const samples of [
      [clean, wet],
      [wet, clean],
    ]) {
      const verdict = judge({ samples });
      expect(verdict.verdict).toBe("exchange-fluid");
      expect(verdict.assumptions.map((entry) => entry.code)).toContain("several-samples-that-day");
    }
  });

  test("of two samples of one day with times the later counts", () => {
    const wet = { ...clean, sample: "S-2", waterPpm: { value: 900 }, drawnTime: "08:10" };
    expect(judge({ samples: [wet, { ...clean, drawnTime: "09:40" }] }).verdict).toBe("fit");
    expect(
      judge({
        samples: [
          { ...wet, drawnTime: "10:00" },
          { ...clean, drawnTime: "09:40" },
        ],
      }).verdict,
    ).toBe("exchange-fluid");
  });

  test.each([
    ["one of the two has no time", "23:00", undefined],
    ["one time is of another zone", "23:00", "09:40+02:00"],
    ["they have the same time", "09:40", "09:40"],
  ])("where %s their order is not known, and the stricter counts", (_, ofClean, ofWet) => {
    const at = (drawnTime: string | undefined) => (drawnTime === undefined ? {} : { drawnTime });
    const wet = { ...clean, sample: "S-2", waterPpm: { value: 900 }, ...at(ofWet) };
    const verdict = judge({ samples: [{ ...clean, ...at(ofClean) }, wet] });
    expect(verdict.verdict).toBe("exchange-fluid");
    expect(verdict.assumptions).toContainEqual({
      code: "several-samples-that-day",
      message:
        "2 samples were drawn on 2026-03-04 in an order that is not known; the strictest verdict counts",
    });
  });

  test("of samples of one day that are as strict, the last by name speaks, whatever the order of the files", () => {
    const three = ["S-2", "S-10", "S-3"].map((sample) => ({ ...clean, sample }));
    for (const samples of [three, [...three].reverse(), [...three].sort(() => -1)])
      expect(judge({ samples }).sample?.sample).toBe("S-3");
  });

  test("the classes of the sample are in its verdict, and none where nothing was counted", () => {
    expect(judge({ samples: [clean] }).classification).toEqual(classify(counts(1300, 320, 40)));
    expect(judge({ samples: [without(clean, "counts")] })).not.toHaveProperty("classification");
    expect(judge({ samples: [] })).not.toHaveProperty("classification");
  });

  test("a missing label is not a pass in silence: the assumption is returned", () => {
    expect(judge({ samples: [without(clean, "fluid")] }).assumptions.map((entry) => entry.code)).toContain(
      "fluid-as-declared",
    );
  });
});

describe("precedence", () => {
  test("the strictest reason decides in every pair of reasons", () => {
    const codes = Object.keys(REASONS) as ReasonCode[];
    for (const a of codes) {
      for (const b of codes) {
        const stricter =
          VERDICTS.indexOf(REASONS[a]) > VERDICTS.indexOf(REASONS[b]) ? REASONS[a] : REASONS[b];
        expect(decide([reason(a, ""), reason(b, "")])).toBe(stricter);
      }
    }
  });

  test("the order is fit, circulate, exchange-fluid, resample, do-not-connect", () => {
    expect([...VERDICTS].sort(compareVerdicts)).toEqual([
      "fit",
      "circulate",
      "exchange-fluid",
      "resample",
      "do-not-connect",
    ]);
  });

  test("no reason at all is never fit", () => {
    expect(decide([])).toBe("do-not-connect");
  });
});

describe("a fleet", () => {
  const carts = [
    { cart: "C-1", circuits: [circuit, { ...circuit, circuit: "2" }] },
    { cart: "C-2", circuits: [circuit] },
  ];
  const other = { ...clean, cart: "C-2", sample: "S-9", waterPpm: { value: 900 } };

  test("each circuit gets its own samples and no others, in the order of the carts", () => {
    const judged = judgeCarts({
      carts,
      requirements: [requirement],
      samples: [other, clean],
      unread: [],
      on: "2026-03-14",
    });
    expect(judged.map(({ verdict }) => [verdict.cart, verdict.circuit, verdict.verdict])).toEqual([
      ["C-1", "1", "fit"],
      ["C-1", "2", "resample"],
      ["C-2", "1", "exchange-fluid"],
    ]);
  });

  test.each([
    ["the cart in other letters", { cart: "c 1", circuit: "1" }, ["resample", "fit", "fit"]],
    ["a cart without a circuit", { cart: "C-1" }, ["resample", "resample", "fit"]],
    ["a circuit without a cart", { circuit: "1" }, ["resample", "fit", "resample"]],
    ["an unknown cart", { cart: "X-9", circuit: "1" }, ["fit", "fit", "fit"]],
    ["neither", {}, ["fit", "fit", "fit"]],
  ])("an unread row that names %s warns every circuit it may belong to", (_name, names, verdicts) => {
    const samples = [clean, { ...clean, circuit: "2" }, { ...clean, cart: "C-2" }];
    const unread = [{ ...names, where: "a.csv row 9" }];
    const judged = judgeCarts({ carts, requirements: [requirement], samples, unread, on: "2026-03-14" });
    expect(judged.map(({ verdict }) => verdict.verdict)).toEqual(verdicts);
  });

  test("a cart whose data cannot be planned with is not to be connected, and the reason says what is wrong", () => {
    const broken = { ...circuit, ingress: [{ sizeUmC: 6, particlesPerMin: 1e6 }] };
    const dirty = { ...clean, counts: counts(20000, 5000, 640) };
    const [judged] = judgeCarts({
      carts: [{ cart: "C-1", circuits: [broken] }],
      requirements: [requirement],
      samples: [dirty],
      unread: [],
      on: "2026-03-14",
    });
    expect(judged?.verdict.verdict).toBe("do-not-connect");
    expect(judged?.verdict.reasons[0]?.message).toMatch(
      /cannot be judged with: ingress is needed at 4 µm\(c\)/,
    );
  });

  test("trends start anew at a fluid change and take limit values as limits, by name", () => {
    const water = (drawnOn: string, value: number, limit?: "below") => ({
      ...clean,
      sample: drawnOn,
      drawnOn,
      waterPpm: { value, ...(limit && { limit }) },
    });
    const rising = [
      water("2025-03-01", 900),
      water("2025-06-01", 50, "below"),
      water("2025-07-01", 100),
      water("2025-10-01", 125),
      water("2026-01-01", 150),
      water("2026-03-04", 167),
    ];
    const [judged] = judgeCarts({
      carts: [
        {
          cart: "C-1",
          circuits: [{ ...circuit, events: [{ kind: "fluid-change" as const, on: "2025-05-01" }] }],
        },
      ],
      requirements: [requirement],
      samples: rising,
      unread: [],
      on: "2026-03-14",
    });
    // The four measured values rise by 99 a year; that the one before them lay below 50 says a little more than that.
    expect(judged?.trends.waterPpmPerYear).toMatchObject({ kind: "slope", n: 5, limited: 1 });
    const slope = judged?.trends.waterPpmPerYear;
    expect(slope?.kind === "slope" && slope.slope).toBeGreaterThanOrEqual(99);
    expect(slope?.kind === "slope" && slope.slope).toBeLessThan(160);
    expect(judged?.trends.assumptions.map((entry) => entry.code)).toEqual(["limit-values"]);
  });
});
