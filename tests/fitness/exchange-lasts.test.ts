import { describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import { CLEAN, caseOf, REQUIREMENT } from "../support/fitness/bases.js";

/** Water that rises by 1 ppm a day from 100 to 220 ppm, limit 200, with fresh fluid of 50 ppm. */
function verdictOf(perDay: number, days: number, more: { fresh?: number; acidPerDay?: number } = {}) {
  const { fresh = 50, acidPerDay = 0 } = more;
  const samples = [0, 30, 60, 90, 120].map((day, index) => ({
    ...CLEAN,
    sample: `S-${index}`,
    drawnOn: new Date(Date.UTC(2026, 0, 1 + day)).toISOString().slice(0, 10),
    waterPpm: { value: 220 - perDay * (120 - day) },
    acidMgKohPerG: { value: 0.25 - acidPerDay * (120 - day) },
  }));
  return judgeCircuit(
    caseOf({
      requirement: {
        ...REQUIREMENT,
        freshFluid: { waterPpm: fresh, acidMgKohPerG: 0.05 },
        sampleEveryDays: days,
        sampleAgeDaysMax: 200,
      },
      samples,
      on: "2026-05-02",
    }),
  );
}

describe("the litres of an exchange last", () => {
  test("until the trend is at the limit again: a fifth below 200 ppm at 0.3 ppm a day is 133 days", () => {
    const { next } = verdictOf(0.3, 30);
    expect(next.exchange[0]).toMatchObject({ aim: 160, lastsDays: 133 });
    expect(next.steps[0]?.text).toContain("by its trend that lasts about 133 days");
  });

  test("to the next sample at the least: 1 ppm a day over 60 days aims 60 ppm below the limit", () => {
    const { next } = verdictOf(1, 60);
    expect(next.exchange[0]?.aim).toBeCloseTo(140, 6);
    expect(next.exchange[0]?.lastsDays).toBeGreaterThanOrEqual(59);
  });

  test("no further than halfway to the fresh fluid, and then it says how short that is", () => {
    const { next } = verdictOf(1, 150);
    expect(next.exchange[0]).toMatchObject({ aim: 125, lastsDays: expect.closeTo(75, -0.5) });
  });

  test("each by its own trend: acid that rises says nothing of water, and the other way round", () => {
    const lasts = (...rises: [number, number]) =>
      verdictOf(rises[0], 30, { acidPerDay: rises[1] }).next.exchange.map(({ quantity, lastsDays }) => [
        quantity,
        lastsDays,
      ]);
    // A fifth below 0.2 mg KOH/g at 0.001 a day is 40 days.
    expect(lasts(0, 0.001)).toEqual([
      ["water", undefined],
      ["acid number", expect.closeTo(40, -0.5)],
    ]);
    expect(lasts(0.3, 0)).toEqual([
      ["water", 133],
      ["acid number", undefined],
    ]);
    expect(lasts(0.3, 0.001)).toEqual([
      ["water", 133],
      ["acid number", expect.closeTo(40, -0.5)],
    ]);
  });

  test("nothing lasts where fresh fluid does not get there", () => {
    const [, first] = verdictOf(0.3, 30, { fresh: 210 }).next.steps;
    const water = verdictOf(0.3, 30, { fresh: 210 }).next.steps[0]?.text;
    expect(first?.text).toContain("acid number");
    expect(water).toContain("the fresh fluid is at 210, not below the limit of 200");
    expect(water).not.toContain("lasts");
  });

  test("no days are given where no trend shows a rise", () => {
    const verdict = judgeCircuit(
      caseOf({
        requirement: { ...REQUIREMENT, freshFluid: { waterPpm: 50 } },
        samples: [{ ...CLEAN, waterPpm: { value: 220 } }],
      }),
    );
    expect(verdict.next.exchange[0]).not.toHaveProperty("lastsDays");
    expect(verdict.next.steps[0]?.text).not.toContain("lasts");
  });
});
