import { checkNumbers } from "../../numeric/index.js";

/**
 * Says a time of circulation in two digits, rounded up so that nobody stops too early; tenths below ten minutes.
 *
 * @param minutes - 0 or more
 * @example
 * formatMinutes(7.353); // => "7.4 min"
 */
export function formatMinutes(minutes: number): string {
  checkNumbers("finite", { minutes });
  return `${minutesUp(minutes)} min`;
}

/** Says passes as {@link formatMinutes} says minutes. */
export function formatPasses(passes: number): string {
  checkNumbers("finite", { passes });
  const shown = minutesUp(passes);
  return `${shown} ${shown === 1 ? "pass" : "passes"}`;
}

/** A number as {@link formatMinutes} says it. */
export function minutesUp(minutes: number): number {
  const plain = withoutRounding(minutes);
  if (plain < 10) return Math.ceil(plain * 10) / 10;
  const place = 10 ** (Math.floor(Math.log10(plain)) - 1);
  return Math.ceil(withoutRounding(plain / place)) * place;
}

/** A moment after minutes that were run, so that what is left until then is said as {@link formatMinutes} says it. */
export function momentUp(moment: number, doneMin: number): number {
  return withoutRounding(doneMin + minutesUp(moment - doneMin));
}

/**
 * Minutes that must not be exceeded, rounded down to three digits: of several runs no more is cut off than one part in a
 * hundred, so that together they still are the time that was planned.
 */
export function minutesDown(minutes: number): number {
  const plain = withoutRounding(minutes);
  const near = Number(plain.toPrecision(3));
  if (near <= plain) return near;
  const place = Math.floor(Math.log10(plain)) - 2;
  return Number((near - 10 ** place).toPrecision(3));
}

/** Twelve digits, so that 3.2 computed as 3.2000000000000003 stays 3.2. */
function withoutRounding(minutes: number): number {
  return Number(minutes.toPrecision(12));
}
