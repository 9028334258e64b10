// ISO 4406:1999, table 1, as a filter catalogue's appendix and a lubricant handbook print it (ISO-4406); the ≥ rule and the
// example 14/12/≥7 are in both (ISO-4406-LOW-COUNT). The scale is per mL: more than the first number, up to the second.
import { describe, expect, test } from "vitest";
import {
  classifyIso4406,
  continuousCode,
  countsOfIso4406,
  formatIso4406,
  ISO_4406_UPPER_PER_ML,
  parseIso4406,
  parseTwoNumberCode,
  scaleNumberOf,
} from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { readPrinted } from "../support/printed-table.js";

const PRINTED = readPrinted(`
   0        0     0.01
   1     0.01     0.02
   2     0.02     0.04
   3     0.04     0.08
   4     0.08     0.16
   5     0.16     0.32
   6     0.32     0.64
   7     0.64      1.3
   8      1.3      2.5
   9      2.5        5
  10        5       10
  11       10       20
  12       20       40
  13       40       80
  14       80      160
  15      160      320
  16      320      640
  17      640     1300
  18     1300     2500
  19     2500     5000
  20     5000    10000
  21    10000    20000
  22    20000    40000
  23    40000    80000
  24    80000   160000
  25   160000   320000
  26   320000   640000
  27   640000  1300000
  28  1300000  2500000
`).map(({ name, limits: [moreThan, upTo] }) => ({
  scaleNumber: Number(name),
  moreThan: moreThan as number,
  upTo: upTo as number,
}));

test("the scale has the printed limits digit for digit, and ends at 28", () => {
  expect(ISO_4406_UPPER_PER_ML).toEqual(PRINTED.map((row) => row.upTo));
  expect(PRINTED.slice(1).map((row) => row.moreThan)).toEqual(PRINTED.slice(0, -1).map((row) => row.upTo));
  expect(scaleNumberOf(2_500_001, 1)).toEqual({ kind: "beyond" });
});

test.each(PRINTED)(
  "scale number $scaleNumber: $upTo per mL is inside and the least more is not, per mL and per 100 mL",
  ({ scaleNumber, moreThan, upTo }) => {
    const isNumber = { kind: "number", scaleNumber, atLeast: false };
    const isNext =
      scaleNumber === 28
        ? { kind: "beyond" }
        : { kind: "number", scaleNumber: scaleNumber + 1, atLeast: false };
    const per100 = Math.round(upTo * 100);
    expect(scaleNumberOf(upTo, 1)).toEqual(isNumber);
    expect(scaleNumberOf(per100, 100)).toEqual(isNumber);
    expect(scaleNumberOf(per100 + 1, 100)).toEqual(isNext);
    expect(scaleNumberOf(upTo * (1 + 1e-12), 1)).toEqual(isNext);
    expect(scaleNumberOf(Math.round(moreThan * 100) + 1, 100)).toEqual(isNumber);
    expect(continuousCode(upTo, 1)).toEqual({ kind: "code", value: scaleNumber });
  },
);

describe("worked examples", () => {
  test.each([
    { perMl: [492, 149, 15], code: "16/14/11", where: "reference chart, sample 2" },
    { perMl: [80, 40, 20], code: "13/12/11", where: "upper limits" },
    { perMl: [80.001, 40.001, 20.001], code: "14/13/12", where: "just above upper limits" },
    { perMl: [2_500_000, 1_300_000, 640_000], code: "28/27/26", where: "top of the scale" },
    { perMl: [1300, 640, 0.01], code: "17/16/0", where: "irregular steps" },
  ])("$perMl particles per mL are $code ($where)", ({ perMl, code }) => {
    const counts = cumulativeCounts(
      [4, 6, 14].map((sizeUm, index) => ({ sizeUm, count: perMl[index] as number })),
      1,
    );
    expect(formatIso4406(classifyIso4406(counts) as NonNullable<ReturnType<typeof classifyIso4406>>)).toBe(
      code,
    );
  });

  test("14/12/≥7 means 80 to 160, 20 to 40, and 0.64 to 1.3 with fewer than 20 particles counted at 14 µm(c)", () => {
    const code = parseIso4406("14/12/>=7");
    expect(formatIso4406(code)).toBe("14/12/≥7");
    expect(countsOfIso4406(code)).toEqual([
      { sizeUm: 4, moreThan: 80, upTo: 160 },
      { sizeUm: 6, moreThan: 20, upTo: 40 },
      { sizeUm: 14, moreThan: 0.64, upTo: 1.3 },
    ]);
    const counted = cumulativeCounts(
      [
        { sizeUm: 4, count: 120 },
        { sizeUm: 6, count: 30 },
        { sizeUm: 14, count: 0.76 },
      ],
      1,
      "um(c)",
      { countedMl: 25 },
    );
    expect(classifyIso4406(counted)).toEqual(code);
  });

  test("19/17/14 is 250 000 to 500 000, 64 000 to 130 000 and 8 000 to 16 000 per 100 mL (filter company's page)", () => {
    const per100 = countsOfIso4406(parseIso4406("19/17/14")).map(({ moreThan, upTo }) => [
      (moreThan as number) * 100,
      (upTo as number) * 100,
    ]);
    expect(per100).toEqual([
      [250_000, 500_000],
      [64_000, 130_000],
      [8000, 16_000],
    ]);
  });

  test("the two-number code 17/14 by microscope is -/17/14, and 20/17 is 5 000 to 10 000 and 640 to 1 300 per mL", () => {
    expect(formatIso4406(parseTwoNumberCode("17/14"))).toBe("-/17/14");
    expect(countsOfIso4406(parseTwoNumberCode("20/17")).slice(1)).toEqual([
      { sizeUm: 6, moreThan: 5000, upTo: 10_000 },
      { sizeUm: 14, moreThan: 640, upTo: 1300 },
    ]);
    const seen = cumulativeCounts(
      [
        { sizeUm: 5, count: 100_000 },
        { sizeUm: 15, count: 10_000 },
      ],
      100,
      "um-microscope",
    );
    expect(classifyIso4406(seen)).toEqual(parseTwoNumberCode("17/14"));
  });

  test("20 raw particles need no ≥, 19 do", () => {
    const code = (countAt14: number) =>
      formatIso4406(
        classifyIso4406(
          cumulativeCounts(
            [
              { sizeUm: 4, count: 100 },
              { sizeUm: 6, count: 30 },
              { sizeUm: 14, count: countAt14 },
            ],
            1,
            "um(c)",
            { countedMl: 100, dilution: 4 },
          ),
        ) as NonNullable<ReturnType<typeof classifyIso4406>>,
      );
    expect(code(0.8)).toBe("14/12/7");
    expect(code(0.76)).toBe("14/12/≥7");
  });
});
