// Row "book": a wide file brought into a new book and committed, against the same rows written by the database driver
// alone, one by one with a prepared statement.
import { rmSync } from "node:fs";
import { join } from "node:path";
import Database from "libsql";
import type * as Books from "../../src/book/index.js";
import { type Answered, type BenchRow, Clock, ratioLine, timed } from "./row.js";
import { impossibleRows, writeWideFile } from "./wide-file.js";

const { Book }: typeof Books = await import(new URL("../../dist/book/index.js", import.meta.url).href);

const TODAY = "2026-12-31";
const DRIVER = "libsql driver alone";

interface Job {
  readonly file: string;
  readonly folder: string;
  readonly rows: number;
}

interface Sums {
  readonly samples: number;
  readonly waterPpm: number;
  readonly textLength: number;
}

function prepare(folder: string, quick: boolean): Job {
  const job = { file: join(folder, "for-book.csv"), folder, rows: quick ? 100_000 : 1_000_000 };
  writeWideFile(job.file, job.rows);
  return job;
}

function sumsOf(path: string): Sums {
  const db = new Database(path);
  const [row] = db
    .prepare(
      `SELECT count(*) AS samples, sum(water_ppm) AS waterPpm,
         sum(length(sample) + length(drawn_on) + length(counts) + length(rows)) AS textLength FROM sample`,
    )
    .all() as unknown as [Sums];
  db.close();
  const { samples, waterPpm, textLength } = row;
  return { samples, waterPpm, textLength };
}

function remove(path: string): void {
  for (const end of ["", "-wal", "-shm"]) rmSync(path + end, { force: true });
}

async function ours({ file, folder }: Job): Promise<Answered> {
  const path = join(folder, "ours.siltbook");
  const { seconds, processor } = await timed(1, async () => {
    remove(path);
    const book = Book.open(path, { create: true });
    await book.takeIn(file, { today: TODAY });
    book.close();
  });
  return { seconds, processor, answer: sumsOf(path) };
}

/** Reads the rows out of a book, and writes them into the tables of a new one; only the writing is timed. */
async function driver({ file, folder }: Job): Promise<Answered> {
  const from = join(folder, "from.siltbook");
  remove(from);
  const book = Book.open(from, { create: true });
  await book.takeIn(file, { today: TODAY });
  book.close();
  const source = new Database(from);
  const columns = (
    source.prepare("SELECT name FROM pragma_table_info('sample')").all() as { name: string }[]
  ).map(({ name }) => name);
  const tables = (
    source.prepare("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL AND type = 'table'").all() as {
      sql: string;
    }[]
  ).map(({ sql }) => sql);
  const copy = (table: string) =>
    source.prepare(`SELECT * FROM ${table}`).raw().all() as (string | number | null)[][];
  const few = ["column_map", "file", "cart", "circuit"].map((table) => ({ table, rows: copy(table) }));
  const rows = copy("sample");
  source.close();
  const path = join(folder, "driver.db");
  const seconds: number[] = [];
  const processor: number[] = [];
  for (let run = 0; run < 2; run += 1) {
    remove(path);
    const clock = new Clock();
    const db = new Database(path);
    // The same promises as a book makes.
    for (const pragma of [
      "journal_mode = WAL",
      "synchronous = FULL",
      "foreign_keys = ON",
      "cache_size = -32000",
    ]) {
      db.pragma(pragma);
    }
    db.exec("BEGIN IMMEDIATE");
    for (const sql of tables) db.exec(sql);
    for (const { table, rows: all } of few) {
      for (const row of all)
        db.prepare(`INSERT INTO ${table} VALUES (${row.map(() => "?").join(", ")})`).run(row);
    }
    const insert = db.prepare(`INSERT INTO sample VALUES (${columns.map(() => "?").join(", ")})`);
    for (const row of rows) insert.run(row);
    db.exec("COMMIT");
    db.pragma("journal_mode = DELETE");
    db.close();
    if (run === 0) continue;
    const took = clock.read();
    seconds.push(took.seconds);
    processor.push(took.processor);
  }
  return { seconds, processor, answer: sumsOf(path) };
}

export const book: BenchRow<Job> = {
  name: "book",
  rounds: 3,
  prepare,
  sides: [
    { name: "siltbook", run: ours },
    { name: DRIVER, run: driver },
  ],
  disagreements(result, { rows }) {
    const [own, other] = [result("siltbook").answer as Sums, result(DRIVER).answer as Sums];
    const wrong: string[] = [];
    if (JSON.stringify(own) !== JSON.stringify(other))
      wrong.push(`${JSON.stringify(own)} and ${JSON.stringify(other)}`);
    if (own.samples !== rows - impossibleRows(rows)) wrong.push(`${own.samples} samples of ${rows} rows`);
    return wrong;
  },
  lines(result, { rows }) {
    const one = result("siltbook");
    const say = `${rows.toLocaleString("en")} rows`;
    return [
      ratioLine(`a file of ${say} read, checked and committed to a book`, one, result(DRIVER), 2.5),
      {
        what: "time for 100,000 samples",
        ours: one,
        value: (one.median / rows) * 100_000,
        unit: "s",
        atMost: 1,
      },
    ];
  },
};
