import { describe, expect, test } from "vitest";
import { readNumberFormat } from "../../src/intake/rows/number-format.js";

// What the programs that write such workbooks show, from memory; all figures of the number are kept.
describe("the format of a number", () => {
  test.each([
    ['"<"0.00', 0.5, "<0.5"],
    ["\\<0.0", 12, "<12"],
    ["<0.0", 0.25, "<0.25"],
    ['"<"General', 12, "<12"],
    ['0.00" ppm"', 120, "120 ppm"],
    ['0.0\\ "mg/kg"', 0.25, "0.25 mg/kg"],
    ['#,##0" /mL"', 123_456, "123456 /mL"],
    ['"S-"0000', 12, "S-0012"],
    ['"S-"0000', 123_456, "S-123456"],
    ['"S-"0000', 0, "S-0000"],
    ['"no. "#', 7, "no. 7"],
    ["0000", 12, "0012"],
    ["000-000", 12, "000-012"],
    ['00"-"00', 123_456, "1234-56"],
    ["0%", 0.57, "57%"],
    ["0%", 0.0057, "0.57%"],
    ["0.00%", 0.0031, "0.31%"],
    ['[<0.5]"<0.5";0.0', 0.25, "<0.5"],
    ['[<1]"n.d.";[>=100]">100";0', 0.5, "n.d."],
    ['[<1]"n.d.";[>=100]">100";0', 100, ">100"],
    ['0;-0;"<LOD"', 0, "<LOD"],
    ['"~"0', -3, "-~3"],
    ["[$€-407] 0.00", 12, "€ 12"],
    ['0.0,"k"', 1500, "1500k (shown in thousands)"],
    ["0,,", 1_500_000, "1500000 (shown in thousands)"],
    ['"a;b"0', 1, "a;b1"],
  ])("%j shows %d as %j", (code, value, shown) => {
    expect(readNumberFormat(code)?.(value)).toBe(shown);
  });

  test.each([
    ["General", 12],
    ["0.00", 12.345],
    ["#,##0", 123_456],
    ["0.00E+00", 0.25],
    ["# ?/?", 0.25],
    ["@", 12],
    ["(0.00)", 12],
    ['0.00;(0.00);"-"', 0],
    ["0.00;(0.00)", -3],
    ['_-* #,##0.00_-;-* #,##0.00_-;_-* "-"??_-;_-@_-', 0],
    ["[Red]0.0", 12],
    [";;;", 12],
    ['[<0.5]"<0.5";0.0', 12],
    ['0;-0;"<LOD"', 12],
    ['yyyy-mm-dd "at" hh:mm', 45_000],
    ['[h]:mm" h"', 1.5],
    ["", 12],
    ['0;0;0;"<"@', 12],
  ])("%j leaves %d the number it is", (code, value) => {
    expect(readNumberFormat(code)?.(value)).toBeUndefined();
  });
});
