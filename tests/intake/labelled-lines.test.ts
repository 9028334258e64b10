import { expect, test } from "vitest";
import { saysSomethingIsWrong } from "../../src/intake/samples/text-lines.js";

const saysIt = (...cells: string[]) => saysSomethingIsWrong({ row: 9, text: cells.join(","), cells });

test.each([
  ["Appearance: cloudy"],
  ["Visual: free water visible"],
  ["Water: visible"],
  ["Free water: yes"],
  ["Free water", "yes"],
  ["Crackle test: positive"],
  ["Recommendation: change fluid and resample"],
  ["Bemerkung: Probe trüb"],
])("a label with what it says is read as a column of that title: %s %s", (...cells) => {
  expect(saysIt(...cells)).toBe(true);
});

test.each([
  ["Appearance: clear and bright"],
  ["Free water: none"],
  ["Free water", "no"],
  ["Water: by Karl Fischer ASTM D6304"],
  ["Visual: clear"],
  ["Colour: by eye"],
  ["Remarks: none"],
  ["Remarks: counted twice"],
  ["Comments: results relate only to the items tested"],
  ["Note: values above the limit are marked *"],
  ["Recommendation: no action"],
])("and says nothing where such a column would say nothing: %s %s", (...cells) => {
  expect(saysIt(...cells)).toBe(false);
});
