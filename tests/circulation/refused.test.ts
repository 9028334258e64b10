// What cannot be is refused by name, with its value and its range; what is just possible is not.
import { describe, expect, test } from "vitest";
import {
  type CirculationInput,
  type ExchangeInput,
  expectAfter,
  flowNeeded,
  type HeatInput,
  planCirculation,
  planConfidence,
  planDrying,
  planExchange,
  planHeat,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { seededRandom } from "../../src/numeric/index.js";

const circuit: CirculationInput = {
  volumeL: 60,
  flowLpm: 45,
  betas: [
    { sizeUmC: 4, beta: 20 },
    { sizeUmC: 14, beta: 1000 },
  ],
  start: cumulativeCounts(
    [
      { sizeUm: 4, count: 20_000 },
      { sizeUm: 14, count: 640 },
    ],
    1,
  ),
  limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
};
const exchange: ExchangeInput = { volumeL: 60, present: 900, limit: 500, fresh: 100, drainFraction: 0.8 };
const heat: HeatInput = {
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
const [nan, infinite] = [Number.NaN, Number.POSITIVE_INFINITY];

describe("a circuit", () => {
  test.each([0, -1, nan, infinite])("of %d L, or with a flow of %d L/min", (value) => {
    for (const name of ["volumeL", "flowLpm"])
      expect(() => planCirculation({ ...circuit, [name]: value })).toThrow(
        `${name} must be more than 0, not ${value}`,
      );
  });

  test("with elements that cannot be", () => {
    const refused = (change: Partial<CirculationInput>) =>
      expect(() => planCirculation({ ...circuit, ...change }));
    refused({ betas: [] }).toThrow("at least one rated size with its β is needed");
    for (const beta of [0.9, nan, infinite])
      refused({ betas: [{ sizeUmC: 4, beta }] }).toThrow(`β at 4 µm(c) must be 1 or more, not ${beta}`);
    for (const sizeUmC of [0, -4, nan, infinite])
      refused({ betas: [{ sizeUmC, beta: 2 }] }).toThrow(
        `a rated size must be more than 0 µm(c), not ${sizeUmC}`,
      );
    const twice = [6, 4, 6].map((sizeUmC) => ({ sizeUmC, beta: 2 }));
    refused({ betas: twice }).toThrow("β at 6 µm(c) is given twice");
    for (const bypass of [-0.1, 1.1, nan]) {
      refused({ bypass }).toThrow(`bypass must be a fraction from 0 to 1, not ${bypass}`);
      refused({ inSeries: [{ betas: circuit.betas, bypass }] }).toThrow(
        `bypass must be a fraction from 0 to 1, not ${bypass}`,
      );
    }
    for (const flowLpm of [0, -1, nan, infinite])
      refused({ sideStream: { flowLpm, betas: circuit.betas } }).toThrow(
        `the side stream's flowLpm must be more than 0, not ${flowLpm}`,
      );
    refused({ sideStream: { flowLpm: 1, betas: [] } }).toThrow("at least one rated size with its β");
  });

  test("with a slow zone that cannot be", () => {
    const zone = (slowFraction: number, exchangePerPass: number) =>
      expect(() =>
        planCirculation({ ...circuit, mixing: { kind: "two-zone", slowFraction, exchangePerPass } }),
      );
    for (const value of [-0.1, 1, nan])
      zone(value, 0.1).toThrow(`slowFraction must be from 0 to less than 1, not ${value}`);
    for (const value of [-0.1, nan, infinite])
      zone(0.1, value).toThrow(`exchangePerPass must be 0 or more, not ${value}`);
    zone(0, 0).not.toThrow();
  });

  test("with ingress that cannot be", () => {
    const entering = (...ingress: readonly (readonly [number, number])[]) =>
      expect(() =>
        planCirculation({
          ...circuit,
          ingress: ingress.map(([sizeUmC, particlesPerMin]) => ({ sizeUmC, particlesPerMin })),
        }),
      );
    for (const value of [-1, nan, infinite])
      entering([4, value]).toThrow(`ingress at 4 µm(c) must be 0 or more, not ${value}`);
    entering([4, 5], [4, 5]).toThrow("ingress at 4 µm(c) is given twice");
    entering([14, 6], [4, 5]).toThrow(
      "ingress is cumulative and cannot rise with size, as it does from 4 to 14 µm(c)",
    );
    entering([6, 5]).toThrow("ingress is needed at 4 µm(c) or below, to know what enters above 4 µm(c)");
    entering([4, 5], [14, 5]).not.toThrow();
    entering([4, 0]).not.toThrow();
  });

  test("held against a limit at a size that was not counted, at either end of a range, or against none", () => {
    const against = (fromUm: number, toUm?: number) =>
      expect(() =>
        planCirculation({
          ...circuit,
          limits: [{ channel: "x", fromUm, ...(toUm !== undefined && { toUm }), limit: 1, volumeMl: 1 }],
        }),
      );
    against(6).toThrow("start: no count at 6 µm(c), which a limit asks for");
    against(6, 14).toThrow("start: no count at 6 µm(c), which a limit asks for");
    against(4, 21).toThrow("start: no count at 21 µm(c), which a limit asks for");
    against(4, 14).not.toThrow();
    expect(() => planCirculation({ ...circuit, limits: [] })).toThrow("limits: at least one is needed");
  });

  test.each([-1, nan, infinite])("after %d minutes", (minutes) => {
    expect(() => expectAfter(circuit, minutes)).toThrow(`minutes must be 0 or more, not ${minutes}`);
  });

  test.each([0, -1, nan])("for which a flow is asked that is done in %d minutes", (minutes) => {
    expect(() => flowNeeded(circuit, minutes)).toThrow(`minutes must be more than 0, not ${minutes}`);
  });

  test("of which it is asked how sure its time is, with draws, probabilities and scatter that cannot be", () => {
    const random = seededRandom(1);
    for (const draws of [0, -1, 1.5, nan])
      expect(() => planConfidence(circuit, {}, random, { draws })).toThrow(
        `draws must be a whole number from 1 to 1000000, not ${draws}`,
      );
    for (const probability of [0, 1, -0.1, nan])
      expect(() => planConfidence(circuit, {}, random, { draws: 10, probabilities: [probability] })).toThrow(
        `a probability must be between 0 and 1, not ${probability}`,
      );
    for (const value of [-0.1, nan, infinite]) {
      for (const name of ["volume", "flow", "laboratory"])
        expect(() => planConfidence(circuit, { [name]: value }, random, { draws: 10 })).toThrow(
          `the relative uncertainty of ${name} must be 0 or more, not ${value}`,
        );
      expect(() => planConfidence(circuit, { countedMl: value }, random, { draws: 10 })).toThrow(
        `countedMl must be more than 0, not ${value}`,
      );
    }
  });
});

describe("an exchange of fluid", () => {
  test.each([0, -1, nan, infinite])("of a circuit of %d L", (volumeL) => {
    expect(() => planExchange({ ...exchange, volumeL })).toThrow(
      `volumeL must be more than 0, not ${volumeL}`,
    );
  });

  test.each([0, -0.1, 1.1, nan])("with drains of the fraction %d", (drainFraction) => {
    expect(() => planExchange({ ...exchange, drainFraction })).toThrow(
      `drainFraction must be more than 0 and at most 1, not ${drainFraction}`,
    );
  });

  test.each([-1, nan, infinite])("at, to or with fluid of %d", (value) => {
    for (const name of ["present", "limit", "fresh"])
      expect(() => planExchange({ ...exchange, [name]: value })).toThrow(
        `${name} must be 0 or more, not ${value}`,
      );
    for (const name of ["present", "limit", "driest"])
      expect(() => planDrying({ present: 900, limit: 450, ratePerHour: 0.5, [name]: value })).toThrow(
        `${name} must be 0 or more, not ${value}`,
      );
  });

  test.each([0, -1, nan, infinite])("or drying at a rate of %d per hour", (ratePerHour) => {
    expect(() => planDrying({ present: 900, limit: 450, ratePerHour })).toThrow(
      `ratePerHour must be more than 0, not ${ratePerHour}`,
    );
  });

  test("what is at its limit needs nothing, and fresh fluid at the limit cannot bring anything there", () => {
    const none = { kind: "litres", litres: 0, leaves: 500 };
    expect(planExchange({ ...exchange, present: 500 })).toMatchObject({
      once: none,
      repeated: { ...none, times: 0 },
      feedAndBleed: none,
      assumptions: [{ code: "exchange-mixed", source: "FIRST-ORDER" }],
    });
    const never = {
      kind: "out-of-reach",
      why: "the fresh fluid is at 500, not below the limit of 500",
    };
    expect(planExchange({ ...exchange, fresh: 500 })).toMatchObject({
      once: never,
      repeated: never,
      feedAndBleed: never,
      assumptions: [{ code: "exchange-mixed" }],
    });
    expect(planDrying({ present: 450, limit: 450, ratePerHour: 0.5 })).toEqual({ kind: "hours", hours: 0 });
    expect(planDrying({ present: 900, limit: 450, ratePerHour: 0.5, driest: 450 })).toEqual({
      kind: "out-of-reach",
      why: "the dehydrator gets down to 450, not below the limit of 450",
    });
  });

  test("a drain takes out all when its fraction is 1, and one just large enough is enough", () => {
    // (500 − 100) / (900 − 100) is half: half of 60 L, once.
    expect(planExchange({ ...exchange, drainFraction: 1 }).repeated).toEqual({
      kind: "litres",
      litres: 60,
      times: 1,
      leaves: 100,
    });
    expect(planExchange({ ...exchange, drainFraction: 0.5 })).toMatchObject({
      once: { kind: "litres", litres: 30, leaves: 500 },
      repeated: { kind: "litres", litres: 30, times: 1, leaves: 500 },
    });
    // A quarter leaves 3/4 and 9/16 of the difference; 27/64 is the first below a half.
    expect(planExchange({ ...exchange, drainFraction: 0.25 })).toMatchObject({
      once: {
        kind: "out-of-reach",
        why: "one drain takes out 25.0 % of the circuit and 50.0 % would be needed",
      },
      repeated: { times: 3, litres: 45, leaves: 100 + 800 * 0.75 ** 3 },
    });
  });
});

describe("a circulation that warms the fluid", () => {
  test.each([0, -1, nan, infinite])("with a volume, density, heat, flow or efficiency of %d", (value) => {
    for (const name of ["volumeL", "densityKgPerM3", "specificHeatKjPerKgK", "flowLpm", "pumpEfficiency"])
      expect(() => planHeat({ ...heat, [name]: value }, 1)).toThrow(
        `${name} must be more than 0, not ${value}`,
      );
  });

  test.each([-1, nan, infinite])("with a drop or cooling of %d, or for %d minutes", (value) => {
    for (const name of ["dropBar", "coolingKw"])
      expect(() => planHeat({ ...heat, [name]: value }, 1)).toThrow(
        `${name} must be 0 or more, not ${value}`,
      );
    expect(() => planHeat(heat, value)).toThrow(`minutes must be 0 or more, not ${value}`);
  });

  test.each([nan, infinite])("at, to or from %d °C", (value) => {
    for (const name of ["startC", "limitC", "restartC"])
      expect(() => planHeat({ ...heat, [name]: value }, 1)).toThrow(
        `${name} must be a temperature, not ${value}`,
      );
  });

  test("a pump without losses, no drop and no time are possible", () => {
    expect(planHeat({ ...heat, pumpEfficiency: 1, dropBar: 0, coolingKw: 0 }, 0)).toMatchObject({
      kind: "one-run",
      endC: 20,
      heatKw: 0,
      warmingCPerMin: 0,
      assumptions: [{ code: "heat-in-fluid-only", source: "FIRST-ORDER" }],
    });
  });

  test("a run that just reaches the limit is split, and a restart at the limit is none", () => {
    // 10 kW net warm 102 kJ/K by 50 degrees in 8.5 minutes.
    expect(planHeat(heat, 8.4).kind).toBe("one-run");
    expect(planHeat(heat, 8.6)).toMatchObject({ kind: "runs-with-pauses", pauses: 1 });
    expect(planHeat({ ...heat, restartC: 70 }, 9)).toMatchObject({
      kind: "refused",
      why: "a restart at 70 °C is not below the limit of 70 °C",
      heatKw: 12.5,
    });
    expect(planHeat({ ...heat, coolingKw: 0 }, 9)).toMatchObject({
      kind: "refused",
      why: "the fluid would reach the limit of 70 °C after 6.80 minutes, and no cooling is given for a pause",
    });
    expect(planHeat({ ...heat, startC: 70 }, 0)).toMatchObject({
      kind: "refused",
      why: "the fluid is at 70 °C, not below the limit of 70 °C",
    });
  });
});
