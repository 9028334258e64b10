// What is known of the equipment, completed from the circuit and the fluid.
import { describe, expect, test } from "vitest";
import {
  type CirculationInput,
  heatOfCirculation,
  indicatorOfCirculation,
  loadingOfCirculation,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { FLUID_DATA, viscosityLine } from "../../src/fluids/index.js";

// V/Q = 4 min a pass and β = 10: 0.9 of the particles go in each.
const CIRCUIT: CirculationInput = {
  ...{ volumeL: 60, flowLpm: 15, betas: [{ sizeUmC: 4, beta: 10 }] },
  start: cumulativeCounts([{ sizeUm: 4, count: 20_000 }], 1),
  limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
};
const codes = ({ assumptions }: { readonly assumptions: readonly { readonly code: string }[] }) =>
  assumptions.map(({ code }) => code);

describe("heat", () => {
  const heat = { dropBar: 10, startC: 20, limitC: 90 };

  test.each([{}, { densityKgPerM3: 850 }, { specificHeatKjPerKgK: 2 }])(
    "needs the fluid, or both of its density and specific heat: %j",
    (more) => {
      expect(() => heatOfCirculation(CIRCUIT, { ...heat, ...more }, 10)).toThrow(
        "the fluid, or its density and specific heat, must be given",
      );
    },
  );

  test("of a fluid is that of its density and specific heat, said as recalled; what is stated comes first", () => {
    const fluid = "MIL-PRF-83282";
    const { densityKgPerM3, specificHeatKjPerKgK } = FLUID_DATA[fluid];
    const end = (settings: object) => {
      const plan = heatOfCirculation(CIRCUIT, { ...heat, ...settings }, 10);
      return plan.kind === "one-run" ? plan.endC : Number.NaN;
    };
    // 15 kJ a minute for 10 minutes, into 60 L.
    const byHand = 20 + 150 / (0.06 * densityKgPerM3 * specificHeatKjPerKgK);
    expect(end({ fluid })).toBeCloseTo(byHand, 9);
    expect(end({ fluid, densityKgPerM3: densityKgPerM3 / 2 })).toBeCloseTo(2 * byHand - 20, 9);
    expect(codes(heatOfCirculation(CIRCUIT, { ...heat, fluid }, 10))).toContain("fluid-data-from-memory");
    expect(
      codes(heatOfCirculation(CIRCUIT, { ...heat, densityKgPerM3, specificHeatKjPerKgK }, 10)),
    ).not.toContain("fluid-data-from-memory");
  });
});

describe("an indicator", () => {
  const settings = { temperatureC: 0, indicatorBar: 3, rated: { elementBar: 1, mm2PerS: 14 } };
  const line = viscosityLine(...FLUID_DATA["MIL-PRF-83282"].viscosity);

  test("in a named fluid is read by the recalled viscosity of that fluid, which is said", () => {
    const named = indicatorOfCirculation(CIRCUIT, { ...settings, viscosity: "MIL-PRF-83282" });
    const stated = indicatorOfCirculation(CIRCUIT, { ...settings, viscosity: line });
    expect({ ...named, assumptions: [] }).toEqual({ ...stated, assumptions: [] });
    expect(codes(named).filter((code) => !codes(stated).includes(code))).toEqual(["fluid-data-from-memory"]);
    expect(codes(stated).length).toBe(codes(named).length - 1);
  });
});

test("an element is left passes by what the next one brings, not by what the last one did", () => {
  const left = (passes: number) => {
    const { passesLeft } = loadingOfCirculation(CIRCUIT, { capacityG: 100 }, passes);
    return passesLeft.kind === "times" ? passesLeft.value : Number.NaN;
  };
  // Each pass brings e^(−0.9) of the one before; next to the capacity what is held already is nothing.
  expect(left(3) / left(2)).toBeCloseTo(Math.exp(0.9), 1);
  const { addedG } = loadingOfCirculation(CIRCUIT, { capacityG: 100 }, 3);
  const next = loadingOfCirculation(CIRCUIT, { capacityG: 100 }, 4).addedG - addedG;
  expect(left(3)).toBeCloseTo((100 - addedG) / next, 3);
});
