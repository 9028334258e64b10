import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { cumulativeCounts } from "../../src/counts/index.js";
import { judgeCarts, withMeasuredSpread } from "../../src/fitness/index.js";
import type { ComparedQuantity, LaboratoryComparison } from "../../src/laboratories/index.js";
import { type Cart, type Requirement, requirementSchema, type Sample } from "../../src/samples/index.js";
import { CIRCUIT } from "../support/fitness/bases.js";

const CARTS: readonly Cart[] = [
  {
    cart: "C-1",
    circuits: [circuit("fore", "main"), circuit("aft", "utility")],
  },
];

function circuit(name: string, serves: string): Cart["circuits"][number] {
  return { ...CIRCUIT, circuit: name, serves };
}

/** The requirement of the system "main", with what it states of confidence. */
function requirement(confidence: object | undefined, more: object = {}): Requirement {
  return requirementSchema.parse({
    system: "main",
    fluids: ["MIL-PRF-83282"],
    cleanliness: ["ISO 4406 17/15/12"],
    waterPpmMax: 200,
    acidMgKohPerGMax: 0.2,
    sampleAgeDaysMax: 60,
    ...(confidence && { confidence }),
    ...more,
  });
}

/** A comparison that found what covers all laboratories. */
function found(
  ...covers: readonly (Partial<ComparedQuantity> & Pick<ComparedQuantity, "field">)[]
): LaboratoryComparison {
  const quantities = covers.map((cover) => ({ quantity: cover.field, laboratories: [], ...cover }));
  return { confidence: 0.95, quantities, assumptions: [] };
}

const counts = (coverAll: number, sizeUm = 4) => ({ field: "counts", sizeUm, coverAll }) as const;
const water = (
  coverAll: number,
  base: "hydrocarbon" | "phosphate ester" | "fluid not stated" = "hydrocarbon",
) => ({ field: "waterPpm", base, unit: "ppm", coverAll }) as const;

/** What the requirement states once the spread was measured. */
function widenedOf(confidence: object | undefined, comparison: LaboratoryComparison, more: object = {}) {
  const { requirements } = withMeasuredSpread(
    { carts: CARTS, requirements: [requirement(confidence, more)] },
    comparison,
  );
  return requirements[0]?.confidence;
}

describe("the spread of counts", () => {
  const stating = (rsd: number) => ({ counts: { reproducibility: { kind: "relative", rsd } } });

  test.each<[string, object, LaboratoryComparison, number | undefined]>([
    ["wider than stated: taken", stating(0.1), found(counts(0.25)), 0.25],
    ["narrower than stated: not taken", stating(0.3), found(counts(0.25)), 0.3],
    ["the widest size of three", stating(0.1), found(counts(0.2), counts(0.3, 6), counts(0.25, 14)), 0.3],
    ["a size of few particles alone: not taken", stating(0.1), found(counts(0.9, 21)), 0.1],
    ["nothing stated: no less than the customary 20 %", {}, found(counts(0.05)), 0.2],
    ["nothing stated and more measured", {}, found(counts(0.4)), 0.4],
    ["nothing stated, nothing compared: nothing", {}, found({ field: "counts", sizeUm: 4 }), undefined],
  ])("%s", (_, confidence, comparison, rsd) => {
    const reproducibility = widenedOf(confidence, comparison)?.counts?.reproducibility;
    expect(reproducibility).toEqual(rsd === undefined ? undefined : { kind: "relative", rsd });
  });

  test("half an ISO 4406 number is 36 %, so 30 % is narrower and 40 % wider", () => {
    const codes = { counts: { reproducibility: { kind: "codes", sd: 0.5 } } };
    expect(widenedOf(codes, found(counts(0.3)))?.counts?.reproducibility).toEqual({ kind: "codes", sd: 0.5 });
    expect(widenedOf(codes, found(counts(0.4)))?.counts?.reproducibility).toEqual({
      kind: "relative",
      rsd: 0.4,
    });
  });
});

describe("the scatter of water", () => {
  test.each<[string, object | undefined, LaboratoryComparison, object, object | undefined]>([
    ["wider than stated: taken", { sd: 5 }, found(water(12)), {}, { sd: 12 }],
    ["narrower than stated: not taken", { sd: 15 }, found(water(12)), {}, { sd: 15 }],
    ["nothing stated: taken", undefined, found(water(12)), {}, { sd: 12 }],
    ["a share of the limit: 10 % of 200 is 20", { rsd: 0.1 }, found(water(19)), {}, { rsd: 0.1 }],
    ["a share of the limit that is narrower", { rsd: 0.1 }, found(water(21)), {}, { sd: 21 }],
    // D6304 at 0.02 %: R = 0.4243 · 0.02^0.6 % = 406 ppm, so 146 ppm.
    [
      "a method that scatters by 146 ppm",
      { method: "ASTM D6304" },
      found(water(140)),
      {},
      { method: "ASTM D6304" },
    ],
    ["a method that scatters by less", { method: "ASTM D6304" }, found(water(150)), {}, { sd: 150 }],
    [
      "phosphate ester says nothing of hydrocarbon",
      { sd: 5 },
      found(water(150, "phosphate ester")),
      {},
      { sd: 5 },
    ],
    [
      "a fluid that was not stated says nothing",
      { sd: 5 },
      found(water(150, "fluid not stated")),
      {},
      { sd: 5 },
    ],
    [
      "water that is not limited is left alone",
      { sd: 5 },
      found(water(12)),
      { waterPpmMax: "not-limited" },
      { sd: 5 },
    ],
  ])("%s", (_, stated, comparison, more, expected) => {
    expect(widenedOf({ ...(stated && { water: stated }) }, comparison, more)?.water).toEqual(expected);
  });

  test("a share of a limit by saturation that is higher than the other limit counts too", () => {
    const more = {
      waterSaturation: {
        shareMax: 0.5,
        lowestTemperatureC: 10,
        measured: [
          { temperatureC: 5, waterPpm: 300 },
          { temperatureC: 40, waterPpm: 900 },
        ],
      },
    };
    expect(widenedOf({ water: { rsd: 0.1 } }, found(water(80)), more)?.water).toEqual({ rsd: 0.1 });
    expect(widenedOf({ water: { rsd: 0.1 } }, found(water(91)), more)?.water).toEqual({ sd: 91 });
  });
});

describe("what was taken is said", () => {
  test("by the circuits of the system, with what the requirement states", () => {
    const fleet = { carts: CARTS, requirements: [requirement({ water: { sd: 5 } })] };
    const { carts } = withMeasuredSpread(
      fleet,
      found(counts(0.25), water(12), { field: "acidMgKohPerG", base: "hydrocarbon", coverAll: 0.03 }),
    );
    const [fore, aft] = carts[0]?.circuits ?? [];
    expect(fore?.assumptions?.map(({ message }) => message)).toEqual([
      "for counts the spread between the laboratories of the book was used, a standard uncertainty of 25 %; the requirement states none",
      "for water the spread between the laboratories of the book was used, a standard uncertainty of 12 ppm; the requirement states 5 ppm",
      "for acid number the spread between the laboratories of the book was used, a standard uncertainty of 0.03 mg KOH/g; the requirement states none",
    ]);
    expect(aft).not.toHaveProperty("assumptions");
  });

  test.each<[string, number, object, readonly string[]]>([
    [
      "5 % where nothing is stated: the customary 20 %, and not that the laboratories differ by 20 %",
      0.05,
      {},
      [
        "for counts the customary spread of 20 % was used (common practice, no source): the requirement states none, and the laboratories of the book show only 5 %",
      ],
    ],
    [
      "20 % where nothing is stated",
      0.2,
      {},
      [
        "for counts the spread between the laboratories of the book was used, a standard uncertainty of 20 %; the requirement states none",
      ],
    ],
    [
      "25 % where 10 % is stated",
      0.25,
      { counts: { reproducibility: { kind: "relative", rsd: 0.1 } } },
      [
        "for counts the spread between the laboratories of the book was used, a standard uncertainty of 25 %; the requirement states 10 %",
      ],
    ],
  ])("counts, %s", (_, measured, confidence, messages) => {
    const fleet = { carts: CARTS, requirements: [requirement(confidence)] };
    const { carts } = withMeasuredSpread(fleet, found(counts(measured)));
    expect(carts[0]?.circuits[0]?.assumptions?.map(({ message }) => message)).toEqual(messages);
  });

  test.each<[string, object | undefined, LaboratoryComparison, string]>([
    ["no confidence", undefined, found(counts(0.9)), "the requirement requires no confidence"],
    ["nothing compared", {}, found({ field: "counts", sizeUm: 4 }), "too few bottles are shared"],
    [
      "nothing wider",
      { water: { sd: 50 } },
      found(water(9)),
      "for its fluids they show no larger spread than it states",
    ],
    [
      "other fluids wider",
      {},
      found(water(900, "phosphate ester")),
      "for its fluids they show no larger spread than it states",
    ],
  ])("%s: the requirement stays as it is, and that is said", (_, confidence, comparison, why) => {
    const stated = [requirement(confidence)];
    const { carts, requirements } = withMeasuredSpread({ carts: CARTS, requirements: stated }, comparison);
    expect(requirements).toEqual(stated);
    expect(carts[0]?.circuits[0]?.assumptions).toEqual([
      {
        code: "laboratory-spread-not-taken",
        message: `the spread between the laboratories of the book was not used: ${why}`,
      },
    ]);
  });
});

test("no circuit becomes fit by what was measured", () => {
  const share = fc.double({ min: 0.3, max: 1.2, noNaN: true });
  const cover = fc.double({ min: 0.001, max: 1, noNaN: true });
  let fit = 0;
  let lost = 0;
  fc.assert(
    fc.property(
      share,
      share,
      share,
      cover,
      cover,
      fc.constantFrom(0.05, 0.2, undefined),
      fc.constantFrom({ sd: 10 }, { method: "ASTM D6304" }, undefined),
      (particles, ppm, acid, countsCover, waterCover, rsd, precision) => {
        const sample: Sample = {
          sample: "S-1",
          cart: "C-1",
          circuit: "fore",
          drawnOn: "2026-03-10",
          fluid: "MIL-PRF-83282",
          counts: cumulativeCounts(
            [1300, 320, 40].map((limit, index) => ({
              sizeUm: [4, 6, 14][index] as number,
              count: particles * limit,
            })),
            1,
            "um(c)",
            { countedMl: 20 },
          ),
          waterPpm: { value: ppm * 200 },
          acidMgKohPerG: { value: acid * 0.2 },
          origin: [{ file: "a.csv", rows: [2] }],
        };
        const confidence = {
          ...(rsd !== undefined && { counts: { reproducibility: { kind: "relative", rsd } } }),
          ...(precision && { water: precision }),
        };
        const fleet = {
          carts: CARTS,
          requirements: [requirement(confidence)],
          samples: [sample],
          unread: [],
          on: "2026-03-14",
        };
        const comparison = found(counts(countsCover), water(100 * waterCover));
        const isFit = (one: typeof fleet) => judgeCarts(one)[0]?.verdict.verdict === "fit";
        const [before, after] = [isFit(fleet), isFit(withMeasuredSpread(fleet, comparison))];
        if (before) fit += 1;
        if (before && !after) lost += 1;
        expect(after && !before).toBe(false);
      },
    ),
    { numRuns: 120, seed: 23 },
  );
  // Both happen, so the property is not empty.
  expect([fit > 10, lost > 2]).toEqual([true, true]);
});
