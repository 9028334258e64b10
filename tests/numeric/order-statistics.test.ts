// Against simple-statistics, and against sorting.
import fc from "fast-check";
import * as library from "simple-statistics";
import { expect, test } from "vitest";
import {
  countBelow,
  countUpTo,
  lowerQuantile,
  median,
  selectInPlace,
  upperMedian,
} from "../../src/numeric/index.js";

/** Whole numbers, so that some are equal, and others; 0 without a sign. */
const someValues = fc.array(
  fc
    .oneof(fc.integer({ min: -5, max: 5 }), fc.double({ noNaN: true, min: -1e6, max: 1e6 }))
    .map((value) => value + 0),
  { minLength: 1 },
);

test("the median is that of a library, and leaves the values where they are", () => {
  fc.assert(
    fc.property(someValues, (values) => {
      const before = [...values];
      // The library sums the two in the middle in another way, so the last digit may differ.
      expect(median(values)).toBeCloseTo(library.median(values), 9);
      expect(values).toEqual(before);
    }),
  );
});

test("selecting gives what stands at each rank of the sorted values", () => {
  fc.assert(
    fc.property(someValues, (values) => {
      const sorted = Float64Array.from(values).sort();
      for (const [rank, value] of sorted.entries()) {
        expect(selectInPlace(Float64Array.from(values), rank)).toBe(value);
      }
      expect(upperMedian(values)).toBe(sorted[sorted.length >> 1]);
    }),
  );
});

test.each([
  [[7], 7, 7],
  [[9, 1], 5, 9],
  [[3, 1, 2], 2, 2],
  [[3, 1, 2, 10], 2.5, 3],
])("of %j the median is %d and the upper one %d", (values, middle, upper) => {
  expect(median(values)).toBe(middle);
  expect(upperMedian(values)).toBe(upper);
});

test("counting in sorted values is counting", () => {
  fc.assert(
    fc.property(someValues, fc.integer({ min: -6, max: 6 }), (values, limit) => {
      const sorted = Float64Array.from(values).sort();
      expect(countUpTo(sorted, limit)).toBe(values.filter((value) => value <= limit).length);
      expect(countBelow(sorted, limit)).toBe(values.filter((value) => value < limit).length);
    }),
  );
});

test.each([
  [0, 10],
  [0.249, 10],
  [0.25, 20],
  [0.5, 30],
  [0.99, 40],
  [1, 50],
])("of five values the fraction %d lies at %d", (fraction, value) => {
  expect(lowerQuantile(Float64Array.of(10, 20, 30, 40, 50), fraction)).toBe(value);
});
