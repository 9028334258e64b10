import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type CircuitCase,
  type CircuitDecision,
  cartsTogether,
  compareVerdicts,
  type Decision,
  type DecisionEffect,
  type DecisionEntry,
  decisionToLift,
  faultOfDecision,
  fleetRows,
  holdsElsewhere,
  judgeCarts,
  judgeCircuit,
  nextUnder,
  sayVerdict,
  standingOf,
  VERDICTS,
  type VerdictName,
} from "../../src/fitness/index.js";
import { asking, CIRCUIT, CLEAN, caseOf, REQUIREMENT, SOUND, sample } from "../support/fitness/bases.js";

const FIT = caseOf({});
const WET = caseOf(sample({ waterPpm: { value: 350 } }));
const OLD = caseOf({ ...sample({}), on: "2026-04-10" });
const NEWER = { sample: "S-2", drawnOn: "2026-03-16" };
const UNENTERED = caseOf(asking({ cartState: { ageDaysMax: 3 } }));
const later = (input: CircuitCase, on: string, change: Partial<CircuitCase> = {}): CircuitCase => ({
  ...input,
  on,
  ...change,
});

let number = 0;
/** A decision made on the verdict of a case; on none where there is no case. */
function decided(decision: VerdictName, on: CircuitCase | undefined, more: Partial<Decision> = {}): Decision {
  number += 1;
  return {
    number,
    at: "2026-03-14T09:30:00.000Z",
    person: "A. Person",
    decision,
    reason: "bottle found open",
    ...(on && { madeOn: judgeCircuit(on) }),
    ...more,
  };
}
const lifted = { at: "2026-03-15T08:00:00.000Z", person: "B. Person", reason: "drawn again" };
const until = (day: string): Partial<Decision> => ({ until: day });

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
        const { held, stands, decisions: told } = standingOf(verdict, decisions);
        expect(compareVerdicts(stands, verdict.verdict)).toBeGreaterThanOrEqual(0);
        if (held) expect(stands).not.toBe("fit");
        else expect(stands).toBe(verdict.verdict);
        for (const { decision: one, effect } of told) {
          seen.add(effect);
          const stricter = one.madeOn && compareVerdicts(one.decision, one.madeOn.verdict) > 0;
          if (stricter && one.lifted === undefined) expect(effect).toBe("holds");
        }
        expect(told).toHaveLength(decisions.length);
        expect(JSON.stringify(verdict)).toBe(before);
      }),
      { numRuns: 300 },
    );
    expect(seen.size).toBe(5);
  });
});

describe("circuits that were judged with decisions", () => {
  const circuits = [CIRCUIT, { ...CIRCUIT, circuit: "2" }];
  const requirements = [{ ...REQUIREMENT, aircraft: "fleet A" }];
  const judgeWith = (cart: string, circuit: string) =>
    judgeCarts({
      carts: [{ cart: "C-1", circuits }],
      requirements,
      samples: [CLEAN, { ...CLEAN, sample: "S-2", circuit: "2", waterPpm: { value: 350 } }],
      unread: [],
      on: "2026-03-14",
      decisions: [{ ...decided("circulate", FIT), cart, circuit }],
    });

  test("a held circuit goes before a stricter verdict, and says who holds it and nothing that was found inside", () => {
    const [first, second] = fleetRows(judgeWith("C-1", "1"));
    expect(first).toMatchObject({ circuit: "1", verdict: "fit", stands: "circulate", held: true });
    expect(first?.because).toEqual(["HELD by A. Person on 2026-03-14: bottle found open"]);
    expect(second).toMatchObject({ circuit: "2", stands: "exchange-fluid", held: false });
  });

  test("the cart and its pairing say what stands", () => {
    const [cart] = cartsTogether(judgeWith("C-1", "1").slice(0, 1), requirements);
    expect(cart?.verdict).toBe("circulate");
    expect(cart?.pairings[0]?.systems).toEqual([
      { system: "main system", circuit: "1", verdict: "circulate", held: true },
    ]);
  });

  test.each([
    ["C-1", "1", true],
    ["c 1", "1", true],
    ["C1", "1", true],
    ["C-2", "1", false],
    ["C-1", "11", false],
  ])(
    'a decision about cart "%s", circuit "%s" concerns cart C-1, circuit 1: %s',
    (cart, circuit, concerns) => {
      expect(judgeWith(cart, circuit)[0]?.standing !== undefined).toBe(concerns);
    },
  );

  test("names and reasons cannot begin a line of their own", () => {
    const forged = decided("resample", FIT, {
      person: "A\nC-1, circuit 1: fit",
      reason: "x\r\n\tall is fit",
    });
    const [row] = fleetRows([
      { circuit: CIRCUIT, verdict: judgeCircuit(FIT), standing: standingOf(judgeCircuit(FIT), [forged]) },
    ]);
    expect(row?.because).toEqual(["HELD by A C-1, circuit 1: fit on 2026-03-14: x all is fit"]);
  });
});

describe("holds on circuits that were not judged", () => {
  const about = (cart: string, circuit: string, more: Partial<Decision> = {}): CircuitDecision => ({
    ...decided("resample", FIT, more),
    cart,
    circuit,
  });
  const judged = [
    { cart: "C-1", circuit: "1" },
    { cart: "C-1", circuit: "2" },
  ];
  test.each<[string, CircuitDecision, boolean, boolean]>([
    ["of the carts judged, a circuit that is gone", about("C-1", "3"), false, true],
    ["of the carts judged, by another spelling of the cart", about("c1", "3"), false, true],
    ["of another cart, when not all of the book was judged", about("C-9", "1"), false, false],
    ["of another cart, when all of the book was judged", about("C-9", "1"), true, true],
    ["a circuit that was judged", about("C-1", "2"), true, false],
    ["a circuit that was judged by another spelling", about("C 1", "2"), true, false],
    ["a decision that was lifted", about("C-9", "1", { lifted }), true, false],
    [
      "a decision that is milder than its verdict",
      { ...about("C-9", "1"), ...decided("fit", WET) },
      true,
      false,
    ],
  ])("%s", (_title, decision, whole, shown) => {
    expect(holdsElsewhere([decision], judged, whole)).toEqual(shown ? [decision] : []);
  });
});

describe("what to do with a held circuit", () => {
  test.each([
    ["fit", FIT, ["do not connect: HELD", "a person lifts"]],
    ["exchange-fluid", WET, ["do not connect: HELD", "a person lifts", "to bring water to 200"]],
  ])("where %s was computed, the hold comes first and no step leads to a hookup", (_title, input, steps) => {
    const verdict = judgeCircuit(input);
    const next = nextUnder({ verdict, standing: standingOf(verdict, [decided("do-not-connect", FIT)]) });
    expect(next.action).toBe("do-not-connect");
    steps.forEach((words, index) => {
      expect(next.steps[index]?.text).toContain(words);
    });
    expect(next.steps.map(({ text }) => text).join()).not.toContain("connect only if");
  });

  test("the line that says the verdict says the hold in its place", () => {
    const verdict = judgeCircuit(FIT);
    expect(sayVerdict(verdict)).toContain("fit to connect to main system");
    expect(sayVerdict(verdict, standingOf(verdict, [decided("resample", FIT)]))).toBe(
      "C-1, circuit 1: not fit to connect, HELD by A. Person on 2026-03-14: bottle found open (computed: fit).",
    );
    expect(sayVerdict(verdict, standingOf(verdict, [decided("fit", FIT)]))).toBe(sayVerdict(verdict));
  });

  test("without a hold it is what was computed", () => {
    const verdict = judgeCircuit(FIT);
    expect(nextUnder({ verdict })).toBe(verdict.next);
    expect(nextUnder({ verdict, standing: standingOf(verdict, [decided("fit", FIT)]) })).toBe(verdict.next);
  });
});

describe("a decision is kept only when it can be one", () => {
  const STOPPED = { verdict: "do-not-connect", on: "2026-03-14" } as const;
  const DRY = { verdict: "fit", on: "2026-03-14" } as const;
  const MOIST = { verdict: "exchange-fluid", on: "2026-03-14" } as const;
  const hold = decided("resample", FIT);
  const ENTRY: DecisionEntry = { person: "A. Person", decision: "fit", reason: "ground run only" };
  const second = { second: "B. Person" };
  test.each<
    [
      string,
      Partial<DecisionEntry>,
      typeof STOPPED | typeof DRY | typeof MOIST | undefined,
      Decision[],
      string | undefined,
    ]
  >([
    ["a milder one", {}, MOIST, [], undefined],
    ["a milder one with a last day", { until: "2026-03-20" }, MOIST, [], undefined],
    ["a milder one that ends on the day of the verdict", { until: "2026-03-14" }, MOIST, [], undefined],
    [
      "a milder one that ended before the verdict",
      { until: "2026-03-13" },
      MOIST,
      [],
      "until: 2026-03-13 is before 2026-03-14",
    ],
    [
      "a last day that is none",
      { until: "next week" },
      MOIST,
      [],
      'until: expected a day such as 2026-03-14, found "next week"',
    ],
    ["a last day that is in no calendar", { until: "2026-02-30" }, MOIST, [], 'found "2026-02-30"'],
    ["do-not-connect made fit by one person", {}, STOPPED, [], "needs the name of a second person"],
    [
      "do-not-connect made resample by one person",
      { decision: "resample" },
      STOPPED,
      [],
      "needs the name of a second person",
    ],
    ["do-not-connect made fit by two", second, STOPPED, [], undefined],
    ["do-not-connect confirmed by one person", { decision: "do-not-connect" }, STOPPED, [], undefined],
    ["the same person twice", { second: "A. Person" }, STOPPED, [], "must be another than the first"],
    ["the same person in capitals", { second: "A. PERSON" }, STOPPED, [], "must be another than the first"],
    [
      "the same person with other spaces",
      { second: " a.person " },
      STOPPED,
      [],
      "must be another than the first",
    ],
    [
      "the same person, last name first",
      { second: "Person, A." },
      STOPPED,
      [],
      "must be another than the first",
    ],
    [
      "the same person with an accent",
      { second: "A. Pérson" },
      STOPPED,
      [],
      "must be another than the first",
    ],
    [
      "the same person in full-width letters",
      { second: "Ａ. Ｐｅｒｓｏｎ" },
      STOPPED,
      [],
      "must be another than the first",
    ],
    ["a second person of spaces", { second: "  " }, STOPPED, [], "needs the name of the second person"],
    ["a second person who is a dash", { second: "-" }, STOPPED, [], "needs the name of the second person"],
    [
      "a first person nobody can see",
      { ...second, person: "\u200b" },
      STOPPED,
      [],
      "needs the name of the person",
    ],
    ["a reason nobody can see", { reason: "\u00a0." }, MOIST, [], "needs a reason"],
    ["a stricter one by one person", { decision: "resample" }, DRY, [], undefined],
    [
      "a stricter one with a last day",
      { decision: "resample", until: "2026-03-20" },
      DRY,
      [],
      "lasts until a person lifts it",
    ],
    [
      "one as strict as the verdict with a last day",
      { decision: "exchange-fluid", until: "2026-03-20" },
      MOIST,
      [],
      "lasts until a person lifts it",
    ],
    [
      "a milder one while a hold stands",
      {},
      MOIST,
      [hold],
      `until a person has lifted decision ${hold.number}`,
    ],
    [
      "fit while a hold stands on a fit verdict",
      {},
      DRY,
      [hold],
      `until a person has lifted decision ${hold.number}`,
    ],
    ["another stricter one while a hold stands", { decision: "circulate" }, DRY, [hold], undefined],
    ["a milder one after the hold was lifted", {}, MOIST, [{ ...hold, lifted }], undefined],
    ["a milder one after a milder one", {}, MOIST, [decided("fit", WET)], undefined],
    ["do-not-connect without a verdict", { decision: "do-not-connect" }, undefined, [], undefined],
    [
      "resample without a verdict",
      { decision: "resample" },
      undefined,
      [],
      "only do-not-connect can be decided",
    ],
    ["fit without a verdict by two", second, undefined, [], "only do-not-connect can be decided"],
    [
      "do-not-connect without a verdict and with a last day",
      { decision: "do-not-connect", until: "2026-03-20" },
      undefined,
      [],
      "lasts until a person lifts it",
    ],
  ])("%s", (_title, change, madeOn, others, fault) => {
    const said = faultOfDecision({ ...ENTRY, ...change }, madeOn, others);
    if (fault === undefined) expect(said).toBeUndefined();
    else expect(said).toContain(fault);
  });
});

describe("which decision is lifted", () => {
  const hold = decided("resample", FIT);
  const other = decided("do-not-connect", FIT);
  const mild = decided("fit", WET, until("2026-03-20"));
  const over = decided("resample", FIT, { lifted });
  test.each<[string, Decision[], number | undefined, Decision | string]>([
    ["the only one", [hold], undefined, hold],
    ["the only one by its number", [hold], hold.number, hold],
    ["the one that holds, and not the milder one", [mild, hold, over], undefined, hold],
    ["the milder one by its number", [mild, hold], mild.number, mild],
    ["the milder one when nothing holds", [mild, over], undefined, mild],
    ["one of two that hold, by its number", [hold, other], other.number, other],
    ["neither of two that hold without a number", [hold, other], undefined, "several decisions stand"],
    ["none with the number of another circuit", [hold], 9999, "there is no decision 9999 to lift"],
    ["none that was lifted already", [over], over.number, "there is no decision to lift"],
    ["none where nobody decided", [], undefined, "there is no decision to lift"],
  ])("%s", (_title, decisions, wanted, expected) => {
    const found = decisionToLift(decisions, wanted);
    if (typeof expected === "string") expect(found).toContain(expected);
    else expect(found).toBe(expected);
  });
});
