import { describe, expect, test } from "vitest";
import { betasOfRating, unknownElement } from "../../src/cleanliness/index.js";
import { briefOf, type CircuitCase, judgeCase, stepsOf } from "../../src/fitness/index.js";
import type { Circuit, FilterElement } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, counts } from "../support/fitness/bases.js";

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
