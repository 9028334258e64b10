import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type CircuitCase,
  compareVerdicts,
  type Decision,
  type DecisionEffect,
  judgeCircuit,
  standingOf,
  VERDICTS,
  type VerdictName,
} from "../../src/fitness/index.js";
import { asking, CIRCUIT, caseOf, SOUND, sample } from "../support/fitness/bases.js";
import { decided, FIT, lifted, until, WET } from "../support/fitness/decided.js";

const OLD = caseOf({ ...sample({}), on: "2026-04-10" });
const NEWER = { sample: "S-2", drawnOn: "2026-03-16" };
const UNENTERED = caseOf(asking({ cartState: { ageDaysMax: 3 } }));
const later = (input: CircuitCase, on: string, change: Partial<CircuitCase> = {}): CircuitCase => ({
  ...input,
  on,
  ...change,
});

describe("what stands for a circuit", () => {
  const stateEntered = { circuit: { ...CIRCUIT, state: SOUND } };
  const cases: [string, Decision, CircuitCase, boolean, VerdictName, DecisionEffect][] = [
    // A stricter decision: until a person lifts it.
    [
      "resample on a fit verdict holds the next day",
      decided("resample", FIT),
      later(FIT, "2026-03-15"),
      true,
      "resample",
      "holds",
    ],
    [
      "it holds when a newer sample is fit",
      decided("resample", FIT),
      later(caseOf(sample(NEWER)), "2026-03-17"),
      true,
      "resample",
      "holds",
    ],
    [
      "it holds a year later",
      decided("do-not-connect", FIT),
      later(FIT, "2027-03-15"),
      true,
      "do-not-connect",
      "holds",
    ],
    [
      "it holds for an earlier day of judging",
      decided("resample", FIT),
      later(FIT, "2026-03-10"),
      true,
      "resample",
      "holds",
    ],
    [
      "it holds under another requirement",
      decided("resample", FIT),
      caseOf(asking({ waterPpmMax: 300 })),
      true,
      "resample",
      "holds",
    ],
    [
      "the computed verdict counts where it is stricter, and the hold stays",
      decided("circulate", FIT),
      WET,
      true,
      "exchange-fluid",
      "holds",
    ],
    [
      "a decision as strict as the verdict holds when the next verdict is fit",
      decided("exchange-fluid", WET),
      later(caseOf(sample(NEWER)), "2026-03-17"),
      true,
      "exchange-fluid",
      "holds",
    ],
    [
      "a circuit is stopped without any verdict",
      decided("do-not-connect", undefined),
      FIT,
      true,
      "do-not-connect",
      "holds",
    ],
    [
      "a last day on it changes nothing",
      decided("resample", FIT, until("2026-03-14")),
      later(FIT, "2026-03-20"),
      true,
      "resample",
      "holds",
    ],
    ["a lifted one holds no more", decided("resample", FIT, { lifted }), FIT, false, "fit", "lifted"],
    // A milder decision: shown, and never fit.
    [
      "fit on exchange-fluid is shown until its last day",
      decided("fit", WET, until("2026-03-20")),
      later(WET, "2026-03-20"),
      false,
      "exchange-fluid",
      "milder",
    ],
    [
      "it is over the day after",
      decided("fit", WET, until("2026-03-20")),
      later(WET, "2026-03-21"),
      false,
      "exchange-fluid",
      "ended",
    ],
    [
      "without a last day it counts for the day of its verdict",
      decided("fit", WET),
      WET,
      false,
      "exchange-fluid",
      "milder",
    ],
    [
      "without a last day it is over the day after",
      decided("fit", WET),
      later(WET, "2026-03-15"),
      false,
      "exchange-fluid",
      "ended",
    ],
    [
      "it does not count for an earlier day",
      decided("fit", WET, until("2026-03-20")),
      later(WET, "2026-03-13"),
      false,
      "exchange-fluid",
      "other-verdict",
    ],
    [
      "it does not count for a newer sample as wet as the first",
      decided("fit", WET, until("2026-03-20")),
      later(caseOf(sample({ ...NEWER, waterPpm: { value: 350 } })), "2026-03-17"),
      false,
      "exchange-fluid",
      "other-verdict",
    ],
    [
      "it does not count when the result is corrected",
      decided("fit", WET, until("2026-03-20")),
      caseOf(sample({ waterPpm: { value: 360 } })),
      false,
      "exchange-fluid",
      "other-verdict",
    ],
    [
      "it does not count for a reason that has come up since",
      decided("fit", WET, until("2026-03-20")),
      { ...WET, unread: [{ where: "b.csv row 3", cart: "C-1", circuit: "1" }] },
      false,
      "resample",
      "other-verdict",
    ],
    [
      "it does not count under a stricter limit",
      decided("fit", WET, until("2026-03-20")),
      caseOf(asking({ waterPpmMax: 150 }, { waterPpm: { value: 350 } })),
      false,
      "exchange-fluid",
      "other-verdict",
    ],
    [
      "it counts while its sample only grows older",
      decided("fit", OLD, until("2026-04-20")),
      later(OLD, "2026-04-15"),
      false,
      "resample",
      "milder",
    ],
    [
      "a lifted milder one is not shown as valid",
      decided("fit", WET, { ...until("2026-03-20"), lifted }),
      WET,
      false,
      "exchange-fluid",
      "lifted",
    ],
    ["fit on fit holds nothing", decided("fit", FIT), FIT, false, "fit", "milder"],
    [
      "fit on fit does not make the wet sample after it fit",
      decided("fit", FIT, until("2026-03-20")),
      later(caseOf(sample({ ...NEWER, waterPpm: { value: 350 } })), "2026-03-17"),
      false,
      "exchange-fluid",
      "other-verdict",
    ],
    // Milder than its verdict, and stricter than what is computed now.
    [
      "resample in place of do-not-connect holds once the state is entered and the same sample is fit",
      decided("resample", UNENTERED, until("2026-03-20")),
      later(UNENTERED, "2026-03-14", stateEntered),
      true,
      "resample",
      "holds",
    ],
    [
      "it holds no longer than its last day",
      decided("resample", UNENTERED, until("2026-03-14")),
      later(UNENTERED, "2026-03-15", stateEntered),
      false,
      "fit",
      "ended",
    ],
    [
      "it does not hold the crew that drew the sample",
      decided("resample", UNENTERED, until("2026-03-20")),
      { ...later(UNENTERED, "2026-03-16", stateEntered), ...sample(NEWER) },
      false,
      "fit",
      "other-verdict",
    ],
  ];
  test.each(cases)("%s", (_title, decision, input, held, stands, effect) => {
    const verdict = judgeCircuit(input);
    const standing = standingOf(verdict, [decision]);
    expect(standing).toEqual({
      computed: verdict.verdict,
      held,
      stands,
      decisions: [{ decision, effect }],
    });
  });

  test("of several the strictest counts and is first; a later and milder one does not take its place", () => {
    const first = decided("do-not-connect", FIT);
    const second = decided("resample", FIT);
    const third = decided("fit", FIT);
    const standing = standingOf(judgeCircuit(FIT), [third, second, first]);
    expect([standing.held, standing.stands]).toEqual([true, "do-not-connect"]);
    expect(standing.decisions.map(({ decision }) => decision)).toEqual([first, second, third]);
  });

  test("when one of two is lifted, the other still holds", () => {
    const standing = standingOf(judgeCircuit(FIT), [
      decided("do-not-connect", FIT, { lifted }),
      decided("resample", FIT),
    ]);
    expect([standing.held, standing.stands]).toEqual([true, "resample"]);
  });

  test("whatever people decide, what stands is never milder than the computed verdict, and a hold is never fit", () => {
    const inputs = [FIT, WET, OLD, UNENTERED];
    const decision = fc
      .tuple(
        fc.constantFrom(...VERDICTS),
        fc.constantFrom(undefined, ...inputs),
        fc.constantFrom(undefined, "2026-03-14", "2027-01-01"),
        fc.boolean(),
      )
      .map(([name, on, day, isLifted]) =>
        decided(name, on, { ...(day && { until: day }), ...(isLifted && { lifted }) }),
      );
    const seen = new Set<string>();
    fc.assert(
      fc.property(fc.constantFrom(...inputs), fc.array(decision, { maxLength: 5 }), (input, decisions) => {
        const verdict = judgeCircuit(input);
        const before = JSON.stringify(verdict);
        const { held, stands, decisions: reported } = standingOf(verdict, decisions);
        expect(compareVerdicts(stands, verdict.verdict)).toBeGreaterThanOrEqual(0);
        if (held) expect(stands).not.toBe("fit");
        else expect(stands).toBe(verdict.verdict);
        for (const { decision: one, effect } of reported) {
          seen.add(effect);
          const stricter = one.madeOn && compareVerdicts(one.decision, one.madeOn.verdict) > 0;
          if (stricter && one.lifted === undefined) expect(effect).toBe("holds");
        }
        expect(reported).toHaveLength(decisions.length);
        expect(JSON.stringify(verdict)).toBe(before);
      }),
      { numRuns: 300 },
    );
    expect(seen.size).toBe(5);
  });
});
