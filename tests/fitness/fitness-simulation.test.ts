import { describe, expect, test } from "vitest";
import { REQUIREMENT } from "../support/fitness/bases.js";
import { CROWDED, MIXED, SURE_REQUIREMENT, simulate } from "../support/fitness/simulation.js";

describe("circuits whose truth is known, judged at 95 % confidence", () => {
  test("of 4000 circuits fewer than 5 % of those called fit are truly outside, and not all that are inside are turned away", () => {
    const { circuits, fit, falselyFit, trulyInside, needlesslyResampled } = simulate(
      4000,
      7,
      SURE_REQUIREMENT,
      MIXED,
    );
    expect(circuits).toBe(4000);
    expect(fit).toBeGreaterThan(1000);
    expect(falselyFit / fit).toBeLessThan(0.05);
    // Reported in docs/fitness.md: the price of being sure.
    expect(needlesslyResampled / trulyInside).toBeGreaterThan(0.2);
    expect(needlesslyResampled / trulyInside).toBeLessThan(0.4);
  });

  test("nor of a fleet that crowds about its limits, where taking results as measured calls a quarter wrongly fit", () => {
    const sure = simulate(1200, 7, SURE_REQUIREMENT, CROWDED);
    const plain = simulate(1200, 7, REQUIREMENT, CROWDED);
    expect(sure.fit).toBeGreaterThan(15);
    expect(sure.falselyFit / sure.fit).toBeLessThan(0.05);
    expect(plain.falselyFit / plain.fit).toBeGreaterThan(0.2);
  });

  test("the same seed gives the same tally", () => {
    expect(simulate(200, 1, SURE_REQUIREMENT)).toEqual(simulate(200, 1, SURE_REQUIREMENT));
    expect(simulate(200, 1, SURE_REQUIREMENT)).not.toEqual(simulate(200, 2, SURE_REQUIREMENT));
  });
});
