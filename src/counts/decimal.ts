/**
 * Adds two decimal numbers the way a person does on paper, so that 0.1 + 0.2 is exactly 0.3.
 *
 * Binary arithmetic can miss a class limit by the last digit. Both numbers are shifted to whole numbers first,
 * added, and shifted back once. Exact while all digits together are no more than 15.
 */
export function addAsWritten(a: number, b: number): number {
  const places = Math.max(decimalPlaces(a), decimalPlaces(b));
  if (places === 0) return a + b;
  return shift(shift(a, places) + shift(b, places), -places);
}

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
  return Number.isInteger(places) ? shift(count, places) : (count * toMl) / fromMl;
}

function decimalPlaces(value: number): number {
  if (Number.isInteger(value)) return 0;
  const [mantissa = "", exponent = "0"] = String(value).split("e");
  const fraction = mantissa.split(".")[1] ?? "";
  return Math.max(0, fraction.length - Number(exponent));
}

function shift(value: number, places: number): number {
  const [mantissa = "0", exponent = "0"] = String(value).split("e");
  return Number(`${mantissa}e${Number(exponent) + places}`);
}
