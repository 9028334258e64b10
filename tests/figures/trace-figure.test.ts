import { describe, expect, test } from "vitest";
import { drawTrace } from "../../src/figures/index.js";
import { traceCart } from "../../src/fitness/index.js";
import type { CircuitEvent, Sample } from "../../src/samples/index.js";
import type { ShownIn } from "../../src/units/index.js";
import { CIRCUIT, CLEAN, REQUIREMENT } from "../support/fitness/bases.js";

const to = (on: string, aircraft?: string, minutes?: number): CircuitEvent => ({
  ...{ on, kind: "hookup" },
  ...(aircraft !== undefined && { aircraft }),
  ...(minutes !== undefined && { minutes }),
});
const bottle = (drawnOn: string, waterPpm: number): Sample => ({
  ...CLEAN,
  ...{ sample: drawnOn, drawnOn, waterPpm: { value: waterPpm } },
});
const EVENTS = [
  to("2026-02-20", "X-1", 5),
  to("2026-03-06", "X-2", 2),
  to("2026-03-08", "x 1", 30),
  to("2026-03-13"),
];

function draw(
  samples: readonly Sample[],
  events: readonly CircuitEvent[] = EVENTS,
  shownIn: ShownIn = {},
): string {
  const circuit = { ...CIRCUIT, shownIn, delivery: { flowLpm: 20 }, events: [...events] };
  const fleet = {
    carts: [{ cart: "C-1", circuits: [circuit] }],
    requirements: [REQUIREMENT],
    samples,
    unread: [],
  };
  const [trace] = traceCart({ ...fleet, on: "2026-03-20" }, "C-1").circuits;
  return (trace && drawTrace(trace, "water")) ?? "";
}
const titleOf = (svg: string) => /aria-label="([^"]*)"/.exec(svg)?.[1];
const wordsOf = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, words]) => words);
const bandsOf = (svg: string) => svg.match(/<rect /g)?.length ?? 0;

describe("the picture of a trace", () => {
  const bad = draw([bottle("2026-03-04", 90), bottle("2026-03-12", 450)]);

  test("the title says what is bad, and how many aircraft were served since the last good sample", () => {
    expect(titleOf(bad)).toBe("C-1 1, water: bad on 2026-03-12; 2 aircraft served since 2026-03-04");
    expect(titleOf(draw([bottle("2026-03-04", 90)]))).toBe(
      "C-1 1, water: 2 aircraft served since 2026-03-04",
    );
    expect(titleOf(draw([]))).toBe("C-1 1, water: 2 aircraft served since the log begins");
  });

  test("an aircraft has one row however it is written, one that is not named has its own", () => {
    const rows = wordsOf(bad).filter((words) =>
      ["samples", "X-1", "x 1", "X-2", "not named"].includes(words ?? ""),
    );
    expect(rows).toEqual(["samples", "X-1", "X-2", "not named"]);
  });

  test("samples are good or bad, and each hookup since the good one has its litres", () => {
    const words = wordsOf(bad);
    expect(words.filter((word) => word === "good" || word === "bad")).toEqual(["good", "bad"]);
    // 2 minutes at 20 L/min; all that the circuit holds where the minutes are more or not stated.
    expect(words.filter((word) => word?.endsWith(" L"))).toEqual(["40 L", "60 L", "60 L"]);
  });

  test("the amounts are in the units of the cart, rounded so that they are no less", () => {
    const words = wordsOf(draw([bottle("2026-03-04", 90)], EVENTS, { volume: "us" }));
    // 40 L are 10.567 US gal, 60 L are 15.850.
    expect(words.filter((word) => word?.endsWith(" US gal"))).toEqual([
      "10.6 US gal",
      "15.9 US gal",
      "15.9 US gal",
    ]);
    expect(words.join(" ")).not.toMatch(/\d L|litres/);
  });

  test("the time until the bad sample is shaded besides that until today", () => {
    expect(bandsOf(bad)).toBe(2);
    expect(bandsOf(draw([bottle("2026-03-04", 90)]))).toBe(1);
  });

  test("no hookups and no samples make a picture all the same", () => {
    expect(titleOf(draw([], []))).toBe("C-1 1, water: 0 aircraft served since the log begins");
    expect(draw([], [])).not.toContain("NaN");
  });

  test("what is not traced has no picture", () => {
    const fleet = {
      carts: [{ cart: "C-1", circuits: [CIRCUIT] }],
      requirements: [],
      samples: [],
      unread: [],
    };
    const [trace] = traceCart({ ...fleet, on: "2026-03-20" }, "C-1").circuits;
    expect(trace && drawTrace(trace, "water")).toBeUndefined();
  });
});
