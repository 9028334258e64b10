import { expect, test } from "vitest";
import { type HeatInput, heatOf, planHeat, temperatureAfter } from "../../src/circulation/index.js";

/** 60 L at 850 kg/m³ and 2 kJ/(kg K) take 102 kJ for a degree. */
const demo: HeatInput = {
  volumeL: 60,
  densityKgPerM3: 850,
  specificHeatKjPerKgK: 2,
  flowLpm: 60,
  dropBar: 100,
  pumpEfficiency: 0.8,
  coolingKw: 2.5,
  startC: 20,
  limitC: 70,
  restartC: 50,
};

test("100 bar at 60 L/min put 10 kW into the fluid, and a pump of 80 % another 2.5", () => {
  expect(heatOf({ ...demo, pumpEfficiency: 1 })).toBeCloseTo(10, 12);
  expect(heatOf(demo)).toBeCloseTo(12.5, 12);
});

test("10 kW warm 102 kJ/K by 5.88 degrees in a minute", () => {
  expect(temperatureAfter(demo, 1) - 20).toBeCloseTo((10 * 60) / 102, 12);
});

test("a circulation that ends below the limit is one run", () => {
  expect(planHeat(demo, 5)).toMatchObject({
    kind: "one-run",
    endC: expect.closeTo(20 + (5 * 600) / 102, 10),
  });
});

test("a longer one is split by hand: 8.5 minutes to the limit, 3.4 after each pause, pauses of 13.6", () => {
  const plan = planHeat(demo, 15);
  expect(plan).toMatchObject({
    kind: "runs-with-pauses",
    firstRunMin: expect.closeTo(8.5, 10),
    runMin: expect.closeTo(3.4, 10),
    pauseMin: expect.closeTo(13.6, 10),
    pauses: 2,
    totalMin: expect.closeTo(15 + 2 * 13.6, 10),
  });
});

test("the runs of a split circulation add up to the minutes that are needed", () => {
  for (const minutes of [9, 12, 15.3, 40]) {
    const plan = planHeat(demo, minutes);
    if (plan.kind !== "runs-with-pauses") throw new Error("expected runs");
    const last = minutes - plan.firstRunMin - (plan.pauses - 1) * plan.runMin;
    expect(last).toBeGreaterThan(0);
    expect(last).toBeLessThanOrEqual(plan.runMin + 1e-9);
  }
});

test("without cooling, or above the limit at the start, it is refused", () => {
  expect(planHeat({ ...demo, coolingKw: 0 }, 15)).toMatchObject({
    kind: "refused",
    why: expect.stringContaining("no cooling"),
  });
  expect(planHeat({ ...demo, startC: 70 }, 1)).toMatchObject({
    kind: "refused",
    why: expect.stringContaining("not below the limit of 70 °C"),
  });
  expect(planHeat({ ...demo, restartC: 75 }, 15)).toMatchObject({
    kind: "refused",
    why: expect.stringContaining("restart at 75 °C"),
  });
});

test("cooling that takes out as much as goes in leaves the temperature where it is", () => {
  expect(planHeat({ ...demo, coolingKw: 12.5 }, 600)).toMatchObject({ kind: "one-run", endC: 20 });
});

test("what cannot be is refused by name", () => {
  expect(() => planHeat({ ...demo, pumpEfficiency: 1.1 }, 1)).toThrow(
    "pumpEfficiency must be a fraction up to 1, not 1.1",
  );
  expect(() => planHeat({ ...demo, coolingKw: -1 }, 1)).toThrow("coolingKw must be 0 or more, not -1");
  expect(() => planHeat(demo, Number.NaN)).toThrow("minutes must be 0 or more, not NaN");
});
