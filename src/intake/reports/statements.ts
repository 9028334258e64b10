import { tryParseFluidSpecification } from "../../fluids/index.js";
import {
  FIELD_OF_QUANTITY,
  formatMeasured,
  METALS,
  nameOfCount,
  type ReportedClass,
  readClock,
  type Sample,
} from "../../samples/index.js";
import type { Meaning, Measurand } from "../layout/meaning.js";

/** What one report says of a sample, measurand by measurand, so that two reports can be compared. */
export type Statements = ReadonlyMap<string, unknown>;

const COUNTED_VOLUME = "counted volume";
/** How the keys of what is said of a patch begin. */
const PATCH = "patchTest.";

/** Parts of a sample that name it, or that are taken apart into several statements. */
const IN_PARTS = new Set<string>([
  "sample",
  "cart",
  "circuit",
  "origin",
  "counts",
  "limitedCounts",
  "wordedResults",
  "metalsPpm",
  "patchTest",
  "reportedClasses",
  "wordsNotUnderstood",
  "laboratorySays",
  "otherTexts",
  "acceptedChecks",
] satisfies (keyof Sample)[]);

/** The fields of a sample that one report gives as a whole: a later report replaces all of it. */
export function wholeFields(sample: Partial<Sample>): (keyof Sample)[] {
  return (Object.keys(sample) as (keyof Sample)[]).filter(
    (name) => !IN_PARTS.has(name) && sample[name] !== undefined,
  );
}

/**
 * Takes a report apart into what it says of each measurand.
 *
 * A number, a limit value and a word about the same measurand are statements under one key, because a later one of any of
 * the three replaces the others. Counts are compared per mL.
 */
export function statementsOf(report: Partial<Sample>): Statements {
  const { counts, limitedCounts = [], wordedResults = [], metalsPpm = {}, reportedClasses = [] } = report;
  const said = new Map<string, unknown>(wholeFields(report).map((name) => [name, report[name]]));
  // Two ways to write one specification say the same.
  if (report.fluid !== undefined) said.set("fluid", tryParseFluidSpecification(report.fluid) ?? report.fluid);
  // A book may hold a time with its seconds.
  if (report.drawnTime !== undefined) said.set("drawnTime", readClock(report.drawnTime) ?? report.drawnTime);
  for (const [metal, measured] of Object.entries(metalsPpm)) said.set(metal, measured);
  const { standard: ofPatch, ...patch } = report.patchTest ?? {};
  for (const [part, found] of Object.entries(patch)) {
    // A class means nothing without its standard.
    const isClass = part === "class" && typeof found === "object";
    said.set(`${PATCH}${part}`, isClass ? { ...found, standard: ofPatch } : found);
  }
  for (const { standard } of reportedClasses) {
    said.set(
      classKey(standard),
      reportedClasses.filter((entry) => entry.standard === standard),
    );
  }
  for (const { sizeUm, count } of counts?.counts ?? []) {
    said.set(nameOfCount(sizeUm), { perMl: count / (counts?.volumeMl ?? Number.NaN) });
  }
  if (counts?.counting !== undefined) said.set(COUNTED_VOLUME, counts.counting);
  for (const { sizeUm, count, volumeMl, limit } of limitedCounts) {
    said.set(nameOfCount(sizeUm), { perMl: count / volumeMl, limit });
  }
  for (const { measurand, said: word } of wordedResults) said.set(keyOfWord(measurand), { said: word });
  for (const [key, texts] of textsOf(report)) said.set(key, texts);
  return said;
}

/** What a report says in words, by what the words are about. Texts that decide nothing contradict nothing. */
function textsOf({ wordsNotUnderstood = [], laboratorySays = [], acceptedChecks = [] }: Partial<Sample>) {
  const said = new Map<string, string[]>();
  const add = (key: string, text: string) => said.set(key, [...(said.get(key) ?? []), text]);
  for (const { about, text } of wordsNotUnderstood) add(`words about ${about}`, text);
  for (const { column, text } of laboratorySays) add(`laboratory's ${column}`, text);
  for (const code of acceptedChecks) add(`accepted ${code}`, code);
  return said;
}

/** What of a report is said of that report alone, and not of the bottle: a laboratory's own words, and the day it had the bottle. */
export function isOfOneReport(key: string): boolean {
  return key.startsWith("laboratory's ") || key === "receivedOn";
}

const RESULTS = new Set<Holds>([
  ...(["count", "class", "water", "acid", "viscosity40", "density15", "chlorine", "patch-class"] as const),
  ...METALS,
]);

/**
 * Whether a report gives every result of an earlier one again. Only then do its words take the place of the earlier ones: one
 * laboratory may count a bottle and reject it, and another measure its water and find that normal.
 */
export function givesAgain(earlier: Partial<Sample>, later: Partial<Sample>): boolean {
  const said = statementsOf(later);
  return [...statementsOf(earlier).keys()].every((key) => !RESULTS.has(holdsOf(key)) || said.has(key));
}

function classKey(standard: ReportedClass["standard"]): string {
  return `${standard} class`;
}

/** The key of a measurand that a report gives in words; counts and metals have the same key both ways. */
export function keyOfWord(measurand: string): string {
  return Object.hasOwn(FIELD_OF_QUANTITY, measurand)
    ? FIELD_OF_QUANTITY[measurand as keyof typeof FIELD_OF_QUANTITY]
    : measurand;
}

type Holds = Meaning["holds"];

const HOLDS: Readonly<Record<string, Holds>> = {
  drawnOn: "drawn",
  drawnTime: "drawn-time",
  receivedOn: "received",
  reportedOn: "reported",
  calibrationDueOn: "calibration-due",
  fluid: "fluid",
  fluidTemperatureC: "temperature",
  waterPpm: "water",
  acidMgKohPerG: "acid",
  viscosity40Mm2PerS: "viscosity40",
  density15KgPerM3: "density15",
  chlorinePpm: "chlorine",
  colour: "colour",
  appearance: "appearance",
  samplePoint: "sample-point",
  flowing: "flowing",
  ...({
    "patchTest.class": "patch-class",
    "patchTest.code": "patch-class",
    "patchTest.colour": "patch-colour",
    "patchTest.stained": "patch-stain",
    "patchTest.freeWater": "patch-free-water",
    "patchTest.volumeMl": "patch-volume",
    "patchTest.poreUm": "patch-pore",
  } satisfies Record<string, Holds>),
  crackle: "crackle",
  smell: "smell",
  otherScaleCounts: "count",
  blank: "count",
  replicates: "count",
  [COUNTED_VOLUME]: "counted",
  countedVolumeMl: "counted",
  ...Object.fromEntries(METALS.map((metal) => [metal, metal])),
};

/** What a column holds that gives a statement, so that the column can be named. */
export function holdsOf(key: string): Holds {
  if (key.startsWith("count above")) return "count";
  if (key.endsWith(" class")) return "class";
  return HOLDS[key] ?? "sample";
}

/** The key under which the result of a measurand is a statement. */
export function keyOfMeasurand(measurand: Measurand): string {
  if (measurand.holds === "class") return classKey(measurand.standard);
  if (measurand.holds === "count") {
    if (measurand.blank) return "blank";
    if (measurand.run !== undefined) return "replicates";
    return measurand.scale === "um(c)" ? nameOfCount(measurand.fromUm) : "otherScaleCounts";
  }
  if (measurand.holds === "run") return "replicates";
  if (measurand.holds === "fibres" || measurand.holds === "clear-and-bright") return "appearance";
  return Object.entries(HOLDS).find(([, holds]) => holds === measurand.holds)?.[0] ?? measurand.holds;
}

/** A statement in a few words, for a message. */
export function describeStatement(value: unknown): string {
  if (typeof value !== "object" || value === null) return String(value);
  if ("perMl" in value) {
    const { perMl, limit } = value as { perMl: number; limit?: "above" };
    return `${formatMeasured({ value: perMl, ...(limit && { limit }) })} per mL`;
  }
  if ("said" in value) return String(value.said).replaceAll("-", " ");
  if ("value" in value) return formatMeasured(value as Parameters<typeof formatMeasured>[0]);
  if ("countedMl" in value) return `${value.countedMl} mL`;
  if (!Array.isArray(value)) return JSON.stringify(value);
  return value.map((one) => (typeof one === "object" && "class" in one ? one.class : String(one))).join(", ");
}
