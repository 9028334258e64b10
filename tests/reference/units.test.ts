// Reference: js-quantities, a general library of units from the registry.
import Quantity from "js-quantities";
import { describe, expect, test } from "vitest";
import { type QuantityKind, tryParseQuantity } from "../../src/units/index.js";

const CASES: readonly (readonly [written: string, kind: QuantityKind, theirs: string, kept: string])[] = [
  ["1 US gal", "volume", "1 gal", "l"],
  ["250 mL", "volume", "250 ml", "l"],
  ["12 US gpm", "flow", "12 gal/min", "l/min"],
  ["3 m³/h", "flow", "3 m3/h", "l/min"],
  ["3000 psi", "pressure", "3000 psi", "bar"],
  ["20 MPa", "pressure", "20 MPa", "bar"],
  ["1.5 h", "time", "1.5 h", "min"],
  ["90 s", "time", "90 s", "min"],
];

describe("units agree with an independent library", () => {
  test.each(CASES)("%s", (written, kind, theirs, kept) => {
    const ours = tryParseQuantity(written, kind);
    const expected = new Quantity(theirs).to(kept).scalar;
    expect(ours.kind).toBe("read");
    // The library keeps the pound per square inch as 6894.76 Pa and the US gallon as 3.7854118 L; others are exact.
    const places = written.endsWith("psi") ? 6 : written.includes("US") ? 8 : 12;
    expect(ours.kind === "read" && ours.value / expected).toBeCloseTo(1, places);
  });

  test("temperatures in °F", () => {
    for (const fahrenheit of [-65, 32, 85, 160, 275]) {
      const ours = tryParseQuantity(`${fahrenheit} °F`, "temperature");
      const expected = new Quantity(`${fahrenheit} tempF`).to("tempC").scalar;
      expect(ours).toMatchObject({ kind: "read", value: expect.closeTo(expected, 9) });
    }
  });
});
