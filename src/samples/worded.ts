import type { Sample } from "./sample.js";

/** The field of a sample that holds the number of a quantity, by the quantity's name in {@link Sample.wordedResults}. */
export const FIELD_OF_QUANTITY = {
  water: "waterPpm",
  "acid number": "acidMgKohPerG",
  "viscosity at 40 °C": "viscosity40Mm2PerS",
  "density at 15 °C": "density15KgPerM3",
  chlorine: "chlorinePpm",
} as const satisfies Record<string, keyof Sample>;

/** The name of a count on the µm(c) scale in {@link Sample.wordedResults}. */
export function nameOfCount(sizeUmC: number): string {
  return `count above ${sizeUmC} µm(c)`;
}

/** What a report says of particles in words, such as "too many to count". */
export function wordedCounts({ wordedResults = [] }: Sample): NonNullable<Sample["wordedResults"]> {
  return wordedResults.filter(({ measurand }) => /^(blank |run \d+ )?count (above|from) /.test(measurand));
}
