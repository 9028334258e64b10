import { describe, expect, test } from "vitest";
import { betasOfRating, unknownElement } from "../../src/cleanliness/index.js";
import {
  briefOf,
  type CarryOver,
  type CircuitCase,
  judgeCase,
  stepsOf,
  traceCart,
} from "../../src/fitness/index.js";
import type { Circuit, FilterElement } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, counts, REQUIREMENT } from "../support/fitness/bases.js";

const UNKNOWN: FilterElement = { position: "return", ...unknownElement("return") };
const rated = (words: string): FilterElement => ({
  position: "return",
  ...(betasOfRating("return", words) as Pick<FilterElement, "betas" | "assumptions">),
});
const STATED: FilterElement = { position: "return", betas: [{ sizeUmC: 4, beta: 2 }] };

/** What a crew is told, and the minutes or what takes their place. */
const NOTHING = "nothing was stated of the return element: β4(c) = 2 was taken";
const NOMINAL = 'the return element is rated "10 µm nominal" and no β was stated';

/** Particles per minute that hold the circuit at a multiple of its limits, where half of them is retained in each pass. */
const ingress = (times: number) =>
  [4, 6, 14].map((sizeUmC, index) => ({
    sizeUmC,
    particlesPerMin: times * ([1300, 320, 40][index] as number) * 45_000 * 0.5,
  }));

const judge = (circuit: Partial<Circuit>, change: Partial<typeof CLEAN> = {}) => {
  const samples = [{ ...CLEAN, counts: counts(5000, 1200, 160), ...change }];
  return judgeCase(caseOf({ circuit: { ...CIRCUIT, ...circuit }, samples } as Partial<CircuitCase>));
};

describe("the first lines say what the minutes take of an element without a stated β", () => {
  test.each<[string, Partial<Circuit>, Partial<typeof CLEAN>, string | undefined]>([
    ["nothing is stated of it", { element: UNKNOWN }, {}, NOTHING],
    ["it is rated by a word without a meaning", { element: rated("10 µm nominal") }, {}, NOMINAL],
    ["its rating says the ratio", { element: rated("β4(c) = 200") }, {}, undefined],
    ["its ratio is stated", { element: STATED }, {}, undefined],
    ["no time is long enough by it", { element: UNKNOWN, ingress: ingress(0.9) }, {}, NOTHING],
    ["circulating cannot get there by it", { element: UNKNOWN, ingress: ingress(2) }, {}, NOTHING],
    ["the fluid is clean", { element: UNKNOWN }, { counts: CLEAN.counts }, undefined],
    [
      "the fluid is wet and is exchanged instead",
      { element: UNKNOWN },
      { waterPpm: { value: 900 } },
      undefined,
    ],
  ])("%s", (_, circuit, change, expected) => {
    const { why } = briefOf(judge(circuit, change));
    const said = why.filter((line) => /nothing was stated of the|no β was stated/.test(line));
    expect(said.map((line) => line.slice(0, expected?.length))).toEqual(
      expected === undefined ? [] : [expected],
    );
  });

  test("the steps for the cart say it too", () => {
    expect(stepsOf(judge({ element: UNKNOWN })).join(" ")).toContain(
      "Nothing was stated of the return element",
    );
    expect(stepsOf(judge({ element: STATED })).join(" ")).not.toContain("was stated");
  });
});

describe("the most that a hookup carries over rests on no β that nobody stated", () => {
  const carried = (element: FilterElement | undefined): CarryOver => {
    const circuit: Circuit = {
      ...CIRCUIT,
      delivery: { flowLpm: 20, ...(element && { element }) },
      events: [{ on: "2026-03-06", kind: "hookup", aircraft: "A", minutes: 2 }],
    };
    const [trace] = traceCart(
      {
        carts: [{ cart: "C-1", circuits: [circuit] }],
        requirements: [{ ...REQUIREMENT, volumeL: 90 }],
        samples: [
          { ...CLEAN, sample: "S1" },
          { ...CLEAN, sample: "S2", drawnOn: "2026-03-12", counts: counts(8000, 1000, 100) },
        ],
        unread: [],
        on: "2026-03-28",
      },
      "C-1",
    ).circuits;
    const particles = trace?.quantities.find(({ quantity }) => quantity === "particles");
    return particles?.now.hookups[0]?.carried as CarryOver;
  };
  // 40 L of 8000, 1000 and 100 per mL.
  const ALL = [3.2e8, 4e7, 4e6];

  test.each<[string, FilterElement | undefined, number[], string | undefined]>([
    ["no element", undefined, ALL, undefined],
    ["an element of which nothing is stated", UNKNOWN, ALL, "delivery-element-not-credited"],
    ["a nominal rating", rated("3 µm nominal"), ALL, "delivery-element-not-credited"],
    ["an absolute rating", rated("3 µm absolute"), ALL, "delivery-element-not-credited"],
    ["a stated ratio", STATED, ALL.map((one) => one / 2), "delivery-element-as-rated"],
    [
      "a rating that says the ratio",
      rated("β4(c) = 2"),
      ALL.map((one) => one / 2),
      "delivery-element-as-rated",
    ],
  ])("%s", (_, element, most, code) => {
    const { amounts, assumptions } = carried(element);
    expect(amounts.map(({ atMost }) => atMost)).toEqual(most.map((one) => expect.closeTo(one, 3)));
    const codes = assumptions.flatMap((one) => (one.code.startsWith("delivery-element") ? [one.code] : []));
    expect(codes).toEqual(code === undefined ? [] : [code]);
  });
});
