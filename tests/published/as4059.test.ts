// SAE AS4059. Table 2 unrounded: revision E as a trade magazine prints it (AS4059-CUMULATIVE). Table 2 rounded: filter
// catalogue, filter page and filter brochure that name no revision (AS4059-CUMULATIVE-ROUNDED). Table 1: limits stated to
// be those of NAS 1638 by the footnote of revision E and the rationale of revision F (AS4059-DIFFERENTIAL).
// Typed here a second time, apart from the tables in src. Misprints met on pages and not taken: 3A as 6520, 12B as 2250000.
import { describe, expect, test } from "vitest";
import {
  AS4059_CUMULATIVE,
  AS4059_CUMULATIVE_ROUNDED,
  AS4059_DIFFERENTIAL,
  classifyAs4059Cumulative,
  classifyAs4059Differential,
  formatAs4059,
  limitsOfTarget,
  NAS_1638,
  parseAs4059,
  parseTarget,
} from "../../src/cleanliness/index.js";
import { cumulativeCounts, intervalCounts } from "../../src/counts/index.js";
import { readPrinted } from "../support/printed-table.js";

const UNROUNDED = readPrinted(`
  000      195       76      14      3     1     0
   00      390      152      27      5     1     0
    0      780      304      54     10     2     0
    1     1560      609     109     20     4     1
    2     3120     1217     217     39     7     1
    3     6250     2432     432     76    13     2
    4    12500     4864     864    152    26     4
    5    25000     9731    1731    306    53     8
    6    50000    19462    3462    612   106    16
    7   100000    38924    6924   1224   212    32
    8   200000    77849   13849   2449   424    64
    9   400000   155698   27698   4898   848   128
   10   800000   311396   55396   9796  1696   256
   11  1600000   622792  110792  19592  3392   512
   12  3200000  1245584  221584  39184  6784  1024
`);

const ROUNDED = readPrinted(`
  000      195       76      14      3     1     0
   00      390      152      27      5     1     0
    0      780      304      54     10     2     0
    1     1560      609     109     20     4     1
    2     3120     1220     217     39     7     1
    3     6250     2430     432     76    13     2
    4    12500     4860     864    152    26     4
    5    25000     9730    1730    306    53     8
    6    50000    19500    3460    612   106    16
    7   100000    38900    6920   1220   212    32
    8   200000    77900   13900   2450   424    64
    9   400000   156000   27700   4900   848   128
   10   800000   311000   55400   9800  1700   256
   11  1600000   623000  111000  19600  3390   512
   12  3200000  1250000  222000  39200  6780  1020
`);

const DIFFERENTIAL = readPrinted(`
  00      125      22      4     1     0
   0      250      44      8     2     0
   1      500      89     16     3     1
   2     1000     178     32     6     1
   3     2000     356     63    11     2
   4     4000     712    126    22     4
   5     8000    1425    253    45     8
   6    16000    2850    506    90    16
   7    32000    5700   1012   180    32
   8    64000   11400   2025   360    64
   9   128000   22800   4050   720   128
  10   256000   45600   8100  1440   256
  11   512000   91200  16200  2880   512
  12  1024000  182400  32400  5760  1024
`);

const SIZES = [4, 6, 14, 21, 38, 70];
const RANGES = [
  { fromUm: 6, toUm: 14 },
  { fromUm: 14, toUm: 21 },
  { fromUm: 21, toUm: 38 },
  { fromUm: 38, toUm: 70 },
  { fromUm: 70 },
];

/** The class after one in a table; past the last it is "beyond 12". */
function nextOf(rows: readonly { name: string; limits: readonly unknown[] }[], index: number, place: number) {
  const limit = rows[index]?.limits[place];
  // Neighbouring classes may share a limit, and the cleanest of them is the class of a count on it.
  return rows.slice(index + 1).find((row) => row.limits[place] !== limit)?.name ?? "beyond 12";
}

function firstWith(
  rows: readonly { name: string; limits: readonly unknown[] }[],
  limit: unknown,
  place: number,
) {
  return rows.find((row) => row.limits[place] === limit)?.name;
}

describe.each([
  { words: "unrounded (revision E)", printed: UNROUNDED, table: AS4059_CUMULATIVE, limits: "unrounded" },
  { words: "rounded (earlier)", printed: ROUNDED, table: AS4059_CUMULATIVE_ROUNDED, limits: "rounded" },
] as const)("AS4059 table 2, $words", ({ printed, table, limits }) => {
  test("has the printed limits digit for digit", () => {
    expect(table.rows.map(([name, row]) => ({ name, limits: [...row] }))).toEqual(printed);
  });

  test.each(printed.map((row, index) => ({ ...row, index })))(
    "class $name: a count on each limit is inside, one particle more is in the next class",
    ({ limits: row, index }) => {
      for (const [place, sizeUm] of SIZES.entries()) {
        const limit = row[place] as number;
        const classOf = (count: number) =>
          classifyAs4059Cumulative(cumulativeCounts([{ sizeUm, count }], 100), limits)?.class;
        expect(classOf(limit)).toBe(firstWith(printed, limit, place));
        expect(classOf(limit + 1)).toBe(nextOf(printed, index, place));
      }
    },
  );
});

describe("AS4059 table 1", () => {
  test("has the printed limits digit for digit", () => {
    expect(AS4059_DIFFERENTIAL.rows.map(([name, row]) => ({ name, limits: [...row] }))).toEqual(DIFFERENTIAL);
  });

  test.each(DIFFERENTIAL.map((row, index) => ({ ...row, index })))(
    "class $name: a count on each limit is inside, one particle more is in the next class",
    ({ limits: row, index }) => {
      for (const [place, range] of RANGES.entries()) {
        const limit = row[place] as number;
        const classOf = (count: number) =>
          classifyAs4059Differential(intervalCounts([{ ...range, count }], 100))?.class;
        expect(classOf(limit)).toBe(firstWith(DIFFERENTIAL, limit, place));
        expect(classOf(limit + 1)).toBe(nextOf(DIFFERENTIAL, index, place));
      }
    },
  );
});

test.each(NAS_1638.rows)(
  "class %s: the cumulative limits of AS4059 for sizes B to F are the running sums of the NAS 1638 limits",
  (name, nas) => {
    const cumulative = AS4059_CUMULATIVE.rows.find(([own]) => own === name)?.[1];
    const sums = nas.map((_, from) => nas.slice(from).reduce<number>((sum, limit) => sum + limit, 0));
    expect(sums).toEqual(cumulative?.slice(1));
  },
);

describe("how AS4059 writes a class (filter catalogue, AS4059-NOTATION)", () => {
  test("6B allows 19 462 particles larger than 6 µm(c) per 100 mL, rounded 19 500", () => {
    expect(limitsOfTarget(parseTarget("AS4059 cumulative 6B"))).toEqual([
      { channel: "B", fromUm: 6, limit: 19_462, volumeMl: 100 },
    ]);
    const counts = cumulativeCounts([{ sizeUm: 6, count: 19_500 }], 100);
    expect(classifyAs4059Cumulative(counts, "rounded")?.class).toBe("6");
    expect(classifyAs4059Cumulative(counts)?.class).toBe("7");
    expect(classifyAs4059Cumulative(counts, "rounded")?.edition).toContain("rounded limits");
    expect(classifyAs4059Cumulative(counts)?.edition).toContain("unrounded limits");
  });

  test("7B/6C/5D in the rounded table allows 38 900, 3 460 and 306 particles per 100 mL", () => {
    const code = parseAs4059("7B/6C/5D").code;
    const allowed =
      code.kind === "by-size" &&
      code.bySize.map(({ size, class: name }) => {
        const place = "ABCDEF".indexOf(size);
        return AS4059_CUMULATIVE_ROUNDED.rows.find(([own]) => own === name)?.[1][place];
      });
    expect(allowed).toEqual([38_900, 3460, 306]);
    expect(formatAs4059(code)).toBe("7B/6C/5D");
  });

  test("6B-F means class 6 at every size from B to F", () => {
    const limits = limitsOfTarget(parseTarget("AS4059 cumulative 6B-F"));
    expect(limits.map(({ channel, limit }) => [channel, limit])).toEqual([
      ["B", 19_462],
      ["C", 3462],
      ["D", 612],
      ["E", 106],
      ["F", 16],
    ]);
  });
});

describe("reference-chart sample 2: 492, 149, 41, 15, 5 and 1 particles per mL at 4, 6, 10, 14, 21 and 38 µm(c)", () => {
  test("the counts of the sample, per 100 mL, are classes 6, 6, 5, 6 and 6 at A to E", () => {
    const counts = cumulativeCounts(
      [
        { sizeUm: 4, count: 49_200 },
        { sizeUm: 6, count: 14_900 },
        { sizeUm: 14, count: 1500 },
        { sizeUm: 21, count: 500 },
        { sizeUm: 38, count: 100 },
      ],
      100,
    );
    const result = classifyAs4059Cumulative(counts);
    expect(result?.channels.map((entry) => entry.class)).toEqual(["6", "6", "5", "6", "6"]);
    expect(result?.class).toBe("6");
    expect(result?.missing).toEqual(["F"]);
  });

  test("its ranges 6-14, 14-21 and 21-38 are classes 6, 5 and 6, by subtraction and given directly", () => {
    const direct = intervalCounts(
      [
        { fromUm: 6, toUm: 14, count: 13_400 },
        { fromUm: 14, toUm: 21, count: 1000 },
        { fromUm: 21, toUm: 38, count: 400 },
      ],
      100,
    );
    const subtracted = cumulativeCounts(
      [
        { sizeUm: 6, count: 149 },
        { sizeUm: 14, count: 15 },
        { sizeUm: 21, count: 5 },
        { sizeUm: 38, count: 1 },
      ],
      1,
    );
    for (const counts of [direct, subtracted]) {
      const result = classifyAs4059Differential(counts);
      expect(result?.channels.slice(0, 3).map((entry) => entry.class)).toEqual(["6", "5", "6"]);
      expect(result?.class).toBe("6");
    }
  });
});
