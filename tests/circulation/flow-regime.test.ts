import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  describeFlowRegime,
  describeNext,
  flowRegime,
  reynoldsNumber,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { viscosityAt, viscosityLine } from "../../src/fluids/index.js";
import { hosesVolumeL } from "../../src/units/index.js";

const OIL = viscosityLine({ temperatureC: 40, mm2PerS: 14 }, { temperatureC: 100, mm2PerS: 3.45 });
const at = (flowLpm: number, coldestC = 40, bores: readonly number[] = [25]) =>
  flowRegime({ flowLpm, coldestC, viscosity: OIL, hoses: bores.map((boreMm) => ({ boreMm })) });

describe("how the coldest fluid flows in the widest hose", () => {
  // Re = 4·Q/(π·d·ν): 1 L/min in 25 mm at 14 mm²/s is 60.63.
  test.each([
    [37.9, "laminar"],
    [38, "washes"],
    [49.4, "washes"],
    [49.5, "may-flush"],
    [65.97, "may-flush"],
    [65.98, "flushes"],
  ] as const)("%f L/min at 14 mm²/s: %s", (flowLpm, kind) => {
    expect(at(flowLpm).kind).toBe(kind);
  });

  test("the widest of several hoses decides, and the coldest fluid", () => {
    expect(at(60, 40, [12, 32, 20])).toMatchObject({
      boreMm: 32,
      reynolds: expect.closeTo(60 * 60.63 * (25 / 32), 0),
    });
    expect(at(60, 0).reynolds).toBeLessThan(at(60, 20).reynolds);
    expect(at(60, 0).mm2PerS).toBe(viscosityAt(OIL, 0).value);
  });

  test("what it names would flush, and a little less would not", () => {
    const { toFlush } = at(45, 20);
    if (toFlush?.temperatureC === undefined) throw new Error("expected a temperature");
    expect([at(1.001 * toFlush.flowLpm, 20).kind, at(0.999 * toFlush.flowLpm, 20).kind]).toEqual([
      "flushes",
      "may-flush",
    ]);
    expect([at(45, toFlush.temperatureC + 0.1).kind, at(45, toFlush.temperatureC - 0.1).kind]).toEqual([
      "flushes",
      "may-flush",
    ]);
    expect(at(70).toFlush).toBeUndefined();
  });

  test("names no temperature where none is enough", () => {
    // 4000 needs 0.6 mm²/s at 3 L/min, far hotter than any fluid is circulated.
    expect(at(3).toFlush).not.toHaveProperty("temperatureC");
    expect(describeFlowRegime(at(3))).toMatch(/^the flow is laminar .*; more than 66 L\/min would flush/);
  });

  test.each([0, -1, Number.NaN])("a flow or bore of %f is refused", (value) => {
    expect(() => at(value)).toThrow("flowLpm must be more than 0");
    expect(() => at(45, 40, [value])).toThrow("boreMm must be more than 0");
  });
});

test("hoses hold π/4·d²·L each: two of 25 mm and 8 m and one of 12 mm and 1 m", () => {
  const hoses = [
    { boreMm: 25, lengthM: 8, count: 2 },
    { boreMm: 12, lengthM: 1, count: 1 },
  ];
  expect(hosesVolumeL(hoses)).toBeCloseTo(2 * 3.927 + 0.1131, 3);
});

describe("the answer to a circulation with hoses", () => {
  const question = {
    circuit: {
      volumeL: 60,
      flowLpm: 15,
      betas: [{ sizeUmC: 4, beta: 10 }],
      limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
    },
    start: { counts: cumulativeCounts([{ sizeUm: 4, count: 20_000 }], 1), assumptions: [] },
  };
  const hoses = [{ boreMm: 25, lengthM: 8, count: 2 }];

  test("warns that they are laminar after the minutes, takes none as left out of the volume, and says their litres", () => {
    const answer = answerCirculation({ ...question, flow: { fluid: "MIL-PRF-83282", hoses, coldestC: 15 } });
    const lines = describeNext(answer);
    expect(lines[0]).toMatch(/^Circulate /);
    expect(lines.at(-1)).toMatch(/^The flow is laminar/);
    expect(answer.flow?.reynolds).toBeCloseTo(reynoldsNumber(15, 25, answer.flow?.mm2PerS ?? 0), 9);
    expect(answer.required.uncertainty.hoses).toBe(0);
    expect(answerCirculation(question).required.uncertainty.hoses).toBeGreaterThan(0);
    const said = answer.assumptions.map(({ message }) => message).join("\n");
    expect(said).toContain("the hoses hold 7.85 L, which was added to the stated 52.1 L");
    expect(said).not.toContain("hoses up to");
  });

  test("takes the fluid as cold as the minutes allow where nobody says", () => {
    const answer = answerCirculation({ ...question, flow: { fluid: "MIL-PRF-83282", hoses } });
    expect(answer.flow?.temperatureC).toBeCloseTo(29.4, 1);
    expect(answer.assumptions.map(({ code }) => code)).toContain("coldest-fluid");
  });
});
