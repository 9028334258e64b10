// Row "start-up": what a whole command takes over a program that does nothing: processor time, user and system together, of
// classify; time by the clock of judge with a file of 200 rows.
import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Answered, BenchRow } from "./row.js";

const PRELOAD = fileURLToPath(new URL("cpu-time.cjs", import.meta.url));
const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
const DEMO = fileURLToPath(new URL("../../datasets/demo/", import.meta.url));
const CLASSIFY = [MAIN, "classify", "--counts", "4=15000 6=1200 14=75"];

interface Job {
  readonly folder: string;
  readonly file: string;
  readonly runs: number;
}

const ROWS_JUDGED = 200;

/** A file of results, one a week for each circuit of the demo. */
function writeResults(file: string): void {
  const { carts } = JSON.parse(readFileSync(join(DEMO, "carts.json"), "utf8")) as {
    carts: { cart: string; circuits: { circuit: string }[] }[];
  };
  const circuits = carts.flatMap(({ cart, circuits }) => circuits.map(({ circuit }) => `${cart},${circuit}`));
  const lines = Array.from({ length: ROWS_JUDGED }, (_, row) => {
    const week = Math.floor(row / circuits.length);
    const day = new Date(Date.UTC(2026, 0, 5 + 7 * week)).toISOString().slice(0, 10);
    const at4 = 1500 + ((row * 37) % 500);
    const counts = [at4, Math.round(at4 / 4), Math.round(at4 / 30)];
    return [`S-${row}`, circuits[row % circuits.length], day, ...counts, 100 + (row % 40)].join(",");
  });
  const header = "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg)";
  writeFileSync(file, [header, ...lines].join("\n"));
}

const judge = ({ file }: Job) => [
  ...[MAIN, "judge", "--carts", join(DEMO, "carts.json"), "--requirement", join(DEMO, "requirement.json")],
  ...["--on", "2026-11-20", file],
];

function timesOf(args: readonly string[], { folder, runs }: Job, by: "clock" | "processor"): Answered {
  const file = join(folder, "cpu.json");
  const each = Array.from({ length: runs + 1 }, () => {
    const start = performance.now();
    const { status, stdout } = spawnSync(process.execPath, ["--require", PRELOAD, ...args], {
      env: { ...process.env, SILTBOOK_CPU: file },
    });
    const clock = (performance.now() - start) / 1000;
    const used = JSON.parse(readFileSync(file, "utf8")) as { seconds: number; peakMb: number };
    return { ...used, clock, answer: { status, said: String(stdout) } };
  });
  const counted = each.slice(1);
  return {
    seconds: counted.map(({ seconds, clock }) => (by === "clock" ? clock : seconds)),
    processor: counted.map(({ seconds }) => seconds),
    peakMb: Math.max(...counted.map(({ peakMb }) => peakMb)),
    answer: each[0]?.answer,
  };
}

const BARE = "bare node -e 0";
const JUDGE = "siltbook judge";
const BARE_BY_CLOCK = "bare node -e 0 by the clock";

export const startUp: BenchRow<Job> = {
  name: "start-up",
  rounds: 5,
  prepare(folder, quick) {
    const file = join(folder, "results.csv");
    writeResults(file);
    return { folder, file, runs: quick ? 5 : 3 };
  },
  sides: [
    { name: "siltbook", run: (job) => timesOf(CLASSIFY, job, "processor") },
    { name: BARE, run: (job) => timesOf(["-e", "0"], job, "processor") },
    { name: JUDGE, run: (job) => timesOf(judge(job), job, "clock") },
    { name: BARE_BY_CLOCK, run: (job) => timesOf(["-e", "0"], job, "clock") },
  ],
  disagreements(result) {
    type Said = { status: number; said: string };
    const [classified, judged] = [result("siltbook").answer as Said, result(JUDGE).answer as Said];
    return [
      ...(classified.status === 0 && classified.said.includes("21/17/13") ? [] : [classified]),
      ...(judged.status < 2 && judged.said.includes("QB-01") ? [] : [judged]),
    ].map(({ status, said }) => `a command ended with ${status} and said "${said}"`);
  },
  lines(result) {
    const [ours, bare] = [result("siltbook"), result(BARE)];
    const [judged, bareByClock] = [result(JUDGE), result(BARE_BY_CLOCK)];
    return [
      {
        what: "processor time of the command classify over bare node",
        ours,
        other: bare,
        value: 1000 * (ours.median - bare.median),
        unit: "ms",
        atMost: 150,
      },
      {
        what: `a file of ${ROWS_JUDGED} rows through judge, over bare node`,
        ours: judged,
        other: bareByClock,
        value: judged.median - bareByClock.median,
        unit: "s",
        atMost: 0.3,
      },
    ];
  },
};
