// Worked examples of course pages: Reynolds number of the flow in a round pipe. The pages give a velocity or a flow, a bore
// and a viscosity; a dynamic viscosity is divided by the density.
import { expect, test } from "vitest";
import { reynoldsNumber } from "../../src/circulation/index.js";

/** L/min of a velocity in m/s through a bore in mm. */
const flowOf = (metresPerS: number, boreMm: number) => (metresPerS * Math.PI * boreMm ** 2 * 60) / 4000;

test.each([
  // Density 900 kg/m³, 2.5 m/s, 20 mm, 0.4 N s/m²: 900·2.5·0.02/0.4 (a homework service's physics answers, 119676).
  [flowOf(2.5, 20), 20, 400 / 0.9, 112.5, 0.05],
  // 0.3 m³/s through 250 mm, 1e-5 m²/s: printed as 152,750 with the velocity rounded to 6.11 m/s (the same, 178424).
  [18_000, 250, 10, 152_750, 100],
  // Specific gravity 0.8, 8e-3 N s/m², 100 mm: 2100 at 0.21 m/s (a question service's page, 3092821).
  [flowOf(0.21, 100), 100, 10, 2100, 0.5],
  // 40 mm, 0.2 m/s, 0.3e-4 m²/s: printed as 266.6 (a Russian question service's page on oil lines, 3793822).
  [flowOf(0.2, 40), 40, 30, 266.6, 0.1],
])(
  "%f L/min through %f mm at %f mm²/s has a Reynolds number of %s",
  (lpm, boreMm, mm2PerS, printed, half) => {
    expect(Math.abs(reynoldsNumber(lpm, boreMm, mm2PerS) - printed)).toBeLessThanOrEqual(half);
  },
);
