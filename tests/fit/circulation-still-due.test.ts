// Minutes that a requirement asks for after a change, and what a path that only delivers does in their place.
import { describe, expect, test } from "vitest";
import { briefOf, type CircuitCase, judgeCase, stepsOf } from "../../src/fitness/index.js";
import type { Circuit, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, counts, REQUIREMENT } from "../support/fitness/bases.js";

const { flowLpm: _flow, ...WITHOUT_FLOW } = CIRCUIT;
const DELIVERS_ONLY: Circuit = { ...WITHOUT_FLOW, delivery: { flowLpm: 20, returns: false } };

/** Ten minutes and a sample after an element change. CLEAN is of 4 March, and judged on 14 March. */
const ASKS = {
  ...REQUIREMENT,
  after: [{ event: "element-change" as const, sample: true, circulatedMinutesMin: 10 }],
};
const changed = (on: string) => ({ on, kind: "element-change" as const });
const ran = (on: string, minutes: number, more: Partial<Circuit["events"][number]> = {}) => ({
  ...{ on, kind: "circulation" as const, minutes },
  ...more,
});
const judge = (circuit: Circuit, events: Circuit["events"], change: Partial<Sample> = {}) =>
  judgeCase(
    caseOf({
      circuit: { ...circuit, events },
      requirement: ASKS,
      samples: [{ ...CLEAN, ...change }],
    } as Partial<CircuitCase>),
  );

describe("the first line says the minutes that are still due", () => {
  test.each<[string, Circuit, Circuit["events"], Partial<Sample>, RegExp]>([
    [
      "a sample since and no circulation",
      CIRCUIT,
      [changed("2026-03-02")],
      {},
      /^circulate 10 min more, then draw a sample$/,
    ],
    [
      "a sample since and four of ten minutes",
      CIRCUIT,
      [changed("2026-03-02"), ran("2026-03-03", 4)],
      {},
      /^circulate 6 min more, then draw a sample$/,
    ],
    [
      "a sample since and a circulation that is planned",
      CIRCUIT,
      [changed("2026-03-02"), ran("2026-03-20", 10)],
      {},
      /^circulate 10 min more, then draw a sample$/,
    ],
    [
      "no sample since and four of ten minutes",
      CIRCUIT,
      [changed("2026-03-06"), ran("2026-03-07", 4)],
      {},
      /^do not connect yet: circulate 6 min more, then draw a new sample$/,
    ],
    [
      "no sample since and all ten minutes",
      CIRCUIT,
      [changed("2026-03-06"), ran("2026-03-07", 10)],
      {},
      /^do not connect yet: draw a new sample$/,
    ],
    [
      "minutes of the last of two changes",
      CIRCUIT,
      [changed("2026-03-01"), ran("2026-03-02", 10), changed("2026-03-03")],
      {},
      /^circulate 10 min more, then draw a sample$/,
    ],
    [
      "a change that is planned",
      CIRCUIT,
      [changed("2026-03-20")],
      {},
      /^do not connect yet: draw a new sample$/,
    ],
    [
      "particles that take longer than what is due",
      CIRCUIT,
      [changed("2026-03-02")],
      { counts: counts(40_000, 10_000, 1280) },
      /^circulate 1\d min \(/,
    ],
    [
      "a path that only delivers",
      DELIVERS_ONLY,
      [changed("2026-03-02"), ran("2026-03-03", 4)],
      {},
      /^pump 6 min more into a clean can, then draw a sample$/,
    ],
    [
      "a path that only delivers, without a sample since",
      DELIVERS_ONLY,
      [changed("2026-03-06")],
      {},
      /^do not connect yet: pump 10 min more into a clean can, then draw a new sample$/,
    ],
  ])("%s", (_, circuit, events, change, action) => {
    expect(briefOf(judge(circuit, events, change)).action).toMatch(action);
  });

  test("the steps at the cart say them before the bottle, and have them entered", () => {
    const [, due, draw] = stepsOf(judge(CIRCUIT, [changed("2026-03-06"), ran("2026-03-07", 4)]));
    expect(due).toBe("Circulate 6 min more. Write the minutes with their day into the carts file.");
    expect(draw).toMatch(/draw a verifying sample/);
  });
});

describe("minutes that a requirement asks for after a change", () => {
  const dirty = { counts: counts(20_000, 5000, 640) };
  const asks50 = {
    ...ASKS,
    after: [{ event: "element-change" as const, sample: true, circulatedMinutesMin: 50 }],
  };
  const minutesAfter = (...events: Circuit["events"]) => {
    const { goBy } = judgeCase(
      caseOf({
        circuit: { ...CIRCUIT, events },
        requirement: asks50,
        samples: [{ ...CLEAN, ...dirty }],
      }),
    ).verdict;
    return goBy?.kind === "minutes" && [goBy.governs, goBy.minutes];
  };
  // Clean fluid takes about eight minutes.
  const ofTheCounts = minutesAfter();

  test.each<[string, Circuit["events"], ReturnType<typeof minutesAfter>]>([
    ["that was made: all of them", [changed("2026-03-02")], ["requirement", 50]],
    [
      "with some run since: what is left",
      [changed("2026-03-02"), ran("2026-03-03", 20)],
      ["requirement", 30],
    ],
    [
      "with a run since that the log holds twice: what one of them leaves",
      [changed("2026-03-02"), ran("2026-03-03", 20, { at: "10:00" }), ran("2026-03-03", 20, { at: "10:00" })],
      ["requirement", 30],
    ],
    [
      "with two runs since, one after the other: what both leave",
      [changed("2026-03-02"), ran("2026-03-03", 15, { at: "10:00" }), ran("2026-03-03", 15, { at: "10:15" })],
      ["requirement", 20],
    ],
    [
      "with more run since than left: those of the counts",
      [changed("2026-03-02"), ran("2026-03-03", 45)],
      ofTheCounts,
    ],
    ["on the day of judging: all of them", [changed("2026-03-14")], ["requirement", 50]],
    ["that is planned: none today", [changed("2026-03-15")], ofTheCounts],
    [
      "made and another one planned: those of the first",
      [changed("2026-03-02"), ran("2026-03-03", 20), changed("2026-03-15")],
      ["requirement", 30],
    ],
  ])("are never forgotten and never ordered early: a change %s", (_, events, expected) => {
    expect(minutesAfter(...events)).toEqual(expected);
  });
});

describe("a path that only delivers is not sent to circulate", () => {
  test.each<[string, Partial<Sample>, Circuit["events"]]>([
    ["wet fluid", { waterPpm: { value: 900 } }, []],
    ["dirty fluid", { counts: counts(5000, 1200, 160) }, []],
    ["no counts", { counts: undefined } as unknown as Partial<Sample>, []],
    ["a changed element", {}, [changed("2026-03-06")]],
    ["minutes that are due", {}, [changed("2026-03-02")]],
  ])("%s", (_, change, events) => {
    const judged = judge(DELIVERS_ONLY, events, change);
    const orders = /(?<!of its own to )\b[Cc]irculate\b/;
    const lines = [
      ...stepsOf(judged),
      briefOf(judged).action,
      ...judged.verdict.next.steps.map(({ text }) => text),
    ];
    expect(lines.filter((line) => orders.test(line))).toEqual([]);
  });

  test("and a circuit that circulates is", () => {
    const { verdict } = judge(CIRCUIT, [], { waterPpm: { value: 900 } });
    const texts = verdict.next.steps.map(({ text }) => text).join("; ");
    expect(texts).toMatch(/fill with fresh fluid from sealed cans only, and circulate/);
    expect(texts).toMatch(/circulate for at least 5 minutes at full flow before drawing/);
  });
});
