import { decimalPlaces, shiftDecimal } from "../units/index.js";

/**
 * Adds two decimal numbers the way a person does on paper, so that 0.1 + 0.2 is exactly 0.3.
 *
 * Binary arithmetic can miss a class limit by the last digit. Both numbers are shifted to whole numbers first,
 * added, and shifted back once. Exact while all digits together are no more than 15.
 */
export function addAsWritten(a: number, b: number): number {
  if (Number.isInteger(a) && Number.isInteger(b)) return a + b;
  for (const tens of TENS) {
    const wholeA = Math.round(a * tens);
    const wholeB = Math.round(b * tens);
    // A whole number of up to 15 digits divided by a power of ten is the number that stands on the paper.
    const asWritten = wholeA / tens === a && wholeB / tens === b;
    if (asWritten && Math.abs(wholeA) < 1e15 && Math.abs(wholeB) < 1e15) return (wholeA + wholeB) / tens;
  }
  const places = Math.max(decimalPlaces(a), decimalPlaces(b));
  const sum = shiftDecimal(shiftDecimal(a, places) + shiftDecimal(b, places), -places);
  // Digits so far apart that no number holds them all.
  return Number.isFinite(sum) ? sum : a + b;
}

/** Up to six decimal places the quick way is tried before the digits are written out. */
const TENS = [100, 10_000, 1_000_000] as const;

/** Subtracts two decimal numbers the way a person does on paper, so that 24.32 − 4.32 is exactly 20. */
export function subtractAsWritten(a: number, b: number): number {
  return addAsWritten(a, -b);
}

/**
 * Brings a count from one volume to another: count × toMl / fromMl.
 *
 * Between volumes that differ by a power of ten only the decimal point moves, so that going there and back gives the
 * same number; any other ratio is one multiplication and one division.
 */
export function bringToVolume(count: number, fromMl: number, toMl: number): number {
  const places = Math.log10(toMl / fromMl);
  return Number.isInteger(places) ? shiftDecimal(count, places) : (count * toMl) / fromMl;
}
