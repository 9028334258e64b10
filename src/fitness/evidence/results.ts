import { classesIn } from "../../cleanliness/index.js";
import {
  type DescribedPart,
  FIELD_OF_QUANTITY,
  METALS,
  type Metal,
  type Requirement,
  type Sample,
  wordedCounts,
} from "../../samples/index.js";
import type { QUANTITIES, Quantity } from "../quantities.js";

/** A result that a report can give, by the name of its quantity: each by itself, so that several bottles of one circuit add up. */
export type Result =
  | (typeof QUANTITIES)[Quantity]["result"]
  | "density at 15 °C"
  | "colour"
  | "appearance"
  | "crackle"
  | "smell";

/** Results that share what events do to them. */
export type ResultGroup = Exclude<Result, Metal> | "metals";

/** The group of a result. */
export function groupOf(result: Result): ResultGroup {
  return isMetal(result) ? "metals" : result;
}

function isMetal(result: Result): result is Metal {
  return (METALS as readonly string[]).includes(result);
}

/** What a requirement needs a result of, by its limits and by what it asks of identity and look. */
export function requiredResults(requirement: Requirement): Result[] {
  const { waterSaturation, viscosity40Mm2PerS, chlorinePpmMax } = requirement;
  const { cleanliness, patchTest, metalsPpmMax = {}, identity = {}, sampling } = requirement;
  const when = (result: Result, isRequired: unknown) => (isRequired === undefined ? [] : [result]);
  return [
    ...when("particles", cleanliness[0]),
    ...when("patch", patchTest),
    ...when("water", waterSaturation ?? numberOf(requirement.waterPpmMax)),
    ...when("acid number", numberOf(requirement.acidMgKohPerGMax)),
    ...when("viscosity at 40 °C", viscosity40Mm2PerS ?? identity.viscosity40Mm2PerS),
    ...when("chlorine", chlorinePpmMax ?? identity.chlorinePpmMax),
    ...METALS.flatMap((metal) => when(metal, metalsPpmMax[metal])),
    ...when("density at 15 °C", identity.density15KgPerM3),
    ...when("colour", identity.colours),
    ...when("appearance", sampling?.lookedAt),
  ];
}

/** A limit; a document that says it sets none needs no result. */
function numberOf(limit: unknown): number | undefined {
  return typeof limit === "number" ? limit : undefined;
}

type AgeField = keyof NonNullable<Requirement["resultAgeDaysMax"]>;

/** The results that a requirement can give an age of their own, and its fields for them. */
const AGE_FIELDS: Partial<Record<ResultGroup, AgeField>> = {
  particles: "particles",
  patch: "patch",
  water: "water",
  "acid number": "acid",
  "viscosity at 40 °C": "viscosity",
  chlorine: "chlorine",
  metals: "metals",
};

/** The oldest result that counts, in days. */
export function ageMaxOf(result: Result, requirement: Requirement): number {
  const field = AGE_FIELDS[groupOf(result)];
  const own = field === undefined ? undefined : requirement.resultAgeDaysMax?.[field];
  return own ?? requirement.sampleAgeDaysMax;
}

/** Days between two results of one quantity: those between two samples, unless it has an age of its own. */
export function intervalOf(result: Result, requirement: Requirement): number {
  const everyDays = requirement.sampleEveryDays ?? requirement.sampleAgeDaysMax;
  const max = ageMaxOf(result, requirement);
  return max > requirement.sampleAgeDaysMax ? max : Math.min(max, everyDays);
}

/**
 * Whether a report says anything of a result, be it a number, a limit value, a class or a word.
 *
 * What is said and cannot be judged by counts too: it is the latest result, and nothing older hides it.
 */
export function isReported(result: Result, sample: Sample): boolean {
  if (result === "particles") return isCounted(sample);
  if (result === "patch") {
    const { class: stated, code } = sample.patchTest ?? {};
    return (stated ?? code) !== undefined || hasWordsAbout(sample, "patch test");
  }
  if (result === "crackle") return sample.crackle !== undefined || hasWordsAbout(sample, "crackle test");
  if (result === "colour" || result === "appearance" || result === "smell")
    return sample[result] !== undefined || hasWordsAbout(sample, result);
  const measured = isMetal(result) ? sample.metalsPpm?.[result] : sample[FIELD_OF_QUANTITY[result]];
  return measured !== undefined || isWorded(sample, result);
}

function isCounted(sample: Sample): boolean {
  const { counts, limitedCounts, otherScaleCounts, reportedClasses, laboratorySays } = sample;
  return (
    (counts ?? limitedCounts ?? otherScaleCounts ?? reportedClasses) !== undefined ||
    wordedCounts(sample).length > 0 ||
    (laboratorySays ?? []).some(
      ({ column, text }) => !isAboutPatch(column) && classesIn(column, text).length > 0,
    )
  );
}

/** Whether a column is about a membrane patch: a class in it was compared by eye and is no count. */
export function isAboutPatch(column: string): boolean {
  return /patch|membrane/i.test(column);
}

function isWorded({ wordedResults = [] }: Sample, name: Result): boolean {
  return wordedResults.some(({ measurand }) => measurand === name);
}

function hasWordsAbout({ wordsNotUnderstood = [] }: Sample, part: DescribedPart): boolean {
  return wordsNotUnderstood.some(({ about }) => about === part);
}
