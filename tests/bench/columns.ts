// Row "columns": the three standards by column, against numpy's searchsorted in one thread.
import { closeSync, openSync, readSync, writeSync } from "node:fs";
import { join } from "node:path";
import type * as Cleanliness from "../../src/cleanliness/index.js";
import { seeded } from "../support/counts-near-limits.js";
import { type Answered, type BenchRow, Clock, ratioLine } from "./row.js";

const cleanliness: typeof Cleanliness = await import(
  new URL("../../dist/cleanliness/index.js", import.meta.url).href
);
const { AS4059_CUMULATIVE, classifyColumnsBy, ISO_4406, NAS_1638 } = cleanliness;

const SIZES_UM = [4, 6, 14, 21, 38, 70];
const VOLUME_ML = 100;
/** Rows that are classified at a time: as many as both sides like best, and so few that memory does not grow. */
const BLOCK = 50_000;
const TABLES = [ISO_4406, AS4059_CUMULATIVE, NAS_1638] as unknown as Cleanliness.ClassTable<string, string>[];

interface Job {
  readonly file: string;
  readonly rows: number;
  readonly block: number;
  readonly runs: number;
  readonly volumeMl: number;
  readonly tables: readonly {
    readonly channels: readonly {
      readonly from: number;
      readonly to: number | null;
      readonly limits: readonly number[];
    }[];
  }[];
}

/** A number for each channel, the class and the governing channel, that no two mixed up rows leave the same. */
type Sums = number[][];

function prepare(folder: string, quick: boolean): Job {
  const rows = quick ? 500_000 : 10_000_000;
  const file = join(folder, "columns.bin");
  const random = seeded(9);
  const out = openSync(file, "w");
  for (let first = 0; first < rows; first += BLOCK) writeSync(out, drawBlock(random));
  closeSync(out);
  const place = (sizeUm: number | undefined) => (sizeUm === undefined ? null : SIZES_UM.indexOf(sizeUm));
  return {
    file,
    rows,
    block: BLOCK,
    runs: quick ? 2 : 1,
    volumeMl: VOLUME_ML,
    tables: TABLES.map((table) => ({
      channels: table.channels.map(({ fromUm, toUm }, channel) => ({
        from: place(fromUm) as number,
        to: place(toUm),
        limits: table.rows.map(([, row]) => (row[channel] as number) / table.volumeMl),
      })),
    })),
  };
}

/** Whole counts per 100 mL over all classes and beyond; one row in five hundred cannot be true. */
function drawBlock(random: () => number): Float64Array {
  const counts = new Float64Array(SIZES_UM.length * BLOCK);
  for (let row = 0; row < BLOCK; row += 1) {
    let count = 10 ** (1.5 + 5.5 * random());
    for (let size = 0; size < SIZES_UM.length; size += 1) {
      counts[size * BLOCK + row] = Math.floor(count);
      count *= 0.08 + 0.4 * random();
    }
    const bad = random();
    if (bad < 0.001) counts[2 * BLOCK + row] = Number.NaN;
    else if (bad < 0.002) counts[3 * BLOCK + row] = (counts[2 * BLOCK + row] as number) + 1;
  }
  return counts;
}

function ours({ file, rows, block, runs, volumeMl }: Job): Answered {
  const counts = new Float64Array(SIZES_UM.length * block);
  const columns = SIZES_UM.map((_, size) => counts.subarray(size * block, (size + 1) * block));
  const sums: Sums = TABLES.map(() => []);
  const pass = (keep: boolean) => {
    const input = openSync(file, "r");
    const took = { seconds: 0, processor: 0 };
    for (let first = 0; first < rows; first += block) {
      readSync(input, counts);
      const clock = new Clock();
      const results = classifyColumnsBy(TABLES, { sizesUm: SIZES_UM, counts: columns, volumeMl });
      const { seconds, processor } = clock.read();
      took.seconds += seconds;
      took.processor += processor;
      if (keep)
        for (const [at, result] of results.entries()) if (result) add(sums[at] as number[], result, first);
    }
    closeSync(input);
    return took;
  };
  pass(true);
  const passes = Array.from({ length: runs }, () => pass(false));
  return {
    seconds: passes.map(({ seconds }) => seconds),
    processor: passes.map(({ processor }) => processor),
    answer: sums,
  };
}

function add(sums: number[], result: Cleanliness.ClassColumns<string, string>, first: number): void {
  const all = [
    ...result.channels.map(({ classes }) => classes),
    result.classes,
    result.governing,
    result.status,
  ];
  for (const [at, values] of all.entries()) {
    let sum = 0;
    for (let row = 0; row < values.length; row += 1) {
      sum += ((values[row] as number) + 1) * (((first + row) % 9973) + 1);
    }
    sums[at] = (sums[at] ?? 0) + sum;
  }
}

const NUMPY = "numpy searchsorted";
const CLASSES_ONLY = "numpy searchsorted, classes alone";

export const columns: BenchRow<Job> = {
  name: "columns",
  rounds: 5,
  prepare,
  sides: [
    { name: "siltbook", run: ours },
    { name: NUMPY, python: "columns.py" },
    { name: CLASSES_ONLY, python: "columns_classes_only.py" },
  ],
  disagreements(result) {
    const [silt, numpy] = [result("siltbook").answer as Sums, result(NUMPY).answer as Sums];
    return TABLES.flatMap(({ standard }, at) =>
      JSON.stringify(silt[at]) === JSON.stringify(numpy[at])
        ? []
        : [`${standard}: check sums ${silt[at]} and ${numpy[at]}`],
    );
  },
  lines(result, { rows }) {
    const what = `classes of ${rows / 1e6} million rows by three standards, six channels`;
    return [
      ratioLine(what, result("siltbook"), result(NUMPY), 1),
      {
        what: "the same, where numpy finds neither status nor governing channel",
        ours: result("siltbook"),
        other: result(CLASSES_ONLY),
        value: result("siltbook").median / result(CLASSES_ONLY).median,
        unit: "×",
      },
    ];
  },
};
