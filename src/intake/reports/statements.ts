import { tryParseFluidSpecification } from "../../fluids/index.js";
import {
  APPEARANCES,
  FIELD_OF_QUANTITY,
  FILLED_FROM,
  formatMeasured,
  METALS,
  nameOfCount,
  type ReportedClass,
  readClock,
  type Sample,
} from "../../samples/index.js";
import { inFourDigits } from "../../units/index.js";
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

/** What people call a statement, with its unit, where that is not the key itself. */
const NAMES: Readonly<Record<string, string>> = {
  ...({
    drawnOn: "drawn on",
    drawnTime: "time drawn",
    receivedOn: "received on",
    reportedOn: "reported on",
    calibrationDueOn: "calibrated until",
    fluidTemperatureC: "fluid temperature (°C)",
    waterPpm: "water (ppm by mass)",
    acidMgKohPerG: "acid number (mg KOH/g)",
    viscosity40Mm2PerS: "viscosity at 40 °C (mm²/s)",
    density15KgPerM3: "density at 15 °C (kg/m³)",
    chlorinePpm: "chlorine (ppm by mass)",
    samplePoint: "sample point",
    crackle: "crackle test",
    otherScaleCounts: "counts on another scale",
    replicates: "single counts",
    blank: "counts of the blank",
    countedVolumeMl: "counted volume (mL)",
    counterRun: "counter in the line",
  } satisfies Partial<Record<keyof Sample, string>>),
  [`${PATCH}class`]: "patch class",
  [`${PATCH}code`]: "patch code",
  [`${PATCH}colour`]: "patch colour",
  [`${PATCH}stained`]: "patch stained",
  [`${PATCH}freeWater`]: "free water on the patch",
  [`${PATCH}volumeMl`]: "volume through the patch (mL)",
  [`${PATCH}poreUm`]: "pore size of the patch (µm)",
  ...Object.fromEntries(METALS.map((metal) => [metal, `${metal} (ppm by mass)`])),
};

/** What a statement is about, as people call it, with the unit of a value that has none. */
export function nameOfStatement(key: string): string {
  return NAMES[key] ?? key;
}

/** A statement in a few words, for a message. */
export function describeStatement(value: unknown): string {
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return inFourDigits(value);
  if (typeof value !== "object" || value === null) return inWords(value);
  if ("perMl" in value) {
    const { perMl, limit } = value as { perMl: number; limit?: "above" };
    return `${formatMeasured({ value: perMl, ...(limit && { limit }) })} per mL`;
  }
  if ("said" in value) return String(value.said).replaceAll("-", " ");
  if ("value" in value) return formatMeasured(value as Parameters<typeof formatMeasured>[0]);
  if ("countedMl" in value) return `${value.countedMl} mL`;
  if ("counts" in value) return describeCounts(value as NonNullable<Sample["counts"]>);
  if (!Array.isArray(value)) return JSON.stringify(value);
  return value.map(describeOneOf).join(", ");
}

const IN_HYPHENS: readonly unknown[] = [...FILLED_FROM, ...APPEARANCES];

function inWords(value: unknown): string {
  return IN_HYPHENS.includes(value) ? String(value).replaceAll("-", " ") : String(value);
}

function describeCounts({ counts, volumeMl }: NonNullable<Sample["counts"]>): string {
  const pairs = counts.map(({ sizeUm, count }) => `${sizeUm}=${count}`).join(" ");
  return `${pairs} per ${volumeMl} mL`;
}

/** One of a list: a class, a run, a count on another scale, or a word. */
function describeOneOf(one: unknown): string {
  if (typeof one !== "object" || one === null) return inWords(one);
  if ("class" in one) return String(one.class);
  if ("counts" in one) return describeCounts(one as NonNullable<Sample["counts"]>);
  if (!("fromUm" in one)) return JSON.stringify(one);
  const { fromUm, toUm, count, volumeMl, limit } = one as NonNullable<Sample["otherScaleCounts"]>[number];
  const sizes = toUm === undefined ? `above ${fromUm} µm` : `${fromUm} to ${toUm} µm`;
  return `${formatMeasured({ value: count, ...(limit && { limit }) })} ${sizes} per ${volumeMl} mL`;
}
