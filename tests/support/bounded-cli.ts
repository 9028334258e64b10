import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { HANG_MS } from "./hang.js";

const ROOT = join(import.meta.dirname, "..", "..");

/** How a command ended that had a generous time and no more. */
export interface BoundedRun {
  /** null when it had to be killed. */
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
  readonly peakMb: number;
}

/** Runs the built command line in a program of its own, which is killed when it takes longer than a minute. */
export function runBounded(folder: string, ...args: string[]): BoundedRun {
  const peakFile = join(folder, "peak.txt");
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [
      "--import",
      join(ROOT, "tests", "support", "peak-memory.mjs"),
      join(ROOT, "dist", "cli", "main.js"),
      ...args,
    ],
    {
      timeout: HANG_MS,
      killSignal: "SIGKILL",
      maxBuffer: 1e9,
      encoding: "utf8",
      env: { ...process.env, PEAK_FILE: peakFile },
    },
  );
  return {
    code: status,
    out: stdout,
    err: stderr,
    peakMb: status === null ? Number.POSITIVE_INFINITY : Number(readFileSync(peakFile, "utf8")),
  };
}
