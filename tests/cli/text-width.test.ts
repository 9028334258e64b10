import { createRequire } from "node:module";
import { expect, test } from "vitest";

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
