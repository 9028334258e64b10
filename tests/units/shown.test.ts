// Quantities in the units of a cart. Factors: NIST SP 811, appendix B (1 US gal = 3.785411784 L, 1 psi = 6.894757 kPa).
import { describe, expect, test } from "vitest";
import {
  ALL_US,
  formatOnGauge,
  formatQuantity,
  formatTemperatureRise,
  type ShownIn,
  type ShownKind,
  shownAsTyped,
  shownInSystem,
  tryParseQuantity,
} from "../../src/units/index.js";

test.for<[ShownKind, number, string, string]>([
  ["volume", 60.566588544, "60.57 L", "16 US gal"],
  ["flow", 45.424941408, "45.42 L/min", "12 US gpm"],
  ["temperature", 0, "0 °C", "32 °F"],
  ["temperature", -40, "-40 °C", "-40 °F"],
  ["temperature", 85, "85 °C", "185 °F"],
  ["pressure", 6.894757, "6.895 bar", "100 psi"],
])("%s of %f is %s, or %s", ([kind, value, metric, us]) => {
  expect(formatQuantity(kind, value)).toBe(metric);
  expect(formatQuantity(kind, value, ALL_US)).toBe(us);
});

test.for<[string, ShownKind]>([
  ["16 US gal", "volume"],
  ["0.1 US gal", "volume"],
  ["12 US gpm", "flow"],
  ["122 °F", "temperature"],
  ["3000 psi", "pressure"],
])("%s is answered as it was typed", ([text, kind]) => {
  const read = tryParseQuantity(text, kind);
  expect(read.kind === "refused" ? "" : formatQuantity(kind, read.value, ALL_US)).toBe(text);
});

// Less fluid than needed does not get there, and more flow than there is room for is too much.
test.for<["up" | "down" | "near", ShownIn, string]>([
  ["up", {}, "99 L"],
  ["down", {}, "98 L"],
  ["near", {}, "98 L"],
  ["up", ALL_US, "26 US gal"],
  ["down", ALL_US, "25.9 US gal"],
])("98.1 L rounded %s in %j is %s", ([way, shownIn, text]) => {
  expect(formatOnGauge("volume", 98.1, way, shownIn)).toBe(text);
});

test("a whole number of gallons is not rounded up by its last binary digit", () => {
  for (let gallons = 1; gallons <= 200; gallons += 1) {
    expect(formatOnGauge("volume", gallons * 3.785411784, "up", ALL_US)).toBe(`${gallons} US gal`);
  }
});

test("a rise of 5 °C is one of 9 °F and not of 41", () => {
  expect(formatTemperatureRise(5, ALL_US)).toBe("9 °F");
  expect(formatTemperatureRise(5)).toBe("5 °C");
});

describe("what was typed in US units is answered so", () => {
  test.for<[string, string, ShownIn]>([
    ["60 L", "45 L/min", {}],
    ["16 US gal", "12 gpm", ALL_US],
    ["16 gal", "45 L/min", { volume: "us" }],
    ["60 L", "12 US gpm", { flow: "us" }],
    ["16 imp gal", "45 L/min", {}],
  ])("%s and %s", ([volume, flow, shownIn]) => {
    expect(
      shownAsTyped([
        [volume, "volume"],
        [flow, "flow"],
      ]),
    ).toEqual(shownIn);
  });

  test("unless a system is named", () => {
    expect(shownInSystem("metric")).toEqual({});
    expect(shownInSystem("us")).toEqual(ALL_US);
  });
});
