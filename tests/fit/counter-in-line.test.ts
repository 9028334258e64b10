// What a counter in the line may show of a circuit. The carts are invented.
import { describe, expect, test } from "vitest";
import { parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { requirementOf } from "../../src/fitness/evidence/requirement-of.js";
import {
  type CircuitCase,
  judgeCircuit,
  type Verdict,
  validUntil,
  verdictWithRun,
} from "../../src/fitness/index.js";
import type { Circuit, Requirement, Sample } from "../../src/samples/index.js";
import { requirementsFileSchema } from "../../src/samples/index.js";
import { type CounterRunCase, sampleOfRun } from "../support/online/run-of-counter.js";

const CIRCUIT: Circuit = {
  ...{ circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, flowLpm: 45 },
  element: { position: "pressure", betas: [4, 6, 14].map((sizeUmC) => ({ sizeUmC, beta: 50 })) },
  events: [],
};
const BOTTLES_ONLY: Requirement = {
  ...{ system: "main system", fluids: ["MIL-PRF-83282"], cleanliness: [parseTarget("17/15/12")] },
  ...{ waterPpmMax: 200, acidMgKohPerGMax: 0.2, sampleAgeDaysMax: 45 },
};
const TAKES_COUNTERS: Requirement = {
  ...BOTTLES_ONLY,
  counterInLine: { repeatability: 0.1, bias: 0.2, minutesMin: 10, ageDaysMax: 2 },
};
const ON = "2026-11-20";

/** A bottle of three weeks ago whose counts are this share of the limits. */
const bottle = (share: number, changes: Partial<Sample> = {}): Sample => ({
  ...{ sample: "B-1", cart: "C-1", circuit: "main", drawnOn: "2026-11-01", fluid: "MIL-PRF-83282" },
  counts: cumulativeCounts(
    [1300, 320, 40].map((limit, index) => ({ sizeUm: [4, 6, 14][index] as number, count: limit * share })),
    1,
  ),
  ...{ waterPpm: { value: 90 }, acidMgKohPerG: { value: 0.1 }, origin: [{ file: "lab.csv", rows: [2] }] },
  ...changes,
});
const withoutCounts = ({ counts: _counts, ...rest }: Sample): Sample => rest;

const cleaning = (minute: number) => Math.max(0.15, 6 * Math.exp(-0.15 * minute));
const CLEAN_RUN: CounterRunCase = {
  circuit: CIRCUIT,
  requirement: TAKES_COUNTERS,
  minutes: 60,
  share: cleaning,
};

function run(changes: Partial<CounterRunCase> = {}, of: Parameters<typeof sampleOfRun>[1] = {}): Sample {
  const found = sampleOfRun({ ...CLEAN_RUN, ...changes }, of);
  if (found.kind === "none") throw new Error(found.why);
  return found.sample;
}

function judge(
  samples: readonly Sample[],
  requirement: Requirement = TAKES_COUNTERS,
  changes: Partial<CircuitCase> = {},
): Verdict {
  return judgeCircuit({
    ...{ cart: "C-1", circuit: CIRCUIT, requirement, samples, unread: [], on: ON },
    ...changes,
  });
}
const shownBy = (verdict: Verdict, quantity: string) =>
  verdict.assessed.find((one) => one.quantity === quantity)?.sample;
const setAside = (verdict: Verdict) =>
  verdict.assumptions
    .filter(({ code }) => code === "counter-in-line-set-aside")
    .map(({ message }) => message);

describe("a clean run shows particles where the requirement says so, and nothing else", () => {
  test("a dirty bottle, circulated until the counter showed it clean, is fit by bottle and run together", () => {
    const verdict = judge([bottle(3), run()]);
    expect(verdict.verdict).toBe("fit");
    expect(shownBy(verdict, "particles")).toBe(run().sample);
    expect(shownBy(verdict, "water")).toBe("B-1");
    expect(verdict.assumptions.map(({ code }) => code)).toContain("counter-in-line-taken");
  });

  test("without the field the verdict is that of the bottle, and the run is named", () => {
    const verdict = judge([bottle(3), run()], BOTTLES_ONLY);
    const { assumptions, ...plain } = judge([bottle(3)], BOTTLES_ONLY);
    const { assumptions: _, ...found } = verdict;
    expect(found).toEqual(plain);
    expect(verdict.verdict).toBe("circulate");
    expect(setAside(verdict)).toEqual([expect.stringContaining("the requirement has no counterInLine")]);
  });

  test("water and acid are not shown by it, so a bottle without them is not enough", () => {
    const { waterPpm: _water, ...dry } = bottle(0.2);
    expect(judge([dry, run()]).verdict).toBe("resample");
    expect(judge([withoutCounts(bottle(1)), run()]).verdict).toBe("fit");
  });

  test("without a bottle of the fluid that is in the circuit now it shows nothing", () => {
    const filled = { ...CIRCUIT, events: [{ on: "2026-11-10", kind: "fluid-change" as const }] };
    const alone = judge([run()]);
    const changed = judge([bottle(0.2), run()], TAKES_COUNTERS, { circuit: filled });
    for (const verdict of [alone, changed]) {
      expect(verdict.verdict).not.toBe("fit");
      expect(setAside(verdict)[0]).toContain("no bottle of the fluid that is in the circuit now");
    }
  });

  test("it lasts as long as the field says, and no longer than a sample", () => {
    const samples = [bottle(3), run()];
    expect(validUntil(CIRCUIT, TAKES_COUNTERS, samples)).toEqual({ on: "2026-11-22", because: "age" });
  });

  test("with a confidence, the precision of the counter is what it is judged by", () => {
    const sure = { ...TAKES_COUNTERS, confidence: { probability: 0.95 } };
    const verdict = judge([bottle(3), run({ requirement: sure })], sure);
    expect(verdict.verdict).toBe("fit");
    const particles = verdict.assessed.find(({ quantity }) => quantity === "particles");
    expect(particles?.conformance?.probability).toBeGreaterThan(0.95);
  });

  test("the scatter of the ten minutes that are counted, and not of all that were clean", () => {
    const counterInLine = { repeatability: 0.6, bias: 0.01, minutesMin: 10, ageDaysMax: 2 };
    const scatter = { ...TAKES_COUNTERS, counterInLine, confidence: { probability: 0.95 } };
    const precision = (minutes: number) => {
      const { confidence } = requirementOf(scatter, run({ requirement: scatter, minutes }));
      return confidence?.counts?.reproducibility;
    };
    // 0.6/√10 = 0.1897, with a lasting error of 0.01 beside it.
    const expected = { kind: "relative", rsd: expect.closeTo(Math.hypot(0.01, 0.1897), 4) };
    expect(precision(60)).toEqual(expected);
    expect(precision(300)).toEqual(expected);
  });
});

describe("a run that shows nothing is set aside and named; the bottles decide", () => {
  const cases: [string, RegExp, Partial<CounterRunCase>, Parameters<typeof sampleOfRun>[1]?][] = [
    ["the element delivers, the circuit holds more", /not counted upstream/, { port: "downstream" }],
    ["of five minutes", /clean for \d+ minutes; 10 are required/, { minutes: 24 }],
    ["of a week ago", /it is of 2026-11-12; it may be at most 2 days old/, { at: "2026-11-12T10:00:00Z" }],
    ["of another circuit, by its flow", /is it the log of this circuit\?/, { flowLpm: 80 }],
    ["at half the flow", /is it the log of this circuit\?/, { flowLpm: 20 }],
    [
      "followed as if the counter were without error",
      /better than the requirement has it/,
      { stated: { bias: 0 } },
    ],
    ["followed with less confidence", /0\.8 confidence; 0\.95 is required/, { stated: { confidence: 0.8 } }],
    ["of sizes that are not all", /did not show the circuit to be clean/, { sizesUm: [4, 6] }],
    ["near to the limits", /did not show the circuit to be clean/, { share: () => 0.9 }],
    [
      "in a wrong unit, a hundred times too clean",
      /about 1\/\d+ of what its circuit has shown.*enter it with its minutes/,
      { share: () => 0.002 },
    ],
  ];
  test.each(cases)("%s", (_, why, changes, of) => {
    const history = [
      bottle(0.8, { sample: "B-0", drawnOn: "2026-10-25" }),
      bottle(0.8, { sample: "B-9", drawnOn: "2026-10-20" }),
      bottle(0.8, { sample: "B-8", drawnOn: "2026-10-15" }),
    ];
    for (const share of [0.5, 3]) {
      const own = [...history, bottle(share)];
      const verdict = judge([...own, run(changes, of)]);
      expect(verdict.verdict).toBe(judge(own).verdict);
      expect(setAside(verdict)).toEqual([expect.stringMatching(why)]);
    }
  });

  test("a calibration that the requirement asks for and the run does not state", () => {
    const calibrated = { ...TAKES_COUNTERS, sampling: { calibrated: true as const } };
    const own = bottle(3, { calibrationDueOn: "2027-01-01" });
    expect(setAside(judge([own, run()], calibrated))[0]).toContain("calibrated");
    expect(judge([own, run({}, { calibrationDueOn: "2027-01-01" })], calibrated).verdict).toBe("fit");
  });

  test("what a requirement asks of a bottle it does not ask of a run: label, blank, replicates", () => {
    const strict = {
      ...TAKES_COUNTERS,
      sampling: { labelled: true as const, blank: true as const, replicatesMin: 2 },
    };
    expect(judge([withoutCounts(bottle(1)), run()], strict).verdict).toBe("fit");
    const { fluid: _fluid, ...unlabelled } = withoutCounts(bottle(1));
    expect(judge([unlabelled, run()], strict).verdict).toBe("resample");
  });
});

describe("a run gives no sample where its end shows nothing", () => {
  test.each<[string, RegExp, Partial<CounterRunCase>]>([
    ["a counter that stands still", /says nothing/, { stuckFrom: 50 }],
    ["fluid that is cold at the end", /says nothing/, { temperatureC: (minute) => (minute < 50 ? 42 : 12) }],
    ["a pump that stands at the end", /says nothing/, { flowLpm: (minute) => (minute < 50 ? 45 : 0) }],
    ["classes only", /classes only/, { isClass: true }],
    ["no temperature", /no temperature/, { temperatureC: null }],
    ["no flow", /no flow/, { flowLpm: null }],
  ])("%s", (_, why, changes) => {
    expect(sampleOfRun({ ...CLEAN_RUN, ...changes })).toEqual({
      kind: "none",
      why: expect.stringMatching(why),
    });
  });

  test("a counter that stood still in its last minutes counts them as one", () => {
    expect(run({ stuckFrom: 57 }).counterRun?.minutes).toBe(run({ minutes: 58 }).counterRun?.minutes ?? 0);
  });

  test("the day and time are the local ones", () => {
    expect(run({ at: "2026-11-21T00:30:00Z", share: () => 3 }, { aheadOfUtcMin: -300 })).toMatchObject({
      drawnOn: "2026-11-20",
      drawnTime: "20:29-05:00",
    });
  });

  test("a clean run is of the minute in which it became clean, so that what is drawn since is newer", () => {
    const clean = run();
    const minutes = clean.counterRun?.minutes ?? 0;
    // The last of 60 minutes from 10:00 on is 10:59.
    expect(clean.drawnTime).toBe(`10:${60 - minutes}Z`);
  });
});

describe("what speaks against the fluid counts, whatever else it lacks", () => {
  test("a run that counts too much after a clean bottle: circulate", () => {
    const dirty = run({ share: () => 3 });
    const verdict = judge([bottle(0.5), dirty]);
    expect(verdict.verdict).toBe("circulate");
    expect(shownBy(verdict, "particles")).toBe(dirty.sample);
  });

  test("it does not grow too old to speak against the fluid", () => {
    const dirty = run({ share: () => 3, at: "2026-11-12T10:00:00Z" });
    expect(judge([bottle(0.5), dirty]).verdict).not.toBe("fit");
  });

  test("a bypass that opened: the counts rose", () => {
    const risen = run({ share: (minute) => (minute < 52 ? cleaning(minute) : 2) });
    expect(judge([bottle(0.5), risen]).verdict).not.toBe("fit");
  });

  test("a bottle drawn after the run is newer, clean or dirty", () => {
    const drawnAfter = (share: number) =>
      bottle(share, { sample: "B-2", drawnOn: "2026-11-20", drawnTime: "13:00Z" });
    expect(judge([bottle(0.5), run(), drawnAfter(3)]).verdict).toBe("circulate");
    expect(judge([bottle(0.5), run({ share: () => 3 }), drawnAfter(0.3)]).verdict).toBe("fit");
  });

  test("a dirty bottle drawn while the counter showed the circuit clean contradicts it: the bottle decides", () => {
    const during = (share: number) =>
      bottle(share, { sample: "B-2", drawnOn: "2026-11-20", drawnTime: "10:55Z" });
    expect(judge([bottle(3), run(), during(3)]).verdict).toBe("circulate");
    expect(shownBy(judge([bottle(3), run(), during(0.5)]), "particles")).toBe("B-2");
    // Drawn before the counter showed it clean, the bottle is the older one.
    const before = bottle(3, { sample: "B-2", drawnOn: "2026-11-20", drawnTime: "10:05Z" });
    expect(judge([bottle(3), run(), before]).verdict).toBe("fit");
  });

  test("an element changed after the run, or an opening, asks for another", () => {
    for (const kind of ["element-change", "opening"] as const) {
      const circuit = { ...CIRCUIT, events: [{ on: "2026-11-20", at: "14:00Z", kind }] };
      expect(judge([bottle(0.5), run()], TAKES_COUNTERS, { circuit }).verdict).toBe("resample");
    }
  });

  test("a run hides nothing that is said of the last bottle, also where particles alone are limited", () => {
    const alone: Requirement = {
      ...TAKES_COUNTERS,
      ...{ waterPpmMax: "not-limited", acidMgKohPerGMax: "not-limited" },
    };
    expect(judge([bottle(0.5), run()], alone).verdict).toBe("fit");
    for (const said of [
      { fluid: "MIL-PRF-5606" },
      { appearance: ["cloudy" as const] },
      { laboratorySays: [{ column: "Status", text: "REJECT" }] },
    ])
      expect(judge([bottle(0.5, said), run()], alone).verdict).not.toBe("fit");
    const unread = [{ cart: "C-1", circuit: "main", drawnOn: "2026-11-05", where: "lab.csv row 9" }];
    expect(judge([bottle(0.5), run()], alone, { unread }).verdict).toBe("resample");
  });
});

describe("the verdict that a run ends with says why it is not fit", () => {
  const followed = (samples: readonly Sample[], circuit: Circuit = CIRCUIT) =>
    verdictWithRun(
      { cart: "C-1", circuit, requirement: TAKES_COUNTERS, samples, unread: [], on: ON },
      sampleOfRun(CLEAN_RUN),
    );

  test("fit says no more than that the run was taken", () => {
    expect(followed([bottle(3)])).toMatchObject({
      ...{ verdict: "fit", taken: true },
      why: expect.stringMatching(/are those of bottles$/),
    });
  });

  test("a dirty bottle of the day whose time has no zone may be newer: both times are needed", () => {
    const found = followed([bottle(3, { drawnOn: ON, drawnTime: "08:00" })]);
    expect(found?.verdict).toBe("circulate");
    expect(found?.why).toMatch(
      /17\/15\/12 is exceeded.*order that is not known.*give the time of the bottle with its zone/,
    );
  });

  test("an element changed at an hour without a zone", () => {
    const events = [{ on: ON, at: "08:00", kind: "element-change" as const }];
    const found = followed([bottle(0.5)], { ...CIRCUIT, events });
    expect(found?.verdict).toBe("resample");
    expect(found?.why).toContain("give both with their zones");
  });
});

describe("the field of a requirement", () => {
  const file = (counterInLine: unknown, cleanliness: unknown = ["17/15/12"]) =>
    requirementsFileSchema.safeParse({
      ...{ document: "invented", revision: "1" },
      systems: [
        {
          ...{ system: "x", fluids: ["MIL-PRF-83282"], cleanliness, waterPpmMax: 200 },
          ...{ acidMgKohPerGMax: 0.2, sampleAgeDaysMax: 45, counterInLine },
          ...(Array.isArray(cleanliness) && cleanliness.length === 0 && { patchTest: { classMax: 2 } }),
        },
      ],
    }).success;
  const good = { repeatability: 0.1, bias: 0.2, minutesMin: 10, ageDaysMax: 1 };

  test.each<[string, unknown, boolean]>([
    ["with all it needs", good, true],
    ["a word", true, false],
    ["a counter without lasting error", { ...good, bias: 0 }, false],
    ["per cent", { ...good, bias: 20 }, false],
    ["fewer than five minutes", { ...good, minutesMin: 4 }, false],
    ["without an age", { repeatability: 0.1, bias: 0.2, minutesMin: 10 }, false],
    ["another name in it", { ...good, water: true }, false],
  ])("%s", (_, field, is) => {
    expect(file(field)).toBe(is);
  });

  test("goes with a target for counts only", () => {
    expect(file(good, [])).toBe(false);
  });
});
