import type { Assumption } from "../../provenance/index.js";
import {
  type Appearance,
  type DescribedPart,
  FILLED_FROM,
  type ReportText,
  type Sample,
  type SamplePoint,
} from "../../samples/index.js";
import { isNotReported } from "../cells/cells.js";
import { visible } from "../checks/issue.js";
import { DESCRIPTIONS, type Description } from "../layout/meaning.js";
import { rememberingBy } from "../rows/remembering.js";
import { textOf } from "../rows/row.js";
import { ONCE, type RefusedResult, type ReportedResult } from "../samples/entry.js";
import { type BottleFinding, readBottleWords, type SettledWord } from "./read-bottle-words.js";

/** What a report says in words about the bottle and how it was filled. */
export type Described = Partial<
  Pick<Sample, "colour" | "appearance" | "samplePoint" | "flowing" | "wordsNotUnderstood" | "otherTexts">
>;

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

/** What one cell says of a bottle. */
interface ReadCell {
  readonly description: Description;
  readonly result: ReportedResult;
  readonly findings: readonly BottleFinding[];
  readonly notUnderstood: readonly string[];
}

const NOTHING_SAID: GatheredDescriptions = { results: {}, refused: [], assumptions: [] };

/**
 * Puts together what a report says of one bottle in words.
 *
 * What is known is kept. Words without a reading are kept as they stand, for a person to read; a row is not set aside for
 * them. Two different cells of one title contradict each other, and both are refused.
 *
 * @param blanks - texts that mean "not reported"
 * @param settled - what a column map says that words mean
 */
export function gatherDescriptions(
  reported: readonly ReportedDescription[],
  blanks: readonly string[],
  settled: ReadonlyMap<string, SettledWord>,
): GatheredDescriptions {
  if (reported.length === 0) return NOTHING_SAID;
  const cells: ReadCell[] = [];
  const assumptions: Assumption[] = [];
  const read = readerOf(settled);
  for (const { result, description } of reported) {
    const text = visible(textOf(result.cell).replace(/\s+/g, " "));
    if (blanks.includes(text) || isNotReported(text)) continue;
    if (description !== "flowing" && /^none\.?$/i.test(text)) continue;
    const { findings, notUnderstood, readAs } = read({ description, text });
    cells.push({ description, result, findings, notUnderstood });
    assumptions.push(...readAs.map(({ words, value }) => wordReadAs(description, words, value)));
    if (notUnderstood.length > 0) assumptions.push(notAllUnderstood(description));
  }
  const contradicting = cells.filter((cell) =>
    cells.some((other) => other !== cell && isOfOneTitle(cell, other) && saysOf(other) !== saysOf(cell)),
  );
  return {
    results: described(cells.filter((cell) => !contradicting.includes(cell))),
    refused: contradicting.map(({ result }) => ({ result, code: "repeated-measurand", expected: ONCE })),
    assumptions,
  };
}

/** Two columns may each say a part; what stands twice under one title must be the same. */
function isOfOneTitle(a: ReadCell, b: ReadCell): boolean {
  return a.description === b.description && a.result.column === b.result.column;
}

function saysOf({ findings, notUnderstood }: ReadCell): string {
  return JSON.stringify([findings, notUnderstood]);
}

/** Said where the word of a report is not the one that is kept. There are no more of these than words that are known. */
function wordReadAs(description: Description, words: string, value: string): Assumption {
  const says = value === "nothing-seen" ? "nothing seen" : value;
  return { code: "word-read-as", message: `${DESCRIPTIONS[description]}: "${words}" was read as ${says}` };
}

/** The words themselves are in the sample; a file could have a million different ones. */
function notAllUnderstood(description: Description): Assumption {
  return {
    code: "words-not-understood",
    message: `${DESCRIPTIONS[description]}: some words are not understood; their circuits wait for a person who reads them`,
  };
}

const ABOUT: Record<Description, DescribedPart> = {
  colour: "colour",
  appearance: "appearance",
  "sample-point": "sample point",
  flowing: "flow",
};

type Reading = ReturnType<typeof readBottleWords>;

/** What reads descriptions, by what a column map has settled. */
const READERS = new WeakMap<ReadonlyMap<string, SettledWord>, (cell: WrittenWords) => Reading>();

interface WrittenWords {
  readonly description: Description;
  readonly text: string;
}

function readerOf(settled: ReadonlyMap<string, SettledWord>): (cell: WrittenWords) => Reading {
  const known = READERS.get(settled);
  if (known !== undefined) return known;
  const reader = rememberingBy(
    ({ description, text }: WrittenWords) => readDescription(description, text, settled),
    ({ description, text }) => `${description}\n${text}`,
  );
  READERS.set(settled, reader);
  return reader;
}

/** No description of a bottle is longer; it would not be read word by word. */
const MAX_DESCRIPTION_LENGTH = 500;

/** Reads one cell; a colour is kept with all of its words. */
export function readDescription(
  description: Description,
  text: string,
  settled: ReadonlyMap<string, SettledWord> = new Map(),
): Reading {
  if (text.length > MAX_DESCRIPTION_LENGTH)
    return { findings: [], notUnderstood: [`${text.slice(0, MAX_DESCRIPTION_LENGTH - 2)} …`], readAs: [] };
  const reading = readBottleWords(description, text, settled);
  if (description !== "colour") return reading;
  const hasColour = reading.findings.some(({ is }) => is === "colour");
  // "Clear" says what the fluid looks like only where the column has no other topic; as a colour it says little.
  const seen = reading.findings.filter(
    (finding) => finding.is === "appearance" && finding.value !== "clear" && finding.value !== "nothing-seen",
  );
  const colour: BottleFinding[] = hasColour ? [{ is: "colour", value: text }] : [];
  return { ...reading, findings: [...seen, ...colour] };
}

function described(cells: readonly ReadCell[]): Described {
  const findings = cells.flatMap((cell) => cell.findings);
  const looks = [
    ...new Set(findings.flatMap((one): Appearance[] => (one.is === "appearance" ? [one.value] : []))),
  ];
  const seen = looks.filter((look) => look !== "nothing-seen");
  const appearance = seen.length > 0 ? seen : looks;
  const colours = new Map(
    findings.flatMap((one) => (one.is === "colour" ? [[one.value.toLowerCase(), one.value] as const] : [])),
  );
  const points = findings.flatMap((one) => (one.is === "sample-point" ? [one.value] : []));
  const flow = findings.flatMap((one) => (one.is === "flowing" ? [one.value] : []));
  const words = cells.flatMap(({ description, notUnderstood }) =>
    notUnderstood.map((text) => ({ about: ABOUT[description], text })),
  );
  const shown = cells.flatMap(({ description, result, findings: found, notUnderstood }): ReportText[] =>
    description === "colour" && found.length + notUnderstood.length === 0
      ? [{ column: result.column, text: visible(textOf(result.cell)) }]
      : [],
  );
  return {
    ...(colours.size > 0 && { colour: [...colours.values()].join("; ") }),
    ...(appearance.length > 0 && { appearance }),
    ...(points.length > 0 && { samplePoint: worstOf(points) }),
    ...(flow.length > 0 && { flowing: !flow.includes("no") }),
    ...(words.length > 0 && { wordsNotUnderstood: words.slice(0, MAX_WORDS_KEPT) }),
    ...(shown.length > 0 && { otherTexts: shown }),
  };
}

const MAX_WORDS_KEPT = 20;

/** Of several places the one that says the least of the fluid that is delivered. */
function worstOf(points: readonly SamplePoint[]): SamplePoint {
  return FILLED_FROM.findLast((point) => points.includes(point)) as SamplePoint;
}
