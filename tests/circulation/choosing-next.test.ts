// What chooses the next step and what it is chosen from, one decision at a time. By hand: a pass takes 4 min, no bottle is drawn
// before minute 5, and the time to go by is minute 24.
import { describe, expect, test } from "vitest";
import { answerInterim, type InterimAnswer, letsGoOn } from "../../src/circulation/answer/interim-answer.js";
import { type NextAtCart, nextAtCart } from "../../src/circulation/answer/next-at-cart.js";
import { acceptedLevels } from "../../src/circulation/go-by/accepted-level.js";
import {
  assessInterim,
  describeGoBy,
  mostInformativeMinutes,
  type PlannedChannel,
  planCirculation,
  type RemainingTime,
  type RequiredConfidence,
  type TimeToGoBy,
} from "../../src/circulation/index.js";
import { DIAGNOSES, type Diagnosis } from "../../src/circulation/interim/fall.js";
import { withSettled } from "../../src/circulation/interim/settled-dirt.js";
import { cumulativeCounts } from "../../src/counts/index.js";

const LIMITS = [
  { channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 },
  { channel: "14", fromUm: 14, limit: 40, volumeMl: 1 },
];
const plan = planCirculation({
  volumeL: 60,
  flowLpm: 15,
  betas: [{ sizeUmC: 4, beta: 10 }],
  start: cumulativeCounts(
    [
      { sizeUm: 4, count: 20_000 },
      { sizeUm: 14, count: 600 },
    ],
    1,
  ),
  limits: LIMITS,
});
const GO_BY = { kind: "minutes", minutes: 24, passes: 6 } as TimeToGoBy;
const NO_TIME = { kind: "no-time", why: "for a reason", confidence: 0.95, assumptions: [] } as TimeToGoBy;
const required: RequiredConfidence = { confidence: 0.95, uncertainty: {}, seed: 1, draws: 1000 };

const within = (high: number): RemainingTime => ({ kind: "minutes", estimate: 0, low: 0, high });
const atLeast = (minutes: number): RemainingTime => ({ kind: "at-least", minutes });
const never: RemainingTime = { kind: "not-reached", floor: 2000 };

interface Seen {
  readonly diagnosis: Diagnosis;
  readonly remaining: RemainingTime;
  readonly slower?: boolean;
  readonly inside?: boolean;
  readonly last: number;
}

function interimOf({ diagnosis, remaining, slower = false, inside = false, last }: Seen): InterimAnswer {
  const assessment = {
    diagnosis,
    remaining,
    slowerSoFar: slower,
    lastIsInside: inside,
    meaning: "As it is.",
  };
  return { assessment, drawnMinutes: [last / 2, last], assumptions: [] } as unknown as InterimAnswer;
}

const next = (seen: Seen | undefined, goBy = GO_BY, more = required): NextAtCart =>
  nextAtCart({
    ...{ plan, goBy, leastMinutes: 5, required: more },
    interim: seen && interimOf(seen),
  });

describe("without an interim sample", () => {
  test("the time to go by is that of the verifying bottle, with a sample on the way", () => {
    const found = next(undefined);
    const best = { plan, untilMinutes: 24, countedMl: 20, laboratory: 0.2, notBeforeMinutes: 5 };
    expect(found).toEqual({ kind: "verify", minutes: 24, interimMinutes: mostInformativeMinutes(best) });
  });

  test("no time to go by is a stop that says why", () => {
    expect(next(undefined, NO_TIME)).toEqual({ kind: "stop", why: describeGoBy(NO_TIME) });
  });

  test.each([5, 4])("none is drawn on the way to minute %f, for none may be before minute 5", (minutes) => {
    expect(next(undefined, { ...GO_BY, minutes } as TimeToGoBy)).toEqual({ kind: "verify", minutes });
  });

  test("nor before minute 5 on the way to minute 6", () => {
    const found = next(undefined, { ...GO_BY, minutes: 6 } as TimeToGoBy);
    expect(found.kind === "verify" && found.interimMinutes).toBeGreaterThan(5);
  });
});

describe("with interim samples", () => {
  test.each<[string, Seen, number]>([
    [
      "as rated: at the far end of the interval",
      { diagnosis: "as-rated", remaining: within(3), last: 8 },
      11,
    ],
    ["as rated, not before minute 5", { diagnosis: "as-rated", remaining: within(0.5), last: 2 }, 5],
    [
      "slower: at the far end as well",
      { diagnosis: "slower-than-rated", remaining: within(10), slower: true, last: 8 },
      18,
    ],
    [
      "inside already: now",
      { diagnosis: "slower-than-rated", remaining: atLeast(1), slower: true, inside: true, last: 30 },
      30,
    ],
    [
      "inside already, not before minute 5",
      { diagnosis: "cannot-tell-yet", remaining: atLeast(1), inside: true, last: 2 },
      5,
    ],
  ])("%s, and none on the way", (_name, seen, minutes) => {
    expect(next(seen)).toEqual({ kind: "verify", minutes });
  });

  test.each<[string, Seen]>([
    ["as rated without an upper end", { diagnosis: "as-rated", remaining: atLeast(3), last: 8 }],
    ["cannot tell", { diagnosis: "cannot-tell-yet", remaining: within(3), last: 8 }],
    ["cannot tell, and no end", { diagnosis: "cannot-tell-yet", remaining: never, last: 8 }],
  ])("%s: the time to go by stays, with another sample on the way", (_name, seen) => {
    for (const uncertainty of [{}, { countedMl: 50, laboratory: 0.05 }]) {
      const { countedMl = 20, laboratory = 0.2 } = uncertainty as { countedMl?: number; laboratory?: number };
      const best = {
        plan,
        untilMinutes: 24,
        drawnMinutes: [4, 8],
        countedMl,
        laboratory,
        notBeforeMinutes: 5,
      };
      expect(next(seen, GO_BY, { ...required, uncertainty })).toEqual({
        ...{ kind: "verify", minutes: 24 },
        interimMinutes: mostInformativeMinutes(best),
      });
    }
  });

  // One pass at the least, as long as the samples show at the most, and no later than twice the last of them.
  test.each<[string, Seen, number, TimeToGoBy]>([
    ["slower, at least 7 min", { diagnosis: "slower-than-rated", remaining: atLeast(7), last: 8 }, 15, GO_BY],
    [
      "slower, at least 20 min",
      { diagnosis: "slower-than-rated", remaining: atLeast(20), last: 8 },
      16,
      GO_BY,
    ],
    ["slower, at least 1 min", { diagnosis: "slower-than-rated", remaining: atLeast(1), last: 8 }, 12, GO_BY],
    [
      "slower, drawn after half a pass",
      { diagnosis: "slower-than-rated", remaining: atLeast(9), last: 2 },
      6,
      GO_BY,
    ],
    ["slower, drawn at once", { diagnosis: "slower-than-rated", remaining: atLeast(1), last: 0.5 }, 5, GO_BY],
    ["slower, and no end", { diagnosis: "slower-than-rated", remaining: never, last: 8 }, 12, GO_BY],
    [
      "slower so far",
      { diagnosis: "cannot-tell-yet", slower: true, remaining: atLeast(7), last: 8 },
      15,
      GO_BY,
    ],
    ["after the time to go by", { diagnosis: "cannot-tell-yet", remaining: atLeast(6), last: 30 }, 36, GO_BY],
    ["at the time to go by", { diagnosis: "cannot-tell-yet", remaining: atLeast(6), last: 24 }, 30, GO_BY],
    ["no time to go by", { diagnosis: "cannot-tell-yet", remaining: atLeast(1), last: 8 }, 12, NO_TIME],
    [
      "down by the fit, not by the bottle",
      { diagnosis: "as-rated", remaining: within(0), last: 8 },
      12,
      GO_BY,
    ],
  ])("%s: another sample at minute %#", (_name, seen, minutes, goBy) => {
    expect(next(seen, goBy)).toEqual({ kind: "sample-again", minutes });
  });

  test.each(["not-falling", "levelling-off-above-target"] as const)("%s: stop, and why", (diagnosis) => {
    expect(next({ diagnosis, remaining: within(3), last: 8, inside: true })).toEqual({
      ...{ kind: "stop", why: "As it is." },
    });
  });

  test.each(DIAGNOSES.flatMap((diagnosis) => [false, true].map((slower) => [diagnosis, slower] as const)))(
    "%s, slower so far %s: lets the circulation go on only where nothing is too slow",
    (diagnosis, slower) => {
      const goesOn = diagnosis === "as-rated" || (diagnosis === "cannot-tell-yet" && !slower);
      expect(letsGoOn(interimOf({ diagnosis, slower, remaining: never, last: 8 }))).toBe(goesOn);
      expect(letsGoOn(undefined)).toBe(true);
    },
  );
});

describe("what the samples are assessed by", () => {
  const SAMPLES = [
    {
      minutes: 8,
      counts: [
        { sizeUmC: 4, perMl: { value: 3300 } },
        { sizeUmC: 14, perMl: { value: 100 } },
      ],
    },
  ];
  const start = (volumeMl = 1) => ({
    counts: cumulativeCounts(
      [
        { sizeUm: 4, count: 20_000 * volumeMl },
        { sizeUm: 14, count: 600 * volumeMl },
      ],
      volumeMl,
    ),
  });
  const byHand = (
    aims: number[],
    change: { countedMl?: number; laboratory?: number; edge?: number } = {},
  ) => {
    const { countedMl = 20, laboratory = 0.2, edge } = change;
    const first = [
      { sizeUmC: 4, perMl: { value: 20_000 } },
      { sizeUmC: 14, perMl: { value: 600 }, ...(edge && { moreThanPerMl: edge }) },
    ];
    const samples = [{ minutes: 0, counts: first }, ...SAMPLES].map((one) => ({ ...one, countedMl }));
    return assessInterim({ plan, laboratory, aims, samples });
  };
  const aimsFor = (countedMl: number, laboratory = 0.2) =>
    acceptedLevels(plan, { countedMl, laboratory }, 0.95);
  const codes = ({ assumptions }: InterimAnswer) => assumptions.map(({ code }) => code);

  test("20 mL and 20 % where nobody says, and it is said", () => {
    const found = answerInterim({ samples: SAMPLES }, plan, start(), required);
    expect(found.assessment).toEqual(byHand(aimsFor(20)));
    expect(codes(found)).toEqual(["counted-volume", "interim-single-exponential"]);
    expect(found.drawnMinutes).toEqual([8]);
  });

  test("the volume that was counted, which nothing is said of then", () => {
    const found = answerInterim({ samples: SAMPLES, countedMl: 2 }, plan, start(), required);
    expect(found.assessment).toEqual(byHand(aimsFor(20), { countedMl: 2 }));
    expect(codes(found)).not.toContain("counted-volume");
  });

  test("the laboratory and the volume of the verifying bottle as they are stated, the bottle's first", () => {
    const stated = { ...required, uncertainty: { countedMl: 40, laboratory: 0.1 } };
    const question = { samples: SAMPLES, countedMl: 20 };
    expect(answerInterim(question, plan, start(), stated).assessment).toEqual(
      byHand(aimsFor(40, 0.1), { laboratory: 0.1 }),
    );
    const acceptance = { limits: LIMITS, countedMl: 100 };
    expect(answerInterim(question, plan, start(), stated, acceptance).assessment).toEqual(
      byHand(aimsFor(100, 0.1), { laboratory: 0.1 }),
    );
  });

  test("a start per 100 mL is that start, and an edge of a class belongs to its own size", () => {
    const question = { samples: SAMPLES, countedMl: 20 };
    expect(answerInterim(question, plan, start(100), required).assessment).toEqual(byHand(aimsFor(20)));
    const edged = { ...start(), lowerEdges: [{ sizeUm: 14, moreThanPerMl: 320 }] };
    expect(answerInterim(question, plan, edged, required).assessment).toEqual(
      byHand(aimsFor(20), { edge: 320 }),
    );
  });

  test("a count that stands for ten times as many weighs as one of a tenth of the volume", () => {
    const found = answerInterim(
      ...([{ samples: SAMPLES, countedMl: 20 }, plan, start(), required, undefined, () => 10] as const),
    );
    expect(found.assessment).toEqual(byHand(aimsFor(20), { countedMl: 2 }));
  });
});

describe("counts while settled dirt is stirred up", () => {
  const [channel] = plan.channels as readonly [PlannedChannel];
  const points = [
    { minutes: 0, countedMl: 20, observed: { kind: "exact", count: 400 } },
    { minutes: 2, countedMl: 20, observed: { kind: "exact", count: 600 } },
    { minutes: 4, countedMl: 20, observed: { kind: "at-least", count: 100 } },
    { minutes: 8, countedMl: 10, observed: { kind: "at-most", count: 50 } },
    { minutes: 12, countedMl: 20, observed: { kind: "between", fewest: 10, count: 40 } },
  ] as const;
  // Half of the highest count, 30 per mL, times 3/(3 − 0.9), of which e^(−3·n) still lies: in 20 mL.
  const most = ((0.5 * 30 * 3) / 2.1) * 20;

  test("are the least of the level: what still lies settled belongs to it, of classes and limits to the upper end", () => {
    const [first, second, third, fourth, fifth] = withSettled(plan, channel, points, 0.5);
    expect(first?.observed).toEqual({ kind: "exact", count: 400, settled: expect.closeTo(most, 9) });
    expect(second?.observed).toEqual({
      ...{ kind: "exact", count: 600 },
      settled: expect.closeTo(most * Math.exp(-1.5), 9),
    });
    expect(third).toEqual(points[2]);
    expect(fourth?.observed).toEqual({
      ...{ kind: "at-most", count: expect.closeTo(50 + (most / 2) * Math.exp(-6), 9) },
    });
    expect(fifth?.observed).toEqual({
      ...{ kind: "between", fewest: 10, count: expect.closeTo(40 + most * Math.exp(-9), 9) },
    });
  });

  test("no more than twice what lies settled is counted with a removal near the rate of stirring", () => {
    const [first] = withSettled(plan, { ...channel, removal: 2.9 }, points, 0.5);
    expect(first?.observed).toMatchObject({ settled: expect.closeTo(0.5 * 30 * 2 * 20, 9) });
  });
});
