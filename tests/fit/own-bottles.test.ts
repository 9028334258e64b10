import { describe, expect, test } from "vitest";
import {
  type CircuitCase,
  judgeCircuit,
  type ReasonCode,
  type VerdictName,
} from "../../src/fitness/index.js";
import type { Requirement, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, counts, REQUIREMENT } from "../support/fitness/bases.js";

/** A bottle of the circuit with nothing measured but what is given. */
const bottle = (sample: string, drawnOn: string, results: Partial<Sample>): Sample => ({
  ...{ sample, cart: "C-1", circuit: "1", drawnOn, fluid: "MIL-PRF-83282" },
  origin: [{ file: "lab.csv", rows: [2] }],
  ...results,
});

const PARTICLES = { counts: counts(600, 150, 20) };
const DIRTY = { counts: counts(6000, 1500, 200) };
const WATER = { waterPpm: { value: 90 } };
const ACID = { acidMgKohPerG: { value: 0.08 } };
const ALL = { ...PARTICLES, ...WATER, ...ACID };

/** What a case comes to: the verdict, a deciding reason, and the bottle that shows particles, water and acid. */
type Expected = readonly [VerdictName, ReasonCode, string?, (string | undefined)?, string?];

const of = (samples: Sample[], requirement: Partial<Requirement> = {}): CircuitCase =>
  caseOf({ samples, requirement: { ...REQUIREMENT, ...requirement } });

const CASES: readonly (readonly [string, CircuitCase, Expected])[] = [
  [
    "a complete bottle shows everything",
    of([bottle("A", "2026-03-04", ALL)]),
    ["fit", "sample-recent", "A", "A", "A"],
  ],
  [
    "two bottles of one day add up",
    of([bottle("A", "2026-03-04", PARTICLES), bottle("B", "2026-03-04", { ...WATER, ...ACID })]),
    ["fit", "particles-inside", "A", "B", "B"],
  ],
  [
    "three bottles of three days add up",
    of([
      bottle("A", "2026-03-04", PARTICLES),
      bottle("B", "2026-03-06", WATER),
      bottle("C", "2026-03-08", ACID),
    ]),
    ["fit", "acid-inside", "A", "B", "C"],
  ],
  [
    "water measured again two days later takes the place of the older water alone",
    of([bottle("A", "2026-03-04", ALL), bottle("B", "2026-03-06", WATER)]),
    ["fit", "water-inside", "A", "B", "A"],
  ],
  [
    "wet fluid that was measured again dry is dry",
    of([bottle("A", "2026-03-04", { ...ALL, waterPpm: { value: 400 } }), bottle("B", "2026-03-06", WATER)]),
    ["fit", "water-inside", "A", "B", "A"],
  ],
  [
    "dry fluid that was measured again wet is wet: nothing older hides it",
    of([bottle("A", "2026-03-04", ALL), bottle("B", "2026-03-06", { waterPpm: { value: 400 } })]),
    ["exchange-fluid", "water-outside", "A", "B", "A"],
  ],
  [
    "dirty counts of a later bottle count, whatever else it was drawn for",
    of([bottle("A", "2026-03-04", ALL), bottle("B", "2026-03-06", DIRTY)]),
    ["circulate", "particles-outside", "B", "A", "A"],
  ],
  [
    "old acid beyond its limit is still there after a bottle for particles",
    of([
      bottle("A", "2026-03-04", { ...ALL, acidMgKohPerG: { value: 0.5 } }),
      bottle("B", "2026-03-06", PARTICLES),
    ]),
    ["exchange-fluid", "acid-outside", "B", "A", "A"],
  ],
  [
    "the order of the list does not matter",
    of([bottle("B", "2026-03-06", DIRTY), bottle("A", "2026-03-04", ALL)]),
    ["circulate", "particles-outside", "B", "A", "A"],
  ],
  [
    "of two counts of one day the dirtier counts",
    of([bottle("A", "2026-03-04", ALL), bottle("B", "2026-03-04", DIRTY)]),
    ["circulate", "particles-outside", "B", "A", "A"],
  ],
  [
    "of two counts of one day with times the later counts",
    of([
      bottle("A", "2026-03-04", { ...DIRTY, drawnTime: "08:00" }),
      bottle("B", "2026-03-04", { ...ALL, drawnTime: "11:00" }),
    ]),
    ["fit", "particles-inside", "B", "B", "B"],
  ],
  [
    "and the later is the dirty one",
    of([
      bottle("A", "2026-03-04", { ...ALL, drawnTime: "08:00" }),
      bottle("B", "2026-03-04", { ...DIRTY, drawnTime: "11:00" }),
    ]),
    ["circulate", "particles-outside", "B", "A", "A"],
  ],
  [
    "a viscosity of another fluid is not answered by a bottle sent without that test",
    of([
      bottle("A", "2026-03-02", { ...ALL, viscosity40Mm2PerS: { value: 40 } }),
      bottle("B", "2026-03-06", ALL),
    ]),
    ["do-not-connect", "fluid-contradicts-viscosity", "B", "B", "B"],
  ],
  [
    "nor are a density and other measurements",
    of([
      bottle("A", "2026-03-02", { ...ALL, density15KgPerM3: { value: 1000 } }),
      bottle("B", "2026-03-06", ALL),
    ]),
    ["do-not-connect", "fluid-contradicts-density", "B", "B", "B"],
  ],
  [
    "but by measuring the viscosity again",
    of([
      bottle("A", "2026-03-02", { ...ALL, viscosity40Mm2PerS: { value: 40 } }),
      bottle("B", "2026-03-06", { ...ALL, viscosity40Mm2PerS: { value: 13.5 } }),
    ]),
    ["fit", "particles-inside", "B", "B", "B"],
  ],
  [
    "and by a later bottle for the viscosity alone",
    of([
      bottle("A", "2026-03-02", { ...ALL, viscosity40Mm2PerS: { value: 40 } }),
      bottle("B", "2026-03-06", ALL),
      bottle("C", "2026-03-07", { viscosity40Mm2PerS: { value: 13.5 } }),
    ]),
    ["fit", "particles-inside", "B", "B", "B"],
  ],
  [
    "a word is a later result too: water not detected is no number",
    of([
      bottle("A", "2026-03-04", ALL),
      bottle("B", "2026-03-06", { wordedResults: [{ measurand: "water", said: "trace" }] }),
    ]),
    ["resample", "water-not-measured", "A", "B", "A"],
  ],
  [
    "a swamped counter is a later result too",
    of([
      bottle("A", "2026-03-04", ALL),
      bottle("B", "2026-03-06", {
        limitedCounts: [{ sizeUm: 4, volumeMl: 1, count: 100000, limit: "above" }],
      }),
    ]),
    ["circulate", "particles-outside", "B", "A", "A"],
  ],
  [
    "an acid limit value above the limit does not settle it, and the older number does not either",
    of([
      bottle("A", "2026-03-04", ALL),
      bottle("B", "2026-03-06", { acidMgKohPerG: { value: 0.5, limit: "below" } }),
    ]),
    ["resample", "acid-not-known", "A", "A", "B"],
  ],
  [
    "acid older than a sample may be",
    of([bottle("A", "2026-02-01", ALL), bottle("B", "2026-03-04", { ...PARTICLES, ...WATER })]),
    ["resample", "sample-too-old", "B", "B", "A"],
  ],
  [
    "acid on its last day",
    of([bottle("A", "2026-02-12", ALL), bottle("B", "2026-03-04", { ...PARTICLES, ...WATER })]),
    ["fit", "acid-inside", "B", "B", "A"],
  ],
  [
    "acid that may be older by the requirement",
    of([bottle("A", "2026-01-01", ALL), bottle("B", "2026-03-04", { ...PARTICLES, ...WATER })], {
      resultAgeDaysMax: { acid: 90 },
    }),
    ["fit", "acid-inside", "B", "B", "A"],
  ],
  [
    "and is a day too old even so",
    of([bottle("A", "2025-12-13", ALL), bottle("B", "2026-03-04", { ...PARTICLES, ...WATER })], {
      resultAgeDaysMax: { acid: 90 },
    }),
    ["resample", "sample-too-old", "B", "B", "A"],
  ],
  [
    "an age for acid is none for water",
    of([bottle("A", "2026-01-01", ALL), bottle("B", "2026-03-04", { ...PARTICLES, ...ACID })], {
      resultAgeDaysMax: { acid: 90 },
    }),
    ["resample", "sample-too-old", "B", "A", "B"],
  ],
  [
    "particles that have to be younger than the rest",
    of([bottle("A", "2026-03-04", ALL)], { resultAgeDaysMax: { particles: 7 } }),
    ["resample", "sample-too-old", "A", "A", "A"],
  ],
  [
    "no bottle shows acid at all",
    of([bottle("A", "2026-03-04", { ...PARTICLES, ...WATER }), bottle("B", "2026-03-06", WATER)]),
    ["resample", "acid-not-measured", "A", "B"],
  ],
  [
    "a bottle from before the fluid change does not add up with one of after",
    caseOf({
      samples: [bottle("A", "2026-03-01", ALL), bottle("B", "2026-03-06", { ...PARTICLES, ...WATER })],
      circuit: { ...CIRCUIT, events: [{ on: "2026-03-03", kind: "fluid-change" }] },
    }),
    ["resample", "acid-not-measured", "B", "B"],
  ],
  [
    "a dirty bottle from before the fluid change is gone with its fluid",
    caseOf({
      samples: [
        bottle("A", "2026-03-01", { ...DIRTY, ...WATER, acidMgKohPerG: { value: 0.9 } }),
        bottle("B", "2026-03-06", ALL),
      ],
      circuit: { ...CIRCUIT, events: [{ on: "2026-03-03", kind: "fluid-change" }] },
    }),
    ["fit", "sample-recent", "B", "B", "B"],
  ],
  [
    "a row in quarantine between the old acid and the new counts may hold newer acid",
    {
      ...of([bottle("A", "2026-03-01", ALL), bottle("B", "2026-03-06", { ...PARTICLES, ...WATER })]),
      unread: [{ cart: "C-1", circuit: "1", drawnOn: "2026-03-03", where: "lab.csv row 4" }],
    },
    ["resample", "result-in-quarantine", "B", "B", "A"],
  ],
  [
    "a row in quarantine older than all that counts does not",
    {
      ...of([bottle("A", "2026-03-01", ALL), bottle("B", "2026-03-06", { ...PARTICLES, ...WATER })]),
      unread: [{ cart: "C-1", circuit: "1", drawnOn: "2026-02-27", where: "lab.csv row 4" }],
    },
    ["fit", "sample-recent", "B", "B", "A"],
  ],
  [
    "a bottle of a day to come takes its quantities with it",
    of([bottle("A", "2026-03-04", ALL), bottle("B", "2026-04-06", WATER)]),
    ["resample", "sample-after-judging-date", "A", "B", "A"],
  ],
  [
    "the old bottle for acid was drawn from a drain",
    of([
      bottle("A", "2026-03-01", { ...ALL, samplePoint: "drain" }),
      bottle("B", "2026-03-06", { ...PARTICLES, ...WATER }),
    ]),
    ["resample", "sample-point-unsuited", "B", "B", "A"],
  ],
  [
    "the old bottle from a drain shows nothing any more",
    of([bottle("A", "2026-03-01", { ...ALL, samplePoint: "drain" }), bottle("B", "2026-03-06", ALL)]),
    ["fit", "sample-recent", "B", "B", "B"],
  ],
  [
    "the old bottle for acid bears the label of another fluid",
    of([
      bottle("A", "2026-03-01", { ...ALL, fluid: "MIL-PRF-5606" }),
      bottle("B", "2026-03-06", { ...PARTICLES, ...WATER }),
    ]),
    ["do-not-connect", "fluid-contradicts-label", "B", "B", "A"],
  ],
  [
    "a later bottle with nothing but a wrong viscosity counts",
    of([bottle("A", "2026-03-01", ALL), bottle("B", "2026-03-06", { viscosity40Mm2PerS: { value: 200 } })]),
    ["do-not-connect", "fluid-contradicts-viscosity", "A", "A", "A"],
  ],
  [
    "a cloudy bottle after the complete one",
    of([bottle("A", "2026-03-01", ALL), bottle("B", "2026-03-06", { appearance: ["cloudy"] })]),
    ["resample", "cloudy-seen", "A", "A", "A"],
  ],
  [
    "a cloudy bottle whose water was measured afterwards",
    of([
      bottle("A", "2026-03-01", { ...ALL, appearance: ["cloudy"] }),
      bottle("B", "2026-03-06", { ...PARTICLES, ...WATER }),
    ]),
    ["fit", "sample-recent", "B", "B", "A"],
  ],
  [
    "a cloudy bottle after which particles were counted alone",
    of([bottle("A", "2026-03-01", { ...ALL, appearance: ["cloudy"] }), bottle("B", "2026-03-06", PARTICLES)]),
    ["resample", "cloudy-seen", "B", "A", "A"],
  ],
  [
    "two layers are not answered by a number",
    of([
      bottle("A", "2026-03-01", { ...ALL, appearance: ["two-layers"] }),
      bottle("B", "2026-03-06", { ...PARTICLES, ...WATER }),
    ]),
    ["do-not-connect", "two-layers-seen", "B", "B", "A"],
  ],
  [
    "two layers are answered by a bottle that was looked at",
    of([
      bottle("A", "2026-03-01", { ...ALL, appearance: ["two-layers"] }),
      bottle("B", "2026-03-06", { ...PARTICLES, ...WATER, appearance: ["clear"] }),
    ]),
    ["fit", "sample-recent", "B", "B", "A"],
  ],
  [
    "free water after the last measured water is not answered by a look",
    of([
      bottle("A", "2026-03-01", { ...ALL, appearance: ["clear"] }),
      bottle("B", "2026-03-03", { appearance: ["free-water"] }),
      bottle("C", "2026-03-06", { ...PARTICLES, appearance: ["clear"] }),
    ]),
    ["exchange-fluid", "free-water-seen", "C", "A", "A"],
  ],
  [
    "free water is answered by water measured afterwards",
    of([
      bottle("A", "2026-03-01", { ...ALL, appearance: ["clear"] }),
      bottle("B", "2026-03-03", { appearance: ["free-water"] }),
      bottle("C", "2026-03-06", { ...WATER, appearance: ["clear"] }),
    ]),
    ["fit", "sample-recent", "A", "C", "A"],
  ],
  [
    "free water where no document limits water is answered by a look",
    of(
      [
        bottle("A", "2026-03-01", { ...PARTICLES, ...ACID }),
        bottle("B", "2026-03-03", { appearance: ["free-water"] }),
        bottle("C", "2026-03-06", { appearance: ["clear"] }),
      ],
      { waterPpmMax: "not-limited" },
    ),
    ["fit", "sample-recent", "A", undefined, "A"],
  ],
  [
    "particles seen after the last count are not answered by a look",
    of([
      bottle("A", "2026-03-01", { ...ALL, appearance: ["clear"] }),
      bottle("B", "2026-03-03", { appearance: ["particles-seen"] }),
      bottle("C", "2026-03-06", { ...WATER, appearance: ["clear"] }),
    ]),
    ["resample", "particles-seen", "A", "C", "A"],
  ],
  [
    "a cloudy bottle that cleared in the next one held air",
    of([
      bottle("A", "2026-03-01", { ...ALL, appearance: ["clear"] }),
      bottle("B", "2026-03-03", { appearance: ["cloudy"] }),
      bottle("C", "2026-03-06", { appearance: ["clear"] }),
    ]),
    ["fit", "sample-recent", "A", "A", "A"],
  ],
  [
    "a rejection between the old acid and the new counts stands until acid is new too",
    of([
      bottle("A", "2026-03-01", ALL),
      bottle("B", "2026-03-03", {
        ...PARTICLES,
        ...WATER,
        laboratorySays: [{ column: "Remarks", text: "rejected, burnt smell" }],
      }),
      bottle("C", "2026-03-06", { ...PARTICLES, ...WATER }),
    ]),
    ["do-not-connect", "laboratory-rejects", "C", "C", "A"],
  ],
  [
    "once acid is new too, it is over",
    of([
      bottle("A", "2026-03-01", ALL),
      bottle("B", "2026-03-03", {
        ...PARTICLES,
        laboratorySays: [{ column: "Remarks", text: "rejected, burnt smell" }],
      }),
      bottle("C", "2026-03-06", ALL),
    ]),
    ["fit", "sample-recent", "C", "C", "C"],
  ],
  [
    "a laboratory that fails particles is answered by clean counts",
    of([
      bottle("A", "2026-03-01", {
        ...ALL,
        ...DIRTY,
        laboratorySays: [{ column: "Remarks", text: "FAIL: particle count high" }],
      }),
      bottle("B", "2026-03-06", { ...PARTICLES, ...WATER }),
    ]),
    ["fit", "sample-recent", "B", "B", "A"],
  ],
  [
    "a laboratory that fails acid is not answered by clean counts",
    of([
      bottle("A", "2026-03-01", {
        ...ALL,
        laboratorySays: [{ column: "Remarks", text: "FAIL: acid number high" }],
      }),
      bottle("B", "2026-03-06", { ...PARTICLES, ...WATER }),
    ]),
    ["do-not-connect", "laboratory-rejects", "B", "B", "A"],
  ],
  [
    "bottles that have to be labelled: each that counts",
    of(
      [
        { ...bottle("A", "2026-03-01", ALL), fluid: undefined } as unknown as Sample,
        bottle("B", "2026-03-06", { ...PARTICLES, ...WATER }),
      ],
      { sampling: { labelled: true } },
    ),
    ["resample", "fluid-not-stated", "B", "B", "A"],
  ],
  [
    "a bottle that was looked at on the day of the one that was counted",
    of(
      [
        bottle("A", "2026-03-06", PARTICLES),
        bottle("B", "2026-03-06", { ...WATER, ...ACID, appearance: ["clear"] }),
      ],
      { sampling: { lookedAt: true } },
    ),
    ["fit", "sample-recent", "A", "B", "B"],
  ],
  [
    "nobody looked at any bottle",
    of([bottle("A", "2026-03-06", ALL)], { sampling: { lookedAt: true } }),
    ["resample", "appearance-not-reported", "A", "A", "A"],
  ],
  [
    "a blank is asked of the counted bottle and not of the one for water",
    of(
      [
        bottle("A", "2026-03-06", { ...PARTICLES, blank: counts(1, 0, 0) }),
        bottle("B", "2026-03-06", { ...WATER, ...ACID }),
      ],
      { sampling: { blank: true } },
    ),
    ["fit", "sample-recent", "A", "B", "B"],
  ],
  [
    "viscosity for identity may be of the month before",
    of(
      [
        bottle("A", "2026-02-20", { ...ALL, viscosity40Mm2PerS: { value: 14 } }),
        bottle("B", "2026-03-06", ALL),
      ],
      { identity: { viscosity40Mm2PerS: { min: 12, max: 16 } } },
    ),
    ["fit", "sample-recent", "B", "B", "B"],
  ],
  [
    "viscosity for identity may not be older than a sample",
    of(
      [
        bottle("A", "2026-02-01", { ...ALL, viscosity40Mm2PerS: { value: 14 } }),
        bottle("B", "2026-03-06", ALL),
      ],
      { identity: { viscosity40Mm2PerS: { min: 12, max: 16 } } },
    ),
    ["resample", "sample-too-old", "B", "B", "B"],
  ],
  [
    "a bottle in UTC the night after one without a zone: the order is not known, the worse counts",
    of([
      bottle("A", "2026-03-04", { ...ALL, drawnTime: "23:00" }),
      bottle("B", "2026-03-05", { ...DIRTY, drawnTime: "01:00Z" }),
    ]),
    ["circulate", "particles-outside", "B", "A", "A"],
  ],
];

describe("each quantity is shown by its own latest bottle", () => {
  test.each(CASES)("%s", (_name, input, [verdict, code, ...shown]) => {
    const { assessed, reasons, verdict: found } = judgeCircuit(input);
    const codes = reasons.filter(({ callsFor }) => callsFor === verdict).map((one) => one.code);
    expect([found, codes]).toEqual([verdict, expect.arrayContaining([code])]);
    const bottles = ["particles", "water", "acid number"].map(
      (quantity) => assessed.find((one) => one.quantity === quantity)?.sample,
    );
    expect(bottles).toEqual([shown[0], shown[1], shown[2]]);
  });

  test("the verdict shows the last bottle, the others that something rests on, and the day of each result", () => {
    const verdict = judgeCircuit(
      of([bottle("A", "2026-03-01", ALL), bottle("B", "2026-03-06", { ...PARTICLES, ...WATER })]),
    );
    expect(verdict.sample?.sample).toBe("B");
    expect(verdict.otherSamples?.map(({ sample }) => sample)).toEqual(["A"]);
    expect(verdict.assessed.map(({ quantity, drawnOn }) => [quantity, drawnOn])).toEqual([
      ["particles", "2026-03-06"],
      ["water", "2026-03-06"],
      ["acid number", "2026-03-01"],
    ]);
    const messages = verdict.reasons.map(({ message }) => message);
    expect(messages).toContain(
      "the acid number is inside: 0.08 mg KOH/g, limit 0.2 (sample A of 2026-03-01)",
    );
    expect(messages).toContain(
      "sample A was drawn on 2026-03-01 and counts until 2026-03-31, 30 days (acid number)",
    );
    // The oldest of them ends it, and counts what was topped up.
    expect(verdict.changes).toContainEqual({
      verdict: "resample",
      when: "when no newer sample is drawn by 2026-03-31",
    });
  });

  test.each([
    ["the interval of all", {}, "2026-03-31"],
    ["acid may be three months old", { resultAgeDaysMax: { acid: 90 } }, "2026-04-05"],
    ["acid has to be younger than a sample", { resultAgeDaysMax: { acid: 14 } }, "2026-03-15"],
    ["a sample every three weeks", { sampleEveryDays: 21 }, "2026-03-22"],
    [
      "a sample every three weeks, acid within three months",
      { sampleEveryDays: 21, resultAgeDaysMax: { acid: 90 } },
      "2026-03-27",
    ],
  ])("the next sample is due when the first quantity is: %s", (_name, requirement, nextSampleBy) => {
    const { outlook } = judgeCircuit(
      of(
        [bottle("A", "2026-03-01", ALL), bottle("B", "2026-03-06", { ...PARTICLES, ...WATER })],
        requirement,
      ),
    );
    expect(outlook?.nextSampleBy).toBe(nextSampleBy);
  });

  test("a bottle that everything rests on has no others with it", () => {
    expect(judgeCircuit(of([CLEAN]))).not.toHaveProperty("otherSamples");
  });

  test("three bottles of one day of which two show one quantity are said", () => {
    const { assumptions } = judgeCircuit(
      of([
        bottle("A", "2026-03-04", PARTICLES),
        bottle("B", "2026-03-04", { ...WATER, ...ACID }),
        bottle("C", "2026-03-04", WATER),
      ]),
    );
    expect(assumptions).toContainEqual({
      code: "several-samples-that-day",
      message:
        "2 samples were drawn on 2026-03-04 in an order that is not known; the strictest verdict counts",
    });
  });
});
