import { expect, test } from "vitest";
import { classifyByTable, classifyColumns, ROW_STATUS } from "../../src/cleanliness/index.js";
import { CountError, cumulativeCounts } from "../../src/counts/index.js";
import { LIMITS_PER_100_ML, SIZES_UM, seeded, TABLES } from "../support/counts-near-limits.js";

const ROWS = 100_000;

/** Counts on and beside printed limits, whole and with decimals, and one row in fifty that cannot be true. */
function drawRows(seed: number, decimals: boolean): Float64Array[] {
  const random = seeded(seed);
  const columns = SIZES_UM.map(() => new Float64Array(ROWS));
  for (let row = 0; row < ROWS; row += 1) {
    const counts = SIZES_UM.map(() => {
      const limit = LIMITS_PER_100_ML[Math.floor(random() * LIMITS_PER_100_ML.length)] as number;
      const away = [0, 0, 1, -1, 5][Math.floor(random() * 5)] as number;
      const count = Math.max(0, limit + away);
      return decimals ? Number((count + Math.floor(random() * 3) / 100).toFixed(2)) : count;
    }).sort((a, b) => b - a);
    // The gaps between neighbours decide the ranges, so half of the rows are built up from the ranges instead.
    if (!decimals && random() < 0.5) {
      for (let place = counts.length - 2; place >= 0; place -= 1) {
        counts[place] = (counts[place + 1] as number) + (counts[place] as number);
      }
    }
    const bad = random();
    if (bad < 0.005) counts[2] = Number.NaN;
    else if (bad < 0.01) counts[4] = -1;
    else if (bad < 0.02) counts[3] = (counts[2] as number) + 1;
    for (const [place, column] of columns.entries()) column[row] = counts[place] as number;
  }
  return columns;
}

test.each([
  { words: "whole counts", decimals: false, seed: 20 },
  { words: "counts with decimals", decimals: true, seed: 21 },
])(
  "100 000 rows of $words have the same classes and governing channels through columns and through objects",
  ({ decimals, seed }) => {
    const columns = drawRows(seed, decimals);
    const results = TABLES.map((table) => ({
      table,
      byColumn: classifyColumns(table, { sizesUm: SIZES_UM, counts: columns, volumeMl: 100 }),
    }));
    const seen = new Map<string, Set<string>>();
    let refused = 0;
    const differences: string[] = [];
    for (let row = 0; row < ROWS; row += 1) {
      const counts = SIZES_UM.map((sizeUm, place) => ({ sizeUm, count: columns[place]?.[row] as number }));
      let set: ReturnType<typeof cumulativeCounts<"um(c)">> | undefined;
      let why = 0;
      try {
        set = cumulativeCounts(counts, 100);
      } catch (error) {
        if (!(error instanceof CountError)) throw error;
        why = error.message.includes("rise") ? ROW_STATUS.risesWithSize : ROW_STATUS.notACount;
        refused += 1;
      }
      for (const { table, byColumn } of results) {
        if (byColumn === undefined) throw new Error("every table serves these sizes");
        const byObject = set && classifyByTable(table, set);
        const place = (values: Int8Array) => values[row] as number;
        const same =
          byColumn.status[row] === why &&
          byColumn.names[place(byColumn.classes)] === byObject?.class &&
          byColumn.channels[place(byColumn.governing)]?.channel === byObject?.governing &&
          byColumn.channels.every(
            ({ classes }, index) => byColumn.names[place(classes)] === byObject?.channels[index]?.class,
          );
        if (!same) differences.push(`${table.standard} row ${row}: ${counts.map((entry) => entry.count)}`);
        if (byObject !== undefined) {
          const key = `${table.standard}, ${table.edition}`;
          seen.set(key, (seen.get(key) ?? new Set()).add(byObject.class));
        }
      }
    }
    expect(differences.slice(0, 5)).toEqual([]);
    expect(refused).toBeGreaterThan(ROWS / 100);
    // The rows reach the dirty half of every table and go beyond it.
    for (const table of TABLES) {
      const classes = seen.get(`${table.standard}, ${table.edition}`);
      expect(classes?.has(table.beyond), table.standard).toBe(true);
      expect(classes?.size, table.standard).toBeGreaterThan(3);
    }
  },
);

test("the count of a row is judged by its volume: the same numbers per mL and per 100 mL differ", () => {
  const table = TABLES[1] as (typeof TABLES)[number];
  const counts = [Float64Array.of(195, 196, 3_200_001)];
  const per100 = classifyColumns(table, { sizesUm: [4], counts, volumeMl: 100 });
  const perMl = classifyColumns(table, { sizesUm: [4], counts, volumeMl: 1 });
  expect(Array.from(per100?.classes ?? [], (place) => per100?.names[place])).toEqual([
    "000",
    "00",
    "beyond 12",
  ]);
  expect(Array.from(perMl?.classes ?? [], (place) => perMl?.names[place])).toEqual(["5", "5", "beyond 12"]);
  expect(per100?.missing).toEqual(["B", "C", "D", "E", "F"]);
});

test("columns that cannot be a table of counts are refused", () => {
  const table = TABLES[1] as (typeof TABLES)[number];
  const column = Float64Array.of(1, 2);
  expect(() => classifyColumns(table, { sizesUm: [4, 4], counts: [column, column], volumeMl: 1 })).toThrow(
    "the size 4 µm is given twice",
  );
  expect(() => classifyColumns(table, { sizesUm: [4, 6], counts: [column], volumeMl: 1 })).toThrow(
    "2 sizes are given for 1 columns",
  );
  expect(() =>
    classifyColumns(table, { sizesUm: [4, 6], counts: [column, Float64Array.of(1)], volumeMl: 1 }),
  ).toThrow("the column at 6 µm has 1 rows, others 2");
  expect(() => classifyColumns(table, { sizesUm: [4], counts: [column], volumeMl: Number.NaN })).toThrow(
    "more than 0 mL",
  );
  expect(classifyColumns(table, { sizesUm: [5], counts: [column], volumeMl: 1 })).toBeUndefined();
});
