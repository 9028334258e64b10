import { describe, expect, test } from "vitest";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import {
  type CounterCircuit,
  describeOnline,
  Following,
  followingSettings,
  type OnlineAnswer,
} from "../../src/online/index.js";

const COUNTER = { confidence: 0.95, countedMlPerMin: 10, repeatability: 0.1, bias: 0.2 };
/** Counts per mL at the limits of 17/15/12. */
const LIMITS = [
  [4, 1300],
  [6, 320],
  [14, 40],
] as const;

/** 100 L at 20 L/min through β = 20 at every size: 95 % of a fifth of what it holds, 19 % a minute. */
const CIRCUIT: CounterCircuit = {
  volumeL: 100,
  flowLpm: 20,
  betas: [{ sizeUmC: 4, beta: 20 }],
  mixing: { kind: "well-mixed" },
  port: "upstream",
};

function following(circuit?: CounterCircuit, target = "17/15/12"): Following {
  return new Following({
    ...COUNTER,
    limits: limitsOfTarget(parseTarget(target)),
    ...(circuit && { circuit }),
  });
}

/** A minute whose counts are a share of the limits, never twice the same. */
const minuteOf = (
  minute: number,
  share: number,
  sizes: readonly number[] = [4, 6, 14],
  more: object = {},
) => ({
  minute,
  counts: LIMITS.filter(([sizeUmC]) => sizes.includes(sizeUmC)).map(([sizeUmC, limit]) => ({
    sizeUmC,
    perMl: Math.round(10 * limit * share * (1 + 0.02 * Math.sin(7 * minute))) / 10,
  })),
  readings: 1,
  ...more,
});

const take = (
  one: Following,
  minutes: number,
  shareAt: (minute: number) => number,
  sizes?: readonly number[],
  more?: object,
): OnlineAnswer[] =>
  Array.from({ length: minutes }, (_, minute) => one.take(minuteOf(minute, shareAt(minute), sizes, more)));

describe("a counter downstream of the element never calls the circuit clean", () => {
  const downstream = { ...CIRCUIT, port: "downstream" } as const;

  test.each([
    // β = 20: what is delivered at a hundredth of the limits comes from a circuit at a fifth of them.
    ["the circuit would be inside as the element is rated", 0.01, "inside-as-rated"],
    // At a fifth it comes from four times the limits; the same counts upstream are clean.
    ["the circuit is at four times its limits", 0.2, "not-yet"],
  ])("%s", (_, share, state) => {
    const answers = take(following(downstream), 20, () => share);
    expect(answers.at(-1)?.state).toBe(state);
    expect(answers.map((answer) => answer.state)).not.toContain("clean");
    expect(take(following(CIRCUIT), 20, () => share).at(-1)?.state).toBe("clean");
  });

  test("with a size that is not counted, it is still only as the element is rated", () => {
    expect(take(following(downstream), 20, () => 0.01, [4, 6]).at(-1)?.state).toBe("inside-as-rated");
  });

  test("its counts are said of the circuit, β times as many", () => {
    const [answer] = take(following(downstream), 1, () => 0.01);
    expect(answer?.channels.map(({ perMl = 0 }) => Math.round(perMl))).toEqual([260, 64, 8]);
    const { assumptions } = followingSettings([parseTarget("17/15/12")], {}, downstream);
    expect(assumptions.at(-1)?.code).toBe("counter-sees-what-is-delivered");
  });
});

describe("sizes that are not counted", () => {
  test("what is counted can be clean, and the circuit is not called so", () => {
    const answers = take(following(), 20, () => 0.3, [4, 6]);
    expect(answers.at(-1)?.state).toBe("inside-where-counted");
    expect(describeOnline(answers.at(-1) as OnlineAnswer, undefined, 0.95)).toBe(
      "what is counted is clean with 95 % confidence, and 14 not counted: draw the verifying bottle",
    );
    expect(answers.flatMap(({ remarks }) => remarks.map(({ code }) => code))).toEqual([
      "not-counted",
      "no-temperature",
      "flow-not-reported",
    ]);
  });

  test("a channel that is counted for the first time has to show it as well", () => {
    const one = following();
    take(one, 20, () => 0.3, [4, 6]);
    const [first] = [20, 21].map((minute) => one.take(minuteOf(minute, 0.6)));
    expect(first?.state).toBe("not-yet");
  });

  test("a channel that is no longer counted shows nothing after five minutes", () => {
    const one = following();
    expect(take(one, 20, () => 0.3).at(-1)?.state).toBe("clean");
    const later = Array.from({ length: 8 }, (_, index) => one.take(minuteOf(20 + index, 0.3, [4, 6])));
    expect(later.at(-1)?.state).toBe("inside-where-counted");
  });
});

test("clean by classes alone: that a class which stays shows nothing of the counter is said once", () => {
  const answers = take(following(), 20, () => 0.3, [4, 6, 14], { isClass: true });
  expect(answers.at(-1)?.state).toBe("clean");
  const codes = answers.flatMap(({ remarks }) => remarks.map(({ code }) => code));
  expect(codes.filter((code) => code === "classes-only")).toHaveLength(1);
  const counted = take(following(), 20, () => 0.3).flatMap(({ remarks }) => remarks.map(({ code }) => code));
  expect(counted).not.toContain("classes-only");
});

describe("counts that stay", () => {
  // The counter may be off by 20 %: what stays between 1/1.2 of a limit and the limit can never be shown to be inside.
  test.each([
    ["inside a limit, too near for the counter", 0.9, undefined, "too-near"],
    ["above a limit", 1.1, undefined, "not-falling"],
    ["one channel above, the others too near", 0.9, 1.3, "not-falling"],
    ["well inside", 0.3, undefined, "falling"],
  ] as const)("%s", (_, share, shareOf14, course) => {
    const one = following();
    for (let minute = 0; minute < 30; minute += 1) {
      const { counts, ...rest } = minuteOf(minute, share);
      const at14 = minuteOf(minute, shareOf14 ?? share).counts.filter(({ sizeUmC }) => sizeUmC === 14);
      one.take({ ...rest, counts: [...counts.filter(({ sizeUmC }) => sizeUmC !== 14), ...at14] });
    }
    expect(one.outlook()?.course).toBe(course);
  });

  test("too near: the verifying bottle can show what the counter cannot", () => {
    const one = following();
    const answers = take(one, 30, () => 0.9);
    expect(answers.map(({ state }) => state)).not.toContain("clean");
    expect(describeOnline(answers.at(-1) as OnlineAnswer, one.outlook(), 0.95)).toBe(
      "not shown to be clean: the counts stay too near to the limits for this counter; circulating longer does not help: draw the verifying bottle",
    );
  });
});

describe("a circuit that is known is held against what its element is rated for", () => {
  const courseOf = (perMin: number, circuit?: CounterCircuit) => {
    const one = following(circuit);
    take(one, 24, (minute) => 100 * Math.exp(-perMin * minute));
    return one.outlook();
  };

  test.each([
    ["falls as it is rated", 0.19, "falling"],
    ["a tenth more slowly", 0.17, "falling"],
    ["half as fast", 0.09, "slower-than-rated"],
    ["a fifth as fast", 0.03, "slower-than-rated"],
    ["stays", 0, "not-falling"],
  ])("%s", (_, perMin, course) => {
    expect(courseOf(perMin, CIRCUIT)?.course).toBe(course);
  });

  test("the rate and what the element is rated for are said", () => {
    const outlook = courseOf(0.09, CIRCUIT);
    // 20 L/min of 100 L, of which β = 20 retains 95 %: 0.19 a minute, with e^(−0.19) = 0.827 left.
    expect(outlook?.rated?.ratedPerMin).toBeCloseTo(0.19, 3);
    const answer = take(following(), 1, () => 5)[0] as OnlineAnswer;
    expect(describeOnline(answer, outlook, 0.95)).toMatch(
      /slower than expected \(channel \d+ falls by [\d.]+ % a minute, the elements are rated for 17 % a minute\): look for an open bypass/,
    );
  });

  test("nothing is said of it where the circuit is not known", () => {
    expect(courseOf(0.09)).toMatchObject({ course: "falling" });
    expect(courseOf(0.09)).not.toHaveProperty("rated");
  });

  test("a flow below the stated one is said when it begins", () => {
    const flow = (flowLpm: number) => take(following(CIRCUIT), 5, () => 5, undefined, { flowLpm });
    const said = (flowLpm: number) => flow(flowLpm).flatMap(({ remarks }) => remarks);
    expect(said(12)).toEqual([{ code: "flow-below-stated", flowLpm: 12, statedLpm: 20 }]);
    expect(said(18)).toEqual([]);
  });
});

test("of several targets the strictest limit of each channel counts", () => {
  const { settings, target } = followingSettings([parseTarget("18/15/13"), parseTarget("17/16/13")], {});
  expect(settings.limits.map(({ fromUm, limit }) => [fromUm, limit])).toEqual([
    [6, 320],
    [14, 80],
    [4, 1300],
  ]);
  expect(target).toBe("ISO 4406 18/15/13 and ISO 4406 17/16/13");
});

describe("a counter that stands still from its first minute on", () => {
  const standing = (minutes: number, perMl: readonly number[]) => {
    const one = following();
    return Array.from({ length: minutes }, (_, minute) =>
      one.take({
        minute,
        counts: LIMITS.map(([sizeUmC], index) => ({ sizeUmC, perMl: perMl[index] as number })),
        readings: 1,
      }),
    ).map(({ state }) => state);
  };

  test("is never a clean circuit, whatever it shows", () => {
    expect(standing(30, [390, 96, 12])).not.toContain("clean");
  });

  // 3 particles per mL are 30 in the 10 mL of a minute: chance repeats them now and then.
  test("may be one of very clean fluid, where chance can repeat a count", () => {
    expect(standing(30, [3, 1, 0.1]).at(-1)).toBe("clean");
  });
});
