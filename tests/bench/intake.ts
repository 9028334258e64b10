// Row "intake": a wide file read into checked samples with their classes, against programs that only split it, or only
// make one class of it.
import { createReadStream } from "node:fs";
import { join } from "node:path";
import { inferSchema, initParser } from "udsv";
import type * as Cleanliness from "../../src/cleanliness/index.js";
import type * as Duckdb from "../../src/duckdb/index.js";
import type * as Intake from "../../src/intake/index.js";
import { codeByCase, connectOneThread, countCodes } from "./duckdb.js";
import { type Answered, type BenchRow, ratioLine, type SideResult, timed } from "./row.js";
import { impossibleRows, writeWideFile } from "./wide-file.js";

const dist = (module: string) => new URL(`../../dist/${module}/index.js`, import.meta.url).href;
const { classifyAs4059Cumulative, classifyIso4406, classifyNas1638, formatIso4406 }: typeof Cleanliness =
  await import(dist("cleanliness"));
const { registerDuckdbFunctions }: typeof Duckdb = await import(dist("duckdb"));
const { bytesOnDisk, openLabFile }: typeof Intake = await import(dist("intake"));

const TODAY = "2026-12-31";

interface Job {
  readonly file: string;
  readonly rows: number;
  readonly large: string;
  readonly largeRows: number;
  readonly runs: number;
}

interface Read {
  readonly samples: number;
  readonly quarantined: number;
  /** How many samples have each ISO 4406 code. */
  readonly codes: Record<string, number>;
  /** Sums of the classes of AS4059 and NAS 1638, so that they are not left out. */
  readonly classes: number;
}

function prepare(folder: string, quick: boolean): Job {
  const rows = quick ? 100_000 : 1_000_000;
  const job = {
    file: join(folder, "wide.csv"),
    rows,
    large: join(folder, "large.csv"),
    largeRows: 10 * rows,
    runs: quick ? 2 : 3,
  };
  writeWideFile(job.file, rows);
  writeWideFile(job.large, job.largeRows);
  return job;
}

/** Reads a file and makes its classes; with `written`, the ISO 4406 code of each sample as a text, too. */
async function read(file: string, written: boolean): Promise<Read> {
  const opened = await openLabFile(bytesOnDisk(file), { today: TODAY });
  const codes = new Map<string, number>();
  let [samples, quarantined, classes] = [0, 0, 0];
  for (const fate of opened.fates()) {
    if (fate.kind === "quarantined") quarantined += 1;
    if (fate.kind !== "sample") continue;
    const { counts } = fate.fate.sample;
    if (counts === undefined) throw new Error("the file has counts");
    samples += 1;
    const iso = classifyIso4406(counts);
    if (written && iso !== undefined) {
      const code = formatIso4406(iso);
      codes.set(code, (codes.get(code) ?? 0) + 1);
    }
    classes += Number(classifyAs4059Cumulative(counts)?.class) + Number(classifyNas1638(counts)?.class);
  }
  return { samples, quarantined, codes: Object.fromEntries(codes), classes };
}

async function ours(file: string, runs: number, written = false): Promise<Answered> {
  const { seconds, processor, last } = await timed(runs, () => read(file, written));
  return { seconds, processor, answer: last };
}

/** Splits the file piece by piece, the quickest way of this parser and the one that needs the least memory. */
async function split({ file, runs }: Job): Promise<Answered> {
  const { seconds, processor, last } = await timed(runs, async () => {
    const pieces = createReadStream(file, { encoding: "utf8" });
    let parser: ReturnType<typeof initParser> | undefined;
    let cells = 0;
    for await (const piece of pieces) {
      parser ??= initParser(inferSchema(piece as string));
      parser.chunk<string[]>(piece as string, parser.stringArrs, (row) => {
        cells += row.length;
      });
    }
    parser?.end();
    return cells;
  });
  return { seconds, processor, answer: last };
}

const COUNTS = [4, 6, 14, 21].map((sizeUm) => `"${sizeUm} µm(c) per mL"`);

/** The database reads the file and makes the code of each row whose counts fall with size. */
async function inDuckdb({ file, runs }: Job, code: string): Promise<Answered> {
  const falling = COUNTS.slice(1).map((column, index) => `${COUNTS[index]} >= ${column}`);
  const { seconds, processor, last } = await timed(runs, async () => {
    const connection = await connectOneThread();
    registerDuckdbFunctions(connection);
    const codes = await countCodes(connection, code, `read_csv('${file}') WHERE ${falling.join(" AND ")}`);
    connection.closeSync();
    return { codes };
  });
  return { seconds, processor, answer: last };
}

const UDSV = "udsv, splitting only";
const PANDAS = "pandas, ISO 4406 only";
const BY_CASE = "DuckDB, ISO 4406 only, by SQL CASE";
const BY_FUNCTION = "DuckDB, ISO 4406 only, by siltbook's function";
const WRITTEN = "siltbook, codes written";
const LARGE = "siltbook, ten times the rows";

export const intake: BenchRow<Job> = {
  name: "intake",
  rounds: 3,
  prepare,
  sides: [
    { name: "siltbook", run: ({ file, runs }) => ours(file, runs) },
    { name: UDSV, run: split },
    { name: WRITTEN, run: ({ file, runs }) => ours(file, runs, true) },
    { name: PANDAS, python: "intake.py" },
    { name: BY_CASE, run: (job) => inDuckdb(job, codeByCase(COUNTS.slice(0, 3))) },
    {
      name: BY_FUNCTION,
      run: (job) => inDuckdb(job, `iso4406_of_umc_counts(1, ${COUNTS.slice(0, 3).join(", ")})`),
    },
    { name: LARGE, run: ({ large }) => ours(large, 1) },
  ],
  disagreements(result, { rows, largeRows }) {
    const wrong: string[] = [];
    const answer = result(WRITTEN).answer as Read;
    for (const side of [PANDAS, BY_CASE, BY_FUNCTION]) {
      const { codes } = result(side).answer as Pick<Read, "codes">;
      if (JSON.stringify(sorted(answer.codes)) !== JSON.stringify(sorted(codes)))
        wrong.push(`ISO 4406 codes of ${side}`);
    }
    for (const [name, size] of [
      ["siltbook", rows],
      [LARGE, largeRows],
    ] as const) {
      const { samples, quarantined } = result(name).answer as Read;
      const impossible = impossibleRows(size);
      if (samples !== size - impossible || quarantined !== impossible) {
        wrong.push(`${samples} samples and ${quarantined} in quarantine of ${size} rows`);
      }
    }
    const cells = result(UDSV).answer as number;
    if (cells !== 12 * rows) wrong.push(`${cells} cells`);
    return wrong;
  },
  lines(result, { rows, largeRows }) {
    const one = result("siltbook");
    const large = result(LARGE);
    const say = (size: number) => `${size.toLocaleString("en")} rows`;
    return [
      // A splitter does a part of the work: a measure to know, and no target.
      {
        what: `a file of ${say(rows)} read, checked and classified`,
        ours: one,
        other: result(UDSV),
        value: one.median / result(UDSV).median,
        unit: "×",
      },
      ratioLine("the same with the ISO 4406 codes as texts", result(WRITTEN), result(PANDAS), 1),
      ...[BY_CASE, BY_FUNCTION].map((side) => ({
        what: "the same",
        ours: result(WRITTEN),
        other: result(side),
        value: result(WRITTEN).median / result(side).median,
        unit: "×" as const,
      })),
      {
        what: `${say(largeRows)}: time of a row, by that of ${say(rows)}`,
        ours: large,
        other: named(one, "siltbook"),
        value: large.median / one.median / (largeRows / rows),
        unit: "×",
        atMost: 1.2,
      },
      { what: `${say(largeRows)}: peak memory`, ours: large, value: large.peakMb, unit: "MB", atMost: 400 },
    ];
  },
};

function named(result: SideResult, side: string): SideResult {
  return { ...result, side };
}

function sorted(codes: Record<string, number>): [string, number][] {
  return Object.entries(codes).sort(([a], [b]) => (a < b ? -1 : 1));
}
