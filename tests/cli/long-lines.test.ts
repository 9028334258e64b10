import { expect, test } from "vitest";
import { drawList, drawTable } from "../../src/cli/text.js";

// In the old way the work grew with the cube of the length, so that this test would not end.
test("a line or cell as long as a file is cut, with its length", () => {
  const long = "a b".repeat(50_000);
  expect(drawList([["C-1", ["short", long]]])).toContain("(150000");
  expect(drawTable(["fluid"], [[long]])).toContain("… (150000 characters)");
  expect(drawTable(["fluid"], [["AS1241 Type IV"]])).toContain("AS1241 Type IV");
});
