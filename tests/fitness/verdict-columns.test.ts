import { describe, expect, test } from "vitest";
import {
  describeCrossing,
  describeCrossings,
  exchangeLines,
  FLEET_COLUMNS,
  type FleetRow,
  isChanged,
  VERDICT_COLUMNS,
  type VerdictOnCircuit,
  verdictColumns,
} from "../../src/fitness/index.js";

/** A judged circuit, as far as a column looks at it. */
function judged(verdict: object, standing?: object): VerdictOnCircuit {
  const plain = { cart: "C-1", circuit: "fore", on: "2026-03-14", verdict: "fit", assessed: [], ...verdict };
  return { verdict: plain, standing } as unknown as VerdictOnCircuit;
}

describe("the table of verdicts", () => {
  test("shows the columns that are named, in that order", () => {
    expect(verdictColumns(["circuit", "cart"]).map(({ of }) => of(judged({})))).toEqual(["fore", "C-1"]);
  });

  test.each([
    [
      "a time to go by, rounded up, and not the one by the stated values",
      "circulate",
      { circulation: { reachable: true, minutes: 3 }, goBy: { kind: "minutes", minutes: 7.353 } },
      "7.4 min",
    ],
    [
      "that no time is long enough",
      "circulate",
      { circulation: { reachable: true, minutes: 3 }, goBy: { kind: "no-time" } },
      "no time is long enough",
    ],
    ["no time where there is none", "circulate", { circulation: { reachable: false } }, "out of reach"],
    ["nothing where particles are inside", "circulate", {}, undefined],
    ["a limit value with its sign", "water", { sample: { waterPpm: { value: 50, limit: "below" } } }, "< 50"],
    ["that there is no sample", "sample", {}, "none"],
    ["the day of the next sample", "nextSampleBy", { outlook: { nextSampleBy: "2026-03-15" } }, "2026-03-15"],
    [
      "the day of judging as in time",
      "nextSampleBy",
      { outlook: { nextSampleBy: "2026-03-14" } },
      "2026-03-14",
    ],
    [
      "a day before as overdue",
      "nextSampleBy",
      { outlook: { nextSampleBy: "2026-03-13" } },
      "2026-03-13, overdue",
    ],
    [
      "a sample after the work where work is called for",
      "nextSampleBy",
      { verdict: "circulate", outlook: { nextSampleBy: "2026-03-15" } },
      "after the work",
    ],
    ["a sample now", "nextSampleBy", { verdict: "resample", outlook: { nextSampleBy: "2026-03-15" } }, "now"],
  ] as const)("says %s", (_, column, verdict, said) => {
    expect(VERDICT_COLUMNS[column].of(judged(verdict))).toBe(said);
  });

  test("says that a person holds a circuit whose verdict is fit", () => {
    const standing = { held: true, stands: "resample", decisions: [] };
    expect(VERDICT_COLUMNS.verdict.of(judged({}, standing))).not.toContain("fit");
  });
});

describe("the fleet table", () => {
  const row = (fields: Partial<FleetRow>) => ({ crossings: [], ...fields }) as unknown as FleetRow;
  const said = (title: string, fields: Partial<FleetRow>) =>
    FLEET_COLUMNS.find((column) => column.title === title)?.of(row(fields), "2026-03-14");
  const crossing = { measure: "water", on: "2026-03-20", beforeNextSample: "possible" } as const;

  test.each([
    ["sample due", {}, "now"],
    ["sample due", { nextSampleBy: "2026-03-14", daysToSample: 0 }, "2026-03-14"],
    ["sample due", { nextSampleBy: "2026-03-13", daysToSample: -1 }, "2026-03-13, overdue"],
    ["crossing", { crossings: [crossing] }, "water possible 2026-03-20"],
    ["crossing", { crossings: [{ ...crossing, on: "2026-03-14" }] }, "water crossed 2026-03-14"],
    ["element", { elementUsed: 0.9, elementNearCapacity: true }, "90 % used, change soon"],
    ["element", {}, ""],
  ] as const)("%s of %j is %j", (title, fields, text) => {
    expect(said(title, fields as unknown as Partial<FleetRow>)).toBe(text);
  });

  test.each([
    [{ verdict: "fit" }, false],
    [{ verdict: "fit", before: "fit" }, false],
    [{ verdict: "fit", before: "resample" }, true],
  ] as const)("%j is changed: %s", (fields, changed) => {
    expect(isChanged(fields)).toBe(changed);
  });
});

describe("a limit that a trend crosses", () => {
  const crossing = {
    measure: "acid",
    limit: 1,
    on: "2026-03-14",
    earliest: "2026-03-01",
    latest: "2026-04-01",
    beforeNextSample: "expected",
  } as unknown as Parameters<typeof describeCrossing>[0];

  test.each([
    ["2026-03-14", crossing, "by its trend acid number crossed its limit about 2026-03-14"],
    ["2026-03-13", crossing, "is expected to cross its limit before the next sample, about 2026-03-14"],
    ["2026-03-13", { ...crossing, beforeNextSample: "no" }, "acid number crosses its limit about 2026-03-14"],
  ] as const)("judged on %s", (on, found, words) => {
    expect(describeCrossing(found, on)).toContain(words);
  });

  test("is listed only when it is crossed before the next sample, or may be", () => {
    const crossings = [crossing, { ...crossing, beforeNextSample: "no" as const }];
    const outlook = { crossings } as unknown as NonNullable<
      Parameters<typeof describeCrossings>[0]["outlook"]
    >;
    expect(describeCrossings({ outlook, on: "2026-03-13" })).toHaveLength(1);
    expect(describeCrossings({ on: "2026-03-13" })).toEqual([]);
  });
});

test("litres to exchange are given only where exchanging is what to do now", () => {
  const none = { kind: "litres", litres: 30, leaves: 1 } as const;
  const plan = { once: none, repeated: { ...none, times: 1 }, feedAndBleed: none, assumptions: [] };
  const exchange = [
    { quantity: "water", present: 900, aim: 500, fresh: 100, plan, assumptions: [] },
  ] as const;
  expect(exchangeLines({ action: "exchange-fluid", exchange })[0]).toContain("one drain of 30 L");
  expect(exchangeLines({ action: "do-not-connect", exchange })).toEqual([]);
});
