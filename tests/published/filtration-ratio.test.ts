// Filtration ratio and efficiency (SOURCES "ISO-16889"): a filter catalogue's page on ISO 16889, a filter maker's
// multi-pass page, and the table of a catalogue's glossary. The glossary prints 9.0 for β = 1.1 and 98.7 for β = 75;
// a page that prints 99.5 % for β = 20 is wrong and is not used.
import { expect, test } from "vitest";
import { removalAt } from "../../src/circulation/index.js";

const efficiency = (beta: number) => 100 * removalAt([{ sizeUmC: 10, beta }], 10).fraction;

test("400 particles before and 100 behind the element are β = 4 and 75 %", () => {
  expect(efficiency(400 / 100)).toBe(75);
});

test.each([
  [1.01, 1.0, 0.05],
  [1.1, 9.0, 0.1],
  [1.4, 28.6, 0.05],
  [1.5, 33.3, 0.05],
  [2, 50, 0.05],
  [5, 80, 0.05],
  [10, 90, 0.05],
  [20, 95, 0.05],
  [75, 98.7, 0.05],
  [100, 99.0, 0.05],
  [200, 99.5, 0.05],
  [1000, 99.9, 0.05],
])("β = %d holds back %d %%", (beta, percent, halfDigit) => {
  expect(Math.abs(efficiency(beta) - percent)).toBeLessThanOrEqual(halfDigit + 1e-9);
});
