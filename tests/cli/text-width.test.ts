import { createRequire } from "node:module";
import { expect, test } from "vitest";
import { COMMANDS } from "../fuzz/grammar.js";
import { callsOverDemo } from "../support/calls-over-demo.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const require = createRequire(import.meta.url);
const bundled = require("../../src/bundles/string-width.cjs") as (text: string) => number;
const known = require("string-width") as (text: string) => number;

test("the command line measures every character as the package does that it takes over from", () => {
  const differing = Array.from({ length: 0x20000 }, (_, code) => String.fromCodePoint(code)).filter(
    (text) => bundled(text) !== known(text),
  );
  expect(differing).toEqual([]);
});

test.each([
  "QB-01 fore",
  "4 µm(c) ≥ 1300 → 17/15/12 …",
  "température 40 °C",
  "試料 12",
  "ok ✅",
  "a\u0301",
  "👩‍🔧 C-1",
  "\u001b[1mbold\u001b[0m",
])("and so it does %s", (text) => {
  expect(bundled(text)).toBe(known(text));
});

test.each(["", ...Object.keys(COMMANDS)])("the sentences of %s --help fit 80 columns", async (command) => {
  const { out } = await run(...(command === "" ? [] : [command]), "--help");
  expect(out).toContain("Usage: siltbook");
  // What is indented is an option, which the reader of the command line wraps, or a command to be copied whole.
  expect(out.split("\n").filter((line) => /^\S.{80,}$/.test(line))).toEqual([]);
});

test("every command answers in lines of at most 80 columns, with --explain too", async () => {
  const { calls, write } = callsOverDemo(temporaryFolder());
  write();
  const wide: string[] = [];
  const explained = new Set<string>();
  for (const [command, ...words] of calls) {
    // All there is to say is said in the same words by every further call.
    const isFirst = !explained.has(command) && "--explain" in (COMMANDS[command]?.may ?? {});
    explained.add(command);
    for (const more of isFirst ? [[], ["--explain"]] : [[]]) {
      const { out, err } = await run(command, ...words, ...more);
      expect([command, out === "" ? err : ""]).toEqual([command, ""]);
      // A command to be copied stays whole, and so does a row as its file has it.
      const lines = out.split("\n").filter((line) => !/^ *siltbook |\t/.test(line));
      wide.push(...lines.filter((line) => [...line].length > 80 || isBrokenRow(line)));
    }
  }
  expect(wide).toEqual([]);
});

/** A row of a table that was too wide, and so was wrapped. */
function isBrokenRow(line: string): boolean {
  return /^[┌├└│]/.test(line) && !/[┐┤┘│]$/.test(line);
}
