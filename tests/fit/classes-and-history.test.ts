import { describe, expect, test } from "vitest";
import { judgeCircuit, validUntilOf } from "../../src/fitness/index.js";
import type { Sample } from "../../src/samples/index.js";
import { CLEAN, caseOf, counts, events, REQUIREMENT, without } from "../support/fitness/bases.js";

const codesOf = (samples: readonly Sample[], change = {}) =>
  judgeCircuit(caseOf({ samples, ...change })).reasons.flatMap(({ code, callsFor }) =>
    callsFor === "fit" ? [] : [code],
  );

const classOnly = (code: string, more: Partial<Sample> = {}): Sample => ({
  ...without(CLEAN, "counts"),
  reportedClasses: [{ standard: "ISO 4406", class: code }],
  ...more,
});

describe("classes take part in what is usual for a circuit", () => {
  const DAYS = ["2025-12-04", "2026-01-04", "2026-02-04"];
  const history = (of: (drawnOn: string, sample: string) => Sample) =>
    DAYS.map((drawnOn, index) => of(drawnOn, `H-${index}`));
  const ofClasses = history((drawnOn, sample) => classOnly("17/15/12", { drawnOn, sample }));
  const ofCounts = history((drawnOn, sample) => ({ ...CLEAN, drawnOn, sample }));

  test.each<[string, Sample[], Sample, boolean]>([
    // Five scale numbers are a factor of 32.
    ["five classes cleaner", ofClasses, classOnly("12/10/7"), true],
    ["four classes cleaner", ofClasses, classOnly("13/11/8"), false],
    ["as ever", ofClasses, classOnly("17/15/12"), false],
    ["cleaner at one size only", ofClasses, classOnly("12/15/12"), false],
    ["a class after counts", ofCounts, classOnly("12/10/7"), true],
    ["counts after classes", ofClasses, { ...CLEAN, counts: counts(40, 10, 1) }, true],
    ["a class after counts, near them", ofCounts, classOnly("16/14/11"), false],
  ])("%s", (_, earlier, last, isUnlike) => {
    const codes = codesOf([...earlier, last]);
    expect(codes.includes("counts-unlike-history")).toBe(isUnlike);
  });

  test("a new element explains it", () => {
    const change = events({ on: "2026-02-20", kind: "element-change" });
    expect(codesOf([...ofClasses, classOnly("12/10/7")], change)).toEqual([]);
  });

  test("two samples before are not enough to say what is usual", () => {
    expect(codesOf([...ofClasses.slice(1), classOnly("12/10/7")])).toEqual([]);
  });
});

describe("classes of two standards without counts are held against each other", () => {
  const with4059 = (name: string, iso = "17/15/12") =>
    classOnly(iso, {
      reportedClasses: [
        { standard: "ISO 4406", class: iso },
        { standard: "AS4059", class: name },
      ],
    });

  test.each<[string, boolean]>([
    // ISO 17 is at most 1300 per mL above 4 µm(c), 130 000 for 100 mL: class 8 of size A, which ends at 200 000.
    ["12A", true],
    ["9A", true],
    ["8A", false],
    ["6A", false],
    // ISO 15 is at most 320 per mL above 6 µm(c), 32 000 for 100 mL: class 7 of size B, which ends at 38 900.
    ["8B", true],
    ["7B", false],
    // ISO 12 is at most 40 per mL above 14 µm(c), 4000 for 100 mL: class 7 of size C, which ends at 6920.
    ["7A/6B/8C", true],
    ["7A/6B/6C", false],
    ["7A/6B/6C/5D/5E/5F", false],
  ])("%s next to ISO 17/15/12", (name, isContradicted) => {
    expect(codesOf([with4059(name)]).includes("stated-class-unexplained")).toBe(isContradicted);
  });
});

describe("how long a judged circuit's samples count", () => {
  test("is asked of the circuit as it was judged", () => {
    const input = caseOf({});
    const verdict = judgeCircuit(input);
    const { circuit } = input;
    expect(validUntilOf({ circuit, verdict, requirement: REQUIREMENT })).toEqual({
      on: "2026-04-03",
      because: "age",
    });
    expect(validUntilOf({ circuit, verdict })).toBeUndefined();
    const none = judgeCircuit(caseOf({ samples: [] }));
    expect(validUntilOf({ circuit, verdict: none, requirement: REQUIREMENT })).toBeUndefined();
  });
});
