const MS_PER_DAY = 86_400_000;

/** The calendar day some days after another. */
export function dayAfter(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * MS_PER_DAY).toISOString().slice(0, 10);
}

/** Every calendar day from one to another, both included. */
export function* daysFrom(first: string, last: string): Generator<string> {
  for (let day = first; day <= last; day = dayAfter(day, 1)) yield day;
}
