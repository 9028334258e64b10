/**
 * A probability in percent for reading, rounded towards the doubt: 0.9499 is never said to be 95 %.
 *
 * @example
 * formatPercent(0.9499); // => "94.9 %"
 */
export function formatPercent(probability: number): string {
  const scaled = Math.floor(Number((probability * 1000).toPrecision(12)));
  return `${scaled / 10} %`;
}

/**
 * A part of a whole in percent for reading, rounded to that many significant digits.
 *
 * @example
 * formatShare(2 / 3); // => "66.7 %"
 */
export function formatShare(fraction: number, digits = 3): string {
  return `${Number((100 * fraction).toPrecision(digits))} %`;
}
