/** What one process that ran one side of a row brings back. */
export interface Answered {
  /** Seconds of each timed run. */
  readonly seconds: readonly number[];
  /** Processor seconds of each, user and system; they tell more than seconds when other programs are busy. */
  readonly processor: readonly number[];
  /** Most memory in MB, where a side starts programs of its own; that of its process when absent. */
  readonly peakMb?: number;
  /** What was computed, for holding the sides against each other; small. */
  readonly answer: unknown;
}

/** All runs of one side, over all its processes. */
export interface SideResult {
  readonly side: string;
  /** Rising. */
  readonly seconds: readonly number[];
  readonly median: number;
  /** Median of the processor seconds. */
  readonly processor: number;
  /** Most memory that any of its processes held resident, in MB of 10⁶ bytes, the program itself included. */
  readonly peakMb: number;
  readonly answer: unknown;
}

/** One side of a row: a function of the row's module, or a Python script beside it. Each runs in a process of its own. */
export type Side<J> =
  | { readonly name: string; run(job: J): Answered | Promise<Answered> }
  | { readonly name: string; readonly python: string };

/** One line of the table: what was measured, and what it is held against. */
export interface Line {
  readonly what: string;
  readonly ours: SideResult;
  readonly other?: SideResult;
  readonly value: number;
  readonly unit: "×" | "s" | "ms" | "MB";
  /** The target; the line is for information when absent. */
  readonly atMost?: number;
}

/** One row of the benchmark: data, sides that work on the same data, and what is expected. */
export interface BenchRow<J> {
  /** For `--only`. */
  readonly name: string;
  /** How often each side is started; the sides take turns. */
  readonly rounds: number;
  /** Makes the data in a folder. What comes back reaches every side as JSON. */
  prepare(folder: string, quick: boolean): J | Promise<J>;
  readonly sides: readonly Side<J>[];
  /** Says where the sides' answers differ; a ratio of different work is worth nothing. */
  disagreements(result: (side: string) => SideResult, job: J): string[];
  lines(result: (side: string) => SideResult, job: J): Line[];
}

/** Seconds and processor seconds since it was made. */
export class Clock {
  private readonly start = process.hrtime.bigint();
  private readonly used = process.cpuUsage();

  read(): { readonly seconds: number; readonly processor: number } {
    const { user, system } = process.cpuUsage(this.used);
    return { seconds: Number(process.hrtime.bigint() - this.start) / 1e9, processor: (user + system) / 1e6 };
  }
}

/** Runs something several times and keeps the times; the first run, in which code is compiled, is left out. */
export async function timed<T>(
  runs: number,
  work: () => T | Promise<T>,
): Promise<{ seconds: number[]; processor: number[]; last: T }> {
  let last = await work();
  const seconds: number[] = [];
  const processor: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const clock = new Clock();
    last = await work();
    const took = clock.read();
    seconds.push(took.seconds);
    processor.push(took.processor);
  }
  return { seconds, processor, last };
}

/** A line whose value is our time divided by the other side's. */
export function ratioLine(what: string, ours: SideResult, other: SideResult, atMost: number): Line {
  return { what, ours, other, value: ours.median / other.median, unit: "×", atMost };
}

/** A line whose value is our own time. */
export function timeLine(what: string, ours: SideResult, unit: "s" | "ms", atMost: number): Line {
  return { what, ours, value: ours.median * (unit === "ms" ? 1000 : 1), unit, atMost };
}
