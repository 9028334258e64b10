import { describe, expect, test } from "vitest";
import { gatherQuantities, type ReportedQuantity } from "../../src/intake/cells/quantities.js";

type Holds = ReportedQuantity["measurand"]["holds"];
type Cell = ReportedQuantity["cell"];

/** A number with the unit of its cell, under a title with its unit. */
function reported(
  holds: Holds,
  titleUnit: string | undefined,
  value: number,
  unit = "",
  limit?: Cell["limit"],
) {
  const measurand = { holds, ...(titleUnit !== undefined && { unit: titleUnit }) };
  const result = { cell: `${value} ${unit}`, row: 2, column: `${holds}`, measurand };
  return { result, measurand, cell: { kind: "number", value, unit, ...(limit && { limit }) } as Cell };
}

function gathered(...all: ReportedQuantity[]) {
  const { results, countedMl, refused, assumptions } = gatherQuantities(all);
  return {
    ...results,
    ...(countedMl !== undefined && { countedMl }),
    ...(refused.length > 0 && { refused: refused.map(({ code, expected }) => [code, expected]) }),
    ...(assumptions.length > 0 && { assumed: assumptions.map(({ code }) => code) }),
  };
}
const notRead = (expected: unknown) => ({ refused: [["cell-not-read", expected]] });

describe("a quantity is kept in one unit, by its title or its cell", () => {
  test.each([
    ["mg/kg", reported("water", "mg/kg", 120), { waterPpm: { value: 120 } }],
    ["% of mass", reported("water", "% m/m", 0.012), { waterPpm: { value: 120 } }],
    [
      "ppm, which may be by volume",
      reported("water", "ppm", 120),
      { waterPpm: { value: 120 }, assumed: ["unit-meaning"] },
    ],
    ["a unit in the cell alone", reported("water", undefined, 0.012, "% m/m"), { waterPpm: { value: 120 } }],
    ["the same unit twice", reported("water", "mg/kg", 120, "mg/kg"), { waterPpm: { value: 120 } }],
    ["two spellings of one unit", reported("water", "mg/kg", 120, "µg/g"), { waterPpm: { value: 120 } }],
    // Common practice, no source: ppm of water in oil is by mass.
    [
      "ppm under mg/kg",
      reported("water", "mg/kg", 120, "ppm"),
      { waterPpm: { value: 120 }, assumed: ["unit-meaning"] },
    ],
    ["mg/kg under ppm", reported("water", "ppm", 120, "mg/kg"), { waterPpm: { value: 120 } }],
    [
      "ppm of a metal under mg/kg",
      reported("iron", "mg/kg", 3, "ppm"),
      {
        metalsPpm: { iron: { value: 3 } },
        assumed: ["unit-meaning"],
      },
    ],
    [
      "a limit",
      reported("acid", "mg KOH/g", 0.05, "", "below"),
      { acidMgKohPerG: { value: 0.05, limit: "below" } },
    ],
    ["mm²/s", reported("viscosity40", "cSt", 14.1), { viscosity40Mm2PerS: { value: 14.1 } }],
    ["g/mL", reported("density15", "g/mL", 0.849), { density15KgPerM3: { value: 849 } }],
    ["degrees", reported("temperature", "°F", 104), { fluidTemperatureC: 40 }],
    ["a metal", reported("iron", "mg/kg", 3), { metalsPpm: { iron: { value: 3 } } }],
    // 0.02835 L is 28.35 mL and not 28.349999999999998.
    ["a counted volume", reported("counted", "mL", 28.35), { countedMl: 28.35 }],
    ["a counted volume in litres", reported("counted", "L", 0.1), { countedMl: 100 }],
  ])("%s", (_, given, expected) => {
    expect(gathered(given)).toEqual(expected);
  });

  test.each([
    ["two units", reported("water", "mg/kg", 0.012, "%"), "a number in mg/kg, as the title says, not in %"],
    [
      "no unit",
      reported("water", undefined, 120),
      expect.stringMatching(/, in the title, in the cell or in a column map$/),
    ],
    [
      "a limit of a temperature",
      reported("temperature", "°C", 40, "", "below"),
      "a fluid temperature, not a limit of one",
    ],
    [
      "a limit of a counted volume",
      reported("counted", "mL", 10, "", "above"),
      "a counted volume, not a limit of one",
    ],
  ])("%s is refused", (_, given, expected) => {
    expect(gathered(given)).toEqual(notRead(expected));
  });
});

describe("a quantity that a sample has twice", () => {
  const water = reported("water", "mg/kg", 120);
  test("is taken once where both say the same, in whatever unit", () => {
    expect(gathered(water, reported("water", "% m/m", 0.012))).toEqual({
      waterPpm: { value: 120 },
      assumed: ["taken-once"],
    });
  });

  test.each([
    ["another number", reported("water", "mg/kg", 121)],
    ["a limit", reported("water", "mg/kg", 120, "", "below")],
  ])("is refused at both places where one is %s", (_, other) => {
    const twice = ["repeated-measurand", "each measurand once in a sample"];
    expect(gathered(water, other, reported("iron", "mg/kg", 3))).toEqual({
      metalsPpm: { iron: { value: 3 } },
      refused: [twice, twice],
    });
  });

  test("two metals are two quantities", () => {
    expect(gathered(reported("iron", "mg/kg", 3), reported("copper", "mg/kg", 2))).toEqual({
      metalsPpm: { iron: { value: 3 }, copper: { value: 2 } },
    });
  });
});
