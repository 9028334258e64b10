import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  type CirculationQuestion,
  describeNext,
  minutesUp,
  startOfCode,
} from "../../src/circulation/index.js";
import { parseIso4406 } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

/** A pass takes 4 min and leaves 1/10: e^(−0.9·minutes/4) of 20,000 per mL, so the limit is met after 12.1 min. */
const QUESTION: CirculationQuestion = {
  circuit: {
    volumeL: 60,
    flowLpm: 15,
    betas: [{ sizeUmC: 4, beta: 10 }],
    limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
  },
  start: { counts: cumulativeCounts([{ sizeUm: 4, count: 20_000 }], 1), assumptions: [] },
};

function sampleAt(minutes: number, perMl: number) {
  return { minutes, counts: [{ sizeUmC: 4, perMl: { value: Math.round(perMl) } }] };
}

const asRated = (minutes: number, times = 1) =>
  sampleAt(minutes, 20_000 * Math.exp((-0.9 * times * minutes) / 4));

/** With a laboratory that scatters by 5 % unless said otherwise. */
function answer(
  samples: readonly ReturnType<typeof sampleAt>[],
  { laboratory = 0.05, ...more }: Partial<CirculationQuestion> & { laboratory?: number | undefined } = {},
) {
  return answerCirculation({
    ...QUESTION,
    interim: { samples, countedMl: 20 },
    confidence: { uncertainty: { laboratory, countedMl: 20 } },
    ...more,
  });
}

const PLANNED = (() => {
  const { goBy } = answerCirculation({
    ...QUESTION,
    confidence: { uncertainty: { laboratory: 0.05, countedMl: 20 } },
  });
  if (goBy.kind !== "minutes") throw new Error(goBy.why);
  return goBy.minutes;
})();

/** The steps that order a sample. */
function drawing({ steps = [] }: ReturnType<typeof answer>): string[] {
  return steps.flatMap(({ step }) => (/draw the (interim|verifying) sample/.test(step) ? [step] : []));
}

describe("by samples drawn while circulating", () => {
  test("that fall as rated, the verifying sample is drawn at the far end of their interval", () => {
    const found = answer([asRated(3), asRated(6), asRated(9)]);
    expect(found.interim?.diagnosis).toBe("as-rated");
    const { remaining } = found.interim as NonNullable<typeof found.interim>;
    if (remaining.kind !== "minutes") throw new Error(remaining.kind);
    expect(found.next).toEqual({ kind: "verify", minutes: 9 + remaining.high });
    expect(drawing(found)).toEqual([
      expect.stringContaining(`After ${minutesUp(9 + remaining.high)} minutes`),
    ]);
    expect(found.allWell).toBe(true);
  });

  test("the remaining time is that to where the verifying sample is accepted, below the limit", () => {
    const found = answer([asRated(3), asRated(6), asRated(9)]);
    const { remaining } = found.interim as NonNullable<typeof found.interim>;
    // Inside in 95 of 100: 1.645 times the 5 % of the laboratory below 1300 per mL, 1.645·0.04997 = 0.0822 in the logarithm.
    const byHand = (Math.log(20_000 / 1300) + 0.0822) / (0.9 / 4) - 9;
    expect(remaining.kind === "minutes" && remaining.estimate).toBeCloseTo(byHand, 1);
  });

  test("and further below it where the judge accepts less than the limit", () => {
    const acceptance = {
      limits: [{ channel: "4", fromUm: 4, limit: 650 * 20, volumeMl: 20 }],
      countedMl: 20,
    };
    const estimate = (found: ReturnType<typeof answer>) =>
      found.interim?.remaining.kind === "minutes" ? found.interim.remaining.estimate : Number.NaN;
    const samples = [asRated(3), asRated(6), asRated(9), asRated(12)];
    // Half of the limit is ln 2 of the rate of 0.9 a pass of 4 min later.
    expect(
      estimate(answer(samples, { acceptance, laboratory: 0.01 })) -
        estimate(answer(samples, { laboratory: 0.01 })),
    ).toBeCloseTo((4 * Math.LN2) / 0.9, 1);
  });

  test("that show nothing yet, the plan stays, with another sample on the way", () => {
    const found = answer([sampleAt(0.1, 19_600)]);
    expect(found.interim?.diagnosis).toBe("cannot-tell-yet");
    if (found.next.kind !== "verify") throw new Error(found.next.kind);
    expect(found.next.minutes).toBe(PLANNED);
    expect(found.next.interimMinutes).toBeGreaterThan(0.1);
    expect(found.next.interimMinutes).toBeLessThan(PLANNED);
    expect(drawing(found)).toHaveLength(2);
  });

  test("that do not fall, no minutes are given and no step", () => {
    const found = answer([4, 8, 12].map((minutes) => sampleAt(minutes, 20_000)));
    expect(found.interim?.diagnosis).toBe("not-falling");
    expect([found.next.kind, found.steps, found.atEnd, found.allWell]).toEqual([
      "stop",
      undefined,
      undefined,
      false,
    ]);
    expect(describeNext(found)[0]).toMatch(/^No minutes are given: The counts are not falling/);
  });

  test("that fall more slowly so far than can be, another sample comes before any verifying one", () => {
    const found = answer([sampleAt(4, 20_000), sampleAt(8, 20_000)], { laboratory: 0.2 });
    expect(found.interim).toMatchObject({ diagnosis: "cannot-tell-yet", slowerSoFar: true });
    expect([found.next.kind, found.allWell]).toEqual(["sample-again", false]);
    expect(drawing(found)).toEqual([expect.stringContaining("draw the interim sample")]);
  });

  test("without a stated reproducibility the laboratory scatters by the customary 20 %", () => {
    const drawn = { samples: [asRated(4), asRated(8, 0.8)], countedMl: 20 };
    const withDefault = answerCirculation({ ...QUESTION, interim: drawn });
    const with20 = answerCirculation({
      ...QUESTION,
      interim: drawn,
      confidence: { uncertainty: { laboratory: 0.2 } },
    });
    expect(withDefault.interim).toEqual(with20.interim);
    expect(withDefault.assumptions.map(({ message }) => message).join()).toContain("laboratory 20 %");
  });
});

describe("no step lies before the last sample", () => {
  test.each([5, 10, 20, 30])(
    "one drawn at %f min above the limit asks for another, not for a verifying one",
    (last) => {
      const found = answer([sampleAt(last + PLANNED, 1500)], { laboratory: 0.3 });
      expect(found.next.kind).toBe("sample-again");
      if (found.next.kind === "sample-again") expect(found.next.minutes).toBeGreaterThan(last + PLANNED);
      expect(drawing(found)).toEqual([expect.stringContaining("draw the interim sample")]);
      expect(describeNext(found)[0]).toMatch(/^Circulate on until minute .*, and draw another sample/);
    },
  );

  test("one that is inside after the planned time is verified now", () => {
    const found = answer([sampleAt(2 * PLANNED, 300)]);
    expect(found.next).toEqual({ kind: "verify", minutes: 2 * PLANNED });
    expect(drawing(found)).toEqual([expect.stringMatching(/^Now, .*draw the verifying sample/)]);
    expect(describeNext(found)[0]).toMatch(/^Draw the verifying sample now/);
  });

  test("one that is inside by a limit value is inside, one above it is not", () => {
    const limited = (limit: "below" | "above") =>
      answer([{ minutes: 2 * PLANNED, counts: [{ sizeUmC: 4, perMl: { value: 300, limit } }] } as never])
        .interim;
    expect([limited("below")?.lastIsInside, limited("above")?.lastIsInside]).toEqual([true, false]);
  });
});

describe("a time without an upper end", () => {
  /** Slow for sure, and where it levels off does not show. */
  const slow = () => answer([asRated(4, 0.5), asRated(8, 0.5), asRated(12, 0.5)]);

  test("is no number, and asks for another sample no further away than the samples speak for", () => {
    const { interim, next } = slow();
    expect(interim?.diagnosis).toBe("slower-than-rated");
    expect(interim?.remaining.kind).toBe("at-least");
    expect(interim?.remaining).not.toHaveProperty("estimate");
    if (next.kind !== "sample-again") throw new Error(next.kind);
    expect(next.minutes).toBeGreaterThanOrEqual(16);
    expect(next.minutes).toBeLessThanOrEqual(24);
  });

  test("is said as the least that it takes", () => {
    expect(describeNext(slow())[0]).toMatch(/by these samples it takes at least \d+(\.\d)? min more$/);
  });
});

describe("a start that is a code", () => {
  // Scale number 21 is above 10,000 and up to 20,000 per mL (ISO 4406:2021, table 1).
  const netRateOf = (code: boolean, perMl: number) =>
    answer([sampleAt(4, perMl)], { ...(code && { start: startOfCode(parseIso4406("21/-/-")) }) }).interim
      ?.channels[0]?.fit.netRate;

  test("is above its lower edge: 4,066 per mL after a pass has fallen for sure, by ln(10,000/4,066) at the least", () => {
    const low = netRateOf(true, 4066)?.low ?? Number.NaN;
    expect(low).toBeGreaterThan(0.8 * (Math.log(10_000 / 4066) / 4));
    expect(low).toBeLessThan(netRateOf(false, 4066)?.low ?? Number.NaN);
  });

  test("may lie at its lower edge: 9,500 per mL after a pass need not have fallen at all", () => {
    expect(netRateOf(true, 9500)?.low).toBe(0);
    expect(netRateOf(false, 9500)?.low).toBeGreaterThan(0.1);
  });
});
