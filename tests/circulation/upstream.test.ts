import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  type CirculationQuestion,
  countsUpstream,
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
  expect(down.goBy).toMatchObject({ minutes: (up.goBy as { minutes: number }).minutes });
  expect(down.interim).toEqual(up.interim);
  expect(down.assumptions.map(({ code }) => code)).toContain("converted-upstream");
});
