import type { Assumption } from "../provenance/index.js";
import { APPEARANCES, isReadable, SAMPLE_POINTS, type Sample } from "../samples/index.js";
import { isNotMeasured } from "./cells.js";
import { DICTIONARIES } from "./dictionary.js";
import { ONCE, type RefusedResult, type ReportedResult } from "./entry.js";
import { DESCRIPTIONS, type Description } from "./meaning.js";
import { textOf } from "./readers/row.js";

/** What a report says in words about the bottle and how it was filled. */
export type Described = Partial<Pick<Sample, "colour" | "appearance" | "samplePoint" | "flowing">>;

/** What words become, and the words among them that were read as one of siltbook's own. */
export interface DescribedReading {
  readonly said: Described;
  readonly assumptions: readonly Assumption[];
}

/** One thing that a report says in words. */
export interface ReportedDescription {
  readonly result: ReportedResult;
  readonly description: Description;
}

/** What a report says of one bottle in words. */
export interface GatheredDescriptions {
  readonly results: Described;
  readonly refused: readonly RefusedResult[];
  readonly assumptions: readonly Assumption[];
}

const NOTHING_SAID: GatheredDescriptions = { results: {}, refused: [], assumptions: [] };

/**
 * Puts together what a report says of one bottle in words.
 *
 * Words without a reading are said and not used: they are no results, and a row is not set aside for them.
 *
 * @param blanks - texts that mean "not reported"
 * @returns the part of the sample, and the results that contradict each other
 */
export function gatherDescriptions(
  reported: readonly ReportedDescription[],
  blanks: readonly string[],
): GatheredDescriptions {
  if (reported.length === 0) return NOTHING_SAID;
  const read = new Map<Description, { said: Described; results: ReportedResult[]; texts: Set<string> }>();
  const assumptions: Assumption[] = [];
  for (const { result, description } of reported) {
    const text = textOf(result.cell);
    if (blanks.includes(text)) continue;
    const reading = readDescription(description, text);
    assumptions.push(...(reading?.assumptions ?? [notUsed(description)]));
    if (reading === undefined || Object.keys(reading.said).length === 0) continue;
    const { said } = reading;
    const known = read.get(description) ?? { said, results: [], texts: new Set<string>() };
    known.results.push(result);
    known.texts.add(JSON.stringify(said));
    read.set(description, known);
  }
  const all = [...read.values()];
  return {
    results: Object.assign({}, ...all.filter(({ texts }) => texts.size === 1).map(({ said }) => said)),
    refused: all
      .filter(({ texts }) => texts.size > 1)
      .flatMap(({ results }) => results)
      .map((result) => ({ result, code: "repeated-measurand", expected: ONCE })),
    assumptions,
  };
}

/** The words themselves stand in the row; a file could have a million different ones. */
function notUsed(description: Description): Assumption {
  return {
    code: "words-not-used",
    message: `${DESCRIPTIONS[description]}: some words have no reading here and were not used; known are ${KNOWN_WORDS[description]}`,
  };
}

const KNOWN_WORDS: Record<Description, string> = {
  colour: "names of colours without figures",
  appearance: APPEARANCES.join(", "),
  "sample-point": SAMPLE_POINTS.join(", "),
  flowing: "yes and no",
};

/**
 * Reads what a report says of a bottle in words.
 *
 * @returns the part of a sample that it becomes, empty for a blank cell; undefined when the words have no reading here
 */
export function readDescription(description: Description, cell: string): DescribedReading | undefined {
  const text = cell.trim().replace(/\s+/g, " ");
  if (isNotMeasured(text) || NOT_SAID.test(text)) return { said: {}, assumptions: [] };
  if (text.length > LONGEST_DESCRIPTION || !isReadable(text)) return undefined;
  switch (description) {
    case "colour":
      // A number is a colour by a scale, such as 1.5 by ASTM D1500, and no name of one.
      return /^\p{L}[\p{L} ,/-]*$/u.test(text) ? { said: { colour: text }, assumptions: [] } : undefined;
    case "appearance":
      return appearanceIn(text);
    case "sample-point": {
      const samplePoint = wordIn(text, (dictionary) => dictionary.samplePoints);
      return samplePoint && { said: { samplePoint }, assumptions: readAs(description, text, samplePoint) };
    }
    case "flowing": {
      const word = wordIn(text, (dictionary) => dictionary.flowing);
      return word && { said: { flowing: word === "yes" }, assumptions: readAs(description, text, word) };
    }
  }
}

const NOT_SAID = /^not (reported|stated|recorded)$/i;
/** Nothing that is longer is one of the words. */
const LONGEST_DESCRIPTION = 100;

type Words<T extends string> = Readonly<Record<T, readonly string[]>>;

/** The word of siltbook's own that a text stands for in any language. */
function wordIn<T extends string>(
  text: string,
  of: (dictionary: (typeof DICTIONARIES)[number]) => Words<T>,
): T | undefined {
  const plain = text.toLowerCase();
  for (const dictionary of DICTIONARIES) {
    for (const [word, spellings] of Object.entries(of(dictionary)) as [T, readonly string[]][])
      if (spellings.includes(plain)) return word;
  }
  return undefined;
}

/** Said where the word of a report is not the one that is kept. There are no more of these than words in the dictionaries. */
function readAs(description: Description, text: string, word: string): Assumption[] {
  const plain = text.toLowerCase();
  if (plain.replaceAll(" ", "-") === word) return [];
  return [{ code: "word-read-as", message: `${DESCRIPTIONS[description]}: "${plain}" was read as ${word}` }];
}

/** Several things may be seen in a bottle; all of the words have to be known, or none of them is taken. */
function appearanceIn(text: string): DescribedReading | undefined {
  const seen = new Set<NonNullable<Sample["appearance"]>[number]>();
  const assumptions: Assumption[] = [];
  for (const each of text.split(/[,;/+&]|\band\b|\bwith\b/i)) {
    const part = each.trim();
    const word = wordIn(part, (dictionary) => dictionary.appearances);
    if (word === undefined) return undefined;
    assumptions.push(...readAs("appearance", part, word === "nothing" ? "nothing seen" : word));
    if (word !== "nothing") seen.add(word);
  }
  return seen.size === 0 ? undefined : { said: { appearance: [...seen] }, assumptions };
}
