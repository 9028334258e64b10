// Row "duckdb": Parquet larger than the memory that the database may use, classified by siltbook's function in SQL, and
// by a plain CASE of the database.
import { statSync } from "node:fs";
import { join } from "node:path";
import { type DuckDBConnection, DuckDBInstance } from "@duckdb/node-api";
import type * as Cleanliness from "../../src/cleanliness/index.js";
import type * as Duckdb from "../../src/duckdb/index.js";
import { type Answered, type BenchRow, Clock } from "./row.js";

const dist = (module: string) => new URL(`../../dist/${module}/index.js`, import.meta.url).href;
const { ISO_4406_UPPER_PER_ML, ISO_4406_LAST }: typeof Cleanliness = await import(dist("cleanliness"));
const { registerDuckdbFunctions }: typeof Duckdb = await import(dist("duckdb"));

const MEMORY_LIMIT_MB = 64;

interface Job {
  readonly rows: number;
  readonly file: string;
  readonly fileMb: number;
  readonly tenth: string;
}

/** A database with one thread, because the other sides have one, too. */
export async function connectOneThread(memoryLimitMb?: number): Promise<DuckDBConnection> {
  const connection = await (await DuckDBInstance.create(":memory:")).connect();
  await connection.run("SET threads = 1; SET preserve_insertion_order = false");
  if (memoryLimitMb !== undefined) await connection.run(`SET memory_limit = '${memoryLimitMb}MB'`);
  return connection;
}

/** The ISO 4406 code of three columns of counts per mL, as somebody writes it who has only the database. */
export function codeByCase(columns: readonly string[]): string {
  const places = columns.map((column) => {
    const whens = ISO_4406_UPPER_PER_ML.map((upper, number) => `WHEN ${column} <= ${upper} THEN '${number}'`);
    return `CASE ${whens.join(" ")} ELSE '>${ISO_4406_LAST}' END`;
  });
  return places.join(" || '/' || ");
}

/** How many rows of a table have each code. */
export async function countCodes(
  connection: DuckDBConnection,
  code: string,
  table: string,
): Promise<Record<string, number>> {
  const reader = await connection.runAndReadAll(
    `SELECT ${code} AS code, count(*)::DOUBLE FROM ${table} GROUP BY code`,
  );
  return Object.fromEntries(reader.getRows() as [string, number][]);
}

/** Writes samples with the columns of `siltbook export` that a class needs; the same for the same number of rows. */
async function writeParquet(file: string, rows: number): Promise<void> {
  const connection = await connectOneThread();
  const share = (seed: number) => `((hash(i * 8 + ${seed}) % 1000003) / 1000003.0)`;
  await connection.run(`COPY (
    SELECT 'C-' || (i % 401) AS cart, 1::DOUBLE AS countVolumeMl, round(at4, 2) AS count4UmC, round(at6, 2) AS count6UmC,
      round(at14, 2) AS count14UmC, round(at14 * 0.2 * ${share(4)}, 2) AS count21UmC, round(60 + 200 * ${share(5)}, 1) AS waterPpm
    FROM (SELECT *, at6 * (0.02 + 0.06 * ${share(3)}) AS at14
    FROM (SELECT *, at4 * (0.15 + 0.2 * ${share(2)}) AS at6
    FROM (SELECT i, 200 * 10 ** ((i % 401) / 401.0 + 0.7 * ${share(1)}) AS at4 FROM range(${rows}) AS numbers(i))))
  ) TO '${file}' (FORMAT parquet)`);
  connection.closeSync();
}

async function prepare(folder: string, quick: boolean): Promise<Job> {
  const rows = quick ? 200_000 : 10_000_000;
  const [file, tenth] = [join(folder, "samples.parquet"), join(folder, "tenth.parquet")];
  await writeParquet(file, rows);
  await writeParquet(tenth, rows / 10);
  return { rows, file, fileMb: statSync(file).size / 1e6, tenth };
}

/** One run with what it takes to start; a warm-up would double the minutes. */
async function classify(file: string, code: string): Promise<Answered> {
  const clock = new Clock();
  const connection = await connectOneThread(MEMORY_LIMIT_MB);
  registerDuckdbFunctions(connection);
  const answer = await countCodes(connection, code, `read_parquet('${file}')`);
  const { seconds, processor } = clock.read();
  return { seconds: [seconds], processor: [processor], answer };
}

const COUNTS = ["count4UmC", "count6UmC", "count14UmC"];
const BY_FUNCTION = `iso4406_of_umc_counts(countVolumeMl, ${COUNTS.join(", ")})`;
const CASE = "DuckDB, SQL CASE";
const TENTH = "siltbook, a tenth of the rows";

export const duckdb: BenchRow<Job> = {
  name: "duckdb",
  rounds: 1,
  prepare,
  sides: [
    { name: "siltbook", run: ({ file }) => classify(file, BY_FUNCTION) },
    { name: TENTH, run: ({ tenth }) => classify(tenth, BY_FUNCTION) },
    { name: CASE, run: ({ file }) => classify(file, codeByCase(COUNTS)) },
  ],
  disagreements(result, { rows }) {
    const [ours, others] = ["siltbook", CASE].map((side) => result(side).answer as Record<string, number>);
    const sorted = (codes: Record<string, number> = {}) => JSON.stringify(Object.entries(codes).sort());
    const counted = Object.values(ours ?? {}).reduce((sum, count) => sum + count, 0);
    return [
      ...(sorted(ours) === sorted(others) ? [] : ["ISO 4406 codes"]),
      ...(counted === rows ? [] : [`${counted} codes of ${rows} rows`]),
    ];
  },
  lines(result, { rows, fileMb }) {
    const [ours, tenth, other] = [result("siltbook"), result(TENTH), result(CASE)];
    const what = `${rows.toLocaleString("en")} rows of Parquet (${Math.round(fileMb)} MB) in DuckDB`;
    return [
      {
        what: `${what} with ${MEMORY_LIMIT_MB} MB, codes by siltbook's function`,
        ours,
        other,
        value: ours.median / other.median,
        unit: "×",
      },
      {
        what: "the same: time of a row, by that of a tenth of the rows",
        ours,
        other: tenth,
        value: ours.median / tenth.median / 10,
        unit: "×",
        atMost: 1.2,
      },
      { what: "the same: peak memory", ours, value: ours.peakMb, unit: "MB", atMost: 400 },
    ];
  },
};
