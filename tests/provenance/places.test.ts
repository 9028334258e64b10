import { expect, test } from "vitest";
import { columnLetters, describePlaces, placeOfColumn, readPlaces } from "../../src/provenance/index.js";

test.each([
  [0, "A"],
  [25, "Z"],
  [26, "AA"],
  [701, "ZZ"],
  [702, "AAA"],
])("column %i is %s, as in a spreadsheet", (column, letters) => {
  expect(columnLetters(column)).toBe(letters);
});

test.each([
  [[41], "row 41"],
  [[4, 9], "row 4, 9"],
  [[placeOfColumn(3, 1)], "column D"],
  [[placeOfColumn(27, 12)], "column AB from row 12"],
])("places %j are named %s", (places, named) => {
  expect(describePlaces(places)).toBe(named);
});

test.each([
  ["row 41", [41]],
  ["row 4+9", [4, 9]],
  ["column D", [placeOfColumn(3, 1)]],
  ["column AB from row 12", [placeOfColumn(27, 12)]],
  ["row", undefined],
  ["row 4, 9", undefined],
  ["column 4", undefined],
  ["column D from row", undefined],
])("%s is read back as %j", (text, places) => {
  expect(readPlaces(text)).toEqual(places);
});
