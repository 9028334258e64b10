import { describe, expect, test } from "vitest";
import { describeUnread } from "../../src/fitness/fleet/describe-unread.js";

const OWN = { cart: "C-1", circuit: "aft" };
const at = (row: number, names: { cart?: string; circuit?: string }) => ({
  where: `lab.csv row ${row}`,
  ...names,
});

// A quoted cell of a text file may hold a line feed.
describe("rows with other names are other reasons:", () => {
  test.each([
    ["a line feed in the cart", { cart: "C-1\naft" }, { cart: "C-1", circuit: "aft" }],
    ["a line feed in the circuit", { circuit: "C-1\naft" }, { cart: "C-1", circuit: "aft" }],
    ["no circuit, and one that is called undefined", { cart: "C-1" }, { cart: "C-1", circuit: "undefined" }],
    ["line feeds in both", { cart: "C-1\n", circuit: "aft" }, { cart: "C-1", circuit: "\naft" }],
  ])("%s", (_, one, other) => {
    expect(describeUnread([at(2, one), at(3, other)], OWN)).toHaveLength(2);
  });

  test("rows with the same names are one", () => {
    const [reason, ...more] = describeUnread([at(2, OWN), at(3, OWN)], OWN);
    expect(more).toEqual([]);
    expect(reason?.message).toContain("lab.csv rows 2");
  });
});
