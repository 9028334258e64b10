import fc from "fast-check";
import { readResultCell } from "../../../src/intake/cells/cells.js";
import { DateEvidence, type DateRule, readDate } from "../../../src/intake/cells/dates.js";
import { DecimalEvidence, readNumber } from "../../../src/intake/cells/numbers.js";
import { guarded } from "../../../src/intake/index.js";
import { namer } from "../../../src/intake/layout/namer.js";
import { formatPlace, readPlace } from "../../../src/intake/quarantine/quarantine-place.js";
import { readNumberFormat } from "../../../src/intake/rows/number-format.js";
import { gatherDescriptions } from "../../../src/intake/words/described.js";
import { daySchema, readClock } from "../../../src/samples/index.js";
import { tryParseQuantity } from "../../../src/units/index.js";
import { mustBeFinite, mustBeForPeople, mustEqual } from "../claims.js";
import { editedText } from "../edits.js";
import { entry } from "../fuzzing.js";

const NUMBERS = [
  "1500",
  "1.5",
  "1,5",
  "1.500",
  "1,500.5",
  "1'500",
  "1 500,25",
  "1.5e3",
  "12E-2",
  "0.500",
  ".5",
];
const CELLS = [
  ...[
    "<50",
    "≤ 1,5 ppm",
    "> 100 000",
    "1.5*",
    "TNTC",
    "n.d.",
    "trace",
    "-",
    "N/A",
    "not measured",
    "−5",
    "-12.5",
  ],
  ...["120 mg/kg (high)", "at most 5", "less than 3.5 %", "1500 repeat", "+20 °C", "<lod", "H 12"],
];
const FORMATS = [
  ...[
    '"<"0.00',
    '0.0" ppm"',
    '"S-"0000',
    "000-000",
    "0%",
    '[<0.5]"<0.5";0.0',
    '0;-0;"<LOD"',
    'General" mg/kg"',
  ],
  ...[
    "#,##0.0,",
    "[Red]\\<0.0_);(0.0)",
    "0.00E+00",
    "# ?/?",
    "yyyy-mm-dd",
    '_-* "-"??_-;_-@_-',
    "[$€-407] 0",
  ],
];
const figuresOf = (text: string) => text.replace(/\D/g, "");
const DAYS = [
  ...["2026-03-04", "20260304", "04.03.2026", "3/14/2026", "14-03-26", "4 March 2026", "Mar 4th, 2026"],
  ...["2026/3/4", "2026-03-04T09:30:15+02:00", "04.03.2026, 9:30 pm", "29.02.2024", "2026-03-04 24:00"],
];
const TITLES = [
  ...[
    "> 4 µm(c) / 100 mL",
    "4-6 µm ISO 4402 per mL",
    "Water content (mg/kg)",
    "Water by Karl Fischer, % m/m",
  ],
  ...[
    "Kinematic viscosity at 40 °C (cSt)",
    "Acid number [mg KOH/g]",
    "Sample no.",
    "Date drawn",
    "ISO 4406 code",
  ],
  ...["Iron (Fe) µg/g", "Chlorine, ppm", "Density at 15 °C (kg/m³)", "Counted volume (mL)", "Sampling point"],
  ...["Particles, µm(c), per mL > 14", "Temperature °F", "Result", "quarantine place", "1e309 µm(c) per mL"],
];
const rule: fc.Arbitrary<DateRule> = fc.record(
  {
    order: fc.constantFrom(
      "day-month-year",
      "month-day-year",
      "year-month-day",
      "not-shown",
      "contradicting",
    ),
    settled: fc.boolean(),
    form: fc.constantFrom("year", ".", "/", "-"),
  },
  { requiredKeys: ["order", "settled"] },
);
const convention = fc.constantFrom(".", ",", "not-shown", "contradicting");

/** Readers inside the intake room: everything that a cell of a laboratory file goes through. */
export const CELL_ENTRIES = [
  entry({
    functions: ["src/intake readNumber"],
    inputs: fc.tuple(editedText(NUMBERS), convention),
    check: ([text, decimal]) => {
      const reading = readNumber(text, decimal);
      new DecimalEvidence().see(text);
      mustBeFinite(reading);
      if (reading.kind !== "read") return false;
      if (!(reading.value >= 0)) throw new Error(`below zero: ${reading.value}`);
      const again = readNumber(String(reading.value), ".");
      mustEqual(again.kind === "read" && again.value, reading.value, "read again");
      return true;
    },
    runs: 2500,
  }),
  entry({
    functions: ["src/intake readNumberFormat"],
    inputs: fc.tuple(editedText(FORMATS), fc.oneof(fc.double(), fc.nat(2_000_000))),
    check: ([text, value]) => {
      const code = text.slice(0, 1000);
      const shown = readNumberFormat(code)?.(value);
      if (shown === undefined) return false;
      if (typeof shown !== "string" || shown.length > code.length + 400) throw new Error(`shown as ${shown}`);
      // All figures of a number are there, whatever stands between their places.
      const figures = figuresOf(String(Math.abs(value)));
      if (/^[^%;[\]@"\\_*Ee1-9]*$/.test(code) && /[0#?]/.test(code) && !figuresOf(shown).includes(figures))
        throw new Error(`${value} by ${code} shown as ${shown}`);
      return true;
    },
    runs: 2500,
  }),
  entry({
    functions: ["src/intake readResultCell"],
    inputs: fc.tuple(fc.oneof(editedText([...CELLS, ...NUMBERS]), fc.double()), convention, fc.boolean()),
    check: ([cell, decimal, signed]) => {
      const isUnit = (unit: string) => tryParseQuantity(`1 ${unit}`, "waterContent").kind !== "refused";
      const reading = readResultCell(cell, decimal, { signed, isUnit });
      mustBeFinite(reading);
      if (reading.kind === "refused") mustBeForPeople(reading.expected, String(cell));
      if (reading.kind === "number" && !signed && !(reading.value >= 0)) throw new Error("below zero");
      return reading.kind === "number";
    },
    runs: 2500,
  }),
  entry({
    functions: ["src/intake readDescription"],
    inputs: fc.tuple(
      fc.constantFrom("colour", "appearance", "sample-point", "flowing"),
      editedText([
        "clear and bright",
        "cloudy; visible sediment",
        "Return line",
        "drain",
        "yes",
        "not reported",
        "pale red",
      ]),
    ),
    check: ([description, text]) => {
      const read = (cell: string) => {
        const result = { measurand: { holds: description }, cell, row: 1, column: description };
        const { colour, appearance, samplePoint, flowing, wordsNotUnderstood } = gatherDescriptions(
          [{ result, meaning: { holds: description } }],
          [],
          new Map(),
        ).results;
        const known = {
          colour,
          appearance: appearance?.join("; "),
          "sample-point": samplePoint,
          flowing: undefined,
        };
        const flow = flowing === undefined ? undefined : flowing ? "yes" : "no";
        return {
          own: description === "flowing" ? flow : known[description],
          words: (wordsNotUnderstood ?? []).map((words) => words.text),
        };
      };
      const said = read(text);
      if (said.own === undefined) return false;
      // An export writes it in siltbook's own words and adds what is not understood; both are read as the same.
      const left = said.words.filter((words) => description !== "colour" || !said.own?.includes(words));
      const again = read([said.own, ...left].join("; "));
      mustEqual(again.own, said.own, "read again");
      mustEqual(again.words.length > 0, said.words.length > 0, "for a person to read");
      return true;
    },
    runs: 2000,
  }),
  entry({
    functions: ["src/intake readDate"],
    inputs: fc.tuple(editedText(DAYS), rule),
    check: ([text, dates]) => {
      const reading = readDate(text, dates);
      new DateEvidence().see(text);
      if (reading.kind !== "read") {
        mustBeForPeople(reading.expected, text);
        return false;
      }
      if (!daySchema.safeParse(reading.moment.day).success) throw new Error(`no day: ${reading.moment.day}`);
      const { day, time } = reading.moment;
      const again = readDate(time === undefined ? day : `${day} ${time}`, dates);
      mustEqual(again.kind === "read" && again.moment, reading.moment, "read again");
      return true;
    },
    runs: 2500,
  }),
  entry({
    functions: ["src/intake readClock"],
    inputs: editedText(["09:30", "9:30 p.m.", "23:59:59.5", "09:30:15+02:00", "00:00 UTC", "12:00am"]),
    check: (text) => {
      const clock = readClock(text);
      if (clock === undefined) return false;
      mustEqual(readClock(clock), clock, "read again");
      return true;
    },
    runs: 1500,
  }),
  entry({
    functions: ["src/intake namer"],
    inputs: fc.tuple(editedText(TITLES), editedText(["", "ppm", "1/mL", "/100 mL", "°C", "1e309 µm"])),
    check: ([title, unit]) => {
      const { recognition } = namer(undefined)(title, unit);
      mustBeFinite(recognition);
      if (recognition.kind === "unsure") mustBeForPeople(recognition.question, title, unit);
      return recognition.kind !== "unknown";
    },
    runs: 1500,
  }),
  entry({
    functions: ["src/intake readPlace"],
    inputs: fc.oneof(
      editedText(['march.csv sheet "a" row 41+42 #3f2a9c1b2d3e', "m.csv row 1 #000000000000"]),
      fc
        .tuple(editedText(["march.csv"]), fc.option(editedText(["results"]), { nil: undefined }), fc.nat())
        .map(([file, sheet, row]) => formatPlace(file, "3f2a9c1b2d3e4f50", sheet, [row + 1, row + 2])),
    ),
    check: (text) => {
      const place = readPlace(text);
      mustBeFinite(place);
      if (place === undefined) return false;
      const { sheet, rows, sha256Start } = place;
      mustEqual(readPlace(formatPlace("a.csv", sha256Start, sheet, rows)), place, "read again");
      return true;
    },
    runs: 1500,
  }),
  entry({
    functions: ["src/intake guarded"],
    inputs: editedText(["=1+1", "+5", "-", "a;=b", "'=x", "@SUM(A1)", "1,5;-2"]),
    check: (text) => {
      const once = guarded(text);
      if (once.replaceAll("'", "") !== text.replaceAll("'", "")) throw new Error(`changed: ${once}`);
      if (/^[=+@]/.test(once) && !/^[+][\d.,]/.test(once)) throw new Error(`runs as a formula: ${once}`);
      return true;
    },
    runs: 1000,
  }),
];
