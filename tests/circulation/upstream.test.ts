import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  type CirculationQuestion,
  countsUpstream,
  minutesUp,
  upstreamTimes,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

const ELEMENT = { betas: [{ sizeUmC: 4, beta: 20 }] };

describe("what a port upstream would show, from one downstream", () => {
  test.each([
    [{}, 20],
    [{ bypass: 0 }, 20],
    [{ bypass: 0.1 }, 1 / (0.1 + 0.9 / 20)],
    [{ bypass: 1 }, 1],
  ])("%j: %f times as many", (change, times) => {
    expect(upstreamTimes({ ...ELEMENT, ...change }, 4)).toBeCloseTo(times, 12);
  });

  test("nothing is credited below the rated sizes, and a smaller size holds the larger ones", () => {
    const counts = cumulativeCounts(
      [
        { sizeUm: 4, count: 500 },
        { sizeUm: 6, count: 100 },
      ],
      1,
    );
    const { counts: up } = countsUpstream(counts, { betas: [{ sizeUmC: 6, beta: 100 }] });
    expect(up.counts.map(({ count }) => count)).toEqual([10_000, 10_000]);
  });
});

test("circulate with --port downstream plans and diagnoses as from the counts upstream", () => {
  const start = (perMl: number) => ({
    counts: cumulativeCounts([{ sizeUm: 4, count: perMl }], 1),
    assumptions: [],
  });
  const samples = (times: number) =>
    [
      [4, 8132],
      [8, 3306],
    ].map(([minutes, perMl]) => ({
      minutes: minutes as number,
      counts: [{ sizeUmC: 4, perMl: { value: (perMl as number) / times } }],
    }));
  const question = (times: number): CirculationQuestion => ({
    circuit: {
      volumeL: 60,
      flowLpm: 15,
      ...ELEMENT,
      limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
    },
    start: start(20_000 / times),
    interim: { samples: samples(times), countedMl: 20 },
  });
  const up = answerCirculation(question(1));
  const down = answerCirculation({ ...question(20), port: "downstream" });
  expect(down.plan.reachable && down.plan.minutes).toBeCloseTo((up.plan as { minutes: number }).minutes, 9);
  // 1000 · 20 mL counted scatter by 0.7 %, next to 20 % of the laboratory.
  const [late, early] = [down, up].map(({ goBy }) => (goBy as { minutes: number }).minutes);
  expect((late as number) / (early as number)).toBeCloseTo(1, 3);
  expect(down.interim?.channels[0]?.fit.best.rate).toBeCloseTo(
    up.interim?.channels[0]?.fit.best.rate ?? 0,
    3,
  );
  expect(down.assumptions.map(({ code }) => code)).toContain("converted-upstream");
});

describe("a count that was converted weighs as what was counted", () => {
  const asked = (perMl: number, more: Partial<CirculationQuestion> = {}) =>
    answerCirculation({
      circuit: {
        volumeL: 60,
        flowLpm: 15,
        betas: [{ sizeUmC: 14, beta: 1000 }],
        limits: [{ channel: "14", fromUm: 14, limit: 40, volumeMl: 1 }],
      },
      start: { counts: cumulativeCounts([{ sizeUm: 14, count: 0.6 }], 1), assumptions: [] },
      interim: {
        samples: [{ minutes: 8, counts: [{ sizeUmC: 14, perMl: { value: perMl } }] }],
        countedMl: 20,
      },
      port: "downstream",
      ...more,
    }).interim;

  test("12 and then 4 particles in 20 mL show no fault, although 600 and 200 per mL would fall too slowly", () => {
    // By what the circuit would hold, ln(600/200)/8 = 0.137 per minute, and 0.25 is rated.
    expect(asked(0.2)).toMatchObject({ slowerSoFar: false });
    const rate = asked(0.2)?.channels[0]?.fit.netRate.high ?? Number.POSITIVE_INFINITY;
    // 4 of 12: the logarithm of their ratio has a deviation of √(1/12 + 1/4) = 0.58 by counting alone.
    expect(rate).toBeGreaterThan((Math.log(3) + 0.58) / 8);
  });
});

describe("the counts to expect at a port downstream", () => {
  const counts = cumulativeCounts(
    [
      { sizeUm: 4, count: 20_000 },
      { sizeUm: 6, count: 5000 },
    ],
    1,
  );
  const expectedAt = (change: Partial<CirculationQuestion["circuit"]>, port: "upstream" | "downstream") => {
    const circuit = {
      volumeL: 60,
      flowLpm: 15,
      betas: [
        { sizeUmC: 4, beta: 20 },
        { sizeUmC: 6, beta: 100 },
      ],
      limits: [
        { channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 },
        { channel: "4-6", fromUm: 4, toUm: 6, limit: 1000, volumeMl: 1 },
        { channel: "6", fromUm: 6, limit: 320, volumeMl: 1 },
      ],
      ...change,
    };
    // The counts of the start are upstream's: those downstream are β less.
    const start =
      port === "upstream"
        ? counts
        : cumulativeCounts(
            counts.counts.map(({ sizeUm, count }) => ({
              sizeUm,
              count: count / upstreamTimes(circuit, sizeUm),
            })),
            1,
          );
    const answer = answerCirculation({ circuit, start: { counts: start, assumptions: [] }, port });
    const said = (answer.steps ?? []).flatMap(({ expected }) => (expected === undefined ? [] : [expected]));
    return {
      answer,
      atStart: said[0]?.map(({ perMl }) => perMl) ?? [],
      atEnd: said.at(-1)?.map(({ perMl }) => perMl) ?? [],
    };
  };

  test("are at the start what was drawn there, of ranges as well: 20,000/20 less 5000/100", () => {
    const { answer, atStart } = expectedAt({}, "downstream");
    expect(answer.port).toBe("downstream");
    for (const [index, perMl] of [1000, 950, 50].entries()) expect(atStart[index]).toBeCloseTo(perMl, 6);
    expect(expectedAt({}, "upstream").atStart.map(Math.round)).toEqual([20_000, 15_000, 5000]);
  });

  test("of two elements in series both hold back", () => {
    const betas = [{ sizeUmC: 4, beta: 10 }];
    const { atStart } = expectedAt({ inSeries: [{ betas }] }, "downstream");
    for (const [index, perMl] of [100, 95, 5].entries()) expect(atStart[index]).toBeCloseTo(perMl, 6);
  });

  test("at the end are those of the circuit less what each bin loses, by hand", () => {
    const { answer, atEnd } = expectedAt({}, "downstream");
    if (answer.next.kind !== "verify") throw new Error(answer.next.kind);
    const passes = minutesUp(answer.next.minutes) / 4;
    // Of 15,000 between 4 and 6 µm(c) 950 get through, of 5000 above 6 µm(c) 50.
    const fine = 15_000 * Math.exp(-(1 - 950 / 15_000) * passes) * (950 / 15_000);
    const coarse = 5000 * Math.exp(-0.99 * passes) * 0.01;
    for (const [index, perMl] of [fine + coarse, fine, coarse].entries())
      expect(atEnd[index]).toBeCloseTo(perMl, 6);
  });

  test("have the minutes of the same circuit seen upstream, but for the scatter of fewer particles", () => {
    const minutesOf = (port: "upstream" | "downstream") => {
      const { goBy } = expectedAt({}, port).answer;
      return goBy.kind === "minutes" ? goBy.minutes : Number.NaN;
    };
    expect(minutesOf("downstream") / minutesOf("upstream")).toBeCloseTo(1, 2);
  });
});
