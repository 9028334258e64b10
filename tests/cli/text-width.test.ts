import { createRequire } from "node:module";
import { expect, test } from "vitest";
import { COMMANDS } from "../fuzz/grammar.js";
import { run } from "../support/run-cli.js";

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
