import { expect, test } from "vitest";
import { numbersFinder } from "../../src/book/taking-in/numbers-in-text.js";

/** [a number, texts that name it, texts that name others] */
const CASES: readonly [string, readonly string[], readonly string[]][] = [
  [
    "S-1",
    [
      "S-1",
      "S-1,C-1,fore",
      "C-1;S-1;fore",
      "Sample: S-1",
      "Sample:S-1",
      "'S-1\t350",
      '{"sample":"S-1"}',
      "of S-1.",
      "- S-1",
      "-S-1/ C-1",
    ],
    ["S-1-2", "S-10", "XS-1", "2-S-1", "S-1/2", "S 1", "S-1a", "S-1.5"],
  ],
  ["S 2", ["S 2", "S  2  C-1", "S\t2", "Sample S 2; 350"], ["S 20", "S2", "S-2"]],
  [
    "12",
    ["12", "12,C-1", "Sample:12", "a 12; 350", "12. sample"],
    ["2026-03-12", "12.5", "0.12", "12:30", "9:12", "112"],
  ],
  ["Probe é", ["Probe e\u0301;C-1"], ["Probe éa"]],
  ["(7)", ["(7),C-1", "Sample (7)"], ["7", "(71)"]],
];

test.each(CASES)(
  "the number %s is found where a text names it, and not in a longer one",
  (number, with_, without) => {
    const numbersIn = numbersFinder([number, "X-9"]);
    for (const text of with_) expect([text, ...numbersIn(text)]).toEqual([text, number]);
    for (const text of without) expect([text, ...numbersIn(text)]).toEqual([text]);
  },
);

test("of numbers that begin alike each is found by itself", () => {
  const numbersIn = numbersFinder(["S-1", "S-1-2", "S 1"]);
  expect([...numbersIn("S-1-2,S 1")].sort()).toEqual(["S 1", "S-1-2"]);
  expect([...numbersIn("S-1,S-1-2,S-1")].sort()).toEqual(["S-1", "S-1-2"]);
});

test("of thousands of numbers with one first word those are found that a text names, of any length and place", () => {
  const numbers = Array.from({ length: 3000 }, (_, place) => `26-${place}`);
  const numbersIn = numbersFinder([...numbers, "(26-7)", "#26", "26"]);
  expect([...numbersIn("26-12; 26-2999, 26-3000 and 26-012")]).toEqual(["26-12", "26-2999"]);
  expect([...numbersIn("26")]).toEqual(["26"]);
  expect(numbersIn("see (26-7) and #26")).toEqual(new Set(["26-7", "(26-7)", "26", "#26"]));
});
