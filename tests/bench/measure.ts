import { spawn } from "node:child_process";
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Answered, BenchRow, Line, Side, SideResult } from "./row.js";

const HERE = dirname(fileURLToPath(import.meta.url));

/** A row measured: its lines, or why it has none. */
export type MeasuredRow =
  | { readonly kind: "measured"; readonly row: string; readonly lines: readonly Line[] }
  | { readonly kind: "not-measured"; readonly row: string }
  | { readonly kind: "disagree"; readonly row: string; readonly differences: readonly string[] };

/**
 * Measures one row. The sides take turns, so that a busy machine slows all of them alike.
 *
 * @param python - an interpreter with the packages; without one, a row that needs it is not measured
 */
export async function measure<J>(
  row: BenchRow<J>,
  folder: string,
  quick: boolean,
  python: string | undefined,
): Promise<MeasuredRow> {
  if (python === undefined && row.sides.some((side) => "python" in side)) {
    return { kind: "not-measured", row: row.name };
  }
  const job = await row.prepare(folder, quick);
  const jobFile = join(folder, `${row.name}.json`);
  writeFileSync(jobFile, JSON.stringify(job));
  const runs = new Map<string, ChildAnswer[]>(row.sides.map(({ name }) => [name, []]));
  for (let round = 0; round < row.rounds; round += 1) {
    for (const side of row.sides) runs.get(side.name)?.push(await runSide(row, side, jobFile, python));
  }
  const result = (side: string) => together(side, runs.get(side) ?? []);
  const differences = row.disagreements(result, job);
  return differences.length > 0
    ? { kind: "disagree", row: row.name, differences }
    : { kind: "measured", row: row.name, lines: row.lines(result, job) };
}

interface ChildAnswer extends Answered {
  readonly peakMb: number;
}

function runSide<J>(
  row: BenchRow<J>,
  side: Side<J>,
  jobFile: string,
  python: string | undefined,
): Promise<ChildAnswer> {
  return "python" in side
    ? runProgram(python as string, [join(HERE, side.python), jobFile])
    : runProgram(process.execPath, ["--import", "tsx", join(HERE, "child.ts"), row.name, side.name, jobFile]);
}

function runProgram(program: string, args: readonly string[]): Promise<ChildAnswer> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, {
      stdio: ["ignore", "pipe", "inherit"],
      env: { ...process.env, ...CHILD },
    });
    let text = "";
    child.stdout.on("data", (chunk) => {
      text += chunk;
    });
    child.on("error", reject);
    child.on("close", (code) => {
      if (code === 0) resolve(JSON.parse(text) as ChildAnswer);
      else reject(new Error(`${program} ${args.join(" ")} ended with ${code}`));
    });
  });
}

/** Both sides compute in one thread; Python leaves no compiled files in the folder. */
const CHILD = {
  PYTHONDONTWRITEBYTECODE: "1",
  OMP_NUM_THREADS: "1",
  OPENBLAS_NUM_THREADS: "1",
  MKL_NUM_THREADS: "1",
};

function together(side: string, answers: readonly ChildAnswer[]): SideResult {
  const first = answers[0];
  if (first === undefined) throw new RangeError(`no side is called "${side}"`);
  const sorted = (pick: (answer: ChildAnswer) => readonly number[]) =>
    answers.flatMap(pick).sort((a, b) => a - b);
  const seconds = sorted((answer) => answer.seconds);
  return {
    side,
    seconds,
    median: middleOf(seconds),
    processor: middleOf(sorted((answer) => answer.processor)),
    peakMb: Math.max(...answers.map((answer) => answer.peakMb)),
    answer: first.answer,
  };
}

function middleOf(sorted: readonly number[]): number {
  const middle = sorted.length >> 1;
  const upper = sorted[middle] as number;
  return sorted.length % 2 === 1 ? upper : (upper + (sorted[middle - 1] as number)) / 2;
}
