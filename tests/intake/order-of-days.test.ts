import { describe, expect, test } from "vitest";
import { DateEvidence, type DateRule, readDate } from "../../src/intake/cells/dates.js";

describe("what the days of a file show of their order", () => {
  test.each<[string[], DateRule["order"], DateRule["form"], boolean]>([
    [[], "not-shown", undefined, false],
    [["x", "14 Mar 2026", "32/x/2026"], "not-shown", undefined, false],
    [["2026-03-04"], "year-month-day", "year", false],
    [["14/03/2026"], "day-month-year", "/", false],
    [["14/03/2026 10:30"], "day-month-year", "/", false],
    [["03/14/2026"], "month-day-year", "/", false],
    [["03/04/2026"], "not-shown", "/", true],
    [["12/12/2026"], "not-shown", "/", true],
    [["03-04-2026"], "not-shown", "-", true],
    // Dots are written day first.
    [["03.04.2026"], "not-shown", ".", false],
    [["14/03/2026", "03/14/2026"], "contradicting", "/", true],
    [["14.03.2026", "03.14.2026"], "contradicting", ".", false],
    // A day that no month has still shows which figure its writer put first.
    [["31/04/2026"], "day-month-year", "/", false],
    [["32/04/2026"], "not-shown", "/", true],
    [["13/13/2026"], "not-shown", "/", true],
    [["0/14/2026"], "not-shown", "/", true],
    [["14/03/26"], "not-shown", undefined, true],
    [["14 Mar 26"], "not-shown", undefined, true],
    // How most days are written counts; of equally many the year first, dots, slashes, dashes.
    [["14/03/2026", "2026-03-04", "2026-03-05"], "year-month-day", "year", false],
    [["14/03/2026", "2026-03-04"], "year-month-day", "year", false],
    [["14/03/2026", "03.04.2026"], "not-shown", ".", false],
    [["14-03-2026", "03/14/2026"], "month-day-year", "/", false],
    [["14-03-2026", "15-03-2026", "03/14/2026"], "day-month-year", "-", false],
    [[`14/03/2026${" ".repeat(90)}`], "day-month-year", "/", false],
    [[`14/03/2026${" ".repeat(91)}`], "not-shown", undefined, false],
  ])("%j: %s, written with %s, open: %s", (texts, order, form, isOpen) => {
    const evidence = new DateEvidence();
    for (const text of texts) evidence.see(text);
    expect([evidence.rule, evidence.isOpen]).toEqual([
      { order, settled: false, ...(form !== undefined && { form }) },
      isOpen,
    ]);
  });
});

/** The day, with its time and the order that others showed; or what was expected. */
function day(text: string, order: DateRule["order"], form?: DateRule["form"], settled = false) {
  const reading = readDate(text, { order, settled, ...(form !== undefined && { form }) });
  if (reading.kind !== "read") return reading.expected;
  return [reading.moment.day, reading.moment.time, reading.byOthers]
    .filter((part) => part !== undefined)
    .join(" ");
}

const likeOthers = (such: string) => `a day written like the others of the file, such as ${such}`;
const OPEN = "a day with one reading (2026-04-03 or 2026-03-04?); a column map can say";
const CALENDAR = "a day of the calendar since 1900, written as 2026-03-14 or 14.03.2026";
const SHORT = "a day written as 2026-03-14 or 14.03.2026; the year of a two-figure date is not certain";
const TIME = "a day written as 2026-03-14 or 14.03.2026, with a time such as 09:30 or 09:30+02:00";

describe("a day with two readings is read as the file shows, as a person says, or not at all", () => {
  test.each<[string, DateRule["order"], DateRule["form"], boolean, string]>([
    ["03/04/2026", "day-month-year", "/", false, "2026-04-03 day-month-year"],
    ["03/04/2026", "month-day-year", "/", false, "2026-03-04 month-day-year"],
    ["14/03/2026", "day-month-year", "/", false, "2026-03-14"],
    ["03/03/2026", "day-month-year", "/", false, "2026-03-03"],
    ["03/03/2026", "month-day-year", "/", false, "2026-03-03"],
    ["03.04.2026", "day-month-year", ".", false, "2026-04-03"],
    ["03.04.2026", "month-day-year", ".", false, "2026-03-04 month-day-year"],
    ["03/04/2026", "day-month-year", undefined, true, "2026-04-03"],
    ["03/04/2026", "month-day-year", undefined, true, "2026-03-04"],
    ["03.04.2026", "month-day-year", undefined, true, "2026-03-04"],
    ["03/04/2026", "not-shown", "/", false, OPEN],
    ["03/04/2026", "contradicting", "/", false, OPEN],
    ["03.04.2026", "not-shown", ".", false, "2026-04-03"],
    ["03.04.2026", "contradicting", ".", false, OPEN],
    ["14/03/2026", "not-shown", "/", false, "2026-03-14"],
    ["03/14/2026", "not-shown", "/", false, "2026-03-14"],
    ["03/03/2026", "not-shown", "/", false, "2026-03-03"],
    ["14/14/2026", "not-shown", "/", false, CALENDAR],
    // One hand says nothing of another; dots have one reading all the same.
    ["03-04-2026", "day-month-year", "/", false, likeOthers("14/03/2026")],
    ["14/03/2026", "not-shown", "-", false, likeOthers("14-03-2026")],
    ["03/04/2026", "year-month-day", "year", false, likeOthers("2026-03-14")],
    ["03/04/2026", "year-month-day", undefined, true, likeOthers("2026-03-14")],
    ["03/04/2026", "not-shown", ".", false, likeOthers("14.03.2026")],
    ["03.04.2026", "day-month-year", "/", false, "2026-04-03"],
    ["03.14.2026", "year-month-day", "year", false, "2026-03-14"],
    ["2026/3/4", "day-month-year", "/", false, "2026-03-04"],
    ["2026-03-04", "day-month-year", undefined, true, "2026-03-04"],
    ["20260304", "not-shown", undefined, false, "2026-03-04"],
    ["03/04/26", "day-month-year", "/", false, SHORT],
    ["03/04/26", "day-month-year", undefined, true, "2026-04-03"],
    ["14 Mar 26", "day-month-year", "/", false, SHORT],
    ["14 Mar 26", "day-month-year", undefined, true, "2026-03-14"],
    ["26 Mar 14", "year-month-day", undefined, true, "2026-03-14"],
  ])("%s, %s, written with %s, settled: %s", (text, order, form, settled, expected) => {
    expect(day(text, order, form, settled)).toBe(expected);
  });
});

test.each([
  ["2024-02-29", "2024-02-29"],
  ["2000-02-29", "2000-02-29"],
  ["2026-02-29", CALENDAR],
  ["2100-02-29", CALENDAR],
  ["2026-04-30", "2026-04-30"],
  ["2026-04-31", CALENDAR],
  ["2026-06-31", CALENDAR],
  ["2026-09-31", CALENDAR],
  ["2026-11-31", CALENDAR],
  ["2026-12-31", "2026-12-31"],
  ["2026-12-32", CALENDAR],
  ["2026-00-10", CALENDAR],
  ["2026-13-10", CALENDAR],
  ["2026-03-00", CALENDAR],
  ["1900-01-01", "1900-01-01"],
  ["1899-12-31", CALENDAR],
  ["2026-03-04 09:30", "2026-03-04 09:30"],
  ["2026-03-04T09:30Z", "2026-03-04 09:30Z"],
  // Programs write a day as its midnight.
  ["2026-03-04 00:00", "2026-03-04"],
  ["2026-03-04T00:00Z", "2026-03-04"],
  ["2026-03-04 00:01", "2026-03-04 00:01"],
  ["2026-03-04 24:10", TIME],
  ["2026-03-04 noon", TIME],
  // 4 March 2026 is a Wednesday.
  ["Wed 2026-03-04", "2026-03-04"],
  ["Tue 2026-03-04", "a day that is the day of the week written with it"],
  ["march", "a day written as 2026-03-14 or 14.03.2026"],
  [`2026-03-04${" ".repeat(91)}`, "a day written as 2026-03-14 or 14.03.2026"],
])("%s: %s", (text, expected) => {
  expect(day(text, "not-shown")).toBe(expected);
});
