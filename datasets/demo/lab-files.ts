import { type DemoSample, type Reported, SIZES_UM } from "./simulate.js";

/** A change to one cell of a written file, as a slip of the pen makes it. */
export interface Slip {
  readonly sample: string;
  /** Header of the column, or in the long file the parameter whose value is changed. */
  readonly column: string;
  readonly text: string;
}

interface Column {
  readonly header: string;
  readonly cell: (sample: DemoSample) => string;
}

/** Particles per 100 mL written per mL: two decimals are enough, and the division by 100 is exact on paper. */
function perMl(per100Ml: number): string {
  return String(per100Ml / 100);
}

function reported({ value, below }: Reported, places: number, sign: string): string {
  return `${below ? sign : ""}${value.toFixed(places)}`;
}

const TIDY_COLUMNS: readonly Column[] = [
  { header: "Sample no.", cell: (sample) => sample.sample },
  { header: "Cart", cell: (sample) => sample.cart },
  { header: "Circuit", cell: (sample) => sample.circuit },
  { header: "Drawn on", cell: (sample) => sample.drawnOn },
  { header: "Fluid", cell: (sample) => sample.fluid },
  ...SIZES_UM.map((size, index) => ({
    header: `${size} µm(c) per mL`,
    cell: (sample: DemoSample) => perMl(sample.per100Ml[index] as number),
  })),
  { header: "Water (mg/kg)", cell: (sample) => reported(sample.waterPpm, 0, "< ") },
  { header: "Acid number (mg KOH/g)", cell: (sample) => reported(sample.acidMgKohPerG, 2, "< ") },
  { header: "Viscosity at 40 °C (mm²/s)", cell: (sample) => sample.viscosity40Mm2PerS.toFixed(1) },
];

const comma = (text: string) => text.replace(".", ",");

const SEMICOLON_COLUMNS: readonly Column[] = [
  { header: "Report", cell: (sample) => `R${sample.drawnOn.slice(2, 4)}${sample.sample.slice(3)}` },
  { header: "Bottle No.", cell: (sample) => sample.sample },
  { header: "Equipment", cell: (sample) => sample.cart },
  { header: "System sampled", cell: (sample) => sample.circuit },
  { header: "Sampling date", cell: (sample) => sample.drawnOn.split("-").reverse().join(".") },
  { header: "Fluid type", cell: (sample) => sample.fluid },
  ...SIZES_UM.map((size, index) => ({
    header: `> ${size} µm(c) /100 mL`,
    cell: (sample: DemoSample) => String(sample.per100Ml[index]),
  })),
  { header: "Water content (mg/kg)", cell: (sample) => reported(sample.waterPpm, 0, "<") },
  { header: "TAN (mg KOH/g)", cell: (sample) => comma(reported(sample.acidMgKohPerG, 2, "<")) },
  {
    header: "Kinematic viscosity 40 °C (cSt)",
    cell: (sample) => comma(sample.viscosity40Mm2PerS.toFixed(1)),
  },
];

/** A row for each sample: commas, decimal points, particles per mL, ISO 8601 days. */
export function writeTidy(samples: readonly DemoSample[], slips: readonly Slip[] = []): string {
  return writeWide(TIDY_COLUMNS, samples, slips, ",", "\n");
}

/**
 * A row for each sample, as a spreadsheet writes it where the comma is the decimal mark: semicolons, byte order mark,
 * particles per 100 mL, day first.
 */
export function writeSemicolon(samples: readonly DemoSample[], slips: readonly Slip[] = []): string {
  return `\uFEFF${writeWide(SEMICOLON_COLUMNS, samples, slips, ";", "\r\n")}`;
}

function writeWide(
  columns: readonly Column[],
  samples: readonly DemoSample[],
  slips: readonly Slip[],
  separator: string,
  lineEnd: string,
): string {
  const rows = samples.map((sample) =>
    columns.map(({ header, cell }) => slipOf(slips, sample, header) ?? cell(sample)),
  );
  return [columns.map(({ header }) => header), ...rows]
    .map((cells) => cells.join(separator) + lineEnd)
    .join("");
}

/** A row for each measurand, as a laboratory's database writes it. */
export function writeLong(samples: readonly DemoSample[], slips: readonly Slip[] = []): string {
  const rows = samples.flatMap((sample) => {
    const results = [
      ...SIZES_UM.map((size, index) => ({
        parameter: `> ${size} µm(c)`,
        value: perMl(sample.per100Ml[index] as number),
        unit: "1/mL",
      })),
      { parameter: "Water", value: reported(sample.waterPpm, 0, "<"), unit: "ppm" },
      { parameter: "Acid number", value: reported(sample.acidMgKohPerG, 2, "<"), unit: "mg KOH/g" },
      {
        parameter: "Kinematic viscosity at 40 °C",
        value: sample.viscosity40Mm2PerS.toFixed(1),
        unit: "mm²/s",
      },
    ];
    const { cart, circuit, drawnOn, fluid } = sample;
    return results.map(({ parameter, value, unit }) => [
      sample.sample,
      cart,
      circuit,
      drawnOn,
      fluid,
      parameter,
      slipOf(slips, sample, parameter) ?? value,
      unit,
    ]);
  });
  const header = ["Sample ID", "Cart", "Circuit", "Date drawn", "Fluid", "Parameter", "Result", "Unit"];
  return [header, ...rows].map((cells) => `${cells.join(",")}\n`).join("");
}

function slipOf(slips: readonly Slip[], sample: DemoSample, column: string): string | undefined {
  return slips.find((slip) => slip.sample === sample.sample && slip.column === column)?.text;
}
