import { describe, expect, test } from "vitest";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { type OnlineAnswer, OnlineStream } from "../../src/online/index.js";

const START = 1_773_500_000;
const SETTINGS = { confidence: 0.95, countedMlPerMin: 10, repeatability: 0.1, bias: 0.2 };

/** Counts of 18/16/13 at a share of its limits (2,500, 640 and 80 per mL), never twice the same. */
function countsAt(minute: number, share: number, prefix = ""): object[] {
  const wave = 1 + 0.02 * Math.sin(7 * minute);
  return [
    [4, 2500],
    [6, 640],
    [14, 80],
  ].map(([size = 0, limit = 0]) => ({
    n: `${prefix}particles > ${size} µm(c)`,
    u: "1/mL",
    v: Math.round(100 * limit * share * wave) / 100,
    t: START + 60 * minute,
  }));
}

const senml = (n: string, u: string, v: number | string, minute: number) => ({
  n,
  u,
  [typeof v === "string" ? "vs" : "v"]: v,
  t: START + 60 * minute,
});

function answersTo(records: readonly object[], nowAt = (_: number) => START * 1000): OnlineAnswer[] {
  const stream = new OnlineStream({ ...SETTINGS, limits: limitsOfTarget(parseTarget("18/16/13")) });
  const events = records.flatMap((record, index) => stream.take(JSON.stringify(record), nowAt(index), false));
  return [...events, ...stream.end()].flatMap((event) => (event.kind === "answer" ? [event.answer] : []));
}

const minutes = (count: number, recordsOf: (minute: number) => object[]) =>
  Array.from({ length: count }, (_, minute) => recordsOf(minute)).flat();

const statesOf = (records: readonly object[]) => answersTo(records).map(({ state }) => state);
const codesOf = (answer: OnlineAnswer | undefined) => answer?.remarks.map(({ code }) => code);

describe("a circuit that is not shown to be clean is not called so", () => {
  test.each<[string, object[], string]>([
    [
      "the flow stopped, and the instrument said so once",
      [
        senml("flow", "L/min", 40, 0),
        ...minutes(2, (m) => countsAt(m, 8)),
        senml("flow", "L/min", 0, 2),
      ].concat(minutes(12, (m) => countsAt(m + 2, 0.2))),
      "no-flow",
    ],
    [
      "the fluid is cold, and the instrument said so once",
      [senml("temperature", "Cel", 12, 0), ...minutes(12, (m) => countsAt(m, 0.2))],
      "cold",
    ],
    [
      "one of two temperatures of the fluid is cold",
      minutes(12, (m) => [
        senml("tank temperature", "Cel", 45, m),
        senml("return temperature", "Cel", 20, m),
        ...countsAt(m, 0.2),
      ]),
      "cold",
    ],
    [
      "the channel of 14 µm(c) is dead",
      minutes(12, (m) => countsAt(m, 0.4).map((one, index) => (index === 2 ? { ...one, v: 0 } : one))),
      "breaks-off",
    ],
  ])("%s", (_, records, code) => {
    const answers = answersTo(records);
    expect(answers.filter(({ state }) => state === "clean")).toEqual([]);
    expect(codesOf(answers.at(-1))).toContain(code);
  });

  test.each<[string, object[]]>([
    // The mean of the two would be 0.52 of the limits.
    [
      "the return at 1.02 of the limits, and what the element delivers at 0.02",
      minutes(20, (m) => [...countsAt(m, 1.02, "return "), ...countsAt(m, 0.02, "delivery ")]),
    ],
    [
      "a class two above what another channel shows",
      minutes(20, (m) => [...countsAt(m, 0.1), senml("ISO 4406", "", "20/18/15", m)]),
    ],
    [
      "a base value of 5000 per mL",
      minutes(12, (m) => countsAt(m, 0.02).map((one) => ({ ...one, bv: 5000 }))),
    ],
  ])("%s", (_, records) => {
    expect(statesOf(records)).not.toContain("clean");
  });
});

describe("clean is said for as long as the minutes show it", () => {
  test.each([
    ["twenty minutes", 20],
    ["ten hours", 600],
  ])("after %s of clean fluid, a minute above a limit is not called clean", (_, clean) => {
    const answers = answersTo([
      ...minutes(clean, (m) => countsAt(m, 0.6)),
      ...minutes(6, (m) => countsAt(m + clean, 1.05)),
    ]);
    expect(answers[clean - 1]?.state).toBe("clean");
    expect(answers.slice(clean).map(({ state }) => state)).not.toContain("clean");
  });

  test("after it was called clean, counts that creep up to the limit take the word back before they are there", () => {
    const answers = answersTo([
      ...minutes(30, (m) => countsAt(m, 0.6)),
      ...minutes(60, (m) => countsAt(m + 30, Math.min(0.92, 0.6 + 0.01 * m))),
    ]);
    expect(answers[29]?.state).toBe("clean");
    expect(answers.slice(-20).map(({ state }) => state)).not.toContain("clean");
  });

  test("one high minute that is still inside does not turn it over", () => {
    const answers = answersTo(minutes(60, (m) => countsAt(m, m === 40 ? 0.8 : 0.5)));
    expect(answers.slice(10).every(({ state }) => state === "clean")).toBe(true);
  });
});

describe("a sound circuit is not kept waiting", () => {
  test.each<[string, object[]]>([
    // A share of 0.5 is 17/15/12; upper edges are 0.52 of the limits.
    [
      "the counter sends the class of the same fluid too",
      minutes(20, (m) => [...countsAt(m, 0.3), senml("ISO 4406", "", "17/15/12", m)]),
    ],
    [
      "the counter sends a class only, and it stays the same",
      minutes(20, (m) => [senml("ISO 4406", "", "16/14/11", m)]),
    ],
    [
      "the hangar is cold, and the fluid is warm",
      minutes(20, (m) => [
        senml("ambient temperature", "Cel", 5, m),
        senml("fluid temperature", "Cel", 45, m),
        ...countsAt(m, 0.3),
      ]),
    ],
    [
      "the fluid warmed up, and the flow began, each said once",
      [
        senml("temperature", "Cel", 20, 0),
        senml("flow", "L/min", 0, 0),
        ...minutes(3, (m) => countsAt(m, 0.3)),
        senml("temperature", "Cel", 40, 3),
        senml("flow", "L/min", 40, 3),
        ...minutes(15, (m) => countsAt(m + 3, 0.3)),
      ],
    ],
  ])("%s", (_, records) => {
    expect(statesOf(records).at(-1)).toBe("clean");
  });

  // RFC 8428, 4.5.3: a record without a time is of now.
  test("lines without a time that say the same in two minutes are two readings", () => {
    const record = { n: "particles > 14 µm(c)", u: "1/mL", v: 3 };
    const answers = answersTo([record, record, record], (index) => START * 1000 + 60_000 * index);
    expect(answers.map(({ minute }) => minute.counts.length)).toEqual([1, 1, 1]);
  });
});
