import { describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";

const read = (lines: readonly string[]) =>
  readLabFile("lab.csv", new TextEncoder().encode(`${lines.join("\n")}\n`));
const NAMES = ["Sample,S-1,S-2", "Cart,QB-01,QB-01", "Circuit,fore,aft", "Drawn on,2026-03-04,2026-03-05"];
const COUNTS = ["4 µm(c) per mL,900,700", "6 µm(c) per mL,250,200", "Water (mg/kg),90,80"];

describe("a table with its samples side by side is refused with what to do", () => {
  test.each<[string, string[]]>([
    ["two samples", [...NAMES, ...COUNTS]],
    ["below a title", ["Report 17,,", ...NAMES, ...COUNTS]],
    ["above a signature", [...NAMES, ...COUNTS, "", "Signed: J. Doe"]],
    ["three samples", [...NAMES, ...COUNTS].map((line) => `${line},${line.split(",")[2]}`)],
    ["numbers of samples in the title row", ["Parameter,S-1,S-2", ...NAMES.slice(1), ...COUNTS]],
    [
      "with a column of units",
      [
        "Parameter,Unit,S-1,S-2",
        ...NAMES.slice(1).map((line) => line.replace(",", ",,")),
        "Water,mg/kg,90,80",
      ],
    ],
    [
      "with a column of limits",
      [...NAMES.map((line) => `${line},Limit`), ...COUNTS.map((line) => `${line},1000`)],
    ],
  ])("%s", async (_, lines) => {
    await expect(read(lines)).rejects.toThrow(
      /^lab\.csv: expected a row for each sample; .*turn rows into columns/,
    );
  });

  test("one sample with its labels down the first column is read, with a limit beside it or not", async () => {
    const one = (lines: readonly string[]) => lines.map((line) => line.split(",").slice(0, 2).join(","));
    const file = await read([
      ...one(NAMES),
      "Parameter,Result,Limit",
      ...one(COUNTS).map((line) => `${line},1000`),
    ]);
    expect(file.samples.map(({ sample }) => sample)).toEqual(["S-1"]);
  });

  test("blocks below each other are read as they were", async () => {
    const one = (column: number) =>
      [...NAMES, ...COUNTS].map((line) => `${line.split(",")[0]},${line.split(",")[column]}`);
    const file = await read([...one(1), "", ...one(2)]);
    expect(file.samples.map(({ sample }) => sample)).toEqual(["S-1", "S-2"]);
  });
});

describe("a print whose cells are parted by blanks alone is refused with what to do", () => {
  test.each<[string, string[]]>([
    [
      "a table",
      [
        "Sample   Cart   Circuit  Drawn on     4um(c)/mL  6um(c)/mL",
        "S-1      QB-01  fore     2026-03-04   900  250",
      ],
    ],
    ["a strip of a counter", ["SAMPLE NO   S-1", "CART        QB-01", "CIRCUIT     fore", "4um(c)/mL   900"]],
  ])("%s", async (_, lines) => {
    await expect(read(lines)).rejects.toThrow(/this is a print whose cells are parted by blanks alone/);
  });
});
