import ExcelJS from "exceljs";
import { random } from "./random.js";

/** One invented sample, in the units that the files are written from. Counts are whole numbers per 100 mL. */
export interface PlainSample {
  readonly sample: string;
  readonly cart: string;
  readonly circuit: string;
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly fluid: string;
  readonly countsPer100Ml: readonly number[];
  /** Hundredths of a ppm, so that per cent and ppm are both written exactly. */
  readonly waterPpm: number;
  readonly waterBelow: boolean;
  readonly acid: number;
  readonly viscosity: number;
  readonly temperatureC: number;
}

const SIZES = [4, 6, 14, 21, 38, 70];

/** Invented samples; the first days are such that a file of them shows whether day or month comes first. */
export function plainSamples(howMany: number, seed = 4): PlainSample[] {
  const next = random(seed);
  const whole = (from: number, to: number) => from + Math.floor(next() * (to - from));
  return Array.from({ length: howMany }, (_, index) => {
    const first = whole(20_000, 2_000_000);
    const counts = [first];
    for (const share of [0.25, 0.1, 0.2, 0.1, 0.05])
      counts.push(Math.floor((counts.at(-1) as number) * share));
    return {
      sample: `S-${index + 1}`,
      cart: `C-${1 + (index % 4)}`,
      circuit: index % 2 === 0 ? "fore" : "aft",
      year: 2026,
      month: whole(1, 12),
      day: index === 0 ? 27 : whole(1, 28),
      fluid: index % 2 === 0 ? "AS1241 Type IV" : "MIL-PRF-83282D",
      countsPer100Ml: counts,
      waterPpm: whole(40, 900),
      waterBelow: index % 5 === 0,
      acid: whole(5, 60) / 100,
      viscosity: whole(100, 160) / 10,
      temperatureC: whole(3, 12) * 5,
    };
  });
}

/** How a file writes what it holds. */
interface Writing {
  readonly number: (value: number) => string;
  readonly date: (sample: PlainSample) => string;
  readonly perMl: boolean;
  readonly water: "mg/kg" | "ppm by mass" | "% m/m";
  readonly fahrenheit: boolean;
}

const two = (value: number) => String(value).padStart(2, "0");
const iso = ({ year, month, day }: PlainSample) => `${year}-${two(month)}-${two(day)}`;
const dotted = ({ year, month, day }: PlainSample) => `${two(day)}.${two(month)}.${year}`;
const slashed = ({ year, month, day }: PlainSample) => `${day}/${month}/${year}`;
const point = (value: number) => String(value);
const comma = (value: number) => String(value).replace(".", ",");
const grouped = (value: number) => value.toLocaleString("en-US", { maximumFractionDigits: 6 });
const groupedComma = (value: number) => value.toLocaleString("de-DE", { maximumFractionDigits: 6 });

interface Result {
  readonly name: string;
  readonly unit: string;
  readonly value: string;
}

function resultsOfPlain(sample: PlainSample, writing: Writing): Result[] {
  const { number, perMl, water, fahrenheit } = writing;
  const inPerCent = water === "% m/m";
  const waterValue = number(inPerCent ? Number(`${sample.waterPpm}e-4`) : sample.waterPpm);
  return [
    ...SIZES.map((size, index) => {
      const count = sample.countsPer100Ml[index] as number;
      return {
        name: `> ${size} µm(c)`,
        unit: perMl ? "1/mL" : "/100 mL",
        value: number(perMl ? Number(`${count}e-2`) : count),
      };
    }),
    { name: "Water content", unit: water, value: `${sample.waterBelow ? "<" : ""}${waterValue}` },
    { name: "Acid number", unit: "mg KOH/g", value: number(sample.acid) },
    { name: "Kinematic viscosity at 40 °C", unit: perMl ? "cSt" : "mm²/s", value: number(sample.viscosity) },
    {
      name: "Fluid temperature",
      unit: fahrenheit ? "°F" : "°C",
      value: number(fahrenheit ? (sample.temperatureC * 9) / 5 + 32 : sample.temperatureC),
    },
  ];
}

const NAMING = ["Sample no.", "Cart", "Circuit", "Date drawn", "Fluid"];
const namingOf = (sample: PlainSample, { date }: Writing) => [
  sample.sample,
  sample.cart,
  sample.circuit,
  date(sample),
  sample.fluid,
];

function wideRows(samples: readonly PlainSample[], writing: Writing): string[][] {
  const titles = resultsOfPlain(samples[0] as PlainSample, writing).map(
    ({ name, unit }) => `${name} (${unit})`,
  );
  return [
    [...NAMING, ...titles],
    ...samples.map((sample) => [
      ...namingOf(sample, writing),
      ...resultsOfPlain(sample, writing).map(({ value }) => value),
    ]),
  ];
}

function longRows(samples: readonly PlainSample[], writing: Writing): string[][] {
  return [
    [...NAMING, "Parameter", "Result", "Unit"],
    ...samples.flatMap((sample) =>
      resultsOfPlain(sample, writing).map(({ name, value, unit }) => [
        ...namingOf(sample, writing),
        name,
        value,
        unit,
      ]),
    ),
  ];
}

function blockRows(samples: readonly PlainSample[], writing: Writing): string[][] {
  return samples.flatMap((sample) => [
    ...NAMING.map((label, index) => [`${label}:`, namingOf(sample, writing)[index] as string, ""]),
    ...resultsOfPlain(sample, writing).map(({ name, value, unit }) => [name, value, unit]),
    ["", "", ""],
  ]);
}

function delimited(rows: readonly (readonly string[])[], separator: string, lineBreak = "\n"): string {
  const quoted = (cell: string) =>
    cell.includes(separator) || cell.includes('"') || cell.includes("\n")
      ? `"${cell.replaceAll('"', '""')}"`
      : cell;
  return rows.map((row) => row.map(quoted).join(separator)).join(lineBreak) + lineBreak;
}

const WINDOWS_1252 = new Map([["€", 0x80]]);

function windows1252(text: string): Uint8Array {
  return Uint8Array.from(text, (letter) => WINDOWS_1252.get(letter) ?? letter.charCodeAt(0));
}

function utf16(text: string, bigEndian: boolean, mark: boolean): Uint8Array {
  const bytes = Buffer.from(mark ? `\ufeff${text}` : text, "utf16le");
  return bigEndian ? bytes.swap16() : bytes;
}

/** A file as a laboratory could have delivered it. */
export interface LabFileVariant {
  /** What is particular about it. */
  readonly title: string;
  readonly file: string;
  readonly bytes: Uint8Array;
  /** Rows that are no samples: headers, blanks, preambles and footers. */
  readonly notSamples: number;
}

/** The same samples in twelve different files. */
export async function twelveFiles(samples: readonly PlainSample[]): Promise<LabFileVariant[]> {
  const plain: Writing = { number: point, date: iso, perMl: true, water: "mg/kg", fahrenheit: false };
  const utf8 = (text: string) => new TextEncoder().encode(text);
  const half = Math.ceil(samples.length / 2);
  return [
    {
      title: "wide, commas, decimal point, UTF-8, counts per mL",
      file: "01.csv",
      bytes: utf8(delimited(wideRows(samples, plain), ",")),
      notSamples: 1,
    },
    {
      title: "wide, semicolons, decimal comma, Windows-1252, per 100 mL, days with dots, preamble and footer",
      file: "02.csv",
      bytes: windows1252(
        `Laboratory of the harbour; price 40 €\r\n\r\n${delimited(
          wideRows(samples, { ...plain, number: comma, date: dotted, perMl: false }),
          ";",
          "\r\n",
        )}\r\nEnd of report;;;\r\n`,
      ),
      notSamples: 5,
    },
    {
      title: "wide, tabs, thousands separators, UTF-16, water in per cent, °F",
      file: "03.txt",
      bytes: utf16(
        delimited(wideRows(samples, { ...plain, number: grouped, water: "% m/m", fahrenheit: true }), "\t"),
        false,
        true,
      ),
      notSamples: 1,
    },
    {
      title:
        "wide, pipes, UTF-8 with a mark, units in a row of their own, day/month/year, header on every page",
      file: "04.txt",
      bytes: utf8(`\ufeff${delimited(paged(samples, { ...plain, date: slashed, perMl: false }), "|")}`),
      notSamples: 2 + 2 * Math.floor((samples.length - 1) / 10),
    },
    {
      title: "long, commas, quoted line breaks",
      file: "05.csv",
      bytes: utf8(
        delimited(
          longRows(samples, plain).map((row, index) => [...row, index === 0 ? "Remark" : "two\nlines"]),
          ",",
        ),
      ),
      notSamples: 1,
    },
    {
      title:
        "long, semicolons, decimal comma with points for thousands, UTF-16 without a mark, rows out of order",
      file: "06.csv",
      bytes: utf16(
        delimited(
          outOfOrder(
            longRows(samples, { ...plain, number: groupedComma, date: dotted, water: "ppm by mass" }),
          ),
          ";",
        ),
        true,
        false,
      ),
      notSamples: 1,
    },
    {
      title: "blocks, semicolons, decimal comma",
      file: "07.csv",
      bytes: utf8(delimited(blockRows(samples, { ...plain, number: comma, date: dotted }), ";")),
      notSamples: samples.length,
    },
    {
      title: "blocks, a sheet of a workbook for each sample",
      file: "08.xlsx",
      bytes: await workbook(
        samples.map((sample) => ({ name: sample.sample, fill: blockSheet(sample, plain) })),
      ),
      notSamples: 0,
    },
    {
      title: "wide, two sheets, merged header cells, real dates, numbers as text",
      file: "09.xlsx",
      bytes: await workbook([
        { name: "first", fill: mergedSheet(samples.slice(0, half), plain) },
        { name: "second", fill: mergedSheet(samples.slice(half), plain) },
      ]),
      notSamples: 4,
    },
    {
      title: "long, workbook, dates as text",
      file: "10.xlsx",
      bytes: await workbook([
        {
          name: "results",
          fill: (sheet) =>
            void sheet.addRows(longRows(samples, { ...plain, date: dotted, number: comma, perMl: false })),
        },
      ]),
      notSamples: 1,
    },
    {
      title: "wide, JSON",
      file: "11.json",
      bytes: utf8(JSON.stringify({ laboratory: "harbour", samples: objects(wideRows(samples, plain)) })),
      notSamples: 0,
    },
    {
      title: "long, JSON Lines, water in per cent",
      file: "12.jsonl",
      bytes: utf8(
        objects(longRows(samples, { ...plain, water: "% m/m", perMl: false }))
          .map((entry) => `${JSON.stringify(entry)}\n`)
          .join(""),
      ),
      notSamples: 0,
    },
  ];
}

/** Titles and units in two rows, both again after every tenth sample. */
function paged(samples: readonly PlainSample[], writing: Writing): string[][] {
  const results = resultsOfPlain(samples[0] as PlainSample, writing);
  const header = [
    [...NAMING, ...results.map(({ name }) => name)],
    [...NAMING.map(() => ""), ...results.map(({ unit }) => unit)],
  ];
  const [, ...rows] = wideRows(samples, writing);
  return rows.flatMap((row, index) => (index % 10 === 0 ? [...header, row] : [row]));
}

/** Every third row moves to the end, so that no sample is in rows that follow each other. */
function outOfOrder([header = [], ...rows]: string[][]): string[][] {
  return [
    header,
    ...rows.filter((_, index) => index % 3 !== 0),
    ...rows.filter((_, index) => index % 3 === 0),
  ];
}

function objects([titles = [], ...rows]: string[][]): Record<string, string | number>[] {
  return rows.map((row) =>
    Object.fromEntries(
      row.map((cell, index) => [titles[index] ?? "", /^\d+(\.\d+)?$/.test(cell) ? Number(cell) : cell]),
    ),
  );
}

type FillSheet = (sheet: ExcelJS.Worksheet) => void;

async function workbook(sheets: readonly { name: string; fill: FillSheet }[]): Promise<Uint8Array> {
  const book = new ExcelJS.Workbook();
  for (const { name, fill } of sheets) fill(book.addWorksheet(name));
  return new Uint8Array(await book.xlsx.writeBuffer());
}

const midnight = ({ year, month, day }: PlainSample) => new Date(Date.UTC(year, month - 1, day));
const asNumber = (text: string) => (/^\d+(\.\d+)?$/.test(text) ? Number(text) : text);

function blockSheet(sample: PlainSample, writing: Writing): FillSheet {
  return (sheet) => {
    const naming = namingOf(sample, writing);
    NAMING.forEach(
      (label, index) => void sheet.addRow([label, index === 3 ? midnight(sample) : naming[index]]),
    );
    for (const { name, value, unit } of resultsOfPlain(sample, writing)) {
      sheet.addRow([name, asNumber(value), unit]);
    }
  };
}

/** "Particles per mL" above the sizes, as laboratories draw it; every other number is stored as text. */
function mergedSheet(samples: readonly PlainSample[], writing: Writing): FillSheet {
  return (sheet) => {
    const others = resultsOfPlain(samples[0] as PlainSample, writing).slice(SIZES.length);
    sheet.addRow([
      ...NAMING,
      "Particles, µm(c), per mL",
      ...SIZES.slice(1).map(() => null),
      ...others.map(({ name, unit }) => `${name} (${unit})`),
    ]);
    sheet.addRow([...NAMING.map(() => null), ...SIZES.map((size) => `> ${size}`)]);
    sheet.mergeCells(1, NAMING.length + 1, 1, NAMING.length + SIZES.length);
    NAMING.forEach((_, index) => void sheet.mergeCells(1, index + 1, 2, index + 1));
    samples.forEach((sample, row) => {
      const naming = namingOf(sample, writing);
      const values = resultsOfPlain(sample, writing).map(({ value }) =>
        row % 2 === 0 ? asNumber(value) : value,
      );
      sheet.addRow([...naming.slice(0, 3), midnight(sample), naming[4], ...values]);
    });
  };
}
