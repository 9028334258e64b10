import { expect, test } from "vitest";
import { joinScaleNumbers, type StatedInCell } from "../../src/intake/cells/scale-numbers.js";

/** Cells such as "4:18" (the scale number above 4 µm(c)), "18/16/13", and "4:18#2" of the second run. */
function cellOf(text: string): StatedInCell {
  const [, size, stated = "", run] = /^(?:(\d+):)?([^#]+)(?:#(\d))?$/.exec(text) ?? [];
  return {
    stated: { standard: "ISO 4406", class: stated },
    run: run === undefined ? undefined : Number(run),
    sizeUmC: size === undefined ? undefined : (Number(size) as StatedInCell["sizeUmC"]),
  };
}

test.each([
  ["three sizes", "4:18 6:16 14:13", "18/16/13"],
  ["sizes in any order", "14:13 4:18 6:16", "18/16/13"],
  ["a size without its number", "6:16 14:13", "-/16/13"],
  ["one size", "14:13", "-/-/13"],
  ["a whole code", "18/16/13", "18/16/13"],
  ["a whole code under the title of one size", "4:18/16/13", "18/16/13"],
  ["a number and a whole code", "4:18 19/17/14", "19/17/14 18/-/-"],
  ["two numbers of one size", "4:18 6:16 4:19 14:13", "18/16/13 19/-/-"],
  ["two runs", "4:18#1 4:19#2 6:16#1 6:17#2", "18/16/-#1 19/17/-#2"],
])("%s: %s give %s", (_, cells, codes) => {
  const joined = joinScaleNumbers(cells.split(" ").map(cellOf));
  expect(joined.map(({ stated, run }) => `${stated.class}${run === undefined ? "" : `#${run}`}`)).toEqual(
    codes.split(" "),
  );
  for (const { stated } of joined) expect(stated.standard).toBe("ISO 4406");
});
