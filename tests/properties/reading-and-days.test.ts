import fc from "fast-check";
import { expect, test } from "vitest";
import { dayAfter, daysBetween } from "../../src/fitness/index.js";
import { inFourDigits } from "../../src/units/index.js";

test("a number for reading is what the machine's language tables write, however large or small", () => {
  const byTables = (value: number) =>
    Number(value.toPrecision(4)).toLocaleString("en", { maximumSignificantDigits: 4, useGrouping: false });
  fc.assert(
    fc.property(
      fc.oneof(
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        fc.double({ min: -1e-5, max: 1e-5, noNaN: true }),
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.integer(),
        fc.constantFrom(Number.POSITIVE_INFINITY, Number.NaN, -0),
      ),
      (value) => {
        expect(inFourDigits(value)).toBe(byTables(value));
      },
    ),
    { numRuns: 2000 },
  );
});

test("days between two days are those of the machine's calendar, for days that are none as well", () => {
  const byCalendar = (from: string, to: string) =>
    Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000);
  const two = (number: number) => String(number).padStart(2, "0");
  const day = fc
    .tuple(
      fc.integer({ min: 1000, max: 9999 }),
      fc.integer({ min: 0, max: 13 }),
      fc.integer({ min: 0, max: 32 }),
    )
    .map(([year, month, ofMonth]) => `${year}-${two(month)}-${two(ofMonth)}`);
  const written = fc.oneof(day, fc.constantFrom("2026-2-3", "", "0099-01-01", "2026-01-05x"));
  let days = 0;
  fc.assert(
    fc.property(written, written, (from, to) => {
      const expected = byCalendar(from, to);
      if (Number.isFinite(expected)) days += 1;
      expect(daysBetween(from, to)).toBe(expected);
    }),
    { numRuns: 3000 },
  );
  expect(days).toBeGreaterThan(500);
  expect(daysBetween("2026-02-28", dayAfter("2026-02-28", 400))).toBe(400);
});
