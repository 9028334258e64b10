import { describe, expect, test } from "vitest";
import {
  type CircuitDecision,
  cartsTogether,
  type Decision,
  describeVerdict,
  fleetRows,
  holdsElsewhere,
  judgeCarts,
  judgeCircuit,
  nextUnder,
  standingOf,
} from "../../src/fitness/index.js";
import { CIRCUIT, CLEAN, REQUIREMENT } from "../support/fitness/bases.js";
import { decided, FIT, lifted, WET } from "../support/fitness/decided.js";

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
    ["exchange-fluid", WET, ["do not connect: HELD", "a person lifts", "to bring water to 160"]],
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
    expect(describeVerdict(verdict)).toContain("fit to connect to main system");
    expect(describeVerdict(verdict, standingOf(verdict, [decided("resample", FIT)]))).toBe(
      "C-1, circuit 1: not fit to connect, HELD by A. Person on 2026-03-14: bottle found open (computed: fit).",
    );
    expect(describeVerdict(verdict, standingOf(verdict, [decided("fit", FIT)]))).toBe(
      describeVerdict(verdict),
    );
  });

  test("without a hold it is what was computed", () => {
    const verdict = judgeCircuit(FIT);
    expect(nextUnder({ verdict })).toBe(verdict.next);
    expect(nextUnder({ verdict, standing: standingOf(verdict, [decided("fit", FIT)]) })).toBe(verdict.next);
  });
});
