// Against numpy 1.24.2 and SciPy 1.10.1; laboratories.json is made by laboratories.py beside this file.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type Cell, pooledSpread, twoWayLayout } from "../../src/laboratories/index.js";

interface Reference {
  readonly layouts: readonly {
    readonly cells: readonly [string, string, number][];
    readonly reference: string | null;
    readonly laboratories: readonly [string, number, number, number, number][];
    readonly residualSd: number;
    readonly degreesOfFreedom: number;
  }[];
  readonly paired: readonly {
    readonly a: number[];
    readonly b: number[];
    readonly mean: number;
    readonly low: number;
    readonly high: number;
  }[];
  readonly spreads: readonly {
    readonly groups: number[][];
    readonly sd: number;
    readonly low: number;
    readonly high: number;
    readonly degreesOfFreedom: number;
  }[];
}

const reference = JSON.parse(
  readFileSync(new URL("laboratories.json", import.meta.url), "utf8"),
) as Reference;

/** Equal to ten digits of numbers near 1. */
const near = (value: number) => expect.closeTo(value, 10);

describe("incomplete two-way layouts agree with least squares on all indicators", () => {
  test.each(reference.layouts)("$cells.length cells, reference $reference", (layout) => {
    const cells = layout.cells.map(
      ([material, laboratory, value]): Cell => ({ material, laboratory, value }),
    );
    const found = twoWayLayout(cells, { reference: layout.reference ?? undefined });
    expect(found.degreesOfFreedom).toBe(layout.degreesOfFreedom);
    expect(found.residualSd).toEqual(near(layout.residualSd));
    expect(
      found.laboratories.map(({ laboratory, effect, standardError, low, high }) => [
        laboratory,
        effect,
        standardError,
        low,
        high,
      ]),
    ).toEqual(layout.laboratories.map(([name, ...numbers]) => [name, ...numbers.map(near)]));
  });
});

describe("two laboratories: the paired t interval of SciPy", () => {
  test.each(reference.paired)("$a.length pairs", ({ a, b, mean, low, high }) => {
    const cells = a.flatMap((value, index): Cell[] => [
      { material: String(index), laboratory: "A", value },
      { material: String(index), laboratory: "B", value: b[index] as number },
    ]);
    const [, found] = twoWayLayout(cells, { reference: "A" }).laboratories;
    // The t quantile of this SciPy has eight digits.
    const ends = [low, high].map((end) => expect.closeTo(end, 6));
    expect(found).toMatchObject({ effect: near(mean), low: ends[0], high: ends[1] });
  });
});

describe("pooled spreads with the chi-square interval of SciPy", () => {
  test.each(reference.spreads)(
    "$degreesOfFreedom degrees of freedom",
    ({ groups, sd, low, high, degreesOfFreedom }) => {
      expect(pooledSpread(groups)).toEqual({
        kind: "measured",
        sd: near(sd),
        low: near(low),
        high: near(high),
        degreesOfFreedom,
      });
    },
  );
});
