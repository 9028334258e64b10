import { describe, expect, test } from "vitest";
import type { CountSet } from "../../src/counts/index.js";
import { changesOf } from "../../src/fitness/advice/would-change.js";
import {
  type CircuitCase,
  judgeCircuit,
  REASONS,
  type ReasonCode,
  VERDICTS,
} from "../../src/fitness/index.js";
import { reason } from "../../src/fitness/reasons.js";
import { EVENT_KINDS } from "../../src/samples/index.js";
import { type Case, caseOf } from "../support/fitness/bases.js";
import { CART_CASES, PRECEDENCE_CASES } from "../support/fitness/cart-cases.js";
import { CONFORMANCE_CASES } from "../support/fitness/conformance-cases.js";
import { EVIDENCE_CASES } from "../support/fitness/evidence-cases.js";
import { IDENTITY_CASES } from "../support/fitness/identity-cases.js";
import { LIMIT_CASES } from "../support/fitness/limit-cases.js";
import { PARTICLE_CASES } from "../support/fitness/particle-cases.js";
import { REASON_WORDS } from "../support/fitness/reason-words.js";
import { SAMPLE_CASES } from "../support/fitness/sample-cases.js";

const TABLES: readonly (readonly [string, readonly Case[]])[] = [
  ["particles", PARTICLE_CASES],
  ["other limits", LIMIT_CASES],
  ["the sample", SAMPLE_CASES],
  ["identity", IDENTITY_CASES],
  ["the cart", CART_CASES],
  ["under uncertainty", CONFORMANCE_CASES],
  ["evidence of the fluid that is in the circuit now", EVIDENCE_CASES],
  ["two things wrong at once", PRECEDENCE_CASES],
];
const ALL = TABLES.flatMap(([, cases]) => cases);

describe.each(TABLES)("hand-reasoned cases, %s", (_table, cases) => {
  test.each(cases)("%s", (_name, change, verdict, decisive) => {
    const result = judgeCircuit(caseOf(change));
    const deciding = result.reasons.filter(({ callsFor }) => callsFor === verdict).map(({ code }) => code);
    expect([result.verdict, deciding]).toEqual([verdict, expect.arrayContaining([decisive])]);
    expect(result.cautions.map(({ topic }) => topic)).toContain("authority");
  });
});

/** What a time to go by takes for granted where a carts file says no more than it must. */
const GO_BY = ["typical-uncertainty", "customary-mixing", "customary-ingress", "spread-log-normal"];

describe("the hand-reasoned cases", () => {
  test("there are at least 120, each with a name of its own", () => {
    expect(ALL.length).toBeGreaterThanOrEqual(120);
    expect(new Set(ALL.map(([name]) => name)).size).toBe(ALL.length);
  });

  test("an event of a day to come takes no reason away and adds none but that it blocks it", () => {
    const codes = (of: CircuitCase) =>
      judgeCircuit(of).reasons.map(({ code, message }) => `${code}: ${message}`);
    for (const [name, change] of ALL) {
      const input = caseOf(change);
      const { circuit } = input;
      const before = codes(input);
      for (const kind of EVENT_KINDS) {
        const planned = { ...circuit, events: [...circuit.events, { kind, on: "2027-03-14" }] };
        const after = codes({ ...input, circuit: planned });
        expect([name, kind, before.filter((said) => !after.includes(said))]).toEqual([name, kind, []]);
        const added = after.filter((said) => !before.includes(said));
        expect([name, kind, added.filter((said) => !said.includes("is after the day of judging"))]).toEqual([
          name,
          kind,
          [],
        ]);
      }
    }
  });

  test("every reason decides in one of them, but for the two that need another cart or no requirement", () => {
    const deciding = new Set<ReasonCode>(ALL.map(([, , , decisive]) => decisive));
    const missing = (Object.keys(REASONS) as ReasonCode[]).filter((code) => !deciding.has(code));
    expect(missing).toEqual(["no-requirement", "circuits-may-mix"]);
  });

  test("the chance to conform and the risk of being outside are together 1, and what would settle a doubt is said", () => {
    let sure = 0;
    for (const [name, change] of CONFORMANCE_CASES) {
      for (const { quantity, outcome, conformance } of judgeCircuit(caseOf(change)).assessed) {
        if (conformance === undefined) continue;
        sure += 1;
        expect([name, quantity, conformance.probability + conformance.consumerRisk]).toEqual([
          name,
          quantity,
          expect.closeTo(1, 12),
        ]);
        if (outcome === "inside" && !(conformance.probability >= conformance.required)) {
          expect([name, quantity, conformance]).toEqual([
            name,
            quantity,
            expect.objectContaining({ settlement: expect.any(Object) }),
          ]);
        }
      }
    }
    expect(sure).toBeGreaterThan(20);
  });

  test("each reason says what was measured, where the limit lies and on which day", () => {
    const said = Object.keys(REASON_WORDS).map((code) => {
      const [name] = REASON_WORDS[code as ReasonCode] as readonly [string, string];
      const [, change] = ALL.find((one) => one[0] === name) as Case;
      return [code, [name, judgeCircuit(caseOf(change)).reasons.find((one) => one.code === code)?.message]];
    });
    expect(Object.fromEntries(said)).toEqual(REASON_WORDS);
    expect(Object.keys(REASON_WORDS).length).toBe(Object.keys(REASONS).length - 2);
  });

  test.each([
    ["everything exactly at its limit", []],
    ["no counts", []],
    ["4 µm(c) one particle per mL outside", ["well-mixed", "no-ingress", ...GO_BY]],
    ["ingress that holds the floor above the limit", ["well-mixed", "ingress-from-smaller-size"]],
    [
      "water one ppm outside",
      ["fresh-fluid-from-memory", "exchange-to-last", "drains-completely", "exchange-mixed"],
    ],
    [
      "chlorine one ppm outside",
      ["fresh-fluid-free-of-it", "exchange-to-last", "drains-completely", "exchange-mixed"],
    ],
    ["viscosity exactly at its lower limit", ["identity-from-memory"]],
    ["viscosity exactly at the end of the range given", []],
    ["the reservoir where nothing is required", ["drawn-from-reservoir"]],
    ["the reservoir where a main line is required", []],
    ["sample point as required", []],
    ["no label and none asked for", ["fluid-as-declared"]],
    [
      "a relative precision is taken of the limit: accepted",
      ["laboratory-spread-not-given", "precision-not-given"],
    ],
    [
      "water by ISO 12937 inside its guard band",
      ["laboratory-spread-not-given", "precision-from-memory", "precision-not-given"],
    ],
    [
      "35 per mL above 14 µm(c) by a laboratory that scatters by 30 % is not sure",
      ["well-mixed", "no-ingress", "precision-not-given", "precision-not-given", ...GO_BY],
    ],
    [
      "the counted volume not known: counts at their limits are not sure",
      [
        ...["counting-not-known", "laboratory-spread-not-given", "well-mixed", "no-ingress"],
        ...["precision-not-given", "precision-not-given", ...GO_BY],
      ],
    ],
    ["water and acid each sure, but not both together", ["laboratory-spread-not-given"]],
  ])("what was taken for granted is told and nothing else: %s", (name, codes) => {
    const [, change] = ALL.find((one) => one[0] === name) as Case;
    const ofClasses = ["class-from-some-channels", "nas-1638-at-um-c", "sizes-cannot-serve"];
    const reported = judgeCircuit(caseOf(change)).assumptions.map(({ code }) => code);
    expect(reported.filter((code) => !ofClasses.includes(code))).toEqual(codes);
  });

  test("a sample that is too old, with an event since, asks for one sample and not for two", () => {
    const reasons = [
      reason("sample-too-old", "too old"),
      reason("drawn-before-event", "an event since"),
      reason("fluid-allowed", "the fluid is allowed"),
    ];
    expect(changesOf({ verdict: "resample", reasons, assessed: [] }, undefined)).toEqual([
      { verdict: "fit", when: "when a sample has been drawn since" },
    ]);
  });

  test.each([
    [0.5, "grow more than 2-fold"],
    [0.999, "grow more than 1.001-fold"],
    [0.9999999, "are more than 160 per mL"],
    [1, "are more than 160 per mL"],
    [0, "are more than 160 per mL"],
  ])("particles at %d of their limit call for circulating when they %s", (share, says) => {
    const channels = [
      { target: "18/16/13", channel: ">14", limitPerMl: 160, outcome: "inside", share },
    ] as const;
    const assessed = [{ quantity: "particles", outcome: "inside", channels }] as const;
    expect(changesOf({ verdict: "fit", reasons: [], assessed }, undefined)[0]).toEqual({
      verdict: "circulate",
      when: `when particles of channel >14 ${says}`,
    });
  });

  test.each([
    ["no sample at all", "a sample has been drawn"],
    ["a sample one day too old", "a sample has been drawn"],
    ["a fluid change after the sample", "a sample has been drawn since"],
    ["a sample of tomorrow", "the day of the sample or the day of judging is put right"],
    ["an unread row of the same day", "the row in quarantine is corrected or discarded"],
    [
      "circulated one minute too little since an element change",
      "the circulation that is required has been done and entered",
    ],
    [
      "asked for and not entered",
      "a technician has looked and entered indicator, level, temperature and seals",
    ],
    ["entered one day too long ago", "a technician has looked again and entered it"],
    ["a fluid that the system does not take", "the circuit holds a fluid that the system takes"],
    [
      "ingress that holds the floor above the limit",
      "ingress is stopped, a finer element is fitted or the fluid is exchanged, and a sample shows it",
    ],
    ["two layers in the bottle", "the fluid is identified, and a sample of the right one agrees"],
    ["a label that names another fluid", "the fluid is identified, and a sample of the right one agrees"],
    ["damaged seals", "the cart is put right and a technician has entered it"],
    ["water beyond the guard band's edge by 0.05 ppm", "more counts or results make it sure"],
    ["free water in the bottle", "a sample drawn afterwards is inside"],
    ["acid one step outside", "a sample drawn afterwards is inside"],
    ["no acid result", "what is missing has been measured"],
    ["water below 250", "what is missing has been measured"],
    ["14 µm(c) estimated between two counted sizes", "what is missing has been measured"],
    ["colour asked for and not reported", "what is missing has been measured"],
    ["drawn without flow", "a sample drawn as required agrees"],
  ])("what would clear it is told: %s", (name, cleared) => {
    const [, change] = ALL.find((one) => one[0] === name) as Case;
    const { changes } = judgeCircuit(caseOf(change));
    expect(changes.map(({ when }) => when)).toEqual([`when ${cleared}`]);
  });

  test("of replicates that scatter at several sizes the widest is named, and one count is said to be one", () => {
    const wordsOf = (name: string, wanted: ReasonCode) => {
      const [, change] = ALL.find((one) => one[0] === name) as Case;
      return judgeCircuit(caseOf(change)).reasons.find(({ code }) => code === wanted)?.message;
    };
    expect(wordsOf("replicates that scatter at two sizes", "replicates-scatter")).toBe(
      wordsOf("replicates that scatter far more than chance", "replicates-scatter"),
    );
    expect(wordsOf("one replicate too few", "replicates-missing")).toContain("was counted 2 times; 3 counts");
    expect(wordsOf("replicates asked for and one count given", "replicates-missing")).toContain(
      "was counted once; 2 counts",
    );
  });

  test("a count one particle over its limit is printed with the digits that tell them apart", () => {
    const messageOf = (name: string) => {
      const [, change] = ALL.find((one) => one[0] === name) as Case;
      return judgeCircuit(caseOf(change)).reasons.map(({ message }) => message);
    };
    expect(messageOf("AS4059 6B-C one particle outside in B")).toContain(
      "AS4059 cumulative 6B-C is exceeded, most at channel B: 194.63 particles per mL, limit 194.62",
    );
    expect(messageOf("AS4059 6B-C exactly at both limits")).toContain(
      "AS4059 cumulative 6B-C is met, closest at channel B: 194.6 particles per mL, limit 194.6",
    );
  });

  test("the same fluid reported per 100 mL has the same reasons, as sure", () => {
    const per100 = (set: CountSet): CountSet => ({
      ...set,
      volumeMl: 100 * set.volumeMl,
      counts: set.counts.map((entry) => ({
        ...entry,
        count: Math.round(100 * entry.count),
        ...(entry.blank !== undefined && { blank: Math.round(100 * entry.blank) }),
      })),
    });
    let compared = 0;
    for (const [name, change] of ALL) {
      const input = caseOf(change);
      const samples = input.samples.map(({ counts, replicates, blank, ...one }) => ({
        ...one,
        ...(counts && { counts: per100(counts) }),
        ...(replicates && { replicates: replicates.map(per100) }),
        ...(blank && { blank: per100(blank) }),
      }));
      const [asReported, per100Ml] = [input, { ...input, samples }].map((one) => judgeCircuit(one));
      expect([name, per100Ml?.reasons]).toEqual([name, asReported?.reasons]);
      // Sums in another unit may differ in the last binary digit.
      const digits = (_key: string, value: unknown) =>
        typeof value === "number" ? Number(value.toPrecision(9)) : value;
      const assessed = [asReported, per100Ml].map((one) => JSON.stringify(one?.assessed, digits));
      expect([name, assessed[1]]).toEqual([name, assessed[0]]);
      compared += samples.length;
    }
    expect(compared).toBeGreaterThan(100);
  });

  test("every pair of verdicts meets in one of them, and the stricter stands", () => {
    for (const [index, mild] of VERDICTS.entries()) {
      for (const strict of VERDICTS.slice(index + 1)) {
        const pair = PRECEDENCE_CASES.find(([name]) => name === `${mild} and ${strict}`);
        expect(pair?.[2], `${mild} and ${strict}`).toBe(strict);
        const reasons = judgeCircuit(caseOf(pair?.[1] ?? {})).reasons.map(({ callsFor }) => callsFor);
        expect(reasons).toEqual(expect.arrayContaining([mild, strict]));
      }
    }
  });
});
