import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { HANG_MS } from "../support/hang.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const CLI = join(import.meta.dirname, "..", "..", "dist", "cli", "main.js");
const folder = temporaryFolder();

/** Runs the built command with its output sent somewhere by the shell. */
function runInto(target: string, ...args: string[]) {
  return spawnSync("sh", ["-c", `"$0" "$@" ${target}`, process.execPath, CLI, ...args], {
    encoding: "utf8",
    timeout: HANG_MS,
  });
}

test("whoever reads the output may stop early: the job is done to its end and nothing is complained of", () => {
  const book = join(folder, "early.siltbook");
  const files = ["a", "b"].map((name) => {
    const file = join(folder, `${name}.csv`);
    writeFileSync(
      file,
      `sample,cart,circuit,drawn on,water (mg/kg)\n${name},C-1,1,2026-03-04,120\n${name}-2,C-1,1,2026-03-05,90\n`,
    );
    return file;
  });
  const { stderr } = runInto("| true", "import", "--book", book, ...files);
  expect(stderr).toBe("");
  const opened = Book.open(book);
  expect([...opened.samples()].map(({ sample }) => sample)).toEqual(["a", "b", "a-2", "b-2"]);
  opened.close();
});

test("an output that cannot be written is said in one line and ends with 2", () => {
  const { stderr, status } = runInto("> /dev/full", "--help");
  expect(stderr).toBe(
    "siltbook: the output could not be written (ENOSPC); say where it is to go and do it again\n",
  );
  expect(status).toBe(2);
});
