import { expect, test } from "vitest";
import { isSameAircraft, looksLikeAircraft } from "../../src/samples/index.js";

test.each([
  ["N 123AB", "n123ab", "same"],
  ["N-123AB", "N123AB", "same"],
  ["N123AB", "N123AB ", "same"],
  ["d.eabc", "D-EABC", "same"],
  ["Ｎ１２３", "N123", "same"],
  ["N123AB", "N123A8", "other"],
  ["N123", "N1234", "other"],
  ["N1023", "N1O23", "looks"],
  ["N1", "NI", "looks"],
  ["X-07", "X-7", "looks"],
  ["-", "-", "same"],
  ["-", "X", "other"],
])("the registers %j and %j are %s", (one, other, expected) => {
  const found = isSameAircraft(one, other) ? "same" : looksLikeAircraft(one, other) ? "looks" : "other";
  expect(found).toBe(expected);
  expect(isSameAircraft(other, one)).toBe(expected === "same");
});
