import { describe, expect, test } from "vitest";
import { readResultCell } from "../../src/intake/cells/cells.js";
import { DateEvidence, type DateRule, readDate } from "../../src/intake/cells/dates.js";
import { DecimalEvidence, readNumber } from "../../src/intake/cells/numbers.js";
import { readClock } from "../../src/samples/index.js";

describe("numbers", () => {
  test.each([
    ["1500", 1500],
    ["1.5", 1.5],
    ["1,5", 1.5],
    ["0.500", 0.5],
    ["0,500", 0.5],
    [".25", 0.25],
    ["1,234.5", 1234.5],
    ["1.234,5", 1234.5],
    ["1,234,567", 1_234_567],
    ["1.234.567", 1_234_567],
    ["1 234", 1234],
    ["1\u00a0234,5", 1234.5],
    ["12'345.67", 12_345.67],
    ["1.5e3", 1500],
    ["1,5E+3", 1500],
    ["1234.567", 1234.567],
  ])("%j has one reading whatever the file shows: %d", (text, value) => {
    expect(readNumber(text, "not-shown")).toEqual({ kind: "read", value });
  });

  test.each(["1.500", "1,500", "12.345", "999,999"])("%j has two readings, so the file decides", (text) => {
    const whole = Number(text.replace(/[.,]/, ""));
    const mark = text.includes(".") ? "." : ",";
    const other = mark === "." ? "," : ".";
    const read = { kind: "read", byConvention: true };
    expect(readNumber(text, mark)).toEqual({ ...read, value: whole / 1000 });
    expect(readNumber(text, other)).toEqual({ ...read, value: whole });
    expect(readNumber(text, "not-shown").kind).toBe("ambiguous");
    expect(readNumber(text, "contradicting").kind).toBe("ambiguous");
  });

  test.each(["", "abc", "1.2.3", "1,23,4", "12,34.5", "-5", "1e999", "0,123.4", "1..5", "NaN", "Infinity"])(
    "%j is no number",
    (text) => {
      for (const convention of [".", ",", "not-shown", "contradicting"] as const) {
        expect(readNumber(text, convention).kind).toBe("refused");
      }
    },
  );

  test.each([
    [["12", "< 1.5", "1,500"], "."],
    [["0,35 mg KOH/g", "1.500"], ","],
    [["1.500", "2,500"], "not-shown"],
    [["1.5", "2,5"], "contradicting"],
    [["1 234,5"], ","],
    [["1.234.567"], ","],
  ])("the numbers %j show the decimal mark %j", (texts, convention) => {
    const evidence = new DecimalEvidence();
    for (const text of texts) evidence.see(text);
    expect(evidence.convention).toBe(convention);
  });
});

const rule = (order: DateRule["order"], settled = false): DateRule => ({ order, settled });

describe("days", () => {
  test.each([
    ["2026-03-04", "2026-03-04", undefined],
    ["20260304", "2026-03-04", undefined],
    ["2026-03-04T09:30", "2026-03-04", "09:30"],
    ["2026-03-04T09:30:15.250Z", "2026-03-04", "09:30:15Z"],
    ["2026-03-04 09:30+0200", "2026-03-04", "09:30+02:00"],
    ["04.03.2026", "2026-03-04", undefined],
    ["4.3.2026 9:05", "2026-03-04", "09:05"],
    ["27/3/2026", "2026-03-27", undefined],
    ["3/27/2026", "2026-03-27", undefined],
    ["5/5/2026", "2026-05-05", undefined],
    ["4 Mar 2026", "2026-03-04", undefined],
    ["04-March-2026 2:05 pm", "2026-03-04", "14:05"],
    ["Mar 4, 2026", "2026-03-04", undefined],
    ["2026/3/4", "2026-03-04", undefined],
    ["29.02.2024", "2024-02-29", undefined],
  ])("%j has one reading: %s", (text, day, time) => {
    expect(readDate(text, rule("not-shown"))).toEqual({
      kind: "read",
      moment: { day, ...(time !== undefined && { time }) },
    });
  });

  test.each(["03/04/2026", "3-4-2026", "12/11/2026"])(
    "%j is ambiguous until the file or a map decides",
    (text) => {
      expect(readDate(text, rule("not-shown")).kind).toBe("ambiguous");
      expect(readDate(text, rule("contradicting")).kind).toBe("ambiguous");
      const days = (["day-month-year", "month-day-year"] as const).map((order) =>
        readDate(text, rule(order)),
      );
      expect(days.map(({ kind }) => kind)).toEqual(["read", "read"]);
      expect(days[0]).not.toEqual(days[1]);
    },
  );

  test.each([
    "31.02.2026",
    "29.02.2026",
    "2026-13-01",
    "0/1/2026",
    "tomorrow",
    "45000",
    "4.3.26",
    "14-Mar-26",
    "2026-03-04 25:00",
  ])("%j is refused", (text) => {
    expect(readDate(text, rule("not-shown")).kind).toBe("refused");
  });

  test("a year of two figures is read only when a column map gives the order", () => {
    expect(readDate("04/03/26", rule("day-month-year", true))).toEqual({
      kind: "read",
      moment: { day: "2026-03-04" },
    });
    expect(readDate("04/03/26", rule("day-month-year")).kind).toBe("refused");
  });

  test.each([
    ["14-Mar-26", "day-month-year", "2026-03-14"],
    ["14 Mar 26", "day-month-year", "2026-03-14"],
    ["14/Mar/26 08:30", "day-month-year", "2026-03-14"],
    ["Mar 14, 26", "month-day-year", "2026-03-14"],
    ["26-Mar-14", "year-month-day", "2026-03-14"],
    ["26-Mar-4", "year-month-day", undefined],
  ] as const)("%j with the name of a month is read by a column map that says %s", (text, order, day) => {
    const reading = readDate(text, rule(order, true));
    expect(reading.kind === "read" ? reading.moment.day : undefined).toBe(day);
    expect(readDate(text, rule(order)).kind).toBe("refused");
  });

  test.each([
    ["03/04/2026", "day-month-year", false, "day-month-year"],
    ["03/04/2026", "month-day-year", false, "month-day-year"],
    ["03.04.2026", "month-day-year", false, "month-day-year"],
    // Nothing was concluded: dots are written day first, the two figures are the same, one is no month, or a map said so.
    ["03.04.2026", "day-month-year", false, undefined],
    ["04/04/2026", "day-month-year", false, undefined],
    ["27/03/2026", "day-month-year", false, undefined],
    ["03/04/2026", "day-month-year", true, undefined],
    ["03/04/2026", "month-day-year", true, undefined],
  ] as const)(
    "%j, where the file shows %s (by a map: %s), rests on the order %s of other days",
    (text, order, byMap, byOthers) => {
      const reading = readDate(text, rule(order, byMap));
      expect(reading.kind === "read" && reading.byOthers).toBe(byOthers);
    },
  );

  test.each([
    [["27/3/2026", "03/04/2026"], "day-month-year"],
    [["3/27/2026", "03/04/2026"], "month-day-year"],
    [["27/3/2026", "3/27/2026"], "contradicting"],
    [["03/04/2026"], "not-shown"],
    // A day that no month has still shows what its writer put first.
    [["31/04/2026", "03/04/2026"], "day-month-year"],
    [["02/30/2026", "03/04/2026"], "month-day-year"],
    [["29/02/2026", "12/25/2026", "03/04/2026"], "contradicting"],
    [["45/04/2026", "13/13/2026", "03/04/2026"], "not-shown"],
    // One hand says nothing of another: the odd ones in a file of ISO days decide nothing.
    [["2026-03-01", "2026-03-02", "27/3/2026"], "year-month-day"],
  ])("the days %j show the order %s", (texts, convention) => {
    const evidence = new DateEvidence();
    for (const text of texts) evidence.see(text);
    expect(evidence.rule.order).toBe(convention);
  });

  test("an odd date with slashes among days with dots is refused, whatever its figures; the other way it is read", () => {
    const evidence = new DateEvidence();
    for (const text of ["27.03.2026", "28.03.2026", "27/3/2026"]) evidence.see(text);
    expect(readDate("03/04/2026", evidence.rule).kind).toBe("refused");
    expect(readDate("27/3/2026", evidence.rule).kind).toBe("refused");
    const slashes = new DateEvidence();
    for (const text of ["3/27/2026", "3/28/2026", "27.03.2026"]) slashes.see(text);
    expect(readDate("03/04/2026", slashes.rule)).toEqual({
      kind: "read",
      moment: { day: "2026-03-04" },
      byOthers: "month-day-year",
    });
    expect(readDate("04.03.2026", slashes.rule)).toEqual({ kind: "read", moment: { day: "2026-03-04" } });
  });

  test.each(["24:00", "9.30", "09:61", "13:00 pm", "9"])("%j is no time of day", (text) => {
    expect(readClock(text)).toBeUndefined();
  });
});

describe("cells of results", () => {
  const read = (text: string | number, signed = false) =>
    readResultCell(text, ".", { signed, isUnit: (unit) => unit === "ppm" });

  test.each<readonly [string, string]>([
    ["< 50", "below"],
    ["<50", "below"],
    ["less than 50", "below"],
    ["≤50", "at-most"],
    ["<= 50", "at-most"],
    ["≥ 50", "at-least"],
    [">=50", "at-least"],
    ["> 50", "above"],
    ["more than 50", "above"],
    ...[
      "unter 50",
      "kleiner als 50",
      "inférieur à 50",
      "inferieure a 50",
      "menor que 50",
      "minder dan 50",
    ].map((text) => [text, "below"] as const),
    ...["über 50", "größer als 50", "supérieur à 50", "mayor de 50", "superiore a 50", "maior que 50"].map(
      (text) => [text, "above"] as const,
    ),
  ])("%j stays a limit value: %s 50", (text, limit) => {
    expect(read(text)).toEqual({ kind: "number", value: 50, limit, unit: "" });
  });

  test.each<readonly [string, string]>([
    ["TNTC", "too-many-to-count"],
    ["too many to count", "too-many-to-count"],
    ["not detected", "not-detected"],
    ["ND", "not-detected"],
    ["< DL", "not-detected"],
    ["trace", "trace"],
    ["Spuren", "trace"],
    ...[
      "nicht nachweisbar",
      "< NG",
      "<BG",
      "non détecté",
      "non detectable",
      "no detectado",
      "non rilevato",
    ].map((text) => [text, "not-detected"] as const),
    ...["niet aantoonbaar", "não detectado"].map((text) => [text, "not-detected"] as const),
  ])("%j is kept in words, not turned into a number", (text, said) => {
    expect(read(text)).toEqual({ kind: "words", said });
  });

  test.each([
    ...["", "-", "--", "not measured", "nicht gemessen", "nicht bestimmt", "non mesuré", "no medido"],
    ...["non misurato", "niet gemeten", "não medido"],
  ])("%j is blank", (text) => {
    expect(read(text)).toEqual({ kind: "blank" });
  });

  test.each([
    ["1234*", 1234, "", "*"],
    ["12.5 (repeat)", 12.5, "", "(repeat)"],
    ["120 ppm", 120, "ppm", undefined],
    ["120 ppm *", 120, "ppm", "*"],
    ["900 H", 900, "", "H"],
    // An accredited laboratory states how far a result scatters.
    ["120 ± 15", 120, "", "± 15"],
    ["120 (± 15)", 120, "", "(± 15)"],
    ["0.12 ±0.02", 0.12, "", "±0.02"],
    ["120 +/- 15 ppm", 120, "ppm", "+/- 15"],
    ["120 ppm ± 15 ppm", 120, "ppm", "± 15"],
  ])("%j is the number %d with unit %j and note %j", (text, value, unit, note) => {
    expect(read(text)).toEqual({ kind: "number", value, unit, ...(note !== undefined && { note }) });
  });

  test.each([
    "1234 (diluted)",
    "120 ±",
    "120 ± x",
    "120 + 15",
    "120 - 15",
    "120 ± 15 (diluted)",
    "1234 x10",
    "12 / 13",
    "1O4",
    "5?",
    "approx 50",
    "50 estimated",
    "unterhalb 50",
    "nicht 50",
    "n.n.",
    "<",
    "#N/A",
    "N/A",
  ])("%j is refused: what is next to the number may change it", (text) => {
    expect(read(text)).toMatchObject({ kind: "refused", code: "cell-not-read" });
  });

  test("a negative number is read only where one is possible", () => {
    expect(read("-5").kind).toBe("refused");
    expect(read(-5).kind).toBe("refused");
    expect(read("-5", true)).toMatchObject({ value: -5 });
    expect(read(Number.NaN).kind).toBe("refused");
  });
});
