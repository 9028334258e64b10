import { describe, expect, test } from "vitest";
import { readTarget } from "../src/cleanliness/index.js";
import { cumulativeCounts } from "../src/counts/index.js";
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
  type VerdictName,
} from "../src/fitness/index.js";
import type { Circuit, Requirement, Sample } from "../src/samples/index.js";

const circuit: Circuit = {
  circuit: "1",
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volumeL: 60,
  flowLpm: 45,
  element: {
    position: "pressure",
    betas: [
      { sizeUmC: 4, beta: 20 },
      { sizeUmC: 6, beta: 100 },
      { sizeUmC: 14, beta: 1000 },
    ],
  },
  events: [],
};

const requirement: Requirement = {
  system: "main system",
  fluids: ["MIL-PRF-83282"],
  cleanliness: [readTarget("17/15/12")],
  waterPpmMax: 200,
  acidMgKohPerGMax: 0.2,
  sampleAgeDaysMax: 30,
};

function counts(...perMl: number[]) {
  const sizes = [4, 6, 14, 21, 38, 70];
  return cumulativeCounts(
    perMl.map((count, index) => ({ sizeUm: sizes[index] as number, count })),
    1,
  );
}

/** A sample that is clean, dry, unspoiled and ten days old: every case below changes one thing. */
const clean: Sample = {
  sample: "S-1",
  cart: "C-1",
  circuit: "1",
  drawnOn: "2026-03-04",
  fluid: "MIL-PRF-83282D",
  counts: counts(1300, 320, 40),
  waterPpm: { value: 200 },
  acidMgKohPerG: { value: 0.2 },
  origin: [{ file: "a.csv", rows: [2] }],
};

function without(...keys: (keyof Sample)[]): Sample {
  return Object.fromEntries(
    Object.entries(clean).filter(([key]) => !keys.includes(key as keyof Sample)),
  ) as Sample;
}

function judge(change: Partial<CircuitCase>) {
  return judgeCircuit({
    cart: "C-1",
    circuit,
    requirement,
    samples: [clean],
    unread: [],
    on: "2026-03-14",
    ...change,
  });
}

const events = (kind: Circuit["events"][number]["kind"], on: string) => ({
  ...circuit,
  events: [{ kind, on }],
});

// Each case was reasoned by hand: what changes, the verdict it must lead to, and the reason that decides.
const CASES: readonly (readonly [string, Partial<CircuitCase>, VerdictName, ReasonCode])[] = [
  ["everything exactly at its limit", {}, "fit", "fluid-allowed"],
  [
    "4 µm(c) one particle per mL above",
    { samples: [{ ...clean, counts: counts(1301, 320, 40) }] },
    "circulate",
    "particles-outside",
  ],
  [
    "6 µm(c) just above",
    { samples: [{ ...clean, counts: counts(1300, 320.01, 40) }] },
    "circulate",
    "particles-outside",
  ],
  [
    "14 µm(c) just above",
    { samples: [{ ...clean, counts: counts(1300, 320, 40.01) }] },
    "circulate",
    "particles-outside",
  ],
  [
    "water one ppm above",
    { samples: [{ ...clean, waterPpm: { value: 201 } }] },
    "exchange-fluid",
    "water-outside",
  ],
  [
    "acid just above",
    { samples: [{ ...clean, acidMgKohPerG: { value: 0.201 } }] },
    "exchange-fluid",
    "acid-outside",
  ],
  [
    "water given as below the limit",
    { samples: [{ ...clean, waterPpm: { value: 200, limit: "below" } }] },
    "fit",
    "fluid-allowed",
  ],
  [
    "water given as below more than the limit",
    { samples: [{ ...clean, waterPpm: { value: 250, limit: "below" } }] },
    "resample",
    "water-not-known",
  ],
  [
    "water given as above the limit",
    { samples: [{ ...clean, waterPpm: { value: 200, limit: "above" } }] },
    "exchange-fluid",
    "water-outside",
  ],
  [
    "acid given as above less than the limit",
    { samples: [{ ...clean, acidMgKohPerG: { value: 0.1, limit: "above" } }] },
    "resample",
    "acid-not-known",
  ],
  ["no water result", { samples: [without("waterPpm")] }, "resample", "water-not-measured"],
  ["no acid result", { samples: [without("acidMgKohPerG")] }, "resample", "acid-not-measured"],
  ["no counts", { samples: [without("counts")] }, "resample", "particles-not-measured"],
  [
    "14 µm(c) not counted",
    { samples: [{ ...clean, counts: counts(1300, 320) }] },
    "resample",
    "particles-not-measured",
  ],
  ["no sample at all", { samples: [] }, "resample", "no-sample"],
  ["a sample exactly as old as allowed", { on: "2026-04-03" }, "fit", "fluid-allowed"],
  ["a sample one day too old", { on: "2026-04-04" }, "resample", "sample-too-old"],
  ["a sample of tomorrow", { on: "2026-03-03" }, "resample", "sample-after-judging-date"],
  [
    "a fluid change after the sample",
    { circuit: events("fluid-change", "2026-03-05") },
    "resample",
    "drawn-before-event",
  ],
  [
    "a fluid change on the day of the sample",
    { circuit: events("fluid-change", "2026-03-04") },
    "resample",
    "drawn-before-event",
  ],
  [
    "a fluid change the day before the sample",
    { circuit: events("fluid-change", "2026-03-03") },
    "fit",
    "fluid-allowed",
  ],
  [
    "an element change after the sample",
    { circuit: events("element-change", "2026-03-05") },
    "resample",
    "drawn-before-event",
  ],
  ["a top-up after the sample", { circuit: events("top-up", "2026-03-05") }, "fit", "fluid-allowed"],
  [
    "a fluid that the system does not take",
    { requirement: { ...requirement, fluids: ["AS1241 Type IV"] } },
    "do-not-connect",
    "fluid-not-allowed",
  ],
  [
    "a label that names another fluid",
    { samples: [{ ...clean, fluid: "MIL-PRF-5606H" }] },
    "do-not-connect",
    "fluid-contradicts-label",
  ],
  [
    "a label that names no known fluid",
    { samples: [{ ...clean, fluid: "hyd oil" }] },
    "resample",
    "fluid-label-not-recognised",
  ],
  ["no label", { samples: [without("fluid")] }, "fit", "fluid-allowed"],
  [
    "ingress that holds the floor above the limit",
    {
      samples: [{ ...clean, counts: counts(20000, 320, 40) }],
      circuit: {
        ...circuit,
        ingress: [
          { sizeUmC: 4, particlesPerMin: 1e8 },
          { sizeUmC: 6, particlesPerMin: 0 },
        ],
      },
    },
    "do-not-connect",
    "particles-out-of-reach",
  ],
  [
    "an unread row of the same day",
    { unread: [{ cart: "C-1", circuit: "1", drawnOn: "2026-03-04", where: "a.csv row 9" }] },
    "resample",
    "result-in-quarantine",
  ],
  [
    "an unread row whose day is not known",
    { unread: [{ cart: "C-1", circuit: "1", where: "a.csv row 9" }] },
    "resample",
    "result-in-quarantine",
  ],
  [
    "an unread row older than the sample",
    { unread: [{ cart: "C-1", circuit: "1", drawnOn: "2026-03-03", where: "a.csv row 9" }] },
    "fit",
    "fluid-allowed",
  ],
  [
    "an AS4059 differential target whose ranges were not all counted",
    { requirement: { ...requirement, cleanliness: [readTarget("AS4059 differential 12")] } },
    "resample",
    "particles-not-measured",
  ],
  [
    "NAS 1638 exactly at class 5 in every range",
    {
      requirement: { ...requirement, cleanliness: [readTarget("NAS 1638 5")] },
      samples: [
        {
          ...clean,
          counts: cumulativeCounts(
            [
              [6, 9731],
              [14, 1731],
              [21, 306],
              [38, 53],
              [70, 8],
            ].map(([sizeUm, count]) => ({ sizeUm: sizeUm as number, count: count as number })),
            100,
          ),
        },
      ],
    },
    "fit",
    "fluid-allowed",
  ],
  [
    "NAS 1638 one particle over class 5 in 14-21",
    {
      requirement: { ...requirement, cleanliness: [readTarget("NAS 1638 5")] },
      samples: [
        {
          ...clean,
          counts: cumulativeCounts(
            [
              [6, 9731],
              [14, 1732],
              [21, 306],
              [38, 53],
              [70, 8],
            ].map(([sizeUm, count]) => ({ sizeUm: sizeUm as number, count: count as number })),
            100,
          ),
        },
      ],
    },
    "circulate",
    "particles-outside",
  ],
];

describe("the verdict on one circuit", () => {
  test.each(CASES)("%s", (_name, change, verdict, decisive) => {
    const result = judge(change);
    expect(result.verdict).toBe(verdict);
    expect(result.reasons.filter((entry) => entry.callsFor === verdict).map((entry) => entry.code)).toContain(
      decisive,
    );
    expect(result.cautions.map((caution) => caution.topic)).toContain("authority");
  });

  test("every reason stands in a case, so that none is untested", () => {
    const seen = new Set(CASES.flatMap(([, change]) => judge(change).reasons.map((entry) => entry.code)));
    seen.add(
      judgeCircuit({ cart: "C-1", circuit, samples: [clean], unread: [], on: "2026-03-14" }).reasons[0]
        ?.code as ReasonCode,
    );
    expect([...seen].sort()).toEqual(Object.keys(REASONS).sort());
  });

  test("without a requirement by the system's name nothing may be connected, and nothing is matched by guess", () => {
    const verdict = judgeCircuit({ cart: "C-1", circuit, samples: [clean], unread: [], on: "2026-03-14" });
    expect(verdict.verdict).toBe("do-not-connect");
    expect(verdict.reasons[0]?.message).toBe(
      'no requirement is named "main system", the system this circuit serves',
    );
  });

  test("particles outside bring the plan with them: the slowest channel by the hand formula", () => {
    const verdict = judge({ samples: [{ ...clean, counts: counts(20000, 5000, 640) }] });
    // By hand: after 2.8477 passes of 60 L at 45 L/min the bins 15000, 4360 and 640 per mL, falling with the removals
    // 0.95, 0.99 and 0.999, are 1002.7, 260.1 and 37.2, together the limit of 1300.
    expect(verdict.circulation).toMatchObject({
      reachable: true,
      minutes: expect.closeTo((2.8477 * 60) / 45, 3),
    });
    expect(judge({}).circulation).toBeUndefined();
  });

  test("a sample drawn before the fluid was changed says nothing about particles, water or acid", () => {
    const dirty = { ...clean, counts: counts(20000, 5000, 640), waterPpm: { value: 900 } };
    const codes = judge({ samples: [dirty], circuit: events("fluid-change", "2026-03-05") }).reasons.map(
      (r) => r.code,
    );
    expect(codes).not.toContain("water-outside");
    expect(codes).not.toContain("particles-outside");
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

  test("a missing label is not a pass in silence: the assumption is returned", () => {
    expect(judge({ samples: [without("fluid")] }).assumptions.map((entry) => entry.code)).toContain(
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

  test("a cart whose data cannot be planned with is named in the error", () => {
    const broken = { ...circuit, ingress: [{ sizeUmC: 6, particlesPerMin: 1e6 }] };
    const dirty = { ...clean, counts: counts(20000, 5000, 640) };
    expect(() =>
      judgeCarts({
        carts: [{ cart: "C-1", circuits: [broken] }],
        requirements: [requirement],
        samples: [dirty],
        unread: [],
        on: "2026-03-14",
      }),
    ).toThrow(/^cart C-1, circuit 1: ingress is needed at 4 µm\(c\)/);
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
      carts: [{ cart: "C-1", circuits: [events("fluid-change", "2025-05-01")] }],
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
