import { describe, expect, test } from "vitest";
import { parseTarget } from "../../src/cleanliness/index.js";
import { limitedQuantities } from "../../src/fitness/checks/evidence.js";
import { togetherOf } from "../../src/fitness/confidence/together.js";
import { QUANTITIES, type Quantity } from "../../src/fitness/quantities.js";
import { FLUID_SPECIFICATIONS } from "../../src/fluids/index.js";
import { METALS, type Requirement } from "../../src/samples/index.js";

/** Only what is asked of a quantity here. */
function assessed(quantity: Exclude<Quantity, "particles">, probability: number) {
  const conformance = {
    probability,
    required: 0.9,
    consumerRisk: 1 - probability,
    producerRisk: probability,
  };
  return { quantity, unit: "ppm by mass", outcome: "inside" as const, limits: { max: 1 }, conformance };
}

describe("the chance that all conform together", () => {
  test.each([
    [
      "two limits on one result of water count once, by the stricter",
      ["water", 0.99],
      ["water of saturation", 0.92],
      0.92,
    ],
    ["the stricter may come first", ["water", 0.92], ["water of saturation", 0.99], 0.92],
    ["two results multiply", ["water", 0.99], ["acid number", 0.95], 0.99 * 0.95],
    ["so do two metals", ["iron", 0.99], ["copper", 0.95], 0.99 * 0.95],
  ] as const)("%s", (_, [one, p1], [other, p2], together) => {
    expect(togetherOf([assessed(one, p1), assessed(other, p2)]).conformance?.probability).toBeCloseTo(
      together,
      12,
    );
  });
});

const POINT = { temperatureC: 20, waterPpm: 1 };

test("every quantity that a requirement can limit is known, and the other way round", () => {
  const everything = {
    system: "right",
    fluids: [FLUID_SPECIFICATIONS[0] as (typeof FLUID_SPECIFICATIONS)[number]],
    cleanliness: [parseTarget("17/15/12")],
    patchTest: { standard: "NAVAIR 01-1A-17", classMax: 3 },
    waterPpmMax: 1,
    acidMgKohPerGMax: 1,
    sampleAgeDaysMax: 1,
    waterSaturation: { shareMax: 0.5, lowestTemperatureC: -20, measured: [POINT, POINT] },
    viscosity40Mm2PerS: { min: 1 },
    chlorinePpmMax: 1,
    metalsPpmMax: Object.fromEntries(METALS.map((metal) => [metal, 1])),
  } satisfies Requirement;
  expect(limitedQuantities(everything).sort()).toEqual(Object.keys(QUANTITIES).sort());
});

test("a name that no list holds is refused by the compiler", () => {
  // @ts-expect-error [ts2345] - "acidity" is not a quantity
  expect(() => togetherOf([assessed("acidity", 0.5)])).toThrow(TypeError);
});
