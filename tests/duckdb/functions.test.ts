// Classes and limits in SQL. The database (DuckDB, through its own driver) answers, and the library's public `classify`
// answers the same. The limits around which the rows lie are those of the printed tables in src/cleanliness/standards.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type DuckDBConnection, DuckDBInstance } from "@duckdb/node-api";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  classify,
  compareWithLimits,
  formatIso4406,
  ISO_4406,
  limitsOfTarget,
  NAS_1638,
  parseTarget,
} from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { loadDriver } from "../../src/duckdb/driver.js";
import { DUCKDB_FUNCTIONS, DuckdbError, registerDuckdbFunctions } from "../../src/duckdb/index.js";
import { sampleSchema } from "../../src/samples/index.js";
import { tableAsParquet, tableOfSamples } from "../../src/tables/index.js";
import { seeded } from "../support/counts-near-limits.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
let connection: DuckDBConnection;

beforeAll(async () => {
  connection = await (await DuckDBInstance.create(":memory:")).connect();
  registerDuckdbFunctions(connection);
});

afterAll(() => connection.closeSync());

async function rowsOf(sql: string): Promise<readonly (readonly unknown[])[]> {
  return (await connection.runAndReadAll(sql)).getRows();
}

/** The value of one expression. */
const answerTo = async (expression: string) => (await rowsOf(`SELECT ${expression}`))[0]?.[0];

const SIZES_UM = [4, 6, 14, 21, 38, 70] as const;

interface Row {
  readonly volumeMl: number;
  readonly counts: readonly number[];
}

/** Counts that put each channel of each table on each of its limits, and a particle to either side of it. */
function rowsAtEdges(): Row[] {
  return [ISO_4406, AS4059_CUMULATIVE, AS4059_DIFFERENTIAL, NAS_1638].flatMap((table) =>
    table.channels.flatMap(({ fromUm }, channel) =>
      table.rows.flatMap(([, limits]) => {
        const limit = limits[channel] as number;
        // All particles are in one channel: as many above each smaller size, none above the next.
        return [limit, limit + 1, Math.max(0, limit - 1)].map((count) => ({
          volumeMl: table.volumeMl,
          counts: SIZES_UM.map((sizeUm) => (sizeUm <= fromUm ? count : 0)),
        }));
      }),
    ),
  );
}

/** Falling counts of any height in volumes that reports have. */
function rowsAnywhere(size: number): Row[] {
  const random = seeded(23);
  return Array.from({ length: size }, (_, index) => {
    let count = 10 ** (7 * random());
    return {
      volumeMl: [1, 10, 25, 100][index % 4] as number,
      counts: SIZES_UM.map(() => {
        count *= random();
        return Number(count.toFixed(2));
      }),
    };
  });
}

describe("DuckDB answers what the library answers", () => {
  const rows = [...rowsAtEdges(), ...rowsAnywhere(500)];
  const TARGETS = ["17/15/12", "-/15/12", "AS4059 cumulative 7A-F", "AS4059 differential 7", "NAS 1638 7"];

  beforeAll(async () => {
    const values = rows.map(({ volumeMl, counts }, row) => `(${[row, volumeMl, ...counts].join(", ")})`);
    await connection.run(
      `CREATE TABLE samples AS SELECT * FROM (VALUES ${values.join(", ")}) AS t(row_number, ml, c4, c6, c14, c21, c38, c70)`,
    );
  });

  test("at, above and below every limit of ISO 4406, AS4059 and NAS 1638, and elsewhere", async () => {
    const answers = await rowsOf(
      `SELECT iso4406_of_umc_counts(ml, c4, c6, c14), as4059_cumulative_of_umc_counts(ml, c4, c6, c14, c21, c38, c70),
        as4059_differential_of_umc_counts(ml, c6, c14, c21, c38, c70), nas1638_of_umc_counts(ml, c6, c14, c21, c38, c70),
        as4059_at_size_of_umc_count(14, ml, c14)
      FROM samples ORDER BY row_number`,
    );
    const expected = rows.map(({ volumeMl, counts }) => {
      const given = SIZES_UM.map((sizeUm, index) => ({ sizeUm, count: counts[index] as number }));
      const { iso4406, as4059Cumulative, as4059Differential, nas1638 } = classify(
        cumulativeCounts(given, volumeMl),
      );
      return [
        iso4406 && formatIso4406(iso4406),
        as4059Cumulative?.class,
        as4059Differential?.class,
        nas1638?.class,
        as4059Cumulative?.channels.find(({ channel }) => channel === "C")?.class,
      ];
    });
    expect(rows.length).toBeGreaterThan(1000);
    expect(answers).toEqual(expected);
    // Every class is among them.
    expect(new Set(expected.map(([, cumulative]) => cumulative)).size).toBe(
      AS4059_CUMULATIVE.rows.length + 1,
    );
  });

  test.each(TARGETS)("of what keeps %s", async (target) => {
    const answers = await rowsOf(
      `SELECT umc_counts_within_target('${target}', ml, c4, c6, NULL, c14, c21, c38, c70) FROM samples ORDER BY row_number`,
    );
    const limits = limitsOfTarget(parseTarget(target));
    const expected = rows.map(({ volumeMl, counts }) => {
      const given = SIZES_UM.map((sizeUm, index) => ({ sizeUm, count: counts[index] as number }));
      const compared = compareWithLimits(cumulativeCounts(given, volumeMl), limits);
      return [compared.every(({ outcome }) => outcome === "inside")];
    });
    expect(answers).toEqual(expected);
    expect(new Set(answers.flat()).size).toBe(2);
  });

  test("of the Parquet that `export` writes, as in its own columns of classes", async () => {
    const kept = rows.slice(0, 60).map(({ volumeMl, counts }, index) => ({
      sample: sampleSchema.parse({
        ...{ sample: `S-${index}`, cart: "C-1", circuit: "fore", drawnOn: "2026-03-14" },
        counts: cumulativeCounts(
          SIZES_UM.map((sizeUm, size) => ({ sizeUm, count: counts[size] as number })),
          volumeMl,
        ),
        origin: [{ file: "lab.csv", rows: [index + 2] }],
      }),
      amendments: 0,
    }));
    const file = join(folder, "samples.parquet");
    writeFileSync(file, await tableAsParquet(tableOfSamples(kept)));
    const counts = "countVolumeMl, count4UmC, count6UmC, count14UmC";
    const answers = await rowsOf(
      `SELECT iso4406_of_umc_counts(${counts}), iso4406, as4059_cumulative_of_umc_counts(${counts}, count21UmC, count38UmC,
        count70UmC), as4059Cumulative FROM read_parquet('${file}')`,
    );
    expect(answers).toHaveLength(kept.length);
    for (const [code, exported, cumulative, exportedCumulative] of answers)
      expect([code, cumulative]).toEqual([exported, exportedCumulative]);
  });
});

// Read off the printed tables by hand: ISO 4406 (20 000 is 21, 1300 is 17, 40 is 12), AS4059 table 2 (6 µm(c) in
// 100 mL: 19 462 is class 6), NAS 1638 (6-14 in 100 mL: 16 000 is class 6).
describe("a value by hand", () => {
  test.each([
    ["iso4406_of_umc_counts(1, 15000, 1200, 40)", "21/17/12"],
    ["iso4406_of_umc_counts(100, 1500000, 120000, 4000)", "21/17/12"],
    ["iso4406_of_umc_counts(1, 2500001, 1200, 40)", ">28/17/12"],
    ["as4059_at_size_of_umc_count(6, 100, 19462)", "6"],
    ["as4059_at_size_of_umc_count(6, 100, 19463)", "7"],
    ["as4059_at_size_of_umc_count(6, 1, 194.63)", "7"],
    ["as4059_cumulative_of_umc_counts(100, 25000, 19462, 0, 0, 0, 0)", "6"],
    ["as4059_cumulative_of_umc_counts(100, 3200001, 0, 0, 0, 0, 0)", "beyond 12"],
    ["nas1638_of_umc_counts(100, 16000, 0, 0, 0, 0)", "6"],
    ["nas1638_of_umc_counts(100, 16001, 0, 0, 0, 0)", "7"],
    // ISO 4406 17/15/12 allows 1300, 320 and 40 per mL.
    ["umc_counts_within_target('17/15/12', 1, 1300, 320, NULL, 40, NULL, NULL, NULL)", true],
    ["umc_counts_within_target('17/15/12', 1, 1300, 320, NULL, 41, NULL, NULL, NULL)", false],
    // What is not counted is not kept; what is exceeded is exceeded all the same.
    ["umc_counts_within_target('17/15/12', 1, 1300, 320, NULL, NULL, NULL, NULL, NULL)", null],
    ["umc_counts_within_target('17/15/12', 1, 1300, 321, NULL, NULL, NULL, NULL, NULL)", false],
    ["umc_counts_within_target('17/15/12', 1, NULL, NULL, NULL, NULL, NULL, NULL, NULL)", null],
    // No more than 40 are above 14 µm(c) where 40 are above 10 µm(c).
    ["umc_counts_within_target('17/15/12', 1, 1300, 320, 40, NULL, NULL, NULL, NULL)", true],
    ["iso4406_within_target('17/15/12', 'ISO 4406 17/15/12')", true],
    ["iso4406_within_target('17/15/13', '17/15/12')", false],
    ["iso4406_within_target('-/15/12', '17/15/12')", null],
    ["iso4406_within_target('-/15/12', '-/15/12')", true],
    ["iso4406_within_target('17/15/≥7', '17/15/12')", null],
    ["iso4406_within_target('*/15/12', '17/15/12')", false],
  ])("%s is %j", async (expression, value) => {
    expect(await answerTo(expression)).toBe(value);
  });
});

describe("null stays null", () => {
  test.each(DUCKDB_FUNCTIONS.filter(({ name }) => name !== "umc_counts_within_target"))(
    "in any argument of $name",
    async ({ name, parameters }) => {
      const good = (type: string) =>
        type === "VARCHAR" ? "'17/15/12'" : name.includes("_at_size_") ? "6" : "1";
      const written = parameters.map(({ type }) => good(type));
      expect(await answerTo(`${name}(${written.join(", ")})`)).not.toBeNull();
      for (const place of parameters.keys()) {
        const withNull = written.map((argument, index) => (index === place ? "NULL" : argument));
        expect(await answerTo(`${name}(${withNull.join(", ")})`)).toBeNull();
      }
    },
  );

  test("in rows between others, in the order of the rows", async () => {
    expect(
      await rowsOf(
        "SELECT iso4406_of_umc_counts(1, count, 0, 0) FROM (VALUES (1, 5), (2, NULL), (3, 40)) AS t(row, count) ORDER BY row",
      ),
    ).toEqual([["9/0/0"], [null], ["12/0/0"]]);
  });
});

describe("what cannot be ends the query with the function, the row's values and what was expected", () => {
  test.each([
    ["iso4406_of_umc_counts(1, -1, 0, 0)", "(1, -1, 0, 0): the count at 4 µm must be 0 or more, not -1"],
    [
      "iso4406_of_umc_counts(1, 'NaN'::DOUBLE, 0, 0)",
      "(1, NaN, 0, 0): the count at 4 µm must be 0 or more, not NaN",
    ],
    [
      "nas1638_of_umc_counts(1, 10, 20, 0, 0, 0)",
      "(1, 10, 20, 0, 0, 0): cumulative counts cannot rise with size: 20 at 14 µm is more than 10 at 6 µm",
    ],
    [
      "umc_counts_within_target('NAS 1638 7', 1, 10, NULL, NULL, 20, NULL, NULL, NULL)",
      '("NAS 1638 7", 1, 10, NULL, NULL, 20, NULL, NULL, NULL): cumulative counts cannot rise with size: 20 at 14 µm is more than 10 at 4 µm',
    ],
    [
      "as4059_cumulative_of_umc_counts(0, 6, 5, 4, 3, 2, 1)",
      "(0, 6, 5, 4, 3, 2, 1): the volume that counts stand for must be more than 0 mL and at most 1000000 mL, not 0",
    ],
    [
      "as4059_at_size_of_umc_count(5, 100, 10)",
      "(5, 100, 10): AS4059 has classes at 4, 6, 14, 21, 38, 70 µm(c), not at 5",
    ],
    [
      "iso4406_within_target('17/15/12', 'NAS 1638 7')",
      '("17/15/12", "NAS 1638 7"): a code is compared with an ISO 4406 target such as 17/15/12, not with NAS 1638 7',
    ],
    [
      "iso4406_within_target('17/15', '17/15/12')",
      '("17/15", "17/15/12"): "17/15" is not an ISO 4406 code: expected three scale numbers for 4, 6 and 14 µm(c), such as 18/16/13',
    ],
  ])("%s", async (expression, message) => {
    await expect(answerTo(expression)).rejects.toThrow(`${expression.split("(")[0]}${message}`);
  });

  test("and TRY makes null of such a row alone", async () => {
    expect(
      await rowsOf(
        "SELECT TRY(iso4406_of_umc_counts(1, count, 0, 0)) FROM (VALUES (5), (-1), (40)) AS t(count)",
      ),
    ).toEqual([["9/0/0"], [null], ["12/0/0"]]);
  });
});

describe("the driver", () => {
  const missing = () => {
    throw Object.assign(new Error("Cannot find module"), { code: "MODULE_NOT_FOUND" });
  };

  test.each([
    ["is missing", missing, /does not bring along: npm install @duckdb\/node-api@1\.5\.6-r\.1$/],
    ["has no functions in JavaScript", () => ({}), /npm install @duckdb\/node-api@1\.5\.6-r\.1$/],
  ])("%s: the error says what to install", (_, load, message) => {
    expect(() => loadDriver(load)).toThrow(DuckdbError);
    expect(() => loadDriver(load)).toThrow(message);
  });

  test("is broken: its own error is passed on", () => {
    const broken = () => {
      throw new Error("wrong ELF class");
    };
    expect(() => loadDriver(broken)).toThrow(/^wrong ELF class$/);
  });
});

test("docs/scale.md names each function with its arguments", () => {
  const page = readFileSync("docs/scale.md", "utf8");
  const written = [...page.matchAll(/^\| `(\w+\([\w, ]+\))` \|/gm)].map(([, call]) => call);
  expect(written).toEqual(
    DUCKDB_FUNCTIONS.map(
      ({ name, parameters }) => `${name}(${parameters.map((one) => one.name).join(", ")})`,
    ),
  );
});
