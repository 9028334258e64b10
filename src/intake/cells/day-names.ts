/** Languages whose names of days of the week are read; in others one short name is of two days. */
const LANGUAGES = ["en", "de", "fr", "es", "it", "nl", "pt"];
/** Languages whose names of months are read: no name is of two months in any two of them. */
const LANGUAGES_OF_MONTHS = [
  ...LANGUAGES,
  ...["pl", "cs", "sl", "sv", "da", "nb", "fi", "hu", "ro", "tr", "el", "ru", "uk", "bg"],
];
/** Short names that laboratories write and {@link Intl} does not know. */
const OTHER_MONTHS: readonly (readonly [string, number])[] = [
  ["sept", 9],
  ["mrz", 3],
  ["maerz", 3],
];

/** The number of a month by its name; built for the first day that is written with one, because most files have none. */
let monthNumbers: ReadonlyMap<string, number> | undefined;

function monthNumber(name: string): number | undefined {
  monthNumbers ??= new Map([
    ...namesOf({ month: "long" }, 12),
    ...namesOf({ month: "short" }, 12),
    ...OTHER_MONTHS,
  ]);
  return monthNumbers.get(plainName(name));
}

/** The number of a day of the week by its name, from 0 for Sunday. */
let weekdayNumbers: ReadonlyMap<string, number> | undefined;

function weekdayNumber(name: string): number | undefined {
  weekdayNumbers ??= new Map([...namesOf({ weekday: "long" }, 7), ...namesOf({ weekday: "short" }, 7)]);
  return weekdayNumbers.get(plainName(name));
}

/** The names of the months from 1, or of the days of the week from 0, in every language. */
function namesOf(options: Intl.DateTimeFormatOptions, count: 7 | 12): [string, number][] {
  return (count === 12 ? LANGUAGES_OF_MONTHS : LANGUAGES).flatMap((language) => {
    // Next to a day a month has the form that it has in a date.
    const format = new Intl.DateTimeFormat(language, {
      ...options,
      ...(count === 12 && { day: "numeric" }),
      timeZone: "UTC",
    });
    return Array.from({ length: count }, (_, index): [string, number] => {
      // The first of November 2026 is a Sunday.
      const date = count === 12 ? Date.UTC(2026, index, 1) : Date.UTC(2026, 10, 1 + index);
      const part = format
        .formatToParts(date)
        .find(({ type }) => type === (count === 12 ? "month" : "weekday"));
      return [plainName(part?.value ?? ""), count === 12 ? index + 1 : index];
    });
  });
}

/** A name without accents, full stops and capitals: "août" is "aout", "Sept." is "sept". */
function plainName(name: string): string {
  return name
    .normalize("NFD")
    .replace(/[\p{M}.]/gu, "")
    .toLowerCase();
}

/** A day with plain dashes and without blanks between its figures: "10. 11. 2026" is "10.11.2026". */
export function plainDay(text: string): string {
  return text
    .normalize("NFKC")
    .replace(/[\u2010-\u2015\u2212]/g, "-")
    .replace(/^(\d{4})年(\d{1,2})月(\d{1,2})日/, "$1-$2-$3")
    .replace(/(?<=\d[./-]) +(?=\d{1,4}(?:\D|$))/g, "")
    .replace(/(?<=\d{4}|^\d{4}\.\d{1,2}\.\d{1,2})\.$/, "")
    .trim();
}

/** A day without the day of the week that stands before it, and which that is, from 0 for Sunday. */
export function withoutWeekday(text: string): { readonly rest: string; readonly weekday?: number } {
  const match = /^(\p{L}+)\.?,? +/u.exec(text);
  if (match === null) return { rest: text };
  const weekday = weekdayNumber(match[1] ?? "");
  // "Mar 10 2026" is a day in March, and "mar" a Tuesday too.
  if (weekday === undefined) return { rest: text };
  const rest = text.slice(match[0].length);
  return /^\d{1,2}(?:st|nd|rd|th)?,? +(?:\d{4}|\d{2})(?!\d)/.test(rest) &&
    monthNumber(match[1] ?? "") !== undefined
    ? { rest: text }
    : { rest, weekday };
}

/** The day of the week of an ISO 8601 day, from 0 for Sunday. */
export function weekdayOf(day: string): number {
  return new Date(`${day}T00:00:00Z`).getUTCDay();
}

const NAME = String.raw`(\p{L}{3,}\.?)`;
const ORDINAL = "(?:st|nd|rd|th|er|º|o)?";
const BETWEEN = "(?:[ ./,-]|de |del )*";
const AT_TIME = "(?:,?[T ]+(.+))?";
const FORMS = [
  {
    pattern: new RegExp(`^(\\d{1,2})${ORDINAL}${BETWEEN}${NAME}${BETWEEN}(\\d{4}|\\d{2})${AT_TIME}$`, "iu"),
    order: ["day", "month", "year"],
  },
  {
    pattern: new RegExp(`^${NAME}${BETWEEN}(\\d{1,2})${ORDINAL}[ ,/-]+(\\d{4}|\\d{2})${AT_TIME}$`, "iu"),
    order: ["month", "day", "year"],
  },
  {
    pattern: new RegExp(`^(\\d{4})${BETWEEN}${NAME}${BETWEEN}(\\d{1,2})${AT_TIME}$`, "iu"),
    order: ["year", "month", "day"],
  },
] as const;

/** The parts of a day whose month is written by its name, in any order; undefined when it is not. */
export function dayWithMonthName(
  text: string,
):
  | { readonly year?: string; readonly month?: string; readonly day?: string; readonly time?: string }
  | undefined {
  for (const { pattern, order } of FORMS) {
    const match = pattern.exec(text);
    if (match === null) continue;
    const parts = Object.fromEntries(order.map((part, index) => [part, match[index + 1]]));
    const month = monthNumber(parts.month ?? "");
    const time = match[4];
    return { ...parts, month: String(month ?? Number.NaN), ...(time !== undefined && { time }) };
  }
  return undefined;
}
