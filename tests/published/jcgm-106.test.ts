// JCGM 106:2012, the role of measurement uncertainty in conformity assessment.
//
// The ball bearings of 9.5.4 are confirmed: restated with their numbers by a national laboratory, and recomputed by
// quadrature. The examples of clause 7 and the factor of clause 8 are recalled and not seen in print; they agree with the
// arithmetic, and none of them is the only proof of a formula.
import { describe, expect, test } from "vitest";
import { acceptanceLimits, conformanceProbability } from "../../src/fitness/index.js";
import { integrate } from "../../src/numeric/index.js";
import { SOURCES } from "../../src/provenance/index.js";
import type { LimitRange } from "../../src/samples/index.js";

/** Items that are measured one by one, and the rule by which they are accepted. */
interface Inspection {
  /** Density of the true values, with nothing of it left below `from` and above `to`. */
  readonly density: (value: number) => number;
  readonly from: number;
  readonly to: number;
  readonly standardUncertainty: number;
  readonly limits: LimitRange;
  /** Measured values within are accepted. */
  readonly acceptance: LimitRange;
}

/** The share of all items that is accepted although outside, and rejected although inside. */
function globalRisks({ density, from, to, standardUncertainty, limits, acceptance }: Inspection) {
  const low = Math.max(from, limits.min ?? from);
  const high = Math.min(to, limits.max ?? to);
  const accepted = (value: number) => conformanceProbability({ value, standardUncertainty, ...acceptance });
  const falselyAccepted = (value: number) => density(value) * accepted(value);
  // The limits are ends of pieces, so that nothing jumps within a step.
  const overPiece = (share: (value: number) => number, start: number, end: number) =>
    integrate(share, start, end, 2000);
  return {
    consumer: overPiece(falselyAccepted, from, low) + overPiece(falselyAccepted, high, to),
    producer: overPiece((value) => density(value) * (1 - accepted(value)), low, high),
  };
}

describe("one item, clause 7 (from memory)", () => {
  test("the standing of the clause is said to be memory", () => {
    expect(SOURCES["JCGM-106"].standing).toBe("memory");
  });

  test("upper limit: a diode measured at -5.47 V with 0.05 V against at most -5.40 V conforms with 92 %", () => {
    expect(conformanceProbability({ value: -5.47, standardUncertainty: 0.05, max: -5.4 })).toBeCloseTo(
      0.92,
      2,
    );
  });

  test("lower limit: a container measured at 509.7 kPa with 8.6 kPa against at least 490 kPa conforms with 99 %", () => {
    expect(conformanceProbability({ value: 509.7, standardUncertainty: 8.6, min: 490 })).toBeCloseTo(0.99, 2);
  });

  test("two limits: oil measured at 13.6 mm²/s with 1.8 mm²/s against 12.5 to 16.3 mm²/s conforms with 66 %", () => {
    const oil = { value: 13.6, standardUncertainty: 1.8, min: 12.5, max: 16.3 };
    expect(conformanceProbability(oil)).toBeCloseTo(0.66, 2);
  });

  test("a guard band of 0.82 times the expanded uncertainty leaves a risk of 5 % at the acceptance limit", () => {
    const { max = Number.NaN, ...more } = acceptanceLimits({ max: 10 }, 0.5, 0.95);
    expect(more).toEqual({});
    // At a lower limit the guard band lies on the other side, as wide.
    expect(acceptanceLimits({ min: 10 }, 0.5, 0.95)).toStrictEqual({ min: expect.closeTo(20 - max, 12) });
    expect((10 - max) / (2 * 0.5)).toBeCloseTo(0.82, 2);
    expect(conformanceProbability({ value: max, standardUncertainty: 0.5, max: 10 })).toBeCloseTo(0.95, 12);
  });
});

describe("many items, ball bearings of 9.5.4 (confirmed)", () => {
  /** Radial error motion in µm: gamma distributed with shape 4 and scale 0.25; at most 2 µm is allowed. */
  const density = (value: number) => (value ** 3 * Math.exp(-value / 0.25)) / (6 * 0.25 ** 4);
  const inspection = { density, from: 0, to: 12, standardUncertainty: 0.25, limits: { max: 2 } };

  test("without inspection 4 % of the bearings are outside", () => {
    const everything = globalRisks({ ...inspection, acceptance: { max: 1000 } });
    expect(everything.consumer).toBeCloseTo(0.0424, 4);
    expect(everything.producer).toBeCloseTo(0, 10);
  });

  test("accepting up to the limit lets 0.8 % outside pass", () => {
    expect(globalRisks({ ...inspection, acceptance: { max: 2 } }).consumer).toBeCloseTo(0.008, 4);
  });

  test("accepting up to 1.67 µm brings that down to 0.1 %", () => {
    expect(globalRisks({ ...inspection, acceptance: { max: 1.672 } }).consumer).toBeCloseTo(0.001, 5);
  });
});

describe("resistors of 9.5.3: the numbers of the example are seen on one page, its answers only recalled", () => {
  /** 1500 Ω, made with a standard deviation of 0.12 Ω and measured with 0.04 Ω; 1499.80 to 1500.20 Ω is allowed. */
  const density = (value: number) =>
    Math.exp(-(((value - 1500) / 0.12) ** 2) / 2) / (0.12 * Math.sqrt(2 * Math.PI));
  const risks = globalRisks({
    density,
    from: 1498.5,
    to: 1501.5,
    standardUncertainty: 0.04,
    limits: { min: 1499.8, max: 1500.2 },
    acceptance: { min: 1499.82, max: 1500.18 },
  });

  test("1 % are accepted wrongly and 7 % rejected wrongly", () => {
    expect(risks.consumer).toBeCloseTo(0.01, 2);
    expect(risks.producer).toBeCloseTo(0.07, 2);
  });
});
