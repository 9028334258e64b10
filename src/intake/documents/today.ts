/**
 * The calendar day at the place where the program runs: by its own time zone, not by UTC, in which the evening of one half
 * of the world is another day.
 *
 * @param now - the moment; now when absent
 * @returns an ISO 8601 day
 */
export function localDay(now: Date = new Date()): string {
  const figures = (number: number, length: number) => String(number).padStart(length, "0");
  return `${figures(now.getFullYear(), 4)}-${figures(now.getMonth() + 1, 2)}-${figures(now.getDate(), 2)}`;
}
