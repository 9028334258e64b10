import { basename, resolve } from "node:path";
import { allNotebooks } from "./running/all-notebooks.js";
import { checkTypes } from "./running/check-types.js";
import { compareOutputs, formatCell } from "./running/compare.js";
import { executeNotebook } from "./running/execute.js";
import { readNotebook, writeNotebook } from "./running/notebook-file.js";

/**
 * Runs notebooks with Node alone and compares what they show with what they were committed with.
 *
 * @param paths - the notebooks; every one of the project when there are none
 * @param write - write fresh outputs into the files instead of comparing
 * @returns whether every notebook ran and, unless written, showed what it was committed with
 */
async function runAll(paths: readonly string[], write: boolean): Promise<boolean> {
  let allWell = true;
  for (const path of paths.length === 0 ? await allNotebooks() : paths) {
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
  if (failure !== undefined) return [...mistyped, `${formatCell(failure.cell)} failed:\n${failure.message}`];
  if (!write) return [...mistyped, ...compareOutputs(committed, notebook)];
  await writeNotebook(path, notebook);
  return mistyped;
}

const given = process.argv.slice(2).filter((argument) => argument !== "--write");
const unknown = given.filter((argument) => !argument.endsWith(".ipynb"));
if (unknown.length > 0) {
  console.error(`expected notebooks (.ipynb) or --write, found ${unknown.join(" ")}`);
  process.exitCode = 2;
} else {
  const paths = given.map((path) => resolve(path));
  process.exitCode = (await runAll(paths, process.argv.includes("--write"))) ? 0 : 1;
}
