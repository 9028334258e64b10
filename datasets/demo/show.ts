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

/** Circuits of the invented fleet that show what siltbook is for, and what each shows. */
const WORTH_SEEING: readonly (readonly [circuit: string, shows: string])[] = [
  ["QB-01 fore", "everything is within its limits"],
  ["QB-02 fore", "particles: how long to circulate, with room for what is not known"],
  ["QB-02 aft", "water: no filter removes it, so circulating does not help"],
  ["QB-05 aft", "a newer result cannot be read, so the older one does not count"],
  ["QB-07 main", "the bottle's label names another fluid"],
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
  let said = "";
  for (const command of COMMANDS) {
    process.stdout.write(`siltbook ${command.join(" ")}\n\n`);
    const { status, stdout } = spawnSync(process.execPath, [COMMAND, ...command], {
      stdio: ["inherit", "pipe", "inherit"],
      encoding: "utf8",
    });
    process.stdout.write(stdout);
    said += stdout;
    if (!(status === 0 || status === 1)) return status ?? 2;
    worst = Math.max(worst, status);
    process.stdout.write("\n");
  }
  if (!existsSync(REPORT)) {
    process.stderr.write(`${REPORT} was not written\n`);
    return 2;
  }
  process.stdout.write(`${inShort(said)}
The report is in ${REPORT}; open it in a browser.
Exit code ${worst}: a circuit is not fit to connect, or a row is in quarantine. Both are
meant in this invented demo.
`);
  return 0;
}

/** What was judged, and the circuits worth seeing as the command line says them. */
function inShort(said: string): string {
  const [head = ""] = said.match(/^\d+ of \d+ circuits fit to connect on [\d-]+/m) ?? [];
  const lines = WORTH_SEEING.map(([circuit, shows]) => {
    const line = said.split("\n").find((one) => one.startsWith(`${circuit} `));
    if (line === undefined) throw new Error(`the demonstration no longer shows ${circuit}`);
    return `${line.replace(/;.*/, "")}\n            (${shows})\n`;
  });
  return `In short: ${head}.\nWorth seeing:\n\n${lines.join("")}`;
}
