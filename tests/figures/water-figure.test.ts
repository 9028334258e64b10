import fc from "fast-check";
import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { drawWaterOfCircuit, drawWaterSaturation } from "../../src/figures/index.js";
import { spreadApart } from "../../src/figures/parts/margin-labels.js";
import { judgeCarts } from "../../src/fitness/index.js";
import { INSULATING_OIL_CURVE, type SaturationCurve, saturationCurve } from "../../src/fluids/index.js";
import { cartSchema, type Measured, requirementSchema, sampleSchema } from "../../src/samples/index.js";

const POINTS = [
  { temperatureC: 20, waterPpm: 120 },
  { temperatureC: 60, waterPpm: 480 },
] as const;

function measuredCurve(): SaturationCurve {
  const answer = saturationCurve("MIL-PRF-83282", POINTS);
  if (answer.kind !== "curve") throw new Error(answer.reason);
  return answer.curve;
}

const draw = (water: Measured, lowestTemperatureC?: number) =>
  drawWaterSaturation(INSULATING_OIL_CURVE, [{ words: "S-1", water }], "C-1", {
    ...(lowestTemperatureC !== undefined && { allowed: { shareMax: 1, lowestTemperatureC } }),
  });
const titleOf = (svg: string) => /aria-label="([^"]*)"/.exec(svg)?.[1];
const textsOf = (svg: string) => Array.from(parseHTML(svg).document.querySelectorAll("text"));
const wordsOf = (svg: string) => textsOf(svg).map((text) => text.textContent ?? "");

describe("picture of water against saturation", () => {
  // The recalled coefficients of OIL-SATURATION come to 121.8 ppm at 40 °C and 22.5 ppm at 0 °C.
  test.each<[string, Measured, number | undefined, string]>([
    ["a value", { value: 121.8 }, undefined, "C-1: free water below 40 °C"],
    ["a value and a colder day", { value: 121.8 }, 5, "C-1: free water below 40 °C; it may cool to 5 °C"],
    ["a value that stays dissolved", { value: 22.5 }, 5, "C-1: no free water down to 5 °C"],
    [
      "an upper limit value",
      { value: 121.8, limit: "below" },
      5,
      "C-1: free water, if at all, below 40 °C; it may cool to 5 °C",
    ],
    [
      "an upper limit value that settles it",
      { value: 22.5, limit: "at-most" },
      5,
      "C-1: no free water down to 5 °C",
    ],
    [
      "a lower limit value",
      { value: 121.8, limit: "above" },
      undefined,
      "C-1: free water below 40 °C or warmer",
    ],
    [
      "a lower limit value that settles nothing",
      { value: 22.5, limit: "at-least" },
      5,
      "C-1: it is not known whether water stays dissolved down to 5 °C",
    ],
    ["no water", { value: 0 }, 5, "C-1: no water was found"],
    ["a lower limit value of nothing", { value: 0, limit: "above" }, 5, "C-1: how much water is not known"],
    ["more than the curve ever holds", { value: 2e7 }, 5, "C-1: more water than the fluid ever dissolves"],
  ])("the title says where free water appears: %s", (_, water, lowest, title) => {
    expect(titleOf(draw(water, lowest))).toBe(title);
  });

  test("without a sample it shows the curve and says that water was not measured", () => {
    expect(titleOf(drawWaterSaturation(measuredCurve(), [], "C-1"))).toBe("C-1: water was not measured");
  });

  test("the mark stands where the water meets the curve, by the axes of the picture", () => {
    const svg = draw({ value: 121.8 });
    const [circle] = [...svg.matchAll(/<circle[^>]*cy="([\d.]+)" cx="([\d.]+)"/g)];
    // 0 to 56 °C over 760 - 64 - 150 pixels, from the left margin of 64.
    expect(Number(circle?.[2])).toBeCloseTo(64 + (40 / 56) * 546, 0);
    // The curve ends in the upper corner at what it holds at 56 °C, over 380 - 62 - 46 pixels.
    expect(Number(circle?.[1])).toBeCloseTo(334 - (121.8 / 10 ** (7.0895 - 1567 / 329.15)) * 272, 0);
  });

  test("every line has its name beside it, with what was measured and the limit at the lowest temperature", () => {
    const svg = drawWaterSaturation(
      measuredCurve(),
      [
        { words: "S-2", water: { value: 200 } },
        { words: "S-1", water: { value: 50, limit: "below" } },
      ],
      "C-1",
      { measured: POINTS, allowed: { shareMax: 0.5, lowestTemperatureC: 20 } },
    );
    for (const words of ["saturation", "S-2: 200 ppm", "S-1: < 50 ppm", "limit at 20 °C: 60"]) {
      expect(wordsOf(svg)).toContain(words);
    }
    expect(wordsOf(svg)).toEqual(expect.arrayContaining(["free water", "all dissolved"]));
    expect(wordsOf(svg).join()).toContain("fluid temperature, °C");
    expect(wordsOf(svg).join()).toContain("water, ppm by mass");
  });

  test("a curve beyond its measured points is dashed, and an assumed one is dashed throughout and called so", () => {
    const dashes = (svg: string) => svg.match(/stroke-dasharray="5,3"/g)?.length ?? 0;
    const level = [{ words: "S-1", water: { value: 200 } }];
    expect(dashes(drawWaterSaturation(measuredCurve(), level, "C-1", { measured: POINTS }))).toBe(1);
    const assumed = draw({ value: 121.8 });
    expect(dashes(assumed)).toBe(1);
    expect(wordsOf(assumed)).toContain("saturation, assumed");
    expect(wordsOf(assumed).join()).toContain("not measured on this fluid");
  });
});

describe("the same of a judged circuit", () => {
  const judge = (fluid: string, water: number | undefined, saturation: boolean, units?: "us") => {
    const cart = cartSchema.parse({
      cart: "C-1",
      ...(units && { units }),
      circuits: [
        {
          circuit: "fore",
          serves: "main",
          fluid,
          volume: "60 L",
          flow: "45 L/min",
          element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
        },
      ],
    });
    const requirement = requirementSchema.parse({
      system: "main",
      fluids: ["MIL-PRF-83282"],
      cleanliness: ["ISO 4406 18/16/13"],
      waterPpmMax: 200,
      ...(saturation && {
        waterSaturation: { shareMax: 0.5, lowestTemperatureC: 20, measured: POINTS },
      }),
      acidMgKohPerGMax: 0.2,
      sampleAgeDaysMax: 30,
    });
    const sample = sampleSchema.parse({
      sample: "S-1",
      cart: "C-1",
      circuit: "fore",
      drawnOn: "2026-03-05",
      ...(water !== undefined && { waterPpm: { value: water } }),
      origin: [{ file: "a.csv", rows: [1] }],
    });
    const [judged] = judgeCarts({
      carts: [cart],
      requirements: [requirement],
      samples: [sample],
      unread: [],
      on: "2026-03-14",
    });
    if (judged === undefined) throw new Error("the cart was not judged");
    return drawWaterOfCircuit(judged);
  };

  test("takes curve and limit from the requirement and the water from the sample that was judged", () => {
    const svg = judge("MIL-PRF-83282", 110, true) ?? "";
    expect(titleOf(svg)).toBe("C-1, circuit fore: no free water down to 20 °C");
    expect(wordsOf(svg)).toEqual(expect.arrayContaining(["S-1: 110 ppm", "limit at 20 °C: 60"]));
  });

  test("temperatures are in the units of the cart, and everything stands where it stood", () => {
    const [metric, us] = [
      judge("MIL-PRF-83282", 110, true) ?? "",
      judge("MIL-PRF-83282", 110, true, "us") ?? "",
    ];
    // 20 °C are 68 °F; the axis from 0 to 40 °C is one from 32 to 104 °F.
    expect(titleOf(us)).toBe("C-1, circuit fore: no free water down to 68 °F");
    expect(wordsOf(us)).toEqual(
      expect.arrayContaining(["fluid temperature, °F →", "S-1: 110 ppm", "limit at 68 °F: 60", "40", "100"]),
    );
    expect(wordsOf(us).join(" ")).not.toContain("°C");
    const dots = (svg: string) => [...svg.matchAll(/<circle[^>]* cx="([\d.]+)"/g)].map(([, x]) => Number(x));
    expect(dots(us).length).toBeGreaterThan(1);
    for (const [index, x] of dots(us).entries()) expect(x).toBeCloseTo(dots(metric)[index] as number, 6);
  });

  test("there is none without measured saturation, without water, or for phosphate ester", () => {
    expect(judge("MIL-PRF-83282", 120, false)).toBeUndefined();
    expect(judge("MIL-PRF-83282", undefined, true)).toBeUndefined();
    expect(judge("AS1241 Type IV", 120, true)).toBeUndefined();
  });
});

describe("names in the margin", () => {
  const places = fc.array(fc.double({ min: -50, max: 350, noNaN: true }), { minLength: 1, maxLength: 12 });

  test("are at least the gap apart, in their order and inside the range", () => {
    fc.assert(
      fc.property(places, (wanted) => {
        const placed = spreadApart(wanted, 13, [0, 300]);
        const order = wanted.map((_, index) => index).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0));
        const sorted = order.map((index) => placed[index] ?? Number.NaN);
        expect(Math.min(...sorted)).toBeGreaterThanOrEqual(-1e-9);
        expect(Math.max(...sorted)).toBeLessThanOrEqual(300 + 1e-9);
        for (const [index, place] of sorted.slice(1).entries()) {
          expect(place - (sorted[index] ?? 0)).toBeGreaterThanOrEqual(13 - 1e-9);
        }
      }),
    );
  });

  test("stay where they belong when there is room, and share the move when there is not", () => {
    expect(spreadApart([200, 10, 100], 13, [0, 300])).toEqual([200, 10, 100]);
    expect(spreadApart([100, 100], 10, [0, 300])).toEqual([95, 105]);
    expect(spreadApart([1, 0, 150], 10, [0, 300])).toEqual([10, 0, 150]);
  });
});
