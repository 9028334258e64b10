/**
 * Moves the decimal point of a number as it is written, so that 0.0123 moved by 4 is exactly 123.
 *
 * Multiplying by a power of ten rounds in binary and can miss a limit by the last digit.
 *
 * @param value - a finite number
 * @param places - places to the right; negative moves to the left
 * @example
 * shiftDecimal(0.0123, 4); // => 123
 */
export function shiftDecimal(value: number, places: number): number {
  if (Number.isSafeInteger(value) && places >= -MAX_EXACT_TENS && places <= MAX_EXACT_TENS) {
    if (places < 0) return value / 10 ** -places || 0;
    const shifted = value * 10 ** places;
    if (Number.isSafeInteger(shifted)) return shifted || 0;
  }
  const [mantissa = "0", exponent = "0"] = String(value).split("e");
  return Number(`${mantissa}e${Number(exponent) + places}`);
}

/** A whole number divided by a power of ten up to this one is rounded once, as its decimal writing is. */
const MAX_EXACT_TENS = 22;

/**
 * How many places a number has after the decimal point, as it is written.
 *
 * @param value - a finite number
 * @example
 * decimalPlaces(24.32); // => 2
 */
export function decimalPlaces(value: number): number {
  if (Number.isInteger(value)) return 0;
  const [mantissa = "", exponent = "0"] = String(value).split("e");
  const fraction = mantissa.split(".")[1] ?? "";
  return Math.max(0, fraction.length - Number(exponent));
}

/** A number for reading: four significant digits, without exponent. */
export function inFourDigits(value: number): string {
  return inDigits(value, 4);
}

/**
 * An estimate for reading: the two significant digits that it holds for, without exponent.
 *
 * @example
 * inTwoDigits(2317); // => "2300"
 */
export function inTwoDigits(value: number): string {
  return inDigits(value, 2);
}

function inDigits(value: number, digits: number): string {
  const text = String(Number(value.toPrecision(digits)));
  // The machine's tables of languages take as long to load as a whole command to run, so they are used last.
  if (/^-?[\d.]+$/.test(text)) return text;
  return Number(text).toLocaleString("en", { maximumSignificantDigits: digits, useGrouping: false });
}
