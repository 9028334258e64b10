// A caller without a compiler can give anything: what is no day, number, scale or kind never makes a circuit fit.
import { describe, expect, test } from "vitest";
import { judgeCarts } from "../../src/fitness/index.js";
import { CIRCUIT, CLEAN, REQUIREMENT } from "../support/fitness/bases.js";

const judged = (
  sample: object,
  requirement: object = {},
  circuit: object = {},
  on: unknown = "2026-03-14",
) => {
  const [first] = judgeCarts({
    carts: [{ cart: "C-1", circuits: [{ ...CIRCUIT, ...circuit }] }],
    requirements: [{ ...REQUIREMENT, ...requirement }],
    samples: [{ ...CLEAN, ...sample }],
    unread: [],
    on,
  } as Parameters<typeof judgeCarts>[0]);
  const { verdict, reasons } = (first as NonNullable<typeof first>).verdict;
  return { verdict, why: reasons.map(({ message }) => message).join("\n") };
};

test("the case that the others change is fit", () => {
  expect(judged({}).verdict).toBe("fit");
});

describe("a sample", () => {
  test.each<[string, object, string]>([
    ["water below zero", { waterPpm: { value: -5 } }, "waterPpm must hold a value of 0 or more"],
    ["water as text", { waterPpm: { value: "120" } }, 'not {"value":"120"}'],
    ["water as a bare number", { waterPpm: 120 }, "not 120"],
    ["water as null", { waterPpm: null }, "not null"],
    ["a limit in other words", { waterPpm: { value: 20, limit: "under" } }, "waterPpm.limit must be below"],
    ["acid below zero", { acidMgKohPerG: { value: -0.1 } }, "acidMgKohPerG"],
    ["chlorine below zero", { chlorinePpm: { value: -1 } }, "chlorinePpm"],
    ["a metal below zero", { metalsPpm: { iron: { value: -1 } } }, "iron"],
    [
      "counts on the older scale",
      { counts: { ...CLEAN.counts, scale: "um-older" } },
      "counts.scale must be um(c)",
    ],
    ["counts by range", { counts: { ...CLEAN.counts, form: "interval" } }, "counts.form must be cumulative"],
    [
      "a day that no month has",
      { drawnOn: "2026-02-30" },
      'drawnOn must be a calendar day such as 2026-03-14, not "2026-02-30"',
    ],
    ["a day before the first", { drawnOn: "2026-02-00" }, 'not "2026-02-00"'],
    ["a day after the thirtieth of April", { drawnOn: "2026-04-31" }, 'not "2026-04-31"'],
    ["a month after the last", { drawnOn: "2026-13-01" }, 'not "2026-13-01"'],
    ["a day with points", { drawnOn: "04.03.2026" }, "drawnOn"],
    ["a date of the language", { drawnOn: new Date(2026, 2, 4) }, "drawnOn"],
  ])("with %s", (_, sample, says) => {
    const { verdict, why } = judged(sample);
    expect(verdict).toBe("do-not-connect");
    expect(why).toContain(says);
  });

  test("with water that is not a number is out of limits, and is on no trend", () => {
    expect(judged({ waterPpm: { value: Number.NaN } }).verdict).toBe("exchange-fluid");
  });

  test("of 29 February is a day of a leap year alone", () => {
    expect(judged({ drawnOn: "2028-02-29" }, {}, {}, "2028-03-14").verdict).toBe("fit");
    expect(judged({ drawnOn: "2026-02-29" }).why).toContain("drawnOn");
  });
});

describe("a requirement without a limit that nobody left out on purpose", () => {
  test.each<[string, object, string]>([
    ["water", { waterPpmMax: undefined }, "waterPpmMax is missing"],
    ["acid", { acidMgKohPerGMax: undefined }, "acidMgKohPerGMax is missing"],
    ["age", { sampleAgeDaysMax: undefined }, "sampleAgeDaysMax is missing"],
    ["particles", { cleanliness: [] }, "cleanliness must name a target"],
  ])("%s", (_, requirement, says) => {
    const { verdict, why } = judged({}, requirement);
    expect(verdict).toBe("do-not-connect");
    expect(why).toContain(says);
  });

  test("water that is said not to be limited is not missing", () => {
    expect(judged({}, { waterPpmMax: "not-limited" }).verdict).toBe("fit");
  });
});

describe("an event", () => {
  test.each<[string, object, string]>([
    ["on a day with points", { on: "10.03.2026", kind: "fluid-change" }, "events.on"],
    ["on no day", { on: "2026-02-30", kind: "fluid-change" }, "events.on"],
    ["of another kind", { on: "2026-03-10", kind: "fluidchange" }, "events.kind must be fluid-change"],
  ])("%s", (_, event, says) => {
    const { verdict, why } = judged({}, {}, { events: [event] });
    expect(verdict).toBe("do-not-connect");
    expect(why).toContain(says);
  });
});

test.each(["20.11.2026", "2026-02-30", "", undefined])("judging on %j is refused for what it is", (on) => {
  const { verdict, why } = judged({}, {}, {}, on ?? null);
  expect(verdict).toBe("do-not-connect");
  expect(why).toContain("on must be a calendar day");
});
