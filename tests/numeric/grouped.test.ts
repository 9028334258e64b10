import { expect, test } from "vitest";
import { grouped } from "../../src/numeric/index.js";

test.each<readonly [string, readonly number[], readonly (readonly [string, readonly number[]])[]]>([
  ["nothing", [], []],
  ["one", [4], [["even", [4]]]],
  [
    "the groups in the order in which the first of each came, and each in its own order",
    [3, 8, 1, 2, 3],
    [
      ["odd", [3, 1, 3]],
      ["even", [8, 2]],
    ],
  ],
])("%s", (_, all, groups) => {
  expect([...grouped(all, (one) => (one % 2 === 0 ? "even" : "odd"))]).toEqual(groups);
});

test("each key is asked for once", () => {
  let asked = 0;
  const all = Array.from({ length: 1000 }, (_, place) => place);
  grouped(all, () => {
    asked += 1;
    return "all";
  });
  expect(asked).toBe(1000);
});
