const MS_PER_DAY = 86_400_000;

/**
 * Whole days from one calendar day to another.
 *
 * @param from - ISO 8601 calendar day
 * @param to - ISO 8601 calendar day
 * @returns days, negative when `to` is earlier
 * @example
 * daysBetween("2026-02-28", "2026-03-01"); // => 1
 */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / MS_PER_DAY);
}

/**
 * The calendar day some days after another.
 *
 * @param from - ISO 8601 calendar day
 * @param days - whole days, negative for earlier
 * @example
 * dayAfter("2026-02-28", 1); // => "2026-03-01"
 */
export function dayAfter(from: string, days: number): string {
  return new Date(Date.parse(`${from}T00:00:00Z`) + days * MS_PER_DAY).toISOString().slice(0, 10);
}
