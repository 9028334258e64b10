import { describe, expect, test } from "vitest";
import {
  DecimalEvidence,
  hasFigure,
  isTooSmall,
  markOf,
  markOfFile,
  NUMBERS_KEPT,
  readNumber,
} from "../../src/intake/cells/numbers.js";

test.each([
  ["123", 3],
  ["0", 1],
  ["9", 1],
  ["1.5", 1],
  ["12,34", 2],
  [",5", 0],
  ["5.", -1],
  [".", -1],
  ["1.2.3", -1],
  ["1,2.3", -1],
  ["", -1],
  ["a", -1],
  ["1/2", -1],
  ["1:2", -1],
  ["-1", -1],
  [" 1", -1],
])("the decimal mark of %j is at %d", (text, at) => {
  expect(markOf(text)).toBe(at);
});

/** A number; one that the convention of the file decided, in a list; or why it is not a number. */
function reading(text: string, given: Parameters<typeof readNumber>[1]) {
  const read = readNumber(text, given);
  if (read.kind !== "read") return read.kind === "refused" ? (read.expected ?? "refused") : read.expected;
  return read.byConvention ? [read.value] : read.value;
}

const NOT_SHOWN = "does not show whether its decimal mark is a point or a comma";
const open = (why: string, point: number, comma: number) =>
  `a number with one reading, because the file ${why} (${point} or ${comma}?); a column map can say`;

describe("a number has the reading that its file shows", () => {
  // By a decimal point, by a decimal comma, and where the file shows neither.
  test.each<[string, unknown, unknown, unknown]>([
    ["0", 0, 0, 0],
    ["1500", 1500, 1500, 1500],
    ["1.5", 1.5, "refused", 1.5],
    ["1,5", "refused", 1.5, 1.5],
    ["1.500", [1.5], [1500], open(NOT_SHOWN, 1.5, 1500)],
    ["12,500", [12_500], [12.5], open(NOT_SHOWN, 12_500, 12.5)],
    ["123.500", [123.5], [123_500], open(NOT_SHOWN, 123.5, 123_500)],
    // Thousands are in groups of three after one to three figures that do not begin with a zero.
    ["1234.500", 1234.5, "refused", 1234.5],
    ["0.500", 0.5, "refused", 0.5],
    ["0,500", "refused", 0.5, 0.5],
    [".500", 0.5, "refused", 0.5],
    [",500", "refused", 0.5, 0.5],
    ["1.5000", 1.5, "refused", 1.5],
    ["1.50", 1.5, "refused", 1.5],
    ["1,234.5", 1234.5, "refused", 1234.5],
    ["1.234,5", "refused", 1234.5, 1234.5],
    ["1.234.567", "refused", 1_234_567, 1_234_567],
    ["1,234,567", 1_234_567, "refused", 1_234_567],
    ["1 234", 1234, 1234, 1234],
    ["1’234.5", 1234.5, "refused", 1234.5],
    ["1\u202f234,5", "refused", 1234.5, 1234.5],
    ["12,34,567", "refused", "refused", "refused"],
    ["1.23.456", "refused", "refused", "refused"],
    ["1e3", 1000, 1000, 1000],
    ["1.5E+3", 1500, "refused", 1500],
    ["1,5e-3", "refused", 0.0015, 0.0015],
    ["", "refused", "refused", "refused"],
    ["5.", "refused", "refused", "refused"],
    ["-5", "refused", "refused", "refused"],
    ["1O4", "refused", "refused", "refused"],
  ])("%j", (text, point, comma, neither) => {
    expect([".", ",", "not-shown"].map((given) => reading(text, given as "."))).toEqual([
      point,
      comma,
      neither,
    ]);
  });

  test("a file that uses both marks shows neither", () => {
    expect(reading("1.500", "contradicting")).toBe(open("uses both marks elsewhere", 1.5, 1500));
    expect(reading("1.5", "contradicting")).toBe(1.5);
  });

  test("the file is asked only where a number has two readings, and is not held against one", () => {
    const never = () => {
      throw new Error("asked");
    };
    expect(["1500", "1.5", "1,5", "0,500", "x"].map((text) => reading(text, never))).toEqual([
      ...[1500, 1.5, 1.5, 0.5, "refused"],
    ]);
    expect([reading("1.500", () => "."), reading("1.500", () => ",")]).toEqual([[1.5], [1500]]);
    expect(reading("1.500", () => "not-shown")).toBe(open(NOT_SHOWN, 1.5, 1500));
  });
});

describe("a number that would become 0 or endless is refused", () => {
  test.each([
    ["1e-300", 1e-300],
    ["1e-301", NUMBERS_KEPT.small],
    ["1e-400", NUMBERS_KEPT.small],
    [`0.${"0".repeat(400)}1`, NUMBERS_KEPT.small],
    ["0e-400", 0],
    ["0.0", 0],
    ["0", 0],
    ["1e308", 1e308],
    ["1e309", NUMBERS_KEPT.large],
    ["9".repeat(400), NUMBERS_KEPT.large],
  ])("%s", (text, expected) => {
    expect(reading(text, ".")).toBe(expected);
  });

  test.each([
    [0, false],
    [1e-301, true],
    [-1e-301, true],
    [1e-300, false],
    [-1, false],
  ])("%d is too small: %s", (value, expected) => {
    expect(isTooSmall(value)).toBe(expected);
  });

  test.each([
    ["0.010", true],
    ["10", true],
    ["1", true],
    ["0.0", false],
    ["0e1", false],
    ["0.0E12", false],
  ])("%s is written with a figure other than 0: %s", (text, expected) => {
    expect(hasFigure(text)).toBe(expected);
  });
});

describe("what numbers show of the decimal mark of their file", () => {
  test.each<[string[], string, boolean]>([
    [[], "not-shown", false],
    [["1500", "abc", "n.a.", "a, b"], "not-shown", false],
    [["1.5"], ".", false],
    [["1,5"], ",", false],
    [[".5"], ".", false],
    [["0,500"], ",", false],
    [["1.5", "1,5"], "contradicting", false],
    [["1.500"], "not-shown", true],
    [["1.500", "2.5"], ".", false],
    [["1.500", "2,5"], ",", false],
    [["1.500", "2.5", "2,5"], "contradicting", true],
    [["1.234.567"], ",", false],
    [["1,234,567"], ".", false],
    [["1 234"], "not-shown", false],
    // Equal in both readings.
    [["1e3.", "1 000"], "not-shown", false],
    [["< 1.5 ppm"], ".", false],
    [["approx. 1 234,5 mg/kg (note)"], ",", false],
    // No number with its unit and note is written in more than 200 characters.
    [[`1.5 ${"x".repeat(196)}`], ".", false],
    [[`1.5 ${"x".repeat(197)}`], "not-shown", false],
    // A letter typed for a figure: 14.800, and no 14.8.
    [["14.8OO", "5.200"], "not-shown", true],
    [["O.5", "1l.25", "5.200"], "not-shown", true],
    [["14.8 OK", "5.200"], ".", false],
  ])("%j: %s, open: %s", (texts, convention, isOpen) => {
    const evidence = new DecimalEvidence();
    for (const text of texts) evidence.see(text);
    expect([evidence.convention, evidence.isOpen]).toEqual([convention, isOpen]);
  });

  test("what is said of it names the mark", () => {
    expect(
      [markOfFile("."), markOfFile(",")].map(({ code, message }) => [code, message.slice(0, 53)]),
    ).toEqual([
      ["decimal-mark-of-file", "numbers such as 1.500 were read with a decimal point,"],
      ["decimal-mark-of-file", "numbers such as 1,500 were read with a decimal comma,"],
    ]);
  });
});
