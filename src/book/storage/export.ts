import { stringify } from "csv-stringify/sync";
import { GUARD_TITLE, guarded, SAYS_TITLE } from "../../intake/index.js";
import { type DescribedPart, formatMeasured, METALS, type Sample } from "../../samples/index.js";

/** One column of an export: its title, which intake reads back, and its cell. */
interface ExportColumn {
  readonly title: string;
  readonly of: (sample: Sample) => string | number | undefined;
}

const FIXED: readonly ExportColumn[] = [
  { title: "sample", of: ({ sample }) => sample },
  { title: "cart", of: ({ cart }) => cart },
  { title: "circuit", of: ({ circuit }) => circuit },
  { title: "drawn on", of: ({ drawnOn }) => drawnOn },
  { title: "time drawn", of: ({ drawnTime }) => drawnTime },
  { title: "received on", of: ({ receivedOn }) => receivedOn },
  { title: "reported on", of: ({ reportedOn }) => reportedOn },
  { title: "calibration due", of: ({ calibrationDueOn }) => calibrationDueOn },
  { title: "fluid", of: ({ fluid }) => fluid },
  { title: "fluid temperature (°C)", of: ({ fluidTemperatureC }) => fluidTemperatureC },
];

const RESULTS: readonly ExportColumn[] = [
  { title: "water (mg/kg)", of: ({ waterPpm }) => waterPpm && formatMeasured(waterPpm) },
  {
    title: "acid number (mg KOH/g)",
    of: ({ acidMgKohPerG }) => acidMgKohPerG && formatMeasured(acidMgKohPerG),
  },
  {
    title: "viscosity at 40 °C (mm²/s)",
    of: ({ viscosity40Mm2PerS }) => viscosity40Mm2PerS && formatMeasured(viscosity40Mm2PerS),
  },
];

/** Columns that an export has when a sample has something to write there. */
const RARER: readonly ExportColumn[] = [
  {
    title: "density at 15 °C (kg/m³)",
    of: ({ density15KgPerM3 }) => density15KgPerM3 && formatMeasured(density15KgPerM3),
  },
  { title: "chlorine (mg/kg)", of: ({ chlorinePpm }) => chlorinePpm && formatMeasured(chlorinePpm) },
  ...METALS.map((metal) => ({
    title: `${metal} (mg/kg)`,
    of: ({ metalsPpm }: Sample) => metalsPpm?.[metal] && formatMeasured(metalsPpm[metal]),
  })),
  {
    title: "counted volume (mL)",
    of: ({ counts, countedVolumeMl }) => undilutedMl(counts?.counting) ?? countedVolumeMl,
  },
  { title: "quarantine accepted", of: ({ acceptedChecks }) => acceptedChecks?.join(" ") },
  { title: "colour", of: (sample) => withWords(sample, "colour", sample.colour) },
  { title: "appearance", of: (sample) => withWords(sample, "appearance", sample.appearance?.join("; ")) },
  { title: "sample point", of: (sample) => withWords(sample, "sample point", sample.samplePoint) },
  {
    title: "flowing",
    of: (sample) => withWords(sample, "flow", yesOrNo(sample.flowing)),
  },
  { title: "crackle test", of: (sample) => withWords(sample, "crackle test", sample.crackle) },
  { title: "smell", of: (sample) => withWords(sample, "smell", sample.smell) },
  { title: "patch class", of: (sample) => withWords(sample, "patch test", classOfPatch(sample)) },
  { title: "patch colour", of: ({ patchTest }) => patchTest?.colour },
  { title: "patch stain", of: ({ patchTest }) => yesOrNo(patchTest?.stained) },
  { title: "patch free water", of: ({ patchTest }) => yesOrNo(patchTest?.freeWater) },
  { title: "patch volume (mL)", of: ({ patchTest }) => patchTest?.volumeMl },
  { title: "patch pore size (µm)", of: ({ patchTest }) => patchTest?.poreUm },
];

function yesOrNo(answer: boolean | undefined): string | undefined {
  return answer === undefined ? undefined : answer ? "yes" : "no";
}

function classOfPatch({ patchTest }: Sample): string | undefined {
  if (patchTest?.class === undefined) return undefined;
  return `${patchTest.standard ?? ""} ${formatMeasured(patchTest.class)}`.trim();
}

/** A part of the description with the words about it that are not understood, which intake finds again. */
function withWords(
  { wordsNotUnderstood = [] }: Sample,
  part: DescribedPart,
  known: string | undefined,
): string | undefined {
  const texts = wordsNotUnderstood.filter(({ about }) => about === part).map(({ text }) => text);
  // The text of a colour is kept whole, with the words that are not understood.
  const left = texts.filter((text) => part !== "colour" || known?.includes(text) !== true);
  return known === undefined && left.length === 0 ? undefined : [known ?? [], ...left].flat().join("; ");
}

const ROWS_TOGETHER = 1000;

/**
 * Writes samples as delimited text with commas, a row for each sample, that intake reads back.
 *
 * Counts are in a column for each size and volume, as they were reported. Results in words, reported classes, counts on
 * other scales, blanks, replicates, texts that were not used and the counted volume of a diluted sample have no column; the export as JSON Lines has
 * all. A cell that a spreadsheet would run as a formula gets
 * an apostrophe before it; a column of its own says so, and by it intake takes the apostrophes away again.
 *
 * @param samples - called twice: once for the columns and once for the rows, so that memory does not grow
 */
export function* samplesAsCsv(samples: () => Iterable<Sample>): Generator<string> {
  const columns = columnsFor(samples());
  const write = (rows: (string | number | undefined)[][]) =>
    stringify(rows.map((cells) => cells.map((cell) => (typeof cell === "string" ? guarded(cell) : cell))));
  yield write([columns.map(({ title }) => title)]);
  let rows: (string | number | undefined)[][] = [];
  for (const sample of samples()) {
    rows.push(columns.map((column) => column.of(sample)));
    if (rows.length < ROWS_TOGETHER) continue;
    yield write(rows);
    rows = [];
  }
  if (rows.length > 0) yield write(rows);
}

const GUARD: ExportColumn = { title: GUARD_TITLE, of: () => "yes" };

/** The columns that samples need. */
function columnsFor(samples: Iterable<Sample>): ExportColumn[] {
  const counts = new Map<string, { sizeUm: number; volumeMl: number }>();
  const see = (sizeUm: number, volumeMl: number) => counts.set(`${sizeUm} ${volumeMl}`, { sizeUm, volumeMl });
  const rarer = new Set<ExportColumn>();
  const says = new Set<string>();
  let isGuarded = false;
  for (const each of samples) {
    for (const { sizeUm } of each.counts?.counts ?? []) see(sizeUm, each.counts?.volumeMl ?? 1);
    for (const { sizeUm, volumeMl } of each.limitedCounts ?? []) see(sizeUm, volumeMl);
    const words = (each.laboratorySays ?? []).map(({ text }) => text);
    for (const { column } of each.laboratorySays ?? []) says.add(column);
    for (const column of RARER) {
      const cell = column.of(each);
      if (cell === undefined) continue;
      rarer.add(column);
      if (typeof cell === "string") words.push(cell);
    }
    const { sample, cart, circuit, fluid = "" } = each;
    isGuarded ||= [sample, cart, circuit, fluid, ...words].some((text) => guarded(text) !== text);
  }
  return [
    ...FIXED,
    ...[...counts.values()]
      .sort((a, b) => a.volumeMl - b.volumeMl || a.sizeUm - b.sizeUm)
      .map(({ sizeUm, volumeMl }) => ({
        title: `${sizeUm} µm(c) per ${volumeMl === 1 ? "" : `${volumeMl} `}mL`,
        of: (sample: Sample) => countIn(sample, sizeUm, volumeMl),
      })),
    ...RESULTS,
    ...RARER.filter((column) => rarer.has(column)),
    ...[...says].map((column) => ({
      title: `${SAYS_TITLE}${column}`,
      of: ({ laboratorySays = [] }: Sample) =>
        laboratorySays.flatMap((said) => (said.column === column ? [said.text] : [])).join("; ") || undefined,
    })),
    ...(isGuarded ? [GUARD] : []),
  ];
}

function countIn(
  { counts, limitedCounts = [] }: Sample,
  sizeUm: number,
  volumeMl: number,
): string | number | undefined {
  const limited = limitedCounts.find((entry) => entry.sizeUm === sizeUm && entry.volumeMl === volumeMl);
  if (limited !== undefined) return formatMeasured({ value: limited.count, limit: limited.limit });
  return counts?.volumeMl === volumeMl
    ? counts.counts.find((entry) => entry.sizeUm === sizeUm)?.count
    : undefined;
}

/** The counted volume, where it was that of the sample itself. */
function undilutedMl(counting: NonNullable<Sample["counts"]>["counting"]): number | undefined {
  return counting?.dilution === undefined ? counting?.countedMl : undefined;
}

/** Writes samples as JSON Lines: one sample of the module samples in each line, with everything it holds. */
export function* samplesAsJsonLines(samples: Iterable<Sample>): Generator<string> {
  for (const sample of samples) yield `${JSON.stringify(sample)}\n`;
}
