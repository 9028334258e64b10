import { basename } from "node:path";
import { allNotebooks } from "./running/all-notebooks.js";
import { checkTypes } from "./running/check-types.js";
import { compareOutputs, sayCell } from "./running/compare.js";
import { executeNotebook } from "./running/execute.js";
import { readNotebook, writeNotebook } from "./running/notebook-file.js";

/**
 * Runs every notebook with Node alone and compares what it shows with what it was committed with.
 *
 * @param write - write fresh outputs into the files instead of comparing
 * @returns whether every notebook ran and, unless written, showed what it was committed with
 */
async function runAll(write: boolean): Promise<boolean> {
  let allWell = true;
  for (const path of await allNotebooks()) {
    const problems = await runOne(path, write);
    console.log(
      `${basename(path)}: ${problems.length === 0 ? (write ? "written" : "as committed") : "not well"}`,
    );
    for (const problem of problems) console.error(problem);
    allWell = allWell && problems.length === 0;
  }
  if (!allWell) console.error("When a difference is meant, keep it with: npm run notebooks -- --write");
  return allWell;
}

async function runOne(path: string, write: boolean): Promise<string[]> {
  const committed = await readNotebook(path);
  const mistyped = checkTypes([{ path, notebook: committed }]);
  const { notebook, failure } = await executeNotebook(path, committed);
  if (failure !== undefined) return [...mistyped, `${sayCell(failure.cell)} failed:\n${failure.message}`];
  if (!write) return [...mistyped, ...compareOutputs(committed, notebook)];
  await writeNotebook(path, notebook);
  return mistyped;
}

const unknown = process.argv.slice(2).filter((argument) => argument !== "--write");
if (unknown.length > 0) {
  console.error(`expected no argument or --write, found ${unknown.join(" ")}`);
  process.exitCode = 2;
} else {
  process.exitCode = (await runAll(process.argv.includes("--write"))) ? 0 : 1;
}
