import { describe, expect, test } from "vitest";
import { type Actor, judgeCircuit } from "../../src/fitness/index.js";
import { asking, CLEAN, caseOf, events, sample, without } from "../support/fitness/bases.js";

type Change = Parameters<typeof caseOf>[0];

/** Who acts on each reason that blocks it. */
function actorsOf(change: Change): [string, Actor | undefined][] {
  return judgeCircuit(caseOf(change))
    .reasons.filter(({ callsFor }) => callsFor !== "fit")
    .map(({ code, actor }) => [code, actor]);
}

describe("each reason is for the one who can do something about it", () => {
  test.each<[Change, [string, Actor][]]>([
    [{ samples: [] }, [["no-sample", "crew"]]],
    [{ samples: [without(CLEAN, "waterPpm")] }, [["water-not-measured", "laboratory"]]],
    [
      sample({ laboratorySays: [{ column: "Remarks", text: "abnormal" }] }),
      [["laboratory-doubts", "laboratory"]],
    ],
    [sample({ fluid: "hydraulic stuff" }), [["fluid-label-not-recognised", "engineer"]]],
    [sample({ samplePoint: "drain" }), [["sample-point-unsuited", "crew"]]],
    [asking({ sampling: { blank: true } }), [["blank-not-counted", "laboratory"]]],
    [sample({ viscosity40Mm2PerS: { value: 10 } }), [["identity-in-doubt", "laboratory"]]],
    [asking({ fluids: ["MIL-PRF-5606"] }), [["fluid-not-allowed", "engineer"]]],
    [asking({ cartState: { ageDaysMax: 7 } }), [["cart-state-not-entered", "crew"]]],
    [events({ on: "2026-03-10", kind: "element-change" }), [["drawn-before-event", "crew"]]],
  ])("%j", (change, expected) => {
    expect(actorsOf(change)).toEqual(expected);
  });

  test.each<[string, object, Actor]>([
    ["a cell of its own row", { cart: "C-1", circuit: "1" }, "laboratory"],
    ["a circuit that was not read", { cart: "C-1" }, "laboratory"],
    ["names that cannot be read", {}, "laboratory"],
    ["a cart written in another way", { cart: "C1", circuit: "1" }, "engineer"],
    ["a circuit that the cart does not have", { cart: "C-1", circuit: "one" }, "engineer"],
    [
      "a sample of a circuit that the carts file does not have",
      { cart: "C1", circuit: "1", sample: "S-9" },
      "engineer",
    ],
  ])("a row in quarantine: %s", (_, row, actor) => {
    const unread = [{ where: "lab.csv row 7", ...row }];
    expect(actorsOf({ unread })).toEqual([["result-in-quarantine", actor]]);
  });

  test("what is in order is for nobody", () => {
    const { reasons } = judgeCircuit(caseOf({}));
    expect(reasons.filter(({ actor }) => actor !== undefined)).toEqual([]);
  });
});

const stepsOf = (change: Change) => judgeCircuit(caseOf(change)).next.steps.map(({ text }) => text);
const nothingAtTheCart = (text: string) => text.startsWith("nothing is to be done at the cart");

describe("the next step goes to the one who acts", () => {
  test("what the laboratory can settle is not sent to the cart first", () => {
    const [why, first] = stepsOf({ samples: [without(CLEAN, "waterPpm")] });
    expect(why).toContain("water was not measured");
    expect(first).toMatch(
      /^nothing is to be done at the cart: the laboratory can settle it .* draw a new sample$/,
    );
  });

  test("of two who can, both are named", () => {
    const change = { samples: [without({ ...CLEAN, fluid: "hydraulic stuff" }, "waterPpm")] };
    expect(stepsOf(change)[1]).toContain("the engineer and the laboratory can settle it");
  });

  test.each<[string, Change]>([
    ["no other sample", { samples: [] }],
    ["an old sample", { on: "2026-06-01" }],
    ["a sample before an event", events({ on: "2026-03-10", kind: "opening" })],
  ])(
    "a row in quarantine that may be what is missing is corrected before a bottle is drawn: %s",
    (_, change) => {
      const unread = [{ where: "lab.csv row 7", cart: "C-1", circuit: "1" }];
      expect(stepsOf({ ...change, unread })[1]).toContain("have the row in quarantine corrected first");
    },
  );

  test("what no row in quarantine can answer is not put off by one", () => {
    const unread = [{ where: "lab.csv row 7", cart: "C-1", circuit: "1" }];
    const steps = stepsOf({ ...sample({ samplePoint: "drain" }), unread });
    expect(steps.some((text) => text.includes("quarantine corrected first"))).toBe(false);
  });

  test.each<[string, Change]>([
    ["no sample", { samples: [] }],
    ["a bottle from a drain", sample({ samplePoint: "drain" })],
    ["a bottle and a result", { samples: [without({ ...CLEAN, samplePoint: "drain" }, "waterPpm")] }],
  ])("where the crew has to act nothing is put off: %s", (_, change) => {
    expect(stepsOf(change).some(nothingAtTheCart)).toBe(false);
  });

  test("a form that was not filled in has no cause to be found", () => {
    const form = stepsOf(asking({ cartState: { ageDaysMax: 7 } }));
    expect(form.join()).toContain("looked at indicator, level, temperature and seals");
    expect(form.join()).not.toContain("find the cause");
    const wrong = stepsOf(asking({ cartState: { ageDaysMax: 7 }, fluids: ["MIL-PRF-5606"] }));
    expect(wrong.join()).toContain("find the cause");
  });
});
