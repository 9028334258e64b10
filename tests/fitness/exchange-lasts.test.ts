import { describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import { CLEAN, caseOf, REQUIREMENT } from "../support/fitness/bases.js";

/** Water that rises by 1 ppm a day from 100 to 220 ppm, limit 200, with fresh fluid of 50 ppm. */
function verdictOf(perDay: number, days: number) {
  const samples = [0, 30, 60, 90, 120].map((day, index) => ({
    ...CLEAN,
    sample: `S-${index}`,
    drawnOn: new Date(Date.UTC(2026, 0, 1 + day)).toISOString().slice(0, 10),
    waterPpm: { value: 220 - perDay * (120 - day) },
  }));
  return judgeCircuit(
    caseOf({
      requirement: {
        ...REQUIREMENT,
        freshFluid: { waterPpm: 50 },
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
