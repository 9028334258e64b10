import { describe, expect, test } from "vitest";
import {
  type Decision,
  type DecisionEntry,
  decisionToLift,
  faultOfDecision,
} from "../../src/fitness/index.js";
import { decided, FIT, lifted, until, WET } from "../support/fitness/decided.js";

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
