import { as4059TableIn } from "../../cleanliness/index.js";
import type { CountSet } from "../../counts/index.js";
import { SAYS_TITLE } from "../../intake/index.js";
import {
  type DescribedPart,
  formatMeasured,
  METALS,
  type Measured,
  type Sample,
  type WordedResult,
} from "../../samples/index.js";

/** A title, which intake reads back, and where it stands among the others. */
export interface PlacedTitle {
  readonly title: string;
  /** Compared number by number. */
  readonly place: readonly number[];
}

/** What a sample has to write under a title. */
export interface ExportedCell extends PlacedTitle {
  readonly cell: string | number;
}

type CellOf = (sample: Sample) => string | number | undefined;

const NAMING: readonly (readonly [title: string, of: CellOf])[] = [
  ["sample", ({ sample }) => sample],
  ["cart", ({ cart }) => cart],
  ["circuit", ({ circuit }) => circuit],
  ["drawn on", ({ drawnOn }) => drawnOn],
  ["time drawn", ({ drawnTime }) => drawnTime],
  ["received on", ({ receivedOn }) => receivedOn],
  ["reported on", ({ reportedOn }) => reportedOn],
  ["calibration due", ({ calibrationDueOn }) => calibrationDueOn],
  ["fluid", ({ fluid }) => fluid],
  ["fluid temperature (°C)", ({ fluidTemperatureC }) => fluidTemperatureC],
];

/** Quantities by their names in {@link Sample.wordedResults}. */
const QUANTITIES: readonly (readonly [
  title: string,
  name: string,
  of: (sample: Sample) => Measured | undefined,
])[] = [
  ["water (mg/kg)", "water", ({ waterPpm }) => waterPpm],
  ["acid number (mg KOH/g)", "acid number", ({ acidMgKohPerG }) => acidMgKohPerG],
  ["viscosity at 40 °C (mm²/s)", "viscosity at 40 °C", ({ viscosity40Mm2PerS }) => viscosity40Mm2PerS],
  ["density at 15 °C (kg/m³)", "density at 15 °C", ({ density15KgPerM3 }) => density15KgPerM3],
  ["chlorine (mg/kg)", "chlorine", ({ chlorinePpm }) => chlorinePpm],
  ...METALS.map(
    (metal) => [`${metal} (mg/kg)`, metal, ({ metalsPpm }: Sample) => metalsPpm?.[metal]] as const,
  ),
];
/** Every export has these, whatever its samples hold. */
const MAIN_QUANTITIES = 3;

const OTHERS: readonly (readonly [title: string, of: CellOf])[] = [
  ["counted volume (mL)", (sample) => countingOf(sample)?.countedMl ?? sample.countedVolumeMl],
  ["dilution (applied)", (sample) => countingOf(sample)?.dilution],
  ["quarantine accepted", ({ acceptedChecks }) => acceptedChecks?.join(" ")],
  ["colour", (sample) => withWords(sample, "colour", sample.colour)],
  ["appearance", (sample) => withWords(sample, "appearance", sample.appearance?.join("; "))],
  ["sample point", (sample) => withWords(sample, "sample point", sample.samplePoint)],
  ["flowing", (sample) => withWords(sample, "flow", yesOrNo(sample.flowing))],
  ["crackle test", (sample) => withWords(sample, "crackle test", sample.crackle)],
  ["smell", (sample) => withWords(sample, "smell", sample.smell)],
  ["patch class", (sample) => withWords(sample, "patch test", classOfPatch(sample))],
  ["patch code (ISO 4406)", ({ patchTest }) => patchTest?.code],
  ["patch colour", ({ patchTest }) => patchTest?.colour],
  ["patch stain", ({ patchTest }) => yesOrNo(patchTest?.stained)],
  ["patch free water", ({ patchTest }) => yesOrNo(patchTest?.freeWater)],
  ["patch volume (mL)", ({ patchTest }) => patchTest?.volumeMl],
  ["patch pore size (µm)", ({ patchTest }) => patchTest?.poreUm],
];

/** The groups of columns, in their order. */
const [NAMES, COUNTS, MEASURED, CLASSES, REST, SAYS] = [0, 1, 2, 3, 4, 5] as const;

const titled = (group: number, columns: readonly (readonly [string, ...unknown[]])[]) =>
  columns.map(([title], index): PlacedTitle => ({ title, place: [group, index] }));
const [NAMING_TITLES, QUANTITY_TITLES, OTHER_TITLES] = [
  titled(NAMES, NAMING),
  titled(MEASURED, QUANTITIES),
  titled(REST, OTHERS),
];

/** Titles that every export has. */
export const FIXED_TITLES: readonly PlacedTitle[] = [
  ...NAMING_TITLES,
  ...QUANTITY_TITLES.slice(0, MAIN_QUANTITIES),
];

/** Everything that a sample has to write. */
export function* cellsOf(sample: Sample): Generator<ExportedCell> {
  const { wordedResults = [], patchTest } = sample;
  // The colour of a patch is a statement as well, and becomes one again.
  const says = (sample.laboratorySays ?? []).filter(({ text }) => text !== patchTest?.colour);
  yield* filled(
    NAMING_TITLES,
    NAMING.map(([, of]) => of(sample)),
  );
  yield* countsOf(sample);
  const inWords = new Map(wordedResults.map(({ measurand, said }) => [measurand, WRITTEN[said]]));
  yield* filled(
    QUANTITY_TITLES,
    QUANTITIES.map(([, name, of]) => {
      const measured = of(sample);
      return measured === undefined ? inWords.get(name) : formatMeasured(measured);
    }),
  );
  yield* classesOf(sample);
  yield* filled(
    OTHER_TITLES,
    OTHERS.map(([, of]) => of(sample)),
  );
  for (const column of new Set(says.map((said) => said.column))) {
    const texts = says.flatMap((said) => (said.column === column ? [said.text] : []));
    yield { title: `${SAYS_TITLE}${column}`, place: [SAYS], cell: texts.join("; ") };
  }
}

function* filled(
  titles: readonly PlacedTitle[],
  cells: readonly (string | number | undefined)[],
): Generator<ExportedCell> {
  for (const [index, one] of titles.entries()) {
    const cell = cells[index];
    if (cell !== undefined) yield { ...one, cell };
  }
}

/** A size or a range of sizes, as a title names it. */
interface Size {
  readonly fromUm: number;
  readonly toUm?: number | undefined;
  readonly scale: (typeof SCALES)[number]["scale"];
}

/** The scales of sizes: in a title, and in the names of {@link Sample.wordedResults}. */
const SCALES = [
  { scale: "um(c)", inTitle: "µm(c)", inWords: "µm(c)" },
  { scale: "um-older", inTitle: "µm (ISO 4402)", inWords: "µm (older scale)" },
  { scale: "um-microscope", inTitle: "µm (microscope)", inWords: "µm (microscope)" },
] as const;

/** Of what counts are: the sample itself, a run of it, or a blank. */
interface CountedOf {
  readonly says: string;
  readonly rank: number;
}

const OF_SAMPLE: CountedOf = { says: "", rank: 0 };
const OF_BLANK: CountedOf = { says: "blank ", rank: 1000 };

function* countsOf(sample: Sample): Generator<ExportedCell> {
  const { counts, replicates = [], blank, limitedCounts = [], otherScaleCounts = [] } = sample;
  if (counts !== undefined) yield* countsIn(counts, OF_SAMPLE);
  for (const { sizeUm, volumeMl, count, limit } of limitedCounts) {
    const size = { fromUm: sizeUm, scale: "um(c)" } as const;
    yield countCell(OF_SAMPLE, size, volumeMl, formatMeasured({ value: count, limit }));
  }
  for (const { volumeMl, count, limit, ...size } of otherScaleCounts)
    yield countCell(OF_SAMPLE, size, volumeMl, formatMeasured({ value: count, limit }));
  yield* countsInWords(sample);
  for (const [index, run] of replicates.entries())
    yield* countsIn(run, { says: `run ${index + 1} `, rank: index + 1 });
  if (blank !== undefined) yield* countsIn(blank, OF_BLANK);
}

function* countsIn({ counts, volumeMl }: CountSet, of: CountedOf): Generator<ExportedCell> {
  for (const { sizeUm, count, basis = "measured" } of counts) {
    // Read back, it would be taken for a measured one.
    if (basis !== "measured") continue;
    yield countCell(of, { fromUm: sizeUm, scale: "um(c)" }, volumeMl, count);
  }
}

const IN_WORDS = /^(blank )?count (?:above|from) ([\d.]+)(?: to ([\d.]+))? (µm.*)$/;

/** The words have no volume; they are in a column of the counts next to them. */
function* countsInWords({ counts, wordedResults = [] }: Sample): Generator<ExportedCell> {
  for (const { measurand, said } of wordedResults) {
    const [name, blank, from, to, unit] = IN_WORDS.exec(measurand) ?? [];
    const scale = SCALES.find(({ inWords }) => inWords === unit)?.scale;
    if (name === undefined || scale === undefined) continue;
    const size = { fromUm: Number(from), scale, ...(to !== undefined && { toUm: Number(to) }) };
    yield countCell(blank === undefined ? OF_SAMPLE : OF_BLANK, size, counts?.volumeMl ?? 1, WRITTEN[said]);
  }
}

function countCell(
  { says, rank }: CountedOf,
  { fromUm, toUm, scale }: Size,
  volumeMl: number,
  cell: string | number,
): ExportedCell {
  const unit = SCALES.findIndex((one) => one.scale === scale);
  const sizes = toUm === undefined ? fromUm : `${fromUm}-${toUm}`;
  const per = volumeMl === 1 ? "per mL" : `per ${volumeMl} mL`;
  return {
    title: `${says}${sizes} ${SCALES[unit]?.inTitle} ${per}`,
    place: [COUNTS, rank, unit, volumeMl, fromUm, toUm ?? 0],
    cell,
  };
}

const WRITTEN: Readonly<Record<WordedResult["said"], string>> = {
  "not-detected": "not detected",
  trace: "trace",
  "too-many-to-count": "too many to count",
};

/** A file has one column for each standard; a further class of one becomes a statement of the laboratory, so that it counts. */
function* classesOf({ reportedClasses = [] }: Sample): Generator<ExportedCell> {
  const titles = new Set<string>();
  const more: string[] = [];
  for (const { standard, table, class: name } of reportedClasses) {
    // The title is that of either table.
    const cell = table === undefined || as4059TableIn(name) === table ? name : `${name} (${table})`;
    if (titles.has(standard)) more.push(`${standard} ${cell}`);
    else yield { title: standard, place: [CLASSES], cell };
    titles.add(standard);
  }
  if (more.length > 0) yield { title: `${SAYS_TITLE}class`, place: [SAYS], cell: more.join(", ") };
}

/** The volume that went through the counter, and the dilution, which are those of all counts of a bottle. */
function countingOf({ counts, replicates }: Sample): CountSet["counting"] {
  return (counts ?? replicates?.[0])?.counting;
}

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
