import { describe, expect, test } from "vitest";
import { limitsOfChannel } from "../../src/cleanliness/class-table.js";
import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  type ClassTable,
  classifyByTable,
  classifyColumns,
  classifyColumnsBy,
  GOST_17216,
  ISO_4406,
  NAS_1638,
  ROW_STATUS,
} from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

/** One row of counts per 100 mL, as columns. */
const columnsOf = (sizesUm: readonly number[], ...rows: readonly (readonly number[])[]) => ({
  sizesUm,
  counts: sizesUm.map((_, place) => Float64Array.from(rows, (row) => row[place] as number)),
  volumeMl: 100,
});

/** Class, governing channel and status of every row, in words. */
function inWords(result: ReturnType<typeof classifyColumns>) {
  if (result === undefined) return undefined;
  return Array.from(result.classes, (place, row) => [
    result.names[place],
    result.channels[result.governing[row] as number]?.channel,
    result.status[row],
  ]);
}

const { classified, notACount, risesWithSize } = ROW_STATUS;

describe("classes of many samples by AS4059, from counts in columns", () => {
  test("the worst channel decides; of several in the worst class the one that uses most of its limit, of equal ones the smallest size", () => {
    const rows = [
      [780, 76, 14],
      [300, 150, 20],
      [390, 152, 27],
      [0, 0, 0],
      [195, 76, 15],
    ];
    expect(inWords(classifyColumns(AS4059_CUMULATIVE, columnsOf([4, 6, 14], ...rows)))).toEqual([
      // A is at the limit of class 0, B and C at those of 000.
      ["0", "A", classified],
      // All in 00, whose limits are 390, 152 and 27: 0.77, 0.99 and 0.74 of them.
      ["00", "B", classified],
      ["00", "A", classified],
      ["000", "A", classified],
      ["00", "C", classified],
    ]);
  });

  test("a row has the same class wherever it stands among thousands", () => {
    const kinds = [
      [780, 76, 14],
      [300, 150, 20],
      [76, 780, 14],
      [3_200_001, 40, 14],
      [0, 0, 0],
      [Number.NaN, 76, 14],
      [195, 76, 15],
    ];
    const rows = Array.from({ length: 5000 }, (_, row) => kinds[row % kinds.length] as number[]);
    for (const table of [AS4059_CUMULATIVE, AS4059_DIFFERENTIAL]) {
      const alone = kinds.map((row) => inWords(classifyColumns(table, columnsOf([4, 6, 14], row)))?.[0]);
      const together = inWords(classifyColumns(table, columnsOf([4, 6, 14], ...rows)));
      expect(together).toEqual(rows.map((_, row) => alone[row % kinds.length]));
      const lone = kinds.map((row) => classifyColumns(table, columnsOf([4, 6, 14], row))?.classes[0]);
      expect(new Set(lone).size).toBeGreaterThan(2);
    }
  });

  test("beyond the table, the channel that exceeds the last limit most decides", () => {
    const result = classifyColumns(AS4059_CUMULATIVE, columnsOf([4, 6], [3_200_001, 2_491_168]));
    expect(inWords(result)).toEqual([["beyond 12", "B", classified]]);
  });

  test("a limit of no particles is met by none, and one particle is the first class that allows it", () => {
    const result = classifyColumns(AS4059_CUMULATIVE, columnsOf([70], [0], [1], [2]));
    expect(inWords(result)).toEqual([
      ["000", "F", classified],
      ["1", "F", classified],
      ["3", "F", classified],
    ]);
  });

  test("a range is what lies between its two sizes, in whatever order the columns stand, and ranges that are not enclosed are named", () => {
    // 225 − 100 is at the limit of 125 for class 00, 226 − 100 above it; equal counts leave no particle between.
    const columns = columnsOf([14, 6], [100, 225], [100, 226], [100, 100]);
    const result = classifyColumns(AS4059_DIFFERENTIAL, columns);
    expect(inWords(result)).toEqual([
      ["00", "6-14", classified],
      ["0", "6-14", classified],
      ["00", "6-14", classified],
    ]);
    expect(result?.channels.map(({ channel }) => channel)).toEqual(["6-14"]);
    expect(result?.missing).toEqual(["14-21", "21-38", "38-70", ">70"]);
    expect(result?.standard).toBe("AS4059 differential");
  });

  test("counts with decimals are subtracted as they are written: 2.2 − 0.95 is within a limit of 1.25", () => {
    // The limit of class 00 is 125 per 100 mL; a difference in floating point exceeds it.
    const columns = { ...columnsOf([6, 14], [2.2, 0.95]), volumeMl: 1 };
    expect(2.2 - 0.95).toBeGreaterThan(1.25);
    expect(inWords(classifyColumns(AS4059_DIFFERENTIAL, columns))).toEqual([["00", "6-14", classified]]);
  });

  test("a class without a printed limit takes no sample", () => {
    // GOST 17216 prints no limit of 50-100 for grades 00 and 1; grade 0 allows none, grade 2 one, grade 8 25.
    const columns = columnsOf([38, 70], [5, 5], [6, 5], [30, 5], [31, 5]);
    expect(inWords(classifyColumns(GOST_17216, columns))).toEqual([
      ["0", "50-100", classified],
      ["2", "50-100", classified],
      ["8", "50-100", classified],
      ["beyond 8", "50-100", classified],
    ]);
  });

  test("a row that cannot be true has no class in any channel and says why; no number comes before not falling", () => {
    const columns = columnsOf(
      [4, 6, 14],
      [Number.NaN, 1, 1],
      [3, Number.POSITIVE_INFINITY, 1],
      [3, 2, -1],
      [3, 4, 1],
      [3, 4, Number.NaN],
      [3, 3, 3],
    );
    const result = classifyColumns(AS4059_CUMULATIVE, columns);
    expect(inWords(result)).toEqual([
      [undefined, undefined, notACount],
      [undefined, undefined, notACount],
      [undefined, undefined, notACount],
      [undefined, undefined, risesWithSize],
      [undefined, undefined, notACount],
      ["000", "C", classified],
    ]);
    for (const { classes } of result?.channels ?? []) expect([...classes]).toEqual([-1, -1, -1, -1, -1, 0]);
    expect([...(result?.classes ?? [])]).toEqual([-1, -1, -1, -1, -1, 0]);
    // 3 are more of the limit of 14 at C than of 76 at B and 195 at A.
    expect([...(result?.governing ?? [])]).toEqual([-1, -1, -1, -1, -1, 2]);
  });

  test("no rows give no classes", () => {
    expect(inWords(classifyColumns(AS4059_CUMULATIVE, columnsOf([4, 6])))).toEqual([]);
    expect(classifyColumns(AS4059_CUMULATIVE, { sizesUm: [], counts: [], volumeMl: 1 })).toBeUndefined();
  });

  test.each([0, -4, Number.NaN])("a size of %d µm is refused", (sizeUm) => {
    expect(() => classifyColumns(AS4059_CUMULATIVE, columnsOf([4, sizeUm], [1, 1]))).toThrow(
      `a particle size must be more than 0 µm, not ${sizeUm}`,
    );
  });

  test.each([0, -1, Number.POSITIVE_INFINITY])("a volume of %d mL is refused", (volumeMl) => {
    expect(() => classifyColumns(AS4059_CUMULATIVE, { ...columnsOf([4], [1]), volumeMl })).toThrow(
      `the volume that counts stand for must be more than 0 mL, not ${volumeMl}`,
    );
  });

  test("sizes and columns that do not belong together are refused", () => {
    const one = Float64Array.of(1);
    const refused = (sizesUm: number[], ...counts: Float64Array[]) =>
      expect(() => classifyColumns(AS4059_CUMULATIVE, { sizesUm, counts, volumeMl: 1 }));
    refused([4, 6], one).toThrow("2 sizes are given for 1 columns");
    refused([6, 4, 6], one, one, one).toThrow("the size 6 µm is given twice");
    refused([4, 6], one, Float64Array.of(1, 2)).toThrow("the column at 6 µm has 2 rows, others 1");
  });
});

test("several tables give together what each gives alone, and undefined for one whose channels cannot be formed", () => {
  const columns = columnsOf([4, 6, 14], [780, 76, 14], [1, 2, 3], [Number.NaN, 1, 0], [1e9, 1e8, 1e7]);
  const tables = [ISO_4406, AS4059_CUMULATIVE, NAS_1638, GOST_17216] as const;
  const together = classifyColumnsBy(tables, columns);
  expect(together).toEqual(tables.map((table) => classifyColumns<string, string>(table, columns)));
  const [iso] = classifyColumnsBy([ISO_4406], columns);
  expect(iso?.status).toEqual(Uint8Array.of(classified, risesWithSize, notACount, classified));
  expect(classifyColumnsBy([ISO_4406], columnsOf([70], [1]))).toEqual([undefined]);
});

describe("a count that lies on a limit as it is written", () => {
  const written = (count: number) => Number(count.toPrecision(12));
  test.each(
    [ISO_4406, AS4059_CUMULATIVE, NAS_1638, GOST_17216].map((table) => [table.standard, table] as const),
  )(
    "is inside in any volume, and one a thousandth above is not: %s",
    (_, table: ClassTable<string, string>) => {
      const names = [...table.rows.map(([name]) => name), table.beyond];
      table.channels.forEach(({ fromUm, toUm }, channel) => {
        const sizes = toUm === undefined ? [fromUm] : [fromUm, toUm];
        const limits = limitsOfChannel(table, channel);
        const places = [...limits.entries()];
        for (const [place, volumeMl] of places.flatMap(([at]) =>
          [1, 10, 25, 30, 50, 100].map((volume) => [at, volume] as const),
        )) {
          const limit = limits[place];
          if (limit === undefined || limit <= (limits[place - 1] ?? 0)) continue;
          const counts = [1, 1.001].map((times) => written((limit * volumeMl * times) / table.volumeMl));
          const columns = classifyColumns(table, {
            sizesUm: sizes,
            counts: [Float64Array.from(counts), ...sizes.slice(1).map(() => new Float64Array(2))],
            volumeMl,
          });
          const said = counts.map((count) => {
            const all = sizes.map((sizeUm, index) => ({ sizeUm, count: index === 0 ? count : 0 }));
            return classifyByTable(table, cumulativeCounts(all, volumeMl))?.class;
          });
          expect([volumeMl, said[0]]).toEqual([volumeMl, names[place]]);
          expect(said[1]).not.toBe(names[place]);
          expect(Array.from(columns?.classes ?? [], (found) => names[found])).toEqual(said);
        }
      });
    },
  );
});
