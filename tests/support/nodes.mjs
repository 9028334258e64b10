// Runs tests that touch files, the database and the command line on the other supported versions of Node, each
// taken from the registry: npm run test:nodes
import { spawnSync } from "node:child_process";

const MAJORS = [22, 24];
const RUN = ["node_modules/vitest/vitest.mjs", "run", "--project", "quick", "--reporter", "dot"];
const TESTS = ["tests/book/book.test.ts", "tests/cli/cli.test.ts", "tests/cli/cli-import.test.ts"];

function onNode(major, ...args) {
  return spawnSync("npx", ["--yes", "--package", `node@${major}`, "--", "node", ...args], {
    encoding: "utf8",
    maxBuffer: Number.POSITIVE_INFINITY,
    env: { ...process.env, NO_COLOR: "1" },
  });
}

for (const major of MAJORS) {
  const version = onNode(major, "--version");
  if (version.status !== 0) {
    process.stdout.write(`Node ${major}: not tried, because the registry did not give it\n`);
    continue;
  }
  const run = onNode(major, ...RUN, ...TESTS);
  const isWell = run.status === 0;
  if (!isWell) process.stdout.write(run.stdout + run.stderr);
  process.stdout.write(`Node ${version.stdout.trim()}: ${isWell ? "all well" : "FAILED"}\n`);
  if (!isWell) process.exitCode = 1;
}
