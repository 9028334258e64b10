import { countAt } from "../counts/index.js";
import { METALS, type Measured, type Sample } from "../samples/index.js";
import type { FrameColumn } from "./columns.js";

/** Fields that are a text as they are. */
export const TEXTS = [
  "sample",
  "cart",
  "circuit",
  "drawnOn",
  "drawnTime",
  "receivedOn",
  "reportedOn",
  "calibrationDueOn",
  "fluid",
  "samplePoint",
  "colour",
] as const;

/** Fields that are a measured value or a limit: a column for the number and one for the limit. */
export const MEASURED = [
  "waterPpm",
  "acidMgKohPerG",
  "viscosity40Mm2PerS",
  "density15KgPerM3",
  "chlorinePpm",
] as const;

/** Fields that are no single value: their cells hold JSON text. */
export const AS_JSON = [
  "flowing",
  "counterRun",
  "appearance",
  "patchTest",
  "crackle",
  "smell",
  "replicates",
  "blank",
  "limitedCounts",
  "otherScaleCounts",
  "wordedResults",
  "reportedClasses",
  "wordsNotUnderstood",
  "laboratorySays",
  "otherTexts",
  "acceptedChecks",
  "origin",
] as const;

/** What is known of the counts apart from their values, by size, as JSON text. */
export const COUNT_NOTES = { basis: "countBasis", blank: "countBlanks" } as const;

/** Columns that every frame of samples has, by which a lost one is found out. */
export const ALWAYS: readonly string[] = [
  ...TEXTS,
  "fluidTemperatureC",
  "countedVolumeMl",
  "countVolumeMl",
  "countedMl",
  "countDilution",
  ...Object.values(COUNT_NOTES),
  ...MEASURED.flatMap((name) => [name, `${name}Limit`]),
  ...AS_JSON,
];

/** The name of the column of a metal. */
export function metalColumn(metal: (typeof METALS)[number]): string {
  return `${metal}Ppm`;
}

/** The columns of a frame of these samples; counts and metals have one for each size and metal that any sample has. */
export function sampleColumns(samples: readonly Sample[]): FrameColumn<Sample>[] {
  const sizesUm = [
    ...new Set(samples.flatMap(({ counts }) => counts?.counts.map((entry) => entry.sizeUm) ?? [])),
  ].sort((a, b) => a - b);
  const metals = METALS.filter((metal) => samples.some(({ metalsPpm }) => metalsPpm?.[metal] !== undefined));
  return [
    ...TEXTS.map((name) => ({ name, type: "string" as const, of: (sample: Sample) => sample[name] })),
    { name: "fluidTemperatureC", type: "number", of: (sample) => sample.fluidTemperatureC },
    { name: "countedVolumeMl", type: "number", of: (sample) => sample.countedVolumeMl },
    { name: "countVolumeMl", type: "number", of: ({ counts }) => counts?.volumeMl },
    { name: "countedMl", type: "number", of: ({ counts }) => counts?.counting?.countedMl },
    { name: "countDilution", type: "number", of: ({ counts }) => counts?.counting?.dilution },
    ...sizesUm.map((sizeUm) => ({
      name: `count${sizeUm}UmC`,
      type: "number" as const,
      of: ({ counts }: Sample) => counts && countAt(counts, sizeUm),
    })),
    { name: COUNT_NOTES.basis, type: "string", of: (sample) => notesOf(sample, "basis") },
    { name: COUNT_NOTES.blank, type: "string", of: (sample) => notesOf(sample, "blank") },
    ...MEASURED.flatMap((name) => measuredColumns(name, (sample) => sample[name])),
    ...metals.flatMap((metal) => measuredColumns(metalColumn(metal), ({ metalsPpm }) => metalsPpm?.[metal])),
    ...AS_JSON.map((name) => ({
      name,
      type: "string" as const,
      of: (sample: Sample) => JSON.stringify(sample[name]) as string | undefined,
    })),
  ];
}

function measuredColumns(name: string, of: (sample: Sample) => Measured | undefined): FrameColumn<Sample>[] {
  return [
    { name, type: "number", of: (sample) => of(sample)?.value },
    { name: `${name}Limit`, type: "string", of: (sample) => of(sample)?.limit },
  ];
}

/** What the counts of a sample say of themselves, by size; absent where none says anything. */
function notesOf({ counts }: Sample, part: keyof typeof COUNT_NOTES): string | undefined {
  const notes = (counts?.counts ?? []).flatMap((entry) =>
    entry[part] === undefined ? [] : [[entry.sizeUm, entry[part]]],
  );
  return notes.length === 0 ? undefined : JSON.stringify(Object.fromEntries(notes));
}
