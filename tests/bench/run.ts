// Measures siltbook against general tools on the same data and prints one table: npm run bench
// With --json as one document, with --markdown as the table of docs/making/performance.md, with --only <row> one row, with --quick on less data and one round,
// with --rounds <number> that often instead of as often as each row thinks good.
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { type MeasuredRow, measure } from "./measure.js";
import { describePython, findPython, HOW_TO_GET_PYTHON } from "./python.js";
import { ROWS } from "./rows.js";
import { asJson, asMarkdown, drawRows } from "./table.js";

const { values: asked } = parseArgs({
  options: {
    json: { type: "boolean", default: false },
    markdown: { type: "boolean", default: false },
    quick: { type: "boolean", default: false },
    rounds: { type: "string" },
    only: { type: "string", multiple: true },
  },
});
const unknown = asked.only?.find((only) => !ROWS.some(({ name }) => name === only));
if (unknown !== undefined) {
  process.stderr.write(
    `no row is called "${unknown}"; there are ${ROWS.map(({ name }) => name).join(", ")}\n`,
  );
  process.exit(2);
}
if (!existsSync(new URL("../../dist/public/index.js", import.meta.url))) {
  process.stderr.write("dist is not built; building it\n");
  if (spawnSync("npm", ["run", "build"], { stdio: "inherit" }).status !== 0) process.exit(2);
}

const python = findPython();
const loadBefore = loadavg()[0] as number;
const about = {
  cores: cpus().length,
  processor: cpus()[0]?.model ?? "",
  node: process.version,
  python: python === undefined ? null : describePython(python),
  day: new Date().toISOString().slice(0, 10),
  size: asked.quick ? "quick" : "full",
};
const folder = mkdtempSync(join(tmpdir(), "siltbook-bench-"));
const measured: MeasuredRow[] = [];
const broken: string[] = [];
try {
  for (const row of ROWS) {
    if (asked.only !== undefined && !asked.only.includes(row.name)) continue;
    process.stderr.write(`measuring ${row.name}\n`);
    const rounds = asked.quick ? 1 : Number(asked.rounds ?? row.rounds);
    try {
      measured.push(await measure({ ...row, rounds }, folder, asked.quick, python));
    } catch (error) {
      // The rows measured before, and those to come, take minutes each.
      broken.push(`${row.name}: not measured: ${(error as Error).message}`);
    }
  }
} finally {
  rmSync(folder, { recursive: true });
}
const machine = { ...about, load: [loadBefore, loadavg()[0] as number] as const };
if (asked.json) process.stdout.write(`${JSON.stringify({ machine, rows: measured.map(asJson) }, null, 2)}\n`);
else process.stdout.write(drawRows(machine, measured));
if (asked.markdown) process.stdout.write(`\n${asMarkdown(measured)}`);
if (python === undefined) process.stderr.write(`${HOW_TO_GET_PYTHON}\n`);
for (const one of broken) process.stderr.write(`${one}\n`);
process.exitCode = broken.length > 0 || measured.some(({ kind }) => kind === "disagree") ? 1 : 0;
