/**
 * Says a time of circulation, rounded up so that nobody stops too early: tenths below ten minutes, whole minutes above.
 *
 * @param minutes - 0 or more
 * @example
 * sayMinutes(7.353); // => "7.4 min"
 */
export function sayMinutes(minutes: number): string {
  return `${minutesUp(minutes)} min`;
}

/** Minutes as {@link sayMinutes} says them. */
export function minutesUp(minutes: number): number {
  return rounded(minutes, Math.ceil);
}

/** Minutes that must not be exceeded, rounded down in the same way. */
export function minutesDown(minutes: number): number {
  return rounded(minutes, Math.floor);
}

function rounded(minutes: number, round: (value: number) => number): number {
  // Twelve digits first, so that 3.2 computed as 3.2000000000000003 stays 3.2.
  const plain = Number(minutes.toPrecision(12));
  return plain < 10 ? round(plain * 10) / 10 : round(plain);
}
