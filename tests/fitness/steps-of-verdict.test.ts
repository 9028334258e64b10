// What a technician does next with a circuit, step by step, and the sentence that says it in one line.
import { describe, expect, test } from "vitest";
import { describeGoBy } from "../../src/circulation/index.js";
import { circulationCell } from "../../src/fitness/advice/circulate-lines.js";
import { describeStillDue } from "../../src/fitness/advice/still-due.js";
import { briefOf, describeVerdict, judgeCase, standingOf, stepsOf } from "../../src/fitness/index.js";
import type { Circuit, Requirement } from "../../src/samples/index.js";
import {
  asking,
  CIRCUIT,
  CLEAN,
  caseOf,
  countedIn,
  events,
  inState,
  REQUIREMENT,
  sample,
  without,
} from "../support/fitness/bases.js";
import { decided, FIT } from "../support/fitness/decided.js";

type Change = Parameters<typeof caseOf>[0];

const PLACARD =
  /^Read the placard: this circuit is declared to hold MIL-PRF-83282\. If it says anything else, stop\.$/;
const DRAW =
  /^Flush the sampling port and draw a verifying sample while the fluid is flowing\. .* Let air settle/;
const WAIT = /^Do not connect before the new result has been judged fit\.$/;
const ROW = { where: "lab.csv row 7", cart: "C-1", circuit: "1" };
const DIRTY = sample({ counts: countedIn(20, 20_000, 5000, 640) });
/** Ingress that holds the circuit at nine tenths of its limits and is known to half of itself. */
const STUCK: Change = {
  circuit: {
    ...CIRCUIT,
    ingress: [4, 6, 14].map((sizeUmC, index) => ({
      sizeUmC,
      particlesPerMin: 0.9 * ([1300, 320, 40][index] as number) * 45_000 * 0.95,
    })),
  },
  ...sample({ counts: countedIn(20, 5000, 1200, 160) }),
};
const PATCH: Change = {
  requirement: { ...REQUIREMENT, cleanliness: [], patchTest: { standard: "NAS 1638", classMax: 6 } },
  samples: [{ ...without(CLEAN, "counts"), patchTest: { class: { value: 8 }, standard: "NAS 1638" } }],
};
const TWO_BOTTLES: Change = {
  samples: [
    without(CLEAN, "counts"),
    { ...without(CLEAN, "waterPpm", "acidMgKohPerG"), sample: "S-2", drawnOn: "2026-03-06" },
  ],
};
const FORM: Partial<Requirement> = { cartState: { ageDaysMax: 7 } };
const WET = sample({ waterPpm: { value: 350 }, acidMgKohPerG: { value: 0.4 } });

/** An element change before the sample, after which fifteen minutes are required. */
const DUE: Change = {
  requirement: {
    ...REQUIREMENT,
    after: [{ event: "element-change", sample: true, circulatedMinutesMin: 15 }],
  },
  ...events({ on: "2026-03-01", kind: "element-change" }),
};

const judged = (change: Change) => judgeCase(caseOf(change));

describe("the steps at the cart", () => {
  test.each<[string, Change, RegExp[]]>([
    [
      "a fit circuit: how long that lasts, and who decides",
      {},
      [
        PLACARD,
        /^This verdict rests on sample S-1 of 2026-03-04\. It is valid until 2026-04-03, and no longer once/,
        /^Connect only if/,
      ],
    ],
    [
      "two bottles: as long as the older of them lasts",
      TWO_BOTTLES,
      [
        PLACARD,
        /^This verdict rests on samples S-\d of 2026-03-0\d and S-\d of 2026-03-0\d\. It is valid until 2026-04-03,/,
        /^Connect only if/,
      ],
    ],
    [
      "dirty fluid: flow, volume and element with the minutes, then the bottle",
      DIRTY,
      [
        PLACARD,
        /^Self-circulate [\d.]+ min \([\d.]+ passes\) at 45 L\/min, 60 L a pass, through the pressure element\. Begin to count once the flow is steady\.$/,
        /do not go by it\.$/,
        DRAW,
        WAIT,
      ],
    ],
    [
      "dirty fluid and a size that was not counted: it is to be counted",
      sample({ counts: countedIn(20, 20_000, 5000) }),
      [
        PLACARD,
        /^Self-circulate /,
        /do not go by it\.$/,
        DRAW,
        /^Ask the laboratory for all sizes: .*asks for 14, which was not counted/,
        WAIT,
      ],
    ],
    [
      "dirty fluid and minutes that a requirement asks for: they are entered, or the next sample is sent back for them",
      { ...DIRTY, ...DUE },
      [
        PLACARD,
        /^Self-circulate 15 min /,
        /15 min that the requirement still asks for/,
        /^Write the minutes with their day into the carts file\.$/,
        DRAW,
        WAIT,
      ],
    ],
    [
      "wet fluid and minutes that a requirement asks for",
      { ...sample({ waterPpm: { value: 350 } }), ...DUE },
      [
        PLACARD,
        /^To bring water to 160/,
        /^Exchange the fluid/,
        /^Write the exchange/,
        /^Circulate 15 min more\. Write the minutes with their day into the carts file\.$/,
        DRAW,
        WAIT,
      ],
    ],
    [
      "no time that is long enough: no minutes, and no bottle to verify them",
      STUCK,
      [
        PLACARD,
        /^Find and stop what lets dirt in, or state ingress/,
        /^Order no minutes until that is settled\./,
        WAIT,
      ],
    ],
    ["a dirty patch, which no minutes follow from", PATCH, [PLACARD, /^Circulate\.$/, DRAW, WAIT]],
    [
      "wet and sour fluid: litres for each, and the exchange is entered",
      WET,
      [
        PLACARD,
        /^To bring water to 160 with fresh fluid at 100: one drain of 46 L/,
        /^To bring acid number to 0\.16 .*: one drain of 48 L/,
        /^Exchange the fluid for new MIL-PRF-83282, .* Filters do not take out what is outside here\.$/,
        /^Write the exchange with its day into the carts file\.$/,
        DRAW,
        WAIT,
      ],
    ],
    [
      "a cart that is not sound",
      inState({ level: "alarm" }),
      [/^Stop\. Mark the circuit as not to be connected/, /^Find and mend the cause/, DRAW, WAIT],
    ],
    ["a form that was not filled in", asking(FORM), [/^Do not connect yet\. Look at indicator, level/]],
    [
      "a form of long ago",
      { ...asking({ cartState: { ageDaysMax: 0 } }), ...inState({}) },
      [/^Do not connect yet\. Look at indicator, level/],
    ],
    [
      "a form that was not filled in and fluid that does not belong there",
      asking({ ...FORM, fluids: ["MIL-PRF-5606"] }),
      [/^Stop\. Mark the circuit/, /^Find and mend the cause/, DRAW, WAIT],
    ],
    ["no sample", { samples: [] }, [PLACARD, DRAW, WAIT]],
    [
      "words that a person can read",
      sample({ laboratorySays: [{ column: "Remarks", text: "abnormal" }] }),
      [
        PLACARD,
        /^Have a person read what the history of the circuit quotes.* If it cannot be settled: Flush/,
        WAIT,
      ],
    ],
    [
      "words to be read and a result that is missing",
      {
        samples: [
          { ...without(CLEAN, "waterPpm"), laboratorySays: [{ column: "Remarks", text: "abnormal" }] },
        ],
      },
      [
        PLACARD,
        /^Nothing is to be done at the cart: .* is for the laboratory, .* Only if it cannot be settled: Flush/,
        WAIT,
      ],
    ],
    [
      "what engineer and laboratory can settle",
      { samples: [without({ ...CLEAN, fluid: "hydraulic stuff" }, "waterPpm")] },
      [PLACARD, /^Nothing is to be done at the cart: .* is for the engineer and the laboratory, /, WAIT],
    ],
    [
      "what others can settle, and a row in quarantine",
      { ...sample({ fluid: "hydraulic stuff" }), unread: [ROW] },
      [PLACARD, /^Nothing is to be done at the cart: .* is for the engineer and the laboratory, /, WAIT],
    ],
    [
      "a row in quarantine that may be what is missing",
      { on: "2026-06-01", unread: [ROW] },
      [PLACARD, /^Have the row in quarantine .* corrected, and judge again\./, WAIT],
    ],
    [
      "a row in quarantine alone",
      { unread: [ROW] },
      [PLACARD, /^Have the row in quarantine .* corrected, and judge again\./, WAIT],
    ],
    [
      "a bottle from a drain, which no row in quarantine makes up for",
      { ...sample({ samplePoint: "drain" }), unread: [ROW] },
      [PLACARD, DRAW, WAIT],
    ],
  ])("%s", (_, change, steps) => {
    const found = stepsOf(judged(change));
    expect(found).toEqual(steps.map((step) => expect.stringMatching(step)));
  });

  test.each([
    ["a fit verdict", {}, []],
    ["a wet one, of which the steps come after the hold", WET, stepsOf(judged(WET))],
  ])("a circuit that a person holds is left alone first: %s", (_, change, after) => {
    const held = judged(change);
    const standing = standingOf(held.verdict, [decided("do-not-connect", FIT)]);
    const [stop, settle, ...others] = stepsOf({ ...held, standing } as typeof held);
    expect(stop).toMatch(/^Stop\. Do not connect this circuit; mark it as held/);
    expect(settle).toMatch(/^Settle the cause with the person who holds it before anything else\./);
    expect(others).toEqual(after);
  });
});

test("minutes that a requirement asks for stand among the next steps before the bottle, whatever else is done", () => {
  for (const change of [DIRTY, sample({ waterPpm: { value: 350 } }), {}]) {
    const texts = judged({ ...DUE, ...change }).verdict.next.steps.map(({ text }) => text);
    const due = texts.findIndex((text) => text.includes("15 min of circulation are required"));
    const drawn = texts.findIndex((text) => /^draw a verifying sample/.test(text));
    expect([due >= 0, drawn > due]).toEqual([true, true]);
  }
});

describe("the verdict in one line", () => {
  test.each<[string, Change, string]>([
    [
      "dirty",
      DIRTY,
      "not fit yet; circulate GO_BY, then draw a verifying sample, because ISO 4406 17/15/12 is exceeded, ",
    ],
    ["no time", STUCK, "do not connect, because GO_BY."],
    ["a dirty patch", PATCH, "not fit yet; circulate, because the patch is outside"],
    [
      "wet",
      WET,
      "not fit; exchange fluid, because water is outside: 350 ppm by mass, limit 200; filters do not remove it; the acid number is outside",
    ],
    [
      "no sample",
      { samples: [] },
      "not known to be fit; draw a new sample, because no sample of this circuit was given.",
    ],
    [
      "an alarm, and wet",
      { ...WET, ...inState({ level: "alarm" }) },
      "do not connect, because the reservoir level is in alarm",
    ],
  ])("%s", (_, change, words) => {
    const { verdict } = judged(change);
    const goBy = verdict.goBy === undefined ? "" : describeGoBy(verdict.goBy).replace(/^circulate /, "");
    const line = describeVerdict(verdict);
    expect(line.slice(0, line.indexOf(":"))).toBe("C-1, circuit 1");
    expect(line).toContain(`: ${words.replace("GO_BY", goBy)}`);
    // Reasons that call for something milder are not in it.
    for (const { callsFor, message } of verdict.reasons)
      expect(line.includes(message)).toBe(callsFor === verdict.verdict);
  });

  test("names everybody who holds the circuit", () => {
    const holds = [
      decided("resample", FIT),
      decided("do-not-connect", FIT, { person: "B. Person", reason: "smells burnt" }),
    ];
    const { verdict } = judged({});
    expect(describeVerdict(verdict, standingOf(verdict, holds))).toMatch(
      /: not fit to connect, HELD by B\. Person .*: smells burnt; HELD by A\. Person .* \(computed: fit\)\.$/,
    );
  });
});

describe("the minutes in the cell of a table", () => {
  const never: Circuit = {
    ...CIRCUIT,
    element: { position: "pressure", betas: [{ sizeUmC: 6, beta: 100 }] },
  };
  test.each<[string, Change, RegExp | undefined]>([
    ["to go by", DIRTY, /^[\d.]+ min$/],
    ["that no time is long enough", STUCK, /^no time is long enough$/],
    ["that circulating cannot get there", { ...DIRTY, circuit: never }, /^out of reach$/],
    ["none of a clean circuit", {}, undefined],
  ])("%s", (_, change, cell) => {
    const found = circulationCell(judged(change).verdict);
    expect(found).toEqual(cell === undefined ? undefined : expect.stringMatching(cell));
  });
});

describe("circulation that is still due", () => {
  const asks = {
    ...REQUIREMENT,
    after: [{ event: "element-change" as const, sample: false, circulatedMinutesMin: 15 }],
  };
  const changed = { on: "2026-03-01", kind: "element-change" as const };
  test.each<[string, Change, string | undefined]>([
    [
      "is what is left of it",
      { requirement: asks, ...events({ ...changed, circulatedMinutes: 4 }) },
      "circulate 11 min more",
    ],
    [
      "is nothing where it was done",
      { requirement: asks, ...events({ ...changed, circulatedMinutes: 15 }) },
      undefined,
    ],
    ["is nothing where nobody asks for it", events(changed), undefined],
  ])("%s", (_, change, words) => {
    const found = judged(change);
    expect(describeStillDue(found)).toBe(words);
    const { requirement: _none, ...without } = found;
    expect(describeStillDue(without)).toBeUndefined();
  });
});

test("steps, one line and brief of a row in quarantine agree on whether a bottle is drawn", () => {
  for (const samplePoint of ["drain", "upstream-of-element"] as const) {
    const found = judged({ ...sample({ samplePoint }), unread: [ROW] });
    const draws = samplePoint === "drain";
    expect(briefOf(found).action.includes("draw a new sample")).toBe(draws);
    expect(stepsOf(found).some((step) => DRAW.test(step))).toBe(draws);
  }
});
