import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  assessIndicator,
  type CirculationQuestion,
  cleanDrop,
  describeNext,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { viscosityLine } from "../../src/fluids/index.js";

const QUESTION: CirculationQuestion = {
  circuit: {
    volumeL: 60,
    flowLpm: 15,
    betas: [{ sizeUmC: 4, beta: 10 }],
    limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
  },
  start: { counts: cumulativeCounts([{ sizeUm: 4, count: 20_000 }], 1), assumptions: [] },
};

/** 1 bar clean at 15 L/min and the 14 mm²/s of 40 °C; the indicator trips at 5 bar. */
const indicatorAt = (temperatureC: number, flowLpm = 15) => ({
  rated: { elementBar: 1, mm2PerS: 14, flowLpm },
  viscosity: "MIL-PRF-83282" as const,
  temperatureC,
  indicatorBar: 5,
});

describe("a full element", () => {
  const answer = (retainedBeforeG: number, capacityG: number) =>
    answerCirculation({ ...QUESTION, element: { retainedBeforeG, capacityG } });

  test("is changed first: the first line and the first thing to do say so, and not all is well", () => {
    const found = answer(80, 80);
    expect(found.before.map(({ code }) => code)).toEqual(["element-full"]);
    expect([found.allWell, describeNext(found)[0]]).toEqual([
      false,
      "Change the element first: it holds 80 g and is rated for 80 g",
    ]);
    expect(found.steps?.[1]?.step).toMatch(/^Change the element first/);
  });

  test("one that would be full before the end too, and one with room is left alone", () => {
    const addedG = answer(0, 80).loading?.addedG ?? Number.NaN;
    expect(answer(80 - addedG / 2, 80).before.map(({ code }) => code)).toEqual(["element-fills"]);
    expect(answer(80 - addedG / 2, 80).allWell).toBe(false);
    expect(answer(80 - 2 * addedG, 80)).toMatchObject({ before: [], allWell: true });
  });
});

describe("cold fluid", () => {
  const answer = (temperatureC: number, flowLpm?: number) =>
    answerCirculation({ ...QUESTION, indicator: indicatorAt(temperatureC, flowLpm) });
  const counting = ({ steps }: ReturnType<typeof answer>) =>
    steps?.find(({ step }) => step.startsWith("Count the minutes"))?.step;

  test("in which a clean element trips the indicator is warmed first, at a flow that leaves room", () => {
    const found = answer(-20);
    expect(found.indicator?.cleanDropBar).toBeGreaterThan(5);
    expect(found.before.map(({ code }) => code)).toEqual(["warm-up"]);
    expect(found.allWell).toBe(false);
    expect(describeNext(found)[0]).toMatch(/^Warm the fluid to \d+ °C first, at [\d.]+ L\/min or less/);
    const room = found.indicator?.roomUpToLpm ?? Number.NaN;
    const rated = { elementBar: 1, mm2PerS: 14, flowLpm: 15 };
    // Half of the setting is for the clean element.
    expect(cleanDrop(rated, room, found.indicator?.viscosityMm2PerS ?? 0)).toBeCloseTo(2.5, 9);
  });

  test("at a flow that no temperature helps is not circulated at that flow", () => {
    // Rated at 1.5 L/min, and circulated at ten times that: 10 bar at 40 °C.
    const blocked = assessIndicator({
      rated: { elementBar: 0.1, housingBar: 3, mm2PerS: 14, flowLpm: 10 },
      viscosity: viscosityLine({ temperatureC: 40, mm2PerS: 14 }, { temperatureC: 100, mm2PerS: 3.45 }),
      flowLpm: 15,
      temperatureC: 20,
      indicatorBar: 5,
    });
    expect([blocked.meaning, blocked.lookAgainAt.kind]).toEqual(["cold-fluid-alone-explains-it", "never"]);
    // 0.1·q·(ν/14) + 3·q² is 2.5 bar.
    const times = blocked.roomUpToLpm / 10;
    expect(0.1 * times * (blocked.viscosityMm2PerS / 14) + 3 * times ** 2).toBeCloseTo(2.5, 9);
    const found = answerCirculation({
      ...QUESTION,
      indicator: { ...indicatorAt(20), rated: { elementBar: 0.1, housingBar: 3, mm2PerS: 14, flowLpm: 10 } },
    });
    expect(found.before.map(({ code }) => code)).toEqual(["too-cold-at-this-flow"]);
    expect(describeNext(found)[0]).toMatch(/^Do not circulate at this flow, only at 8\.\d L\/min or less/);
  });

  test("that is only thick lets the minutes count from where the indicator can be trusted", () => {
    const found = answer(30, 8);
    expect(found.before).toEqual([]);
    expect(found.allWell).toBe(true);
    const warm = found.indicator?.lookAgainAt;
    if (warm?.kind !== "temperature") throw new Error("expected a temperature");
    expect(counting(found)).toContain(`from ${Math.ceil(warm.temperatureC)} °C`);
  });

  test("nothing is known of: the minutes count from 85 °F, rounded up", () => {
    expect(counting(answerCirculation(QUESTION))).toContain("from 29 °C (85 °F) on");
  });
});

test("heat that is refused comes before the minutes", () => {
  const found = answerCirculation({
    ...QUESTION,
    heat: { dropBar: 100, startC: 120, limitC: 120, fluid: "MIL-PRF-83282" },
  });
  expect(found.before.map(({ code }) => code)).toEqual(["heat-refused"]);
  expect(describeNext(found)[0]).toMatch(/^Do not circulate like this: the fluid is at 120 °C/);
  expect(found.allWell).toBe(false);
});
