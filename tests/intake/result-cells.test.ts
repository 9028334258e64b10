import { describe, expect, test } from "vitest";
import { isNotReported, readResultCell } from "../../src/intake/cells/cells.js";
import type { RawCell } from "../../src/intake/rows/row.js";

type Arguments = Parameters<typeof readResultCell>;
const UNITS = ["ppm", "%", "mg KOH/g"];

function read(cell: RawCell, convention: Arguments[1] = "not-shown", more: Partial<Arguments[2]> = {}) {
  return readResultCell(cell, convention, { isUnit: (text) => UNITS.includes(text), ...more });
}

/** What was expected in the place of a cell. */
const expectedFor = (...given: Parameters<typeof read>) => {
  const found = read(...given);
  return found.kind === "refused" ? `${found.code}: ${found.expected}` : found;
};

const NUMBER = "cell-not-read: a number of 0 or more";
const NOTHING_AFTER = "cell-not-read: a number (a unit or a known note may follow)";

test.each<[...Parameters<typeof read>, string]>([
  ["abc", "not-shown", {}, NUMBER],
  ["abc", "contradicting", {}, NUMBER],
  ["abc", ".", {}, `${NUMBER} with "." as decimal mark`],
  ["abc", () => ",", {}, `${NUMBER} with "," as decimal mark`],
  ["n/a", "not-shown", {}, `${NUMBER}; a column map can say that "n/a" is not measured`],
  ["N.T.", ",", {}, `${NUMBER}; a column map can say that "N.T." is not measured`],
  ["< abc", "not-shown", {}, "cell-not-read: a number after the sign"],
  ["1e999", "not-shown", {}, "cell-not-read: a number of 0 or more and below 1.8e308"],
  ["12 (diluted) ", "not-shown", {}, NOTHING_AFTER],
  ["12 of 13", "not-shown", {}, NOTHING_AFTER],
  ["9".repeat(201), "not-shown", {}, NUMBER],
  [-1, "not-shown", {}, NUMBER],
  [Number.POSITIVE_INFINITY, "not-shown", {}, NUMBER],
  [
    1e-310,
    "not-shown",
    {},
    "cell-not-read: 0 or a number of at least 1e-300: a smaller one becomes 0 when it is read",
  ],
])("%j by %s %j is refused: %s", (cell, convention, more, expected) => {
  expect(expectedFor(cell, convention, more)).toBe(expected);
});

test("a number with two readings is refused as one, and names both", () => {
  expect(expectedFor("1.500")).toMatch(/^cell-ambiguous: .*\(1.5 or 1500\?\)/);
});

test.each<[RawCell, boolean, number]>([
  [12.5, false, 12.5],
  [0, false, 0],
  [-0, false, 0],
  [-12.5, true, -12.5],
  [" 12 ", false, 12],
  ["9".repeat(200), false, 1e200],
  ["-5", true, -5],
  ["+5", true, 5],
  ["-0", true, 0],
  // The sign of an exponent is none of the number.
  ["2e-1", true, 0.2],
])("%j, where numbers below zero are possible: %s, is the number %d", (cell, signed, value) => {
  expect(read(cell, "not-shown", { signed })).toEqual({ kind: "number", value, unit: "" });
});

test("a number that the mark of the file decided says so, with its limit, its unit and its note", () => {
  const number = { kind: "number", value: 1500 };
  expect(read("1,500", ".")).toEqual({ ...number, byConvention: true, unit: "" });
  expect(read("< 1,500 ppm *", () => ".")).toEqual({
    ...{ ...number, byConvention: true, limit: "below", unit: "ppm", note: "*" },
  });
});

describe("what comes after a number", () => {
  test.each<[string, string, string?]>([
    ["120 ppm", "ppm"],
    ["120ppm", "ppm"],
    ["120 mg KOH/g", "mg KOH/g"],
    ["120 mg KOH/g †", "mg KOH/g", "†"],
    ["120 mg KOH/g**", "mg KOH/g", "**"],
    ["120 ppm (repeat)", "ppm", "(repeat)"],
    ["120 ppm [re-run].", "ppm", "[re-run]."],
    ["120 ppm high", "ppm", "high"],
    ["120 % ± 5 %", "%", "± 5 %"],
    ["120 ± 5 % %", "%", "± 5 %"],
    ["120 ppm ± 5 %", "ppm", "± 5 %"],
    ["120 ± 5", "", "± 5"],
  ])("%j is the unit %j and the note %j", (text, unit, note) => {
    expect(read(text)).toEqual({ kind: "number", value: 120, unit, ...(note && { note }) });
  });

  test.each([
    "120 xyz *",
    "120 xyz repeat",
    "120 ppm diluted",
    "120 ppm repeat diluted",
    "120 ppm repeat %",
    "120 *ppm",
    // Whether the number is in per cent too is not known.
    "120 ± 5 %",
    "120 ppm ± 5 xyz",
    "120 ppm ± 5 mg KOH/g",
    "120 ppm ppm",
    "120 xppm ± 5 ppm",
    "120 ppm ± 5 ppm ppm",
  ])("%j is refused", (text) => {
    expect(expectedFor(text)).toMatch(NOTHING_AFTER);
  });

  test("a scatter in per cent belongs to a number whose column knows no per cent", () => {
    const isUnit = (text: string) => text === "ppm";
    expect(read("120 ± 5 %", "not-shown", { isUnit })).toMatchObject({ value: 120, note: "± 5 %" });
  });
});

test("what a column map says comes before what a text looks like", () => {
  const settled = { blanks: ["9999", "x"], resultWords: new Map([["0", "not-detected"]] as const) };
  const isUnit = () => false;
  const readBy = (cell: string) => readResultCell(cell, ".", { isUnit }, settled);
  expect(readBy(" 9999 ")).toEqual({ kind: "blank" });
  expect(readBy("x")).toEqual({ kind: "blank" });
  expect(readBy("0")).toEqual({ kind: "words", said: "not-detected" });
  expect(readBy("10")).toMatchObject({ kind: "number", value: 10 });
  expect(readBy("n/a")).toMatchObject({ kind: "refused" });
});

test.each<[string, boolean]>([
  ...["", "-", "not measured", "n/a", "none given", "not applicable", "No data.", "unknown", "nil"].map(
    (text): [string, boolean] => [text, true],
  ),
  ...["none", "not clear", "no free water", "0", "unknown fluid", "x"].map((text): [string, boolean] => [
    ...([text, false] as const),
  ]),
])("%j says nothing: %s", (text, says) => {
  expect(isNotReported(text)).toBe(says);
});
