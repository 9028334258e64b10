/**
 * Runs the main job on the demo scenario: `npm run demo`.
 *
 * It calls the built command line as a user would and lets its output through.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../", import.meta.url));
process.chdir(root);

const COMMAND = "dist/cli/main.js";
const REPORT = "out/report.html";
const FLEET = [
  "--carts",
  "datasets/demo/carts.json",
  "--requirement",
  "datasets/demo/requirement.json",
  "datasets/demo/lab-tidy.csv",
  "datasets/demo/lab-semicolon.csv",
  "datasets/demo/lab-long.csv",
  "--on",
  "2026-11-20",
];
const COMMANDS = [
  ["judge", ...FLEET],
  ["report", ...FLEET, "--out", REPORT],
];

process.exitCode = show();

function show(): number {
  if (!existsSync(COMMAND)) {
    process.stderr.write(`${COMMAND} is missing: run "npm run build" first\n`);
    return 2;
  }
  mkdirSync("out", { recursive: true });
  // An old report must not pass for this run's.
  rmSync(REPORT, { force: true });
  let worst = 0;
  for (const command of COMMANDS) {
    process.stdout.write(`siltbook ${command.join(" ")}\n\n`);
    const { status } = spawnSync(process.execPath, [COMMAND, ...command], { stdio: "inherit" });
    if (!(status === 0 || status === 1)) return status ?? 2;
    worst = Math.max(worst, status);
    process.stdout.write("\n");
  }
  if (!existsSync(REPORT)) {
    process.stderr.write(`${REPORT} was not written\n`);
    return 2;
  }
  process.stdout.write(
    `The commands ended with exit code ${worst}: 1 says that a circuit is not fit to connect or that a row is in quarantine, ` +
      "which this invented demo shows.\n",
  );
  return 0;
}
