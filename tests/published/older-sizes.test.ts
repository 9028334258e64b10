// Sizes by ISO 4402 calibration and by ISO 11171 for the same particle, from an instrument maker's page on ISO 11171 reporting
// (ISO-11171-OLDER-SIZES). The page's rows for below 1.0 µm (no number) and for 2.7 µm (printed 5.1 like the row for 3.0) are
// not taken.
import { expect, test } from "vitest";
import { cumulativeCounts, OLDER_TO_UM_C, toOlder, toUmC } from "../../src/counts/index.js";

const PRINTED = [
  [1.0, 4.2],
  [2.0, 4.6],
  [3.0, 5.1],
  [4.3, 6.0],
  [5.0, 6.4],
  [7.0, 7.7],
  [10.0, 9.8],
  [12.0, 11.3],
  [15.0, 13.6],
  [15.5, 14.0],
  [20.0, 17.5],
  [25.0, 21.2],
  [30.0, 24.9],
  [40.0, 31.7],
  [50.0, 38.2],
  [100.0, 70.0],
] as const;

test("the table has the printed rows and no others", () => {
  expect(OLDER_TO_UM_C).toEqual(PRINTED);
});

test.each(PRINTED)(
  "%d µm on the older scale is %d µm(c), and back, with the count untouched",
  (older, umC) => {
    const converted = toUmC(cumulativeCounts([{ sizeUm: older, count: 13 }], 100, "um-older"));
    expect(converted.counts).toEqual({
      scale: "um(c)",
      form: "cumulative",
      volumeMl: 100,
      counts: [{ sizeUm: umC, count: 13, basis: "converted" }],
    });
    expect(converted.assumptions[0]?.source).toBe("ISO-11171-OLDER-SIZES");
    expect(toOlder(converted.counts).counts.counts[0]?.sizeUm).toBe(older);
  },
);

test.each([0.5, 2.7, 6, 60, 150])(
  "%d µm, which is not in the printed table, is refused with the sizes that are",
  (sizeUm) => {
    const counts = cumulativeCounts([{ sizeUm, count: 1 }], 1, "um-older");
    expect(() => toUmC(counts)).toThrow(
      `${sizeUm} µm on the older scale is not in the published size table, which has 1, 2, 3`,
    );
  },
);
