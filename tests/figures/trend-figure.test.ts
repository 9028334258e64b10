import { describe, expect, test } from "vitest";
import { drawTrend } from "../../src/figures/index.js";
import { dayAfter } from "../../src/fitness/index.js";
import { CIRCUIT, FIRST, rising, sampleOf, trendOf } from "../support/trend-samples.js";

describe("picture of a trend", () => {
  test("shows results, odd ones, limit values, the limit, the event and the window of the crossing", () => {
    const months = [{ day: -30, water: "<50" }, ...rising(60, 6, 14)].map((entry) =>
      entry.day === 120 ? { ...entry, water: 190 } : entry,
    );
    const circuit = { ...CIRCUIT, events: [{ kind: "top-up" as const, on: dayAfter(FIRST, 200) }] };
    const svg = drawTrend(trendOf(months.map(sampleOf), { circuit }), "C-1, circuit 1");
    expect(svg).toMatch(/^<svg[^>]*xmlns/);
    expect(svg).toMatch(/aria-label="C-1, circuit 1, water: crosses its limit about 20\d\d-\d\d-\d\d"/);
    expect(svg.match(/<circle/g)?.length ?? 0).toBe(14 + 1);
    expect(svg).toContain("top up");
    expect(svg).toContain("crosses the limit here");
    expect(svg).toContain("at most");
    expect(svg).toContain("water, ppm by mass");
  });

  test("a crossing that lies behind is told as past, in the title and in the window", () => {
    const svg = drawTrend(trendOf(rising(60, 12, 14).map(sampleOf)), "C-1, circuit 1");
    expect(svg).toMatch(/aria-label="C-1, circuit 1, water: limit crossed about 20\d\d-\d\d-\d\d"/);
    expect(svg).toContain("crossed the limit here");
    expect(svg).not.toContain("crosses");
  });

  test("without a trend it says so and shows no window", () => {
    const svg = drawTrend(trendOf(rising(60, 0, 12).map(sampleOf)), "C-1, circuit 1");
    expect(svg).toContain("water: no trend");
    expect(svg).not.toContain("the limit here");
  });

  test("with too few samples it shows them and that nothing can be told", () => {
    const svg = drawTrend(trendOf(rising(60, 5, 2).map(sampleOf)), "C-1, circuit 1");
    expect(svg).toContain("cannot tell from 2 samples");
    expect(svg.match(/<circle/g)?.length).toBe(2);
  });
});
