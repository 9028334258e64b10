/**
 * Says a time of circulation, rounded up so that nobody stops too early: tenths below ten minutes, whole minutes above.
 *
 * @param minutes - 0 or more
 * @example
 * sayMinutes(7.353); // => "7.4 min"
 */
export function sayMinutes(minutes: number): string {
  // Twelve digits first, so that 3.2 computed as 3.2000000000000003 stays 3.2.
  const plain = Number(minutes.toPrecision(12));
  const rounded = plain < 10 ? Math.ceil(plain * 10) / 10 : Math.ceil(plain);
  return `${rounded} min`;
}
