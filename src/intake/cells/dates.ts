import type { Assumption } from "../../provenance/index.js";
import { readClock } from "../../samples/index.js";
import { dayWithMonthName, plainDay, weekdayOf, withoutWeekday } from "./day-names.js";

/** The order of day, month and year in dates written with figures. */
export type DateOrder = "day-month-year" | "month-day-year" | "year-month-day";

/** What stands between the figures of a date; "year" for days written year first. */
export type DateForm = (typeof FORMS)[number];

const FORMS = ["year", ".", "/", "-"] as const;

/** What a file or a column map says of its dates. */
export interface DateRule {
  readonly order: DateOrder | "not-shown" | "contradicting";
  /** Whether a column map gave the order. */
  readonly settled: boolean;
  /**
   * How most days of the file are written. The others were put in by hand, and one hand says nothing of another: with
   * slashes or dashes they are not read. Absent where nothing is known.
   */
  readonly form?: DateForm;
}

/** A calendar day, with the time of day where the cell gives one. */
export interface Moment {
  readonly day: string;
  /** With its zone where the cell gives one; local otherwise. */
  readonly time?: string;
}

/** What became of a text that should be a day. */
export type DateReading =
  | {
      readonly kind: "read";
      readonly moment: Moment;
      /** The text has two readings, and the order that other days of the file show decided between them. */
      readonly byOthers?: "day-month-year" | "month-day-year";
    }
  | { readonly kind: "ambiguous"; readonly expected: string }
  | { readonly kind: "refused"; readonly expected: string };

export const EXPECTED_DAY = "a day written as 2026-03-14 or 14.03.2026";
const SHORT_YEAR = `${EXPECTED_DAY}; the year of a two-figure date is not certain`;
const DAY_OF_THE_CALENDAR = "a day of the calendar since 1900, written as 2026-03-14 or 14.03.2026";

const ISO = /^(\d{4})-(\d{2})-(\d{2})(?:[T ]+(.+))?$/;
const COMPACT = /^(\d{4})(\d{2})(\d{2})$/;
const FIGURES = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4}|\d{2})(?:,?[T ]+(.+))?$/;
const YEAR_FIRST = /^(\d{4})([./-])(\d{1,2})\2(\d{1,2})(?:[T ]+(.+))?$/;

/** No day with its time is written in more characters. */
const MAX_DATE_LENGTH = 100;

/**
 * Reads a day, with a time of day where there is one.
 *
 * Year first, dots and names of months have one reading. "03/04/2026" has two and is read only when the file or a column
 * map decides between them; "14/03/2026" has one. Years of two figures are read only when a column map gives the order.
 *
 * @param text - the cell
 * @param rule - what a column map says, or how the file is asked what it shows
 */
export function readDate(text: string, rule: DateRule | (() => DateRule)): DateReading {
  if (text.length > MAX_DATE_LENGTH) return { kind: "refused", expected: EXPECTED_DAY };
  const { rest, weekday } = withoutWeekday(plainDay(text));
  const reading = readPlainDay(rest, rule);
  if (weekday === undefined || reading.kind !== "read" || weekdayOf(reading.moment.day) === weekday)
    return reading;
  return { kind: "refused", expected: "a day that is the day of the week written with it" };
}

function readPlainDay(text: string, rule: DateRule | (() => DateRule)): DateReading {
  const iso = ISO.exec(text) ?? COMPACT.exec(text) ?? yearFirst(text);
  if (iso !== null) return moment(iso[1], iso[2], iso[3], iso[4]);
  const named = dayWithMonthName(text);
  if (named !== undefined) return namedMoment(named, rule);
  const figures = FIGURES.exec(text);
  if (figures === null) return { kind: "refused", expected: EXPECTED_DAY };
  return readFigures(figures, typeof rule === "function" ? rule() : rule);
}

/** Of two figures next to a month's name either may be the year; a column map says which. */
function namedMoment(
  { year, month, day, time }: NonNullable<ReturnType<typeof dayWithMonthName>>,
  rule: DateRule | (() => DateRule),
): DateReading {
  if (year?.length !== 2) return moment(year, month, day, time);
  const { order, settled } = typeof rule === "function" ? rule() : rule;
  if (!settled) return { kind: "refused", expected: SHORT_YEAR };
  return order === "year-month-day"
    ? moment(`20${day?.padStart(2, "0")}`, month, year, time)
    : moment(`20${year}`, month, day, time);
}

function yearFirst(text: string): [string, string, string, string, string | undefined] | null {
  const match = YEAR_FIRST.exec(text);
  if (match === null) return null;
  const [all, year = "", , month = "", day = "", time] = match;
  return [all, year, month, day, time];
}

function readFigures(figures: RegExpExecArray, { order, settled, form }: DateRule): DateReading {
  const [, first = "", mark = "", second = "", years = "", time] = figures;
  if (years.length === 2 && !settled) {
    return { kind: "refused", expected: SHORT_YEAR };
  }
  const year = years.length === 2 ? `20${years}` : years;
  const dayFirst = moment(year, second, first, time);
  const monthFirst = moment(year, first, second, time);
  const isOdd = form !== undefined && form !== mark;
  const hasTwo = dayFirst.kind === "read" && monthFirst.kind === "read" && first !== second;
  if (settled || !isOdd) {
    // Dots are written day first in any file.
    if (order === "day-month-year")
      return hasTwo && !settled && mark !== "." ? { ...dayFirst, byOthers: order } : dayFirst;
    if (order === "month-day-year")
      return hasTwo && !settled ? { ...monthFirst, byOthers: order } : monthFirst;
  }
  if (settled || (isOdd && mark !== ".")) {
    return {
      kind: "refused",
      expected: `a day written like the others of the file, such as ${SUCH_AS[form ?? "year"]}`,
    };
  }
  if (dayFirst.kind !== "read") return monthFirst.kind === "read" ? monthFirst : dayFirst;
  if (monthFirst.kind !== "read" || first === second) return dayFirst;
  // Dots are written day first, unless this very file has a date with dots that can only be month first.
  if (mark === "." && order !== "contradicting") return dayFirst;
  return {
    kind: "ambiguous",
    expected: `a day with one reading (${dayFirst.moment.day} or ${monthFirst.moment.day}?); a column map can say`,
  };
}

/** What days such as 03/04/2026 rest on where other days of the file show the order. */
export function orderOfFile(order: "day-month-year" | "month-day-year"): Assumption {
  const first = order === "day-month-year" ? "day" : "month";
  return {
    code: "date-order-of-file",
    message: `days such as 03/04/2026 were read ${first} first, because other days of the file can only be read so`,
  };
}

const SUCH_AS: Record<DateForm, string> = {
  year: "2026-03-14",
  ".": "14.03.2026",
  "/": "14/03/2026",
  "-": "14-03-2026",
};

function moment(
  year: string | undefined,
  month: string | undefined,
  day: string | undefined,
  time: string | undefined,
): DateReading {
  const [y, m, d] = [Number(year), Number(month), Number(day)];
  if (!(m >= 1 && m <= 12 && d >= 1 && d <= daysIn(y, m) && y >= 1900)) {
    return { kind: "refused", expected: DAY_OF_THE_CALENDAR };
  }
  const iso = `${y}-${String(m).padStart(2, "0")}-${String(d).padStart(2, "0")}`;
  if (time === undefined || time.trim() === "") return { kind: "read", moment: { day: iso } };
  const clock = readClock(time.trim());
  if (clock === undefined)
    return { kind: "refused", expected: `${EXPECTED_DAY}, with a time such as 09:30 or 09:30+02:00` };
  // Programs write a day without a time as its midnight.
  return { kind: "read", moment: { day: iso, ...(!MIDNIGHT.test(clock) && { time: clock }) } };
}

const MIDNIGHT = /^00:00Z?$/;
const MONTHS = 12;

/** How many days a month has, 1 to 12. */
function daysIn(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

function isMonth(figure: number): boolean {
  return figure >= 1 && figure <= MONTHS;
}

/** Whether a figure may be a day and cannot be a month. */
function isDayOnly(figure: number): boolean {
  return figure > MONTHS && figure <= 31;
}

/** Gathers what the dates of a file show of their order. */
export class DateEvidence {
  #hasShortYears = false;
  readonly #forms = new Map<DateForm, { seen: number; dayFirst: boolean; monthFirst: boolean }>();

  see(text: string): void {
    if (text.length > MAX_DATE_LENGTH) return;
    if (ISO.test(text)) {
      this.#form("year").seen += 1;
      return;
    }
    const figures = FIGURES.exec(text);
    if (figures === null) {
      if (dayWithMonthName(plainDay(text))?.year?.length === 2) this.#hasShortYears = true;
      return;
    }
    const [, first, mark, second, year = ""] = figures;
    if (year.length !== 4) this.#hasShortYears = true;
    if (year.length !== 4) return;
    const form = this.#form(mark as DateForm);
    form.seen += 1;
    // A day that no month has, such as 31/04, still shows which of the two its writer put first.
    const [one, two] = [Number(first), Number(second)];
    if (isDayOnly(one) && isMonth(two)) form.dayFirst = true;
    if (isMonth(one) && isDayOnly(two)) form.monthFirst = true;
  }

  #form(name: DateForm) {
    const form = this.#forms.get(name) ?? { seen: 0, dayFirst: false, monthFirst: false };
    this.#forms.set(name, form);
    return form;
  }

  /** Whether days have two readings and no other day of the file shows which is meant. */
  get isOpen(): boolean {
    const { order, form } = this.rule;
    const isNotShown = order === "not-shown" || order === "contradicting";
    return this.#hasShortYears || (isNotShown && (form === "/" || form === "-"));
  }

  /** How most days are written, and the order that those of them with one reading agree on. */
  get rule(): DateRule {
    // Of forms that are equally frequent the order of FORMS decides, so that the order of the rows does not.
    const [most] = [...this.#forms].sort(
      ([a, { seen }], [b, other]) => other.seen - seen || FORMS.indexOf(a) - FORMS.indexOf(b),
    );
    if (most === undefined) return { order: "not-shown", settled: false };
    const [form, { dayFirst, monthFirst }] = most;
    if (form === "year") return { order: "year-month-day", settled: false, form };
    if (dayFirst && monthFirst) return { order: "contradicting", settled: false, form };
    if (dayFirst) return { order: "day-month-year", settled: false, form };
    return { order: monthFirst ? "month-day-year" : "not-shown", settled: false, form };
  }
}
