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
  return Math.round((timeOf(to) - timeOf(from)) / MS_PER_DAY);
}

/** Calendar days in order. */
export function compareDays(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** The start of a calendar day in milliseconds. */
function timeOf(day: string): number {
  const number = (from: number, to: number) => {
    let sum = 0;
    for (let place = from; place < to; place += 1) sum = 10 * sum + day.charCodeAt(place) - ZERO;
    return sum;
  };
  // Every month has these days; whether it has the others, the machine knows. Taking a text apart is what takes the time.
  const dayOfMonth = PLAIN_DAY.test(day) ? number(8, 10) : 0;
  if (dayOfMonth === 0 || dayOfMonth > 28) return Date.parse(`${day}T00:00:00Z`);
  return Date.UTC(number(0, 4), number(5, 7) - 1, dayOfMonth);
}

const ZERO = 48;
const PLAIN_DAY = /^[1-9]\d{3}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])$/;

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

/** Whether something is a calendar day as ISO 8601 writes it; "2026-02-30" and "14.03.2026" are none. */
export function isDay(day: unknown): day is string {
  if (typeof day !== "string" || !PLAIN_DAY.test(day)) return false;
  const dayOfMonth = Number(day.slice(8));
  return dayOfMonth <= 28 || new Date(timeOf(day)).getUTCDate() === dayOfMonth;
}
