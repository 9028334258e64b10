import { describe, expect, test } from "vitest";
import { readBriefly } from "../support/intake/brief.js";

/** A bottle with 900 particles above 4 µm(c) of a file whose water shows the decimal mark, or does not. */
function read(title: string, cell: string, water: string, count = "900", counts = "> 4 µm(c)") {
  const titles = ["sample", "cart", "circuit", "drawn on", title, counts, "water (mg/kg)"];
  return readBriefly(
    `${titles.join(";")}\n${["S-1", "C-1", "1", "2026-03-04", cell, count, water].join(";")}`,
  );
}

const POINT = "120.5";
const COMMA = "120,5";
const NEITHER = "120";

describe("a dilution with three figures after its mark has the reading of the file's other numbers", () => {
  const diluted = (cell: string, water: string) =>
    read("Dilution (not applied)", cell, water, "900", "> 4 µm(c) per mL");

  test.each([
    ["1:1,000", POINT, 900_000],
    ["1:1,000", COMMA, 900],
    ["10.000", POINT, 9000],
    ["1.000", POINT, 900],
    ["1.000", COMMA, 900_000],
    ["1+1,500", COMMA, 2250],
    ["2,5", NEITHER, 2250],
    ["0.500", POINT, undefined],
  ])("%s with water of %s: %j particles", async (cell, water, count) => {
    const { file } = await diluted(cell, water);
    expect(file.samples[0]?.counts?.counts[0]?.count).toBe(count);
  });

  test.each(["must be applied", "to be applied", "not applied", "should be included"])(
    "a dilution that is %s is not in the counts",
    async (said) => {
      const { file } = await read(`Dilution (${said})`, "10", POINT, "900", "> 4 µm(c) per mL");
      expect(file.samples[0]?.counts?.counts[0]?.count).toBe(9000);
    },
  );

  test.each(["1,000", "1:10.000", "1+1.500"])(
    "%s waits where the file does not show its mark",
    async (cell) => {
      const { samples, issues } = await diluted(cell, NEITHER);
      expect([samples, issues]).toEqual([
        [],
        [expect.stringMatching(/1 where it was not: .* a column map can say/)],
      ]);
    },
  );
});

describe("and so has the volume that counts stand for", () => {
  const volumeOf = async (cell: string, water: string, count?: string) => {
    const { file, issues } = await read("Counts per", cell, water, count);
    return [file.samples[0]?.counts?.volumeMl, ...issues];
  };

  test.each([
    ["1,000 mL", POINT, 1000],
    ["1,000 mL", COMMA, 1],
    ["per 1.000 mL", POINT, 1],
    ["2,5 mL", NEITHER, 2.5],
    ["1000 mL", NEITHER, 1000],
  ])("%s with water of %s: %d mL", async (cell, water, volumeMl) => {
    expect(await volumeOf(cell, water)).toEqual([volumeMl]);
  });

  test.each(["1,000 mL", "0 mL", "1000001 mL", "100"])(
    "%s waits where nothing shows the mark",
    async (cell) => {
      expect(await volumeOf(cell, NEITHER)).toEqual([
        undefined,
        `lab.txt row 2, column "Counts per": expected the volume that the counts stand for, such as 1 mL, found "${cell}"`,
      ]);
    },
  );

  test.each([
    ["900 per 100 mL", NEITHER, [100]],
    ["900 per 1,000 mL", POINT, [1000]],
    ["900 per 1,000 mL", NEITHER, [undefined, expect.stringMatching(/the volume that the counts stand for/)]],
    ["900 per 0 mL", NEITHER, [undefined, expect.stringMatching(/the volume that the counts stand for/)]],
  ])("%s in the cell of the count, with water of %s", async (cell, water, expected) => {
    expect(await volumeOf("", water, cell)).toEqual(expected);
  });
});
