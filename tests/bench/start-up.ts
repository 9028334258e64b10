// Row "start-up": processor time of a whole command, user and system together, over that of a program that does nothing.
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Answered, BenchRow } from "./row.js";

const PRELOAD = fileURLToPath(new URL("cpu-time.cjs", import.meta.url));
const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
const CLASSIFY = [MAIN, "classify", "--counts", "4=15000 6=1200 14=75"];

interface Job {
  readonly folder: string;
  readonly runs: number;
}

function cpuOf(args: readonly string[], { folder, runs }: Job): Answered {
  const file = join(folder, "cpu.json");
  const each = Array.from({ length: runs + 1 }, () => {
    const { status, stdout } = spawnSync(process.execPath, ["--require", PRELOAD, ...args], {
      env: { ...process.env, SILTBOOK_CPU: file },
    });
    const used = JSON.parse(readFileSync(file, "utf8")) as { seconds: number; peakMb: number };
    return { ...used, answer: { status, said: String(stdout) } };
  });
  const counted = each.slice(1);
  return {
    seconds: counted.map(({ seconds }) => seconds),
    processor: counted.map(({ seconds }) => seconds),
    peakMb: Math.max(...counted.map(({ peakMb }) => peakMb)),
    answer: each[0]?.answer,
  };
}

const BARE = "bare node -e 0";

export const startUp: BenchRow<Job> = {
  name: "start-up",
  rounds: 5,
  prepare: (folder, quick) => ({ folder, runs: quick ? 5 : 3 }),
  sides: [
    { name: "siltbook", run: (job) => cpuOf(CLASSIFY, job) },
    { name: BARE, run: (job) => cpuOf(["-e", "0"], job) },
  ],
  disagreements(result) {
    const { status, said } = result("siltbook").answer as { status: number; said: string };
    return status === 0 && said.includes("21/17/13")
      ? []
      : [`classify ended with ${status} and said "${said}"`];
  },
  lines(result) {
    const [ours, bare] = [result("siltbook"), result(BARE)];
    return [
      {
        what: "processor time of the command classify over bare node",
        ours,
        other: bare,
        value: 1000 * (ours.median - bare.median),
        unit: "ms",
        atMost: 150,
      },
    ];
  },
};
